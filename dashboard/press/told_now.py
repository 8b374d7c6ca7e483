"""What people are told of a press now, and the button by which somebody at it says that it is seen.

It stops messages and nothing else: the press has alarms of its own, which are answered at its own controls.
"""

from collections.abc import Hashable, Sequence
from datetime import datetime

from dash import html
from dash.development.base_component import Component

from dashboard.press.controls import touch
from dashboard.shared.at_centre import edge_here
from dashboard.shared.attributes import attributes
from dashboard.shared.source import Source
from shotlog.store.asked import state
from shotlog.store.asked.told import SpellNow, spells_now
from shotlog.wording.messages import short_of
from shotlog.wording.times import at_time
from shotlog.wording.told_about import seen_said

__all__ = ["ToldReader", "told_now"]

_ONLY = "Seen stops messages, and no alarm of the press."


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


def told_now(press: str, states: Sequence[SpellNow], now: datetime) -> Component | None:
    """Return what is told and not seen yet, with its button, and who has seen the rest; None where nothing is told."""
    if not states:
        return None
    new = [one for one in states if one.seen is None]
    seen = _seen(press, [one for one in states if one.seen is not None], now)
    if not new:
        return html.Div(seen, className="told-now")
    told = html.P([html.B("People are told: "), "; ".join(_each(press, new, now)), ". ", html.Small(_ONLY)])
    button = touch("Seen", "seen", str(max(one.number for one in new)), "primary", "Seen: no more messages of it")
    return html.Div(
        [html.Small("Say at the press that it is seen.") if edge_here() else button, told, *seen],
        className="told-now new",
        role="group",
        **attributes(aria_label="What people are told"),
    )


def _each(press: str, states: Sequence[SpellNow], now: datetime) -> list[str]:
    """Return states in short, each said once."""
    return list(dict.fromkeys(_short(press, one, now) for one in states))


def _seen(press: str, states: Sequence[SpellNow], now: datetime) -> list[Component]:
    """Return who has seen what and when, a line for each time somebody has."""
    lines: dict[str, list[str]] = {}
    for one in states:
        if one.seen is not None:
            said = seen_said(one.seen.who.initials, at_time(one.seen.time, now))
            lines.setdefault(said, []).append(_what(press, one))
    return [html.P(f"{'; '.join(dict.fromkeys(what))}: {said}.", className="seen") for said, what in lines.items()]


def _what(press: str, one: SpellNow) -> str:
    """Return a state as it was told; held parts by their shots, for several holds may be told, and not all be seen."""
    return short_of(one.said).removeprefix(f"{press}: ")


def _short(press: str, one: SpellNow, now: datetime) -> str:
    return f"{_what(press, one)}, since {at_time(one.since, now)}"
