"""A press that the configuration does not name: what the log has of it is still found, by an address from before."""

from urllib.parse import urlencode

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.shared.address import address_of, at
from dashboard.shared.page import Context
from shotlog.errors import StoreError
from shotlog.store.asked.state import press_state
from shotlog.wording.numbers import some
from shotlog.wording.times import at_time

__all__ = ["not_configured"]

_WHY = "The configuration does not name it any more: it was renamed, or taken out. Nobody reads it, and nothing can be "
_WHY += "entered for it here; what was logged of it stays, and its held parts stay held."


def not_configured(context: Context, press: str) -> Component | None:
    """Return what the log has of a press that is not configured; None where it has nothing."""
    source = context.source
    try:
        log = source.reading()
        if press in source.balances or log.last_shot(press) is None:
            return None
        now, held = press_state(log, press), context.held.now(press)
    except StoreError:
        return None
    last = "" if now.time is None else f" at {at_time(now.time, source.clock.now())}"
    said = [f"Last shot {now.shot}{last}; {some(now.n_shots, 'shot')} stored."]
    said += [f"{some(held.n_parts, 'part')} held."] if held is not None else []
    ways = [
        dcc.Link("After the shift", href=f"{at('/shift')}?{urlencode({'press': press})}", className="touch"),
        dcc.Link("Parts and baths", href=at("/parts"), className="touch"),
        *(dcc.Link(one, href=address_of("/press", one), className="touch") for one in source.presses),
    ]
    heading = html.H1(press)
    parts = [heading, html.P(_WHY), *map(html.P, said), html.P(ways, className="row")]
    return html.Div(parts, className="sheet")
