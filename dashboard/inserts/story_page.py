"""The story of one insert: made, mounted, what was called on it, and what became of its parts."""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.inserts.ledger import LedgerReader, LedgerRow
from dashboard.inserts.story import LifeStory, StayStory, StoryReader, made_of
from dashboard.shared.address import address_of, at
from dashboard.shared.attributes import attributes
from dashboard.shared.not_yet import not_yet
from dashboard.shared.page import Context
from dashboard.shared.part_path import path_of
from dashboard.shared.pictures import picture_wall, taking
from dashboard.shared.zone import zone_note
from dashboard.shift import page as after_the_shift
from dashboard.shift.query import Query
from shotlog.errors import StoreError
from shotlog.parts.inspection import Inspection
from shotlog.parts.picture import Picture
from shotlog.parts.standing import Decision
from shotlog.records import NOBODY
from shotlog.store.parts.pictures import pictures_of_insert
from shotlog.store.parts.soaks import Soak
from shotlog.wording.ended import ENDED
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import some
from shotlog.wording.parts import result_text
from shotlog.wording.times import at_time, zone_named
from shotlog.wording.where import bath_named
from shotlog.wording.who import by_whom

__all__ = ["layout", "register"]

_BACK = "All inserts"


def layout(serial: str) -> Component:
    """Return the page of one insert; it is filled at once by two answers."""
    return html.Div(
        [
            html.H1(serial),
            html.P([dcc.Link(_BACK, href=at("/inserts"), className="touch"), " ", _values(serial)]),
            html.Div(
                [
                    html.Section(
                        not_yet(), id="story-made", className="made", **attributes(aria_label="How it was made")
                    ),
                    html.Section(not_yet(), id="story-life", className="life", **attributes(aria_label="Its life")),
                ],
                className="story",
            ),
            html.Section(id="story-pictures", className="pictured", **attributes(aria_label="Pictures")),
            dcc.Store("story-serial", data=serial),
            dcc.Store("story-seen"),
            dcc.Interval("story-tick", interval=2000),
        ],
        className="sheet story-page",
    )


def _values(serial: str) -> Component:
    address = at(f"{after_the_shift.PAGE.path}{Query(life=serial).search}")
    return dcc.Link("Its values over its shots", href=address, className="touch")


def register(app: Dash, context: Context, ledger: LedgerReader) -> None:
    """Fill the page, and keep it current."""
    reader = StoryReader(context.source, context.held)

    @app.callback(Output("story-made", "children"), Input("story-serial", "data"))
    def made(serial: str) -> Any:
        try:
            return _made(made_of(context.source.reading(), serial, context.source.clock.now()))
        except StoreError as error:
            return html.P(f"The log cannot be read: {error}.")

    @app.callback(Output("story-pictures", "children"), Input("story-serial", "data"))
    def pictured(serial: str) -> Any:
        try:
            pictures = pictures_of_insert(context.source.reading(), serial)
            return _pictures(serial, pictures, context.source.settings.edge)
        except StoreError as error:
            return html.P(f"The log cannot be read: {error}.")

    @app.callback(
        Output("story-life", "children"),
        Output("story-seen", "data"),
        Output("beat", "data", allow_duplicate=True),
        Input("story-serial", "data"),
        Input("story-tick", "n_intervals"),
        State("story-seen", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def life(serial: str, tick: int | None, seen: str | None) -> Any:
        now = context.source.clock.now()
        try:
            result, story = ledger.ask(), reader.story(serial)
        except StoreError as error:
            return html.P(f"The log cannot be read: {error}."), None, tick or 0
        known = None if result is None or result.found is None else result.found.rows
        end = _end(serial, story, known)
        held = repr((end, story, now.astimezone().date(), zone_named(now)))
        told = hashlib.blake2b(held.encode(), digest_size=12).hexdigest()
        if told == seen:
            return no_update, no_update, tick or 0
        ended = [html.P(end, className="verdict-of-life")] if end else []
        return [*ended, *_life(story, now)], told, tick or 0


def _end(serial: str, story: LifeStory, rows: Sequence[LedgerRow] | None) -> str:
    """Say how a life ended and what its parts cost, as the ledger knows it; single-use pieces have no life."""
    if not story.stays or any(stay.single_use for stay in story.stays):
        return ""
    if rows is None:
        return "How it ended is being worked out."
    row = next((one for one in rows if one.serial == serial), None)
    if row is None or row.sound is None:
        return ""
    # how many were made before it went off is known only of one that has
    lasted = f"{row.sound} of {row.n_shots} shots before that" if row.gone_off else some(row.n_shots, "shot")
    said = f"{row.state.capitalize()}: {lasted}; {row.ground}."
    if row.cost_low is not None:
        worst = "" if row.cost_high is None or row.cost_high <= row.cost_low else f" to {row.cost_high:.2f}"
        said += f" An accepted part on it cost {row.cost_low:.2f}{worst}."
    return said


def _made(said: Mapping[str, str] | None) -> list[Component]:
    if said is None:
        return [html.H2("Made"), html.P("This serial was never entered by itself; it may be one of a numbered series.")]
    if not said:
        return [html.H2("Made"), html.P("Nobody has said how it was made. The command shotlog insert enters it.")]
    rows = [part for what, text in said.items() for part in (html.Dt(what.capitalize()), html.Dd(text))]
    return [html.H2("Made"), html.Dl(rows)]


def _pictures(serial: str, pictures: Sequence[Picture], edge: str) -> list[Component]:
    shown = picture_wall(pictures, edge) if pictures else html.P("No picture shows it or its parts.", className="none")
    return [html.H2("Pictures"), shown, taking(edge, f"Picture of {serial}", insert=serial)]


def _life(story: LifeStory, now: datetime) -> list[Component]:
    if not story.stays:
        return [html.H2("Mounted"), html.P("It was never in a press.", className="none")]
    return [zone_note(now), *(part for stay in story.stays for part in _stay(stay, now))]


def _stay(stay: StayStory, now: datetime) -> list[Component]:
    if stay.single_use:
        title = f"Used by shot {stay.first} of {stay.press}, {half_named(stay.half)}"
    else:
        upto = "no shot yet" if stay.last is None else f"shots {stay.first} to {stay.last}"
        title = f"{stay.press}, {half_named(stay.half)}, {upto}"
    shots = some(stay.n_shots, "shot")
    state = "mounted now" if stay.mounted else f"came out: {stay.reason or 'nobody said why'}{by_whom(stay.taken_out)}"
    link = dcc.Link(f"{stay.press} now", href=address_of("/press", stay.press), className="touch")
    called = [html.Li(f"{_shots(one.first, one.last)}: {one.worst}{_ended(one.ended)}. {one.sentence}")
              for one in stay.called]  # fmt: skip
    return [
        html.H2(title),
        html.P([f"{shots}; entered {at_time(stay.since, now)}{by_whom(stay.put_in)}; {state}. ", link]),
        html.H3("Called"),
        html.Ul(called or [html.Li("No change was called on it.")]),
        html.H3("Parts"),
        html.Ul(_parts(stay, now)),
    ]


def _ended(ended: str) -> str:
    return "" if ended == "stood" else f", {ENDED[ended]}"


def _parts(stay: StayStory, now: datetime) -> list[Component]:
    def line(first: int, last: int, text: str) -> Component:
        return html.Li([dcc.Link(_shots(first, last), href=path_of(stay.press, first)), f" {text}"])

    def by(table: str, one: Decision | Inspection | Soak) -> str:
        return by_whom(stay.makers.get((table, one.entry_id), NOBODY))

    said = [line(one.first, one.last, f"HELD: {'; '.join(one.why)}") for one in stay.held]
    said += [
        line(one.first, one.last, f"{one.decision}: {one.reason} ({at_time(one.time, now)}{by('dispositions', one)})")
        for one in stay.decided
    ]
    said += [
        line(
            one.part.shot,
            one.part.shot,
            f"inspected {at_time(one.inspected, now)}{by('inspections', one)}: {result_text(one)}",
        )
        for one in stay.inspected
    ]
    said += [
        line(
            one.part.shot,
            one.part.shot,
            f"in {bath_named(one.bath)} since {at_time(one.went_in, now)}{by('soaks', one)}"
            + (f", out {at_time(one.came_out, now)}" if one.came_out else f", due {at_time(one.due, now)}"),
        )
        for one in stay.soaked
    ]
    return said or [html.Li("Nothing speaks against its parts, and none was inspected or put in a bath.")]


def _shots(first: int, last: int) -> str:
    return f"Shot {first}" if first == last else f"Shots {first} to {last}"
