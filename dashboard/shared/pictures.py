"""Pictures on the pages: the button that takes one, and those that were taken. `assets/pictures.js` does the taking."""

from collections.abc import Sequence
from urllib.parse import urlencode

from dash import html
from dash.development.base_component import Component

from dashboard.shared.address import at
from dashboard.shared.attributes import attributes
from dashboard.shared.person import allowed
from dashboard.shared.picture_route import PATH
from shotlog.parts.picture import Picture
from shotlog.wording.pictures import PRIVACY, picture_text

__all__ = ["picture_button", "picture_small", "picture_wall", "privacy"]


def picture_button(spoken: str = "", **of: object) -> Component:
    """Return a button that takes a picture; beneath it is said what became of it.

    `of` names what it shows: `finding` (number of the event), `insert` (serial), or `press`, `shot` and maybe `cavity`.
    `spoken`: what the button is called where several stand on a page.
    """
    if not allowed("enter"):
        return html.Span(hidden=True)
    marks = attributes(data_picture=urlencode(of), **({"aria_label": spoken} if spoken else {}))
    return html.Span(
        [
            html.Button("Picture", className="touch picture-taker", type="button", **marks),
            html.Span(className="picture-said", role="status"),
        ],
        className="picture-place",
    )


def picture_wall(pictures: Sequence[Picture], *, undo: bool = True) -> Component:
    """Return pictures side by side, each with what is known of it; with `undo`, each can be taken back."""
    return html.Div([_figure(one, undo) for one in pictures], className="picture-wall")


def privacy() -> Component:
    """Return what is left out of a picture, to stand where one can be taken."""
    return html.Small(PRIVACY, className="picture-privacy")


def picture_small(one: Picture) -> Component:
    """Return a picture as small as a button, to touch and see whole."""
    address = at(f"{PATH}{one.digest}")
    shown = html.Img(src=address, alt=f"Picture: {picture_text(one)}")
    return html.A(shown, href=address, target="_blank", className="picture-small")


def _figure(one: Picture, undo: bool) -> Component:
    words = picture_text(one)
    address = at(f"{PATH}{one.digest}")
    shown = html.A(html.Img(src=address, alt=f"Picture: {words}"), href=address, target="_blank")
    number = str(one.entry_id)
    back = attributes(data_picture_turn="take", data_number=number, aria_label=f"Take back picture {number}")
    taker = html.Button("Take back", className="touch undo", type="button", **back)
    button = [taker] if undo and allowed("enter") else []
    said = html.Span(className="picture-said", role="status")
    return html.Figure([shown, html.Figcaption([words, *button, said])], className="picture")
