"""What people are told of a press now, and the button by which somebody at it says that it is seen.

It stops messages and nothing else: the press has alarms of its own, which are answered at its own controls.
"""

from collections.abc import Hashable, Sequence
from datetime import datetime

from dash import html
from dash.development.base_component import Component

from dashboard.press.controls import touch
from dashboard.shared.attributes import attributes
from dashboard.shared.source import Source
from shotlog.store.asked import state
from shotlog.store.asked.told import SpellNow, spells_now
from shotlog.wording.messages import short_of
from shotlog.wording.times import at_time
from shotlog.wording.told_about import seen_said

__all__ = ["ToldReader", "told_now"]

_ONLY = "It stops messages, and no alarm of the press."


class ToldReader:
    """Reads what is told of the presses of one configuration; nothing where it tells nobody."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self._kept: dict[str, tuple[Hashable, tuple[SpellNow, ...]]] = {}

    def now(self, press: str) -> tuple[SpellNow, ...]:
        """Return the states of a press, and of the logger and the shop, that people are told of.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        messages = self._source.settings.messages
        if messages is None:
            return ()
        log = self._source.reading()
        mark = state.change_mark(log)
        kept = self._kept.get(press)
        if kept is None or kept[0] != mark:
            kept = self._kept[press] = mark, tuple(spells_now(log, [press], messages.site))
        return kept[1]


def told_now(states: Sequence[SpellNow], now: datetime) -> Component | None:
    """Return what is told and not seen yet, with its button, and who has seen the rest; None where nothing is told."""
    if not states:
        return None
    new = [one for one in states if one.seen is None]
    seen = [html.P(_seen(one, now), className="seen") for one in states if one.seen is not None]
    if not new:
        return html.Div(seen, className="told-now")
    told = html.Ul([html.Li(f"{short_of(one.said)}, since {at_time(one.since, now)}") for one in new])
    button = touch("Seen", "seen", str(max(one.number for one in new)), "primary", "Seen: no more messages of it")
    return html.Div(
        [html.B("People are told"), told, html.Div([button, html.Small(_ONLY)], className="row"), *seen],
        className="told-now new",
        role="group",
        **attributes(aria_label="What people are told"),
    )


def _seen(one: SpellNow, now: datetime) -> str:
    who = "" if one.seen is None else one.seen.who.initials
    return f"{short_of(one.said)}: {seen_said(who, '' if one.seen is None else at_time(one.seen.time, now))}."
