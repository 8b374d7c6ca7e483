"""*At the press*: the verdict, the strips, who is mounted, and the entries; to be read standing, at two metres."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from urllib.parse import unquote

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.press import entry_panel, people
from dashboard.press.gone import not_configured
from dashboard.press.mounted import mounted
from dashboard.press.standing import PressStanding, safe_of, standing
from dashboard.shared.address import address_of
from dashboard.shared.attributes import attributes
from dashboard.shared.backups import backup_notices
from dashboard.shared.figures.ink import NOTHING
from dashboard.shared.figures.strips import strips_figure, strips_in_words
from dashboard.shared.kept import low_disks
from dashboard.shared.not_yet import WAITS, not_yet
from dashboard.shared.page import Context, Page, named
from dashboard.shared.person import allowed
from dashboard.shared.press_reader import Fresh
from dashboard.shared.sent import Mode, PressName
from dashboard.shared.views import PressView, Strips
from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreMissing
from shotlog.wording.chart_rate import chart_rate
from shotlog.wording.clock import clock_said, is_of_today
from shotlog.wording.incoming import missed_said, uncertain_said
from shotlog.wording.not_current import link_unknown
from shotlog.wording.numbers import some
from shotlog.wording.times import at_time, zone_named

__all__ = ["PAGE"]

_LONG_HEADLINE = 12
_TABS = 6
"""Presses that stand side by side on top; the page of the plant has room for all."""
_LOUD = ("swap", "watch", "cut")
_TICK_MS = 800
"""So that a shot is on the screen within a second of being logged."""

_NO_PRESS = "The configuration names balances and no press. Add a [[press]] that makes shots, and start again."
_NOT_YET = html.Div(not_yet("What may be said of this press, and which of its parts are held,"))
_BAR = "\u251d\u2501\u253f\u2501\u2525"
_LEGEND = (
    ("\N{BLACK CIRCLE}", "judged"),
    ("\N{WHITE CIRCLE}", "settling, or not judged yet"),
    ("\N{BLACK UP-POINTING TRIANGLE}\N{BLACK DOWN-POINTING TRIANGLE}", "outside limits"),
    ("\N{LOZENGE}", "other signal"),
    ("\N{EM DASH}", "level"),
    ("\N{EN DASH} \N{EN DASH}", "limits"),
    ("\N{WHITE SQUARE CONTAINING BLACK SMALL SQUARE}", "missed"),
    ("\N{MEDIUM SHADE}", "hold"),
    (_BAR, "forecast"),
)


def layout(context: Context, rest: str) -> Component:
    """Return the page of the press named in the address, the first one where it names none."""
    presses = context.source.presses
    press = unquote(rest.strip("/"))
    if press not in presses:
        if press:
            if (known := not_configured(context, press)) is not None:
                return known
            return html.Div([html.H1("No such press"), _choose(context)], className="lost")
        if not presses:
            return html.Div([html.H1("No press"), html.P(_NO_PRESS)], className="lost")
        press = presses[0]
    return html.Div(
        [
            dcc.Store("press", data=press),
            dcc.Store("seen", data={}),
            dcc.Interval("tick", interval=_TICK_MS),
            html.Nav(id="switch", className="switch", **attributes(aria_label="Presses")),
            html.Section(_NOT_YET, id="standing", className="standing waiting", **attributes(aria_live="polite")),
            people.section(),
            html.Section(_strips_part(), className="strips", **attributes(aria_label="Strips")),
            html.Aside(
                [
                    html.Section(
                        [html.H2("Mounted"), not_yet()],
                        id="mounted",
                        className="mounted",
                        **attributes(aria_label="Mounted inserts"),
                    ),
                    entry_panel.section(context.source.settings.edge),
                    html.Section(
                        [html.H2("Connection"), not_yet()],
                        id="health",
                        className="health",
                        **attributes(aria_label="Connection"),
                    ),
                    html.Section(
                        [html.H2("Last entries"), html.Ul(html.Li(not_yet()), id="recent", className="recent")]
                    ),
                ],
                className="side",
            ),
        ],
        className="at-the-press",
    )


def _strips_part() -> list[Component]:
    legend = [html.Span([html.B(sign), f" {word}"]) for sign, word in _LEGEND]
    graph = dcc.Graph(
        "strips",
        figure=NOTHING,
        responsive=True,
        config={"displayModeBar": False},
        className="graph",
    )
    return [
        graph,
        html.P([*legend, html.Span(id="chart-rate")], className="legend"),
        html.P(WAITS, id="strips-words", className="spoken"),
    ]


def _choose(context: Context) -> Component:
    return html.Ul([html.Li(dcc.Link(name, href=address_of("/press", name))) for name in context.source.presses])


def register(app: Dash, context: Context) -> None:
    """Refresh the page every second, sending only what changed; take the entries."""
    entry_panel.register(app, context)
    people.register(app, context)
    context.first_looks.append(lambda: context.reader.look(context.source.presses))

    @app.callback(
        Output("standing", "children"),
        Output("standing", "className"),
        Output("strips", "figure"),
        Output("strips-words", "children"),
        Output("chart-rate", "children"),
        Output("mounted", "children"),
        Output("recent", "children"),
        Output("health", "children"),
        Output("switch", "children"),
        Output("seen", "data"),
        Output("beat", "data"),
        Input("tick", "n_intervals"),
        State("inks", "data"),
        State("narrow", "data"),
        State("press", "data"),
        State("seen", "data"),
    )
    def refresh(
        tick: int | None, mode: Mode | None, narrow: bool | None, press: PressName, seen: dict[str, str]
    ) -> Any:
        inks = mode or "day"
        now = context.source.clock.now()
        looks = look(context, now)
        fresh, words = looks[press]
        switch = [(name, looks[name][1].headline, looks[name][1].sign, name == press) for name in _tabs(looks, press)]
        held = {
            "words": repr(words),
            "strips": f"{inks} {narrow} {fresh.strips_digest if fresh else ''}",
            "side": fresh.digest if fresh else "",
            "switch": repr(switch),
        }
        new = {name for name, digest in held.items() if seen.get(name) != digest}
        view = fresh.view if fresh is not None else None
        strips = view.strips if view is not None and "strips" in new else None
        side = view if "side" in new else None
        return (
            _standing(words) if "words" in new else no_update,
            _look(words, view) if new & {"words", "side"} else no_update,
            strips_figure(strips, inks, bool(narrow)) if strips is not None else no_update,
            strips_in_words(strips) if strips is not None else no_update,
            _rate(strips) if strips is not None else no_update,
            mounted(side) if side is not None else no_update,
            entry_panel.recent_entries(side, context.source.settings.edge) if side is not None else no_update,
            _health(view, now, words) if view is not None and new & {"side", "words"} else no_update,
            [_link(*item) for item in switch] if "switch" in new else no_update,
            held if new else no_update,
            tick or 0,
        )


def _tabs(looks: Mapping[str, tuple[Fresh | None, PressStanding]], press: str) -> list[str]:
    """Return the presses that stand on top: all where they have room, else this one and those with most to say."""
    if len(looks) <= _TABS:
        return list(looks)
    loud = [name for sign in _LOUD for name, (_, said) in looks.items() if said.sign == sign and name != press]
    shown = {press, *loud[: _TABS - 1]}
    return [name for name in looks if name in shown]


def look(context: Context, now: datetime) -> dict[str, tuple[Fresh | None, PressStanding]]:
    """Return how each press stands and what may be said of it; no view where the log cannot be read."""
    kept = context.source.kept.now()
    notices = tuple(low_disks(kept))
    heard = context.source.heard
    try:
        unheard = None if heard is None else heard.unheard()
        waits = kept if heard is None else None  # in the journal of the edge, of which nothing is known here
        fresh, seen = context.reader.look(context.source.presses)
        notices = (*notices, *backup_notices(context.source, now, in_short=True))
        return {
            press: (found, replace(standing(found.view, now, seen, waits, unheard), notices=notices))
            for press, found in fresh.items()
        }
    except StoreError as error:
        words = _gone(error) if isinstance(error, StoreGone) else _unreadable(error)
        if isinstance(error, StoreMissing):
            words = _coming(error) if kept.alive else _not_logged(error)
        words = replace(words, notices=notices)
        held = bool(kept.shots or kept.unsafe)
        return {
            press: (None, replace(words, safe=safe_of(press, kept, kept.alive) if held else ""))
            for press in context.source.presses
        }


def _coming(error: StoreError) -> PressStanding:
    """Return what is said where a logger is at work, and has not made its log yet."""
    return PressStanding(
        "waiting",
        "Waiting for the log",
        f"{error}.",
        detail="A logger is at work, and keeps its shots until it can write them.",
    )


def _not_logged(error: StoreError) -> PressStanding:
    return PressStanding(
        "cut",
        "Nothing is logged",
        "There is no log yet; it appears when the logger starts. What the presses make now is not kept.",
        check=f"Start it on the computer beside the presses: shotlog run with this configuration. ({error})",
        current=False,
    )


def _gone(error: StoreError) -> PressStanding:
    return PressStanding(
        "cut",
        "The log is gone",
        f"{error}.",
        detail="A logger that is running keeps its shots, and goes on in the log as soon as it can.",
        check="Judge by the parts: nothing is current. Bring the log back, or ask who moved it.",
        current=False,
    )


def _unreadable(error: StoreError) -> PressStanding:
    if isinstance(error, StoreDamaged):
        return PressStanding(
            "cut",
            "The log is damaged",
            f"{error}.",
            detail="The logger looks at every page of the file when it starts and once a day, and puts the log right.",
            check="Judge by the parts: nothing is current. Start `shotlog run` again, and have the disk looked at.",
            current=False,
        )
    return PressStanding(
        "cut", "The log cannot be read", f"{error}.", check="Judge by the parts: nothing is current.", current=False
    )


def _standing(words: PressStanding) -> list[Component]:
    return [
        html.Div(className=f"sign sign-{words.sign}"),
        html.Div(
            [
                html.P(words.limit, className="limit") if words.limit else None,
                html.Div(
                    [
                        html.Div(
                            [
                                html.H1(words.headline),
                                html.P(words.likely, className="likely") if words.likely else None,
                            ]
                        ),
                        html.Div(
                            [
                                html.P(words.sentence, className="sentence"),
                                html.P(words.hold, className="hold") if words.hold else None,
                            ]
                        ),
                    ],
                    className="said-of-it",
                ),
                html.P(words.detail, className="detail") if words.detail else None,
                html.P(words.safe, className="safe") if words.safe else None,
                _also(words.also) if words.also else None,
                html.P([html.B("Next: "), words.check], className="check") if words.check else None,
                _rest() if words.hold and (words.detail or words.also) else None,
                html.P(words.before, className="before") if words.before else None,
                entry_panel.question(words.question) if words.question is not None and allowed("enter") else None,
                *(html.P(f"{notice}.", className="notice", role="alert") for notice in words.notices),
            ]
        ),
    ]


def _rest() -> Component:
    """Return what unfolds, on a phone, how sure it is and what stands beside it: what to do comes first there."""
    return html.Button("Why, and how sure", className="touch only-narrow rest", **attributes(aria_expanded="false"))


def _also(others: Sequence[str]) -> Component:
    """Return the list of changes that stand open beside the one that decides."""
    return html.Div([html.B("Also open: "), html.Ul([html.Li(other) for other in others])], className="also")


def _look(words: PressStanding, view: PressView | None) -> str:
    marks = {"not-current": not words.current, "no-view": view is None, "long": len(words.headline) > _LONG_HEADLINE}
    return " ".join(["standing", words.sign, *(name for name, holds in marks.items() if holds)])


def _rate(strips: Strips) -> str:
    """Return how often limits as these signal for nothing, of those in force at the last shot."""
    said = chart_rate((strip.levels[-1].per_100 for strip in strips.strips if strip.levels), strips.chart_limits)
    return f"Limits: {said}" if said else ""


def _health(view: PressView, now: datetime, words: PressStanding) -> list[Component]:
    step = view.clock_step
    state = _link_said(view, now, words)
    last = "no shot yet" if view.time is None else f"last shot {view.shot} at {at_time(view.time, now, seconds=True)}"
    counts = (
        f"{view.n_shots} stored, {missed_said(view.n_missed, view.uncertain)} missed, {some(view.n_faults, 'fault')}"
    )
    return [
        html.H2("Connection"),
        html.P(f"{state}; {last} ({zone_named(now)})."),
        html.P(counts + (f" (last: {view.last_fault})" if view.last_fault else "") + "."),
        *(html.P(f"{uncertain_said(gap)}.") for gap in view.uncertain[-1:]),
        *([html.P(clock_said(step, now), className="clock")] if step is not None and is_of_today(step, now) else []),
    ]


def _link_said(view: PressView, now: datetime, words: PressStanding) -> str:
    if view.link is None:
        return "Not connected yet"
    if not words.is_heard or (not words.is_read and view.link.state != "stopped"):
        return f"Connection {link_unknown(view.link.state, is_heard=words.is_heard)}"
    return f"{view.link.state.capitalize()} since {at_time(view.link.time, now)}"


def _link(name: str, headline: str, sign: str, here: bool) -> Component:
    return dcc.Link(
        [html.Span(className=f"sign sign-{sign}"), html.Span([html.B(name), html.Small(headline)])],
        href=address_of("/press", name),
        className="here" if here else "",
        title="shown now" if here else "",
    )


def _about(context: Context, rest: str) -> str:
    """Return the press that the page shows: without a name it is the first."""
    return named(context, rest) or next(iter(context.source.presses), "")


PAGE = Page("At the press", "/press", layout, register, about=_about)
