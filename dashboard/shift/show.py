"""The words and tables of the page as components."""

from dataclasses import replace

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.shared.address import at
from dashboard.shared.drawn_table import drawn_rows, side
from dashboard.shift.life import LifeView, Sisters
from dashboard.shift.query import Query
from dashboard.shift.tables import drift_table, happened_table, lives_table, suspects_table
from dashboard.shift.whole import Shift
from shotlog.answers.table import Table
from shotlog.errors import StoreError
from shotlog.wording.chart_rate import chart_rate
from shotlog.wording.ended import ENDED
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import heading, shots, some, value
from shotlog.wording.times import clock_time

__all__ = ["PATH", "about_life", "about_sisters", "csv_link", "drawn", "lead", "tables", "unreadable"]

PATH = "/shift"
"""The path of the page; what follows the question mark says which view."""

_MOST_ROWS = 120
"""Rows of a table on the page; the download holds them all (own: more make a page slow to arrive)."""


def lead(shift: Shift) -> list[Component]:
    """Return what a view is about in words, or why there is nothing in it."""
    query = shift.query
    if not shift.any_shot:
        return [
            html.P(
                "No shot has been logged yet. From the first one on, what happened is found here.", className="empty"
            )
        ]
    if not shift.presses:
        why = "No shot in the log matches these filters."
        if query.trial:
            why = f"No shot was logged under a trial named {query.trial} that matches the other filters."
        return [html.P(why, className="empty"), dcc.Link("Show everything", href=at(PATH), className="touch")]
    said: list[Component] = []
    for one in shift.presses:
        times = one.history.record.times
        missed = sum(gap.n_shots for gap in one.history.record.gaps)
        n_series = sum(stay.single_use for stay in one.stays)
        lives = some(len(one.stays) - n_series, "life", "lives")
        series = f" and {n_series} series of single-use pieces" if n_series else ""
        text = (
            f"{one.press}: shots {one.window.first} to {one.window.last}, {clock_time(times[0])} to "
            f"{clock_time(times[-1])}; {len(times)} stored, {missed} missed; {lives}{series}."
        )
        if not one.turns:
            text += " None of them is judged yet."
        if one.window.n_left_out:
            text += (
                f" Only the newest that fit: {some(one.window.n_left_out, 'shot')} before them are left out; "
                "choose a trial or days to see those."
            )
        said.append(html.P(text))
    if shift.silent:
        said.append(html.P(f"Nothing in this view from {', '.join(shift.silent)}."))
    return said


def unreadable(error: StoreError, is_there: bool) -> list[Component]:
    """Return what is said where the log cannot be read."""
    why = "The log cannot be read." if is_there else "There is no log yet; it appears when the logger starts."
    return [html.P(why, className="empty"), html.P(f"{str(error)[:1].upper()}{str(error)[1:]}.")]


def csv_link(name: str, query: Query) -> Component:
    """Return the link that downloads a table of a view."""
    return html.A("CSV", href=at(f"{PATH}/{name}.csv{query.search}"), className="touch", title=f"download: {name}")


def drawn(given: Table, query: Query, name: str = "") -> list[Component]:
    """Return a table with its heading, what to know about it and its download, or the words for an empty one."""
    head = html.Div(
        [html.H2(given.title), *([csv_link(name or given.name, query)] if given.rows else [])], className="heading"
    )
    if not given.rows:
        return [head, html.P(given.empty)]
    shown = given.rows[-_MOST_ROWS:]
    left_out = len(given.rows) - len(shown)
    more = [html.P(f"The last {len(shown)} rows; {left_out} more before them are in the CSV.")] if left_out else []
    body = [html.Tr([_cell(given, head, cell, query) for head, cell in zip(given.heads, row, strict=True)])
            for row in shown]  # fmt: skip
    told = [html.P(given.about)] if given.about else []
    return [
        head,
        *told,
        *more,
        drawn_rows(given, body),
    ]


def _table(title: str, given: Table, query: Query, empty: str, about: str = "") -> list[Component]:
    return drawn(replace(given, title=title, empty=empty, about=about), query)


def tables(shift: Shift) -> list[Component]:
    """Return every table of a view."""
    query = shift.query
    happened = happened_table(shift)
    return [
        *_table("Lives", lives_table(shift), query, "No insert was entered for these shots."),
        *_table("Parts in doubt", suspects_table(shift), query, "No change was called and no part found bad."),
        *_table(
            "Drift", drift_table(shift), query, "No stretch has the eight judged shots a line needs.",
            "A straight line through the judged shots. The limit ahead is the action limit set for the design; where "
            "none is set, six spreads from where the line began.",
        ),
        html.Details(
            [html.Summary(f"Everything that happened: {some(len(happened.rows), 'line')}", className="touch"),
             *_table("What happened", happened, query, "Nothing was noted.")]
        ),
    ]  # fmt: skip


def _cell(given: Table, head: str, cell: str | int, query: Query) -> Component:
    inside = str(cell)
    if head == given.serials and inside:
        look = "here" if inside == query.life else ""
        chosen = query.but(life=inside, stay=0, upto=0).search
        return html.Th(dcc.Link(inside, href=at(f"{PATH}{chosen}"), className=look), scope="row")
    return html.Td(inside, className=side(given, head))


def about_life(life: LifeView, query: Query) -> list[Component]:
    """Return a life's facts, the ways to its other stays and shots, what was called and the levels it was held to."""
    ended = "still mounted" if life.mounted else f"taken out: {life.reason}"
    where = f"{life.press}, {half_named(life.half)}, design {life.design or 'not known'}"
    facts = f"Shots {shots(life.first, life.last)} of {where}; {ended}."
    return [
        html.P([facts, " ", *_ways(life, query)]),
        html.Ul([*_calls(life), *_accepted(life), *_levels(life)]),
    ]  # fmt: skip


def about_sisters(sisters: Sisters) -> str:
    """Return which lives are drawn over each other, and how many are not."""
    what = f"{sisters.half} inserts of design {sisters.design}" if sisters.design else "inserts of no known design"
    if len(sisters.lives) < 2 and not sisters.n_others:
        return f"No other life of {what} is in the log."
    more = f"; {sisters.n_others} more are not drawn" if sisters.n_others else ""
    return f"{some(len(sisters.lives), 'life', 'lives')} of {what}{more}. Touch a name to hide or show its life."


def _ways(life: LifeView, query: Query) -> list[Component]:
    """Return links to other stays, and to shots that did not fit."""
    first, last = life.drawn
    ways = []
    for n in range(1, life.n_stays + 1):
        if n != life.n_stay:
            ways.append((f"Stay {n} of {life.n_stays}", query.but(stay=n, upto=0)))
    if first > life.first:
        ways.append((f"Shots before {first}", query.but(stay=life.n_stay, upto=first - 1)))
    if last < life.last:
        size = last - first + 1
        ways.append((f"Shots after {last}", query.but(stay=life.n_stay, upto=min(last + size, life.last))))
    ways.append(("Close", query.but(life="", stay=0, upto=0)))
    return [dcc.Link(text, href=at(f"{PATH}{to.search}"), className="touch") for text, to in ways]


def _calls(life: LifeView) -> list[Component]:
    if not life.calls:
        return [html.Li(f"No change was called on shots {shots(*life.drawn)}.")]
    found: list[Component] = []
    for call in life.calls:
        ended = f", {ENDED[call.ended]}" if call.withdrawn else ""
        at = f"{call.worst} called at shot {call.first}, last at {call.last}, on {call.insert or 'no insert'}{ended}"
        onset = ""
        if call.onset is not None:
            low = call.onset if call.onset_low is None else call.onset_low
            high = call.onset if call.onset_high is None else call.onset_high
            onset = f"; onset {call.onset}, somewhere from {low} to {high}"
        found.append(html.Li([html.B(f"{at}{onset}. "), call.sentence]))
    return found


def _accepted(life: LifeView) -> list[Component]:
    return [
        html.Li(f"Changed level accepted as normal since shot {since}, first said at shot {at}.")
        for since, at in life.accepted
    ]


def _rate(per_100: int | None) -> str:
    said = chart_rate([per_100])
    return f"; {said}" if said else ""


def _levels(life: LifeView) -> list[Component]:
    shown = [one for one in life.baselines if one.channel in {strip.channel for strip in life.strips.strips}]
    return [
        html.Li(
            f"{heading(one.channel)}: held against {value(one.channel, one.centre, 1)}, limits "
            f"{value(one.channel, one.lower, 1)} to "
            f"{value(one.channel, one.upper, 1)}, from {some(one.n_shots, 'shot')} "
            f"{shots(one.first, one.last)}{_rate(one.per_100)}."
        )
        for one in shown
    ]
