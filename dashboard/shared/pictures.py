"""Pictures on the pages: the button that takes one, and those that were taken. `assets/pictures.js` does the taking."""

from collections.abc import Sequence
from urllib.parse import urlencode

from dash import html
from dash.development.base_component import Component

from dashboard.shared.address import at
from dashboard.shared.attributes import attributes
from dashboard.shared.person import allowed
from dashboard.shared.picture_route import PATH
from dashboard.shared.who import who_enters
from shotlog.parts.picture import Picture
from shotlog.wording.pictures import PRIVACY, picture_text, there_text

__all__ = ["picture_button", "picture_small", "picture_wall", "taking"]


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


def picture_wall(pictures: Sequence[Picture], edge: str = "", *, undo: bool = True) -> Component:
    """Return pictures side by side, each with what is known of it; with `undo`, each can be taken back.

    Those of an edge lie there, and at a centre that is said in their place.
    """
    return html.Div([_figure(one, edge, undo) for one in pictures], className="picture-wall")


def taking(edge: str, spoken: str = "", **of: object) -> Component:
    """Return the button that takes a picture with what is left out of one, and who enters; nothing at a centre."""
    if edge:
        return html.Span(hidden=True)
    left_out = html.Small(PRIVACY, className="picture-privacy")
    return html.Div([picture_button(spoken, **of), left_out, who_enters()], className="taking")


def picture_small(one: Picture, edge: str = "") -> Component:
    """Return a picture as small as a button, to touch and see whole; of an `edge`, where it is."""
    return _away(edge) if edge else _shown(one, "picture-small")


def _shown(one: Picture, look: str = "") -> Component:
    address = at(f"{PATH}{one.digest}")
    return html.A(
        html.Img(src=address, alt=f"Picture: {picture_text(one)}"), href=address, target="_blank", className=look
    )


def _away(edge: str) -> Component:
    return html.Span(there_text(edge), className="none")


def _figure(one: Picture, edge: str, undo: bool) -> Component:
    words = picture_text(one)
    shown = _away(edge) if edge else _shown(one)
    number = str(one.entry_id)
    back = attributes(data_picture_turn="take", data_number=number, aria_label=f"Take back picture {number}")
    taker = html.Button("Take back", className="touch undo", type="button", **back)
    button = [taker] if undo and not edge and allowed("enter") else []
    said = html.Span(className="picture-said", role="status")
    return html.Figure([shown, html.Figcaption([words, *button, said])], className="picture")
