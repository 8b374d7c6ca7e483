"""*After the shift*: what happened over a trial or some days, to be read sitting, with doubt.

The address holds the whole view: every control writes it, and all that is shown is read from it anew. So a copied link
reopens the same view, the browser's back button works, and a download is of what is seen. The page does not move by
itself while somebody reads it; it says when the log has gone on.
"""

from importlib import import_module
from typing import Any

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.shared.address import at
from dashboard.shared.figures.strips import strips_in_words
from dashboard.shared.page import Context, Page
from dashboard.shared.sent import Clicked, Mode, Option
from dashboard.shift.asked import answer_to, asked_part
from dashboard.shift.downloads import register_downloads
from dashboard.shift.figures.lives import life_figure, sisters_figure, sisters_in_words
from dashboard.shift.figures.timeline import timeline_figure, timeline_in_words
from dashboard.shift.frame import frame
from dashboard.shift.life import read_life, read_sisters
from dashboard.shift.query import Query
from dashboard.shift.show import PATH, about_life, about_sisters, csv_link, lead, tables, unreadable
from dashboard.shift.whole import ShiftReader
from shotlog.channels import CHANNELS
from shotlog.errors import StoreError
from shotlog.store.asked import state
from shotlog.wording.numbers import heading

__all__ = ["PAGE"]

_SAVE = """function (clicks) {
  const shown = document.querySelector("#%s .js-plotly-plot");
  if (clicks && shown && window.Plotly) {
    const size = {width: shown.clientWidth, height: shown.clientHeight, scale: 2};
    window.Plotly.downloadImage(shown, Object.assign({format: "png", filename: "%s"}, size));
  }
  return window.dash_clientside.no_update;
}"""


def layout(_context: Context, _rest: str) -> Component:
    """Return the page; it is filled from what the address asks for."""
    return frame()


def register(app: Dash, context: Context) -> None:
    """Show what the address asks for; write what is chosen into the address; serve the downloads."""
    # The first fitted line would otherwise wait for it, and with it the first who looks.
    import_module("scipy.stats")
    reader = ShiftReader(context.source)
    context.first_looks.append(reader.look)
    _register_view(app, context, reader)
    _register_controls(app, reader)
    _register_ticks(app, context)
    register_downloads(app, context, reader)
    for name, what in (("shift-timeline", "timeline"), ("shift-strips", "strips"), ("shift-sisters", "sisters")):
        app.clientside_callback(
            _SAVE % (name, what),
            Output(f"{name}-save", "className"),
            Input(f"{name}-save", "n_clicks"),
            prevent_initial_call=True,
        )


def _register_view(app: Dash, context: Context, reader: ShiftReader) -> None:
    @app.callback(
        Output("shift-lead", "children"),
        Output("shift-lanes", "hidden"),
        Output("shift-timeline", "figure"),
        Output("shift-timeline-words", "children"),
        Output("shift-tables", "children"),
        Output("shift-shown", "data"),
        Output("shift-news", "children"),
        Input("shift-url", "search"),
        Input("inks", "data"),
        Input("narrow", "data"),
    )
    def view(search: str | None, mode: Mode | None, narrow: bool | None) -> Any:
        query, inks = Query.parse(search), mode or "day"
        try:
            mark = state.change_mark(reader.log())
            shift = reader.read(query)
        except StoreError as error:
            return unreadable(error, context.source.is_there()), True, no_update, "", [], None, ""
        empty = not shift.presses
        figure = no_update if empty else timeline_figure(shift, inks, bool(narrow))
        return lead(shift), empty, figure, timeline_in_words(shift), [] if empty else tables(shift), list(mark), ""

    @app.callback(Output("shift-asked", "children"), Input("shift-url", "search"))
    def answer(search: str | None) -> Any:
        query = Query.parse(search)
        try:
            return asked_part(query, answer_to(reader, query, context.source.clock))
        except StoreError:
            return []

    @app.callback(
        Output("shift-life", "hidden"),
        Output("shift-life-name", "children"),
        Output("shift-life-csv", "children"),
        Output("shift-life-about", "children"),
        Output("shift-strips", "figure"),
        Output("shift-strips-words", "children"),
        Output("shift-sisters-csv", "children"),
        Output("shift-sisters-about", "children"),
        Output("shift-sisters", "figure"),
        Output("shift-sisters-words", "children"),
        Input("shift-url", "search"),
        Input("inks", "data"),
        Input("narrow", "data"),
    )
    def closely(search: str | None, mode: Mode | None, narrow: bool | None) -> Any:
        query, inks = Query.parse(search), mode or "day"
        hidden = (True, *[no_update] * 9)
        if not query.life:
            return hidden
        try:
            life = read_life(reader, query)
            sisters = None if life is None else read_sisters(reader, query, life)
        except StoreError:
            return hidden
        if life is None or sisters is None:
            return _unknown(query)
        return (
            False,
            f"{life.serial} in {life.half} of {life.press}",
            csv_link("life", query),
            about_life(life, query),
            life_figure(life, inks, bool(narrow)),
            strips_in_words(life.strips),
            csv_link("sisters", query),
            about_sisters(sisters),
            sisters_figure(sisters, inks, bool(narrow)),
            sisters_in_words(sisters),
        )


def _unknown(query: Query) -> Any:
    back = dcc.Link("Close", href=at(f"{PATH}{query.but(life='').search}"), className="touch")
    about = html.P([f"There is no insert {query.life} on record, or it has not made a shot. ", back])
    nothing = {"data": [], "layout": {"height": 40}}
    return False, query.life, "", about, nothing, "", "", "", nothing, ""


_FREE = ("trial", "press", "design", "resin", "since", "until", "axis", "channels", "beside")


def _register_controls(app: Dash, reader: ShiftReader) -> None:
    @app.callback(
        *(Output(f"shift-{name}", "value") for name in _FREE),
        *(Output(f"shift-{name}", "options") for name in ("trial", "press", "design", "resin", "channels", "beside")),
        Output("shift-filled", "data"),
        Input("shift-url", "search"),
        State("shift-trial", "options"),
    )
    def fill(search: str | None, known: list[Option] | None) -> Any:
        query = Query.parse(search)
        options = _options(reader, query, known or [])
        values = [getattr(query, name) for name in _FREE]
        shown = [list(value) if isinstance(value, tuple) else value or None for value in values]
        days = [value or "" for value in values[4:6]]
        return (*shown[:4], *days, *shown[6:], *options, "yes")

    @app.callback(
        Output("shift-url", "search"),
        *(Input(f"shift-{name}", "value") for name in _FREE),
        State("shift-url", "search"),
        State("shift-filled", "data"),
        prevent_initial_call=True,
    )
    def steer(*given: str | list[str] | None) -> Any:
        *values, search, filled = given
        query = Query.parse(str(search or ""))
        if not filled:
            return no_update
        chosen = dict(zip(_FREE, values, strict=True))
        said: dict[str, Any] = {name: "" if value is None else value for name, value in chosen.items()}
        said["channels"] = tuple(name for name in CHANNELS if name in (chosen["channels"] or ()))
        wanted = Query.parse(query.but(**said).search)
        return no_update if wanted == query else wanted.search

    @app.callback(
        Output("shift-url", "search", allow_duplicate=True),
        Input("shift-timeline", "clickData"),
        State("shift-url", "search"),
        prevent_initial_call=True,
    )
    def touched(clicked: Clicked | None, search: str | None) -> Any:
        points = clicked["points"] if clicked else []
        named = points[0].get("customdata") if points else None
        return Query.parse(search).but(life=str(named[0]), stay=0, upto=0).search if named and named[0] else no_update

    @app.callback(
        Output("shift-trial", "options", allow_duplicate=True),
        Input("shift-url", "pathname"),
        prevent_initial_call="initial_duplicate",
    )
    def name_trials(_path: str | None) -> Any:
        try:
            return [_trial_option(one.name, one.part, one.resin) for one in reader.trials()]
        except StoreError:
            return no_update


def _trial_option(name: str, part: str, resin: str) -> Option:
    return {"value": name, "label": ", ".join(text for text in (name, part, resin) if text)}


def _options(reader: ShiftReader, query: Query, trials: list[Option]) -> list[Any]:
    """Return what may be chosen; what the address names can be, also where the log does not know it."""
    designs = reader.settings.designs
    try:
        presses, stays_of = list(reader.timelines().presses), reader.timelines().stays_of
    except StoreError:
        presses, stays_of = [], {}
    used = {stay.mounting.insert.design for stays in stays_of.values() for stay in stays} - {""}
    families = {designs[name].resin_family for name in used if name in designs} - {""}
    known = [one["value"] for one in trials]
    if query.trial and query.trial not in known:
        trials = [*trials, _trial_option(query.trial, "", "")]
    channels = [{"value": name, "label": heading(name)} for name in CHANNELS]
    return [
        trials,
        _with(presses, query.press),
        _with(sorted(used), query.design),
        _with(sorted(families), query.resin),
        channels,
        channels,
    ]


def _with(names: list[str], chosen: str) -> list[str]:
    return names if chosen in ("", *names) else [*names, chosen]


def _register_ticks(app: Dash, context: Context) -> None:
    @app.callback(
        Output("shift-news", "children", allow_duplicate=True),
        Output("beat", "data", allow_duplicate=True),
        Input("shift-tick", "n_intervals"),
        State("shift-shown", "data"),
        State("shift-url", "search"),
        prevent_initial_call="initial_duplicate",
    )
    def tick(n: int | None, shown: list[int] | None, search: str | None) -> Any:
        try:
            now = list(state.change_mark(context.source.reading()))
        except StoreError:
            return no_update, n or 0
        if shown is None or shown == now:
            return no_update, n or 0
        again = html.A("Show the view anew", href=at(f"{PATH}{Query.parse(search).search}"), className="touch")
        return ["The log has gone on since this was drawn. ", again], n or 0


PAGE = Page("After the shift", PATH, layout, register)
