"""Where parts were put, on the page of parts and baths: every bag, box and shelf, its parts, and when they are due."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.parts.dialogs import touch
from dashboard.shared.at_centre import edge_here
from dashboard.shared.part_path import path_of
from shotlog.parts.part import spans_of
from shotlog.store.parts.places import WhereIs
from shotlog.wording.numbers import shots_named, some
from shotlog.wording.times import ago, at_time

__all__ = ["PlaceView", "PlacedRun", "placed_in", "places"]

_SHOWN = 30
"""Runs of parts shown, the newest places first; the command `shotlog place` lists all (own)."""


@dataclass(frozen=True, slots=True)
class PlacedRun:
    """A run of parts put in a place together; `due` is None where nothing is due with them."""

    press: str
    first: int
    last: int
    cavity: int
    n_parts: int
    put: datetime
    due: datetime | None


@dataclass(frozen=True, slots=True)
class PlaceView:
    """A place and the runs of parts in it; what is due first on top."""

    name: str
    inside: tuple[PlacedRun, ...]


def placed_in(where: WhereIs) -> tuple[PlaceView, ...]:
    """Return the places in which parts are now, that of the newest entry first."""
    found: dict[str, list[PlacedRun]] = {}
    for said in reversed(where.places):
        for first, last in spans_of(where.still_at(said)):
            n = last.shot - first.shot + 1
            run = PlacedRun(said.press, first.shot, last.shot, first.cavity, n, said.put, said.due)
            found.setdefault(said.place, []).append(run)
    return tuple(PlaceView(name, tuple(sorted(runs, key=_when_due))) for name, runs in found.items())


def _when_due(one: PlacedRun) -> tuple[bool, datetime, str, int, int]:
    return one.due is None, one.due or one.put, one.press, one.first, one.cavity


def places(found: Sequence[PlaceView], now: datetime) -> list[Component]:
    """Return every place with what is in it, and the button that says where parts are."""
    new: Component = html.Div(touch("Put somewhere\N{HORIZONTAL ELLIPSIS}", "open", "put "), className="row")
    if edge_here():
        new = html.P("Where parts are is entered at the press.", className="none")
    if not found:
        none = "Nobody has said where parts are. A bag, box or shelf takes one word, typed or scanned."
        return [html.H2("Places"), html.P(none, className="none"), new]
    n = sum(one.n_parts for place in found for one in place.inside)
    late = sum(one.n_parts for place in found for one in place.inside if one.due is not None and one.due < now)
    head = f"Places: {some(n, 'part')}" + (f", {late} OVERDUE" if late else "")
    rows = [(place.name, one) for place in found for one in place.inside]
    left = len(rows) - _SHOWN
    more = [html.P(f"{left} more are not shown; the command shotlog place lists all.")] if left > 0 else []
    return [html.H2(head), *(_placed(name, one, now) for name, one in rows[:_SHOWN]), *more, new]


def _placed(name: str, one: PlacedRun, now: datetime) -> Component:
    shots = shots_named(one.first, one.last)
    cavity = f", cavity {one.cavity}" if one.cavity > 1 else ""
    named = f"{one.first}-{one.last}" if one.last > one.first else f"{one.first}"
    named += f"/{one.cavity}" if one.cavity > 1 else ""
    late = 0.0 if one.due is None else (now - one.due).total_seconds()
    due = "" if one.due is None else f"due {at_time(one.due, now)}, in {ago(-late)}"
    if late > 0:
        due = f"OVERDUE by {ago(late)}"
    return html.Div(
        [
            html.Div(
                [
                    html.B(
                        [f"{name}: ", dcc.Link(f"{one.press}, {shots}{cavity}", href=path_of(one.press, one.first))]
                    ),
                    html.Span(f"{some(one.n_parts, 'part')}, since {at_time(one.put, now)}"),
                    *([html.Span(due, className="late" if late > 0 else "")] if due else []),
                ],
                className="what",
            ),
            _move(one, named, shots),
        ],
        className="soaking overdue" if late > 0 else "soaking",
    )


def _move(one: PlacedRun, named: str, shots: str) -> Component:
    spoken = f"Move {shots} of {one.press}"
    return touch("Move\N{HORIZONTAL ELLIPSIS}", "open", f"put {one.press} {named}", spoken=spoken)
