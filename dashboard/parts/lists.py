"""The lists on the page of parts and baths: what is held and why, what is in which bath, and the last entries."""

from datetime import datetime

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.parts.cards import HeldCard
from dashboard.parts.dialogs import touch
from dashboard.parts.reader import BathView, PartsView, Recent, Soaking
from dashboard.shared.at_centre import UNDONE_ELSEWHERE, edge_here, is_taken_back_here
from dashboard.shared.bath_check import checked_words
from dashboard.shared.part_path import path_of
from dashboard.shared.person import allowed, here
from shotlog.cautions import CAUSTIC
from shotlog.wording.accounts import not_allowed
from shotlog.wording.numbers import shots, shots_named, some
from shotlog.wording.parts import lifted_text
from shotlog.wording.times import ago, at_time
from shotlog.wording.where import bath_named
from shotlog.wording.who import by_whom

__all__ = ["baths", "held", "recent", "unread"]

_SHOWN = 24
"""Entries of held parts that stand open; older ones are folded, one touch away."""


def unread(said: str) -> tuple[Component, None, None, None]:
    """Return the four lists of a log that cannot be read."""
    return html.P(["The log cannot be read: ", said], className="away"), None, None, None


def held(view: PartsView, now: datetime, press: str = "") -> list[Component]:
    """Return the held parts, each entry with its reason and its buttons; of one `press`, or of all."""
    of = f" of {press}" if press else ""
    if view.held is None:
        return [html.H2("Held"), html.P("Which parts are held is being worked out; it takes a while over many shots.")]
    groups = [one for one in view.held if press in ("", one.press)]
    if not groups:
        nothing = (
            f"Nothing is held{of}. Parts come here by themselves when a change is called, when somebody finds damage, "
            "when an inspection finds one bad, or when a shot lies far out alone."
        )
        return [html.H2("Held"), html.P(nothing, className="none"), *_lifted(view, press)]
    n = sum(one.n_parts for one in groups)
    cards = [_group(one, now, _where(view, one)) for one in groups]
    older = cards[_SHOWN:]
    folded = [html.Details([html.Summary(f"Older: {some(len(older), 'entry', 'entries')} more"),
                            html.Ul(older, className="runs")], className="lifted")] if older else []  # fmt: skip
    head = html.H2(f"Held: {some(n, 'part')}{of}")
    return [head, *_not_yours(), html.Ul(cards[:_SHOWN], className="runs"), *folded, *_lifted(view, press)]


def _not_yours() -> list[Component]:
    """Return that whoever is logged in enters and does not decide, in place of the buttons that decide."""
    person = here()
    if person is None or allowed("decide") or not allowed("enter"):
        return []
    return [html.P(not_allowed(person.role, "decide"), className="none")]


def _lifted(view: PartsView, press: str) -> list[Component]:
    """Return what was held once: somebody may have set those parts aside."""
    lifted = [one for one in view.lifted if press in ("", one.press)]
    if not lifted:
        return []
    n = sum(one.last - one.first + 1 for one in lifted)
    rows = [html.Li(f"{one.press}, {shots_named(one.first, one.last)}: {lifted_text(one)}") for one in lifted]
    return [
        html.Details([html.Summary(f"Held before, no longer: {some(n, 'part')}"), html.Ul(rows)], className="lifted")
    ]


def _where(view: PartsView, group: HeldCard) -> str:
    """Return where the held parts of an entry are, as far as anybody has said."""
    inside = [(place.name, one.press, one.first, one.last) for place in view.places for one in place.inside]
    inside += [
        (bath_named(bath.bath.name), one.press, one.first, one.last) for bath in view.baths for one in bath.inside
    ]
    return "; ".join(
        f"{name}: {shots_named(max(first, begin), min(last, end))}"
        for name, press, first, last in inside
        for begin, end in group.spans
        if press == group.press and first <= end and last >= begin
    )


def _group(group: HeldCard, now: datetime, where: str) -> Component:
    shots = _shots(group)
    since = [] if group.since is None else [f"since {at_time(group.since, now)}"]
    about, spoken = f"{group.press} {group.named}", f"{shots} of {group.press}"
    return html.Li(
        [
            html.Div(
                [
                    html.H3(
                        [
                            dcc.Link(f"{group.press}, {shots}", href=path_of(group.press, group.first)),
                            " ",
                            html.Small(", ".join([some(group.n_parts, "part"), *since])),
                        ]
                    ),
                    *_reasons(group),
                    *([html.P(f"{where[:1].upper()}{where[1:]}.")] if where else []),
                ],
                className="why",
            ),
            html.Div(
                [
                    touch("Release\N{HORIZONTAL ELLIPSIS}", "open", f"release {about}", spoken=f"Release {spoken}"),
                    touch("Scrap\N{HORIZONTAL ELLIPSIS}", "open", f"scrap {about}", spoken=f"Scrap {spoken}"),
                    touch("Put\N{HORIZONTAL ELLIPSIS}", "open", f"put {about}", spoken=f"Say where {spoken} are"),
                ],
                className="decide",
            ),
        ],
        key=about,
    )


def _shots(group: HeldCard) -> str:
    """Return the shots of an entry in words, with the cavities where not all are meant."""
    if len(group.spans) == 1:
        named = shots_named(*group.spans[0])
    else:
        named = f"shots {', '.join(shots(first, last) for first, last in group.spans)}"
    return named + (f", cavity {', '.join(map(str, group.cavities))}" if group.cavities else "")


def _reasons(group: HeldCard) -> list[Component]:
    """Return why parts are held: the main reason, the parts that lay far out as well, and the rest folded."""
    said: list[Component] = [html.P(group.why)] if group.why else []
    if group.far_out:
        word = "shot" if len(group.far_out) == 1 else "shots"
        said.append(html.P(f"Far out alone, among them: {word} {', '.join(map(str, group.far_out))}."))
    if group.besides:
        rest = html.Summary(f"{some(len(group.besides), 'more reason')}, for some of them")
        said.append(html.Details([rest, *map(html.P, group.besides)], className="lifted"))
    if group.again:
        said.append(html.P("Released before; newer evidence holds it again.", className="again"))
    return said


def baths(view: PartsView, now: datetime) -> list[Component]:
    """Return every bath with what is in it, and since when and until when."""
    new = touch("New filling\N{HORIZONTAL ELLIPSIS}", "open", "fill ")
    if edge_here():
        new = html.P("What is done with a bath is entered at it, at the press.", className="none")
    caution = html.P(CAUSTIC, className="caution")
    if not view.baths:
        none = "No bath is on record. A bath is needed only for single-use halves that are dissolved off their parts."
        return [html.H2("Baths"), html.P(none, className="none"), html.Div(new, className="row"), caution]
    late = sum(one.n_parts for bath in view.baths for one in bath.inside if one.due < now)
    n = sum(one.n_parts for bath in view.baths for one in bath.inside)
    head = f"Baths: {some(n, 'part')} in" + (f", {late} OVERDUE" if late else "")
    return [html.H2(head), *(_bath(bath, now) for bath in view.baths), html.Div(new, className="row"), caution]


def _bath(shown: BathView, now: datetime) -> Component:
    bath, named = shown.bath, bath_named(shown.bath.name)
    last = bath.checks[-1] if bath.checks else None
    state = "never checked" if last is None else checked_words(last)
    when = "" if last is None else f" at {at_time(last.checked, now)}"
    old = ", an older filling" if bath.old else ""
    actions = [] if bath.old else [
        touch("Put in\N{HORIZONTAL ELLIPSIS}", "open", f"soak {bath.name}", spoken=f"Put parts into {named}"),
        touch("Check\N{HORIZONTAL ELLIPSIS}", "open", f"check {bath.name}", spoken=f"Check {named}"),
    ]  # fmt: skip
    rows = [_soaking(one, now) for one in shown.inside] or [html.P("Empty.")]
    wrong = " wrong" if last is not None and last.wrong else ""
    return html.Div(
        [
            html.Div(
                [
                    html.H3(
                        [f"{named[:1].upper()}{named[1:]} ", html.Small(f"made up {at_time(bath.made_up, now)}{old}")]
                    ),
                    html.P(f"{state}{when}", className=f"checked{wrong}"),
                ]
            ),
            html.Div(actions, className="decide"),
            html.Div(rows, className="inside"),
        ],
        className="bath",
    )


def _soaking(one: Soaking, now: datetime) -> Component:
    late = (now - one.due).total_seconds()
    due = f"OVERDUE by {ago(late)}" if late > 0 else f"due {at_time(one.due, now)}, in {ago(-late)}"
    shots = shots_named(one.first, one.last)
    return html.Div(
        [
            html.Div(
                [
                    html.B(dcc.Link(f"{one.press}, {shots}", href=path_of(one.press, one.first))),
                    html.Span(f"{some(one.n_parts, 'part')}, in since {at_time(one.went_in, now)}"),
                    html.Span(due, className="late" if late > 0 else ""),
                ],
                className="what",
            ),
            touch("Out\N{HORIZONTAL ELLIPSIS}", "open", f"out {one.press} {one.named}",
                  spoken=f"Take {shots} of {one.press} out"),
        ],
        className="soaking overdue" if late > 0 else "soaking",
    )  # fmt: skip


def recent(view: PartsView, now: datetime) -> list[Component]:
    """Return the last entries, each with its undo."""
    return [
        html.Li(
            [
                html.Span([f"{one.text} ", html.Small(_when_and_who(one, now))], className="what"),
                *_undo(one),
            ]
        )
        for one in view.recent
    ] + _undone_elsewhere(view) or [html.Li(html.Span("Nothing entered yet.", className="what"))]


def _undo(one: Recent) -> list[Component]:
    may = is_taken_back_here(one.entry, one.who)
    return [touch("Undo", "undo", one.entry, "undo", f"Undo {one.text}")] if may else []


def _undone_elsewhere(view: PartsView) -> list[Component]:
    if all(is_taken_back_here(one.entry, one.who) for one in view.recent):
        return []
    return [html.Li(html.Span(UNDONE_ELSEWHERE, className="what"))]


def _when_and_who(one: Recent, now: datetime) -> str:
    return at_time(one.time, now) + ("" if one.who is None else by_whom(one.who))
