"""What stands at the press between the verdict and the strips: a question about a finding, what is held, what is told.

They stay until a person has answered or decided, whatever the verdict is. They are refreshed on their own: what is
being typed as an answer must not be drawn anew with every shot.
"""

from typing import Any

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.press.controls import field, touch
from dashboard.press.told_now import ToldReader, told_now
from dashboard.shared.address import address_of
from dashboard.shared.at_centre import ELSEWHERE, edge_here
from dashboard.shared.attributes import attributes
from dashboard.shared.page import Context
from dashboard.shared.person import allowed
from dashboard.shared.sent import PressName
from shotlog.errors import StoreError
from shotlog.parts.found import FoundWrong
from shotlog.parts.held import HeldNow
from shotlog.parts.told import TAKEN_OUT
from shotlog.wording.found import ASKED, found_said, why_asked
from shotlog.wording.held import held_next, held_said

__all__ = ["register", "section"]


def section() -> Component:
    """Return the part of the page that holds them."""
    return html.Section(
        [
            dcc.Store("people-seen", data={}),
            html.Div(id="asked"),
            html.Div(id="held-now", role="status"),
            html.Div(id="told-now", role="status"),
        ],
        className="people",
        **attributes(aria_label="Found, held and told"),
    )


def register(app: Dash, context: Context) -> None:
    """Refresh them, sending only what changed."""
    told = ToldReader(context.source)

    @app.callback(
        Output("asked", "children"),
        Output("held-now", "children"),
        Output("told-now", "children"),
        Output("people-seen", "data"),
        Input("tick", "n_intervals"),
        State("press", "data"),
        State("people-seen", "data"),
    )
    def refresh(_tick: int | None, press: PressName, seen: dict[str, str]) -> Any:
        try:
            view, held = context.reader.fresh(press).view, context.held.now(press)
            states = told.now(press)
        except StoreError:
            return no_update, no_update, no_update, no_update  # the verdict says so, large
        asked = why_asked(view.found)
        clock = context.source.clock.now()
        now = {"asked": repr(asked), "held": repr(held), "told": repr(states)}
        return (
            no_update if seen.get("asked") == now["asked"] else _question(asked),
            no_update if seen.get("held") == now["held"] else _held(press, held),
            no_update if seen.get("told") == now["told"] else told_now(press, states, clock),
            no_update if seen == now else now,
        )


def _question(found: FoundWrong | None) -> Component | None:
    """Return the question which part was the last that is known to be good, each answer at one touch."""
    if found is None or not allowed("enter"):
        return None
    likely = dict.fromkeys(one.last_good for one in found.held if one.last_good is not None)
    if found.wrong.basis != TAKEN_OUT:
        likely[found.wrong.shot - 1] = None
    answers = [
        *(touch(f"Shot {shot}", "good", str(shot), "primary") for shot in likely if shot > 0),
        field("good.shot", "Another shot", numeric=True),
        touch("Enter this shot", "good", ""),
        touch("None known", "unsure", str(found.wrong.shot)),
    ]
    return html.Div(
        [
            html.B([f"{ASKED[0].upper()}{ASKED[1:]} ", html.Small(found_said(found))]),
            *([html.Small(ELSEWHERE)] if edge_here() else answers),
        ],
        className="question",
        role="group",
        **attributes(aria_label="Last known good"),
    )


def _held(press: str, held: HeldNow | None) -> Component | None:
    """Return what is held, readable at two metres, with the way to decide on it."""
    if held is None:
        return None
    told = held_next(held)
    return dcc.Link(
        [html.B(held_said(held)), html.Span(f"{told[0].upper()}{told[1:]}.")],
        href=address_of("/parts", press),
        className="held-banner",
    )
