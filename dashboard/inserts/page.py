"""*Inserts*: the ledger with search and sort, life curves, why inserts came out, and what an accepted part costs."""

from typing import Any
from urllib.parse import unquote

import dash_ag_grid
from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.inserts import story_page as insert_story
from dashboard.inserts.figures.life_curve import MOST, life_curve_figure, life_curve_in_words
from dashboard.inserts.ledger import GroupLives, LedgerReader, LedgerRow, Worked
from dashboard.inserts.tables import costs, curve_table, reasons
from dashboard.shared.attributes import attributes
from dashboard.shared.figures.ink import NOTHING
from dashboard.shared.page import Context, Page
from dashboard.shared.sent import Mode
from shotlog.errors import StoreError
from shotlog.review.groups import FACTORS
from shotlog.wording.numbers import some
from shotlog.wording.parts import factor_named

__all__ = ["PAGE"]

_COLUMNS: tuple[tuple[str, str, int, str], ...] = (
    ("serial", "Serial", 120, "serial"),
    ("design", "Design", 170, "words"),
    ("half", "Half", 90, ""),
    ("state", "State", 190, "words"),
    ("n_shots", "Shots", 85, "number"),
    ("sound", "Sound", 85, "number"),
    ("cost_low", "A part cost", 135, "cost"),
    ("cost_high", "up to", 85, "cost"),
    ("reason", "Why it came out", 190, "words"),
    ("ground", "How the end is known", 420, "words"),
    ("print_batch", "Print batch", 130, "words"),
    ("resin", "Print material", 200, "words"),
    ("material", "Resin", 130, "words"),
    ("press", "Press", 90, ""),
    ("first", "From shot", 115, "number"),
)
"""Columns of the ledger: field of a row, head, width in px, kind."""


_WAYS = (("right", "to the right \N{RIGHTWARDS ARROW}"), ("below", "below \N{DOWNWARDS ARROW}"))


def layout(context: Context, rest: str) -> Component:
    """Return the ledger, or the story of the insert named in the address."""
    serial = unquote(rest.strip("/"))
    if serial:
        return insert_story.layout(serial)
    return html.Div(
        [
            html.H1("Inserts"),
            html.P("The ledger is being worked out; that takes some seconds.", id="ledger-state", role="status"),
            html.Div(
                [_search(), html.Div(_grid(), className="ledger-shown"), _goes_on(), _below()],
                id="ledger-body",
                className="waiting",
            ),
            dcc.Store("ledger-shown"),
            dcc.Interval("ledger-tick", interval=2000),
        ],
        className="sheet ledger-page",
    )


def _search() -> Component:
    entry = dcc.Input(id="ledger-search", value="", type="text", autoComplete="off", className="field")
    label = html.Label([html.Span("Search: serial, design, batch, reason"), entry], className="labelled search")
    return html.Div([label, html.Span(id="ledger-hits", className="hits", role="status")], className="ledger-tools")


def _goes_on() -> Component:
    """Return where it is said that the table goes on beyond what is in sight (`inserts.js`): bars that scroll it may
    not be drawn before somebody scrolls.
    """
    ways = [html.Span(f"{words} ", className=way) for way, words in _WAYS]
    return html.P(["The table goes on: ", *ways], className="goes-on")


def _below() -> Component:
    return html.Div(
        [
            html.Section(_curve_part(), className="curve", **attributes(aria_label="Life curve")),
            html.Section(id="ledger-costs", className="costs", **attributes(aria_label="Cost per accepted part")),
            html.Section(id="ledger-reasons", className="reasons", **attributes(aria_label="Why inserts came out")),
        ],
        className="ledger-below",
    )


def _grid() -> Component:
    grid: Component = dash_ag_grid.AgGrid(
        id="ledger-grid",
        columnDefs=[_column(*column) for column in _COLUMNS],
        rowData=[],
        defaultColDef={"sortable": True, "resizable": True, "suppressMovable": True},
        dashGridOptions={
            "rowHeight": 50,
            "headerHeight": 48,
            "animateRows": False,
            "suppressCellFocus": False,
            "localeText": {"noRowsToShow": "No insert to show."},
        },
        className="ledger-grid",
        style={"height": None, "width": "100%"},
    )
    return grid


def _column(name: str, head: str, width: int, kind: str) -> dict[str, Any]:
    column: dict[str, Any] = {"field": name, "headerName": head, "width": width}
    if kind in ("number", "cost"):
        column |= {"type": "rightAligned", "filter": False}
    if kind == "cost":
        column["valueFormatter"] = {"function": "params.value == null ? '' : d3.format('.2f')(params.value)"}
    if kind == "words":
        column |= {"wrapText": True, "autoHeight": True}
    if kind == "serial":
        column |= {"cellRenderer": "LedgerSerial", "pinned": "left", "wrapText": True, "autoHeight": True}
    return column


def _curve_part() -> list[Component]:
    factors = [
        html.Button(
            factor_named(factor),
            className="touch pick",
            **attributes(data_factor=factor, aria_pressed=str(factor == FACTORS[0]).lower()),
        )
        for factor in FACTORS
    ]
    return [
        html.H2("Life curve"),
        html.Div(factors, className="picks", role="group", **attributes(aria_label="Life curve by")),
        html.Div(id="curve-names", className="picks", role="group", **attributes(aria_label=f"Shown, {MOST} at most")),
        dcc.Graph("life-curve", figure=NOTHING, responsive=True, config={"displayModeBar": False},
                  className="graph"),
        html.P(
            "Steps: share of inserts still sound after so many shots (Kaplan-Meier), a sign where one had gone off, a "
            "stroke where one was taken out or last seen still sound. Grey: 95 % interval. Thin line: Weibull fit.",
            className="legend",
        ),
        html.P(id="life-curve-words", className="spoken"),
        html.Div(id="curve-table"),
        dcc.Store("curve-factor", data=FACTORS[0]),
        dcc.Store("curve-groups", data=[]),
    ]  # fmt: skip


def _names(groups: list[GroupLives], shown: list[str]) -> list[Component]:
    """Return a button for each group, pressed where it is drawn."""
    return [
        html.Button(
            one.group.name,
            className="touch pick",
            **attributes(data_group=one.group.name, aria_pressed=str(one.group.name in shown).lower()),
        )
        for one in groups
    ]


def register(app: Dash, context: Context) -> None:
    """Fill the page once the ledger is worked out, and again when a newer one is."""
    reader = LedgerReader(context.source)
    context.first_looks.append(reader.ask)
    insert_story.register(app, context, reader)

    @app.callback(
        Output("ledger-state", "children"),
        Output("ledger-body", "className"),
        Output("ledger-grid", "rowData"),
        Output("ledger-costs", "children"),
        Output("ledger-reasons", "children"),
        Output("ledger-shown", "data"),
        Output("beat", "data", allow_duplicate=True),
        Input("ledger-tick", "n_intervals"),
        State("ledger-shown", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def refresh(tick: int | None, shown: str | None) -> Any:
        quiet = (*(no_update,) * 6, tick or 0)
        try:
            result = reader.at_once()
        except StoreError as error:
            return (f"There is nothing to show: {error}.", "waiting", *quiet[2:])
        if result is None or result.name == shown:
            return quiet
        if result.found is None:
            said = f"The ledger could not be worked out: {result.refused}."
            return (said, *quiet[1:5], result.name, tick or 0)
        worked = result.found
        rows = [_shown(row) for row in worked.rows]
        seen = "" if rows else "waiting"
        return _state(worked), seen, rows, costs(worked), reasons(worked), result.name, tick or 0

    @app.callback(
        Output("curve-names", "children"),
        Output("curve-groups", "data"),
        Output("curve-table", "children"),
        Input("curve-factor", "data"),
        Input("ledger-shown", "data"),
        State("curve-groups", "data"),
    )
    def choose(factor: str, _shown: str | None, chosen: list[str] | None) -> Any:
        groups = _groups(reader, factor)
        names = [one.group.name for one in groups]
        most = {one.group.name for one in sorted(groups, key=lambda one: -one.group.curve.n)[:MOST]}
        shown = [name for name in chosen or [] if name in names] or [name for name in names if name in most]
        return _names(groups, shown), shown, curve_table(_known(reader), factor, groups)

    @app.callback(
        Output("life-curve", "figure"),
        Output("life-curve-words", "children"),
        Input("curve-groups", "data"),
        Input("inks", "data"),
        Input("narrow", "data"),
        Input("ledger-shown", "data"),
        State("curve-factor", "data"),
    )
    def draw(chosen: list[str] | None, mode: Mode | None, narrow: bool | None, _shown: str | None, factor: str) -> Any:
        groups = [one for one in _groups(reader, factor) if one.group.name in (chosen or [])]
        return life_curve_figure(groups, mode or "day", bool(narrow)), life_curve_in_words(groups)

    app.clientside_callback(
        "function (text, options) { return Object.assign({}, options, {quickFilterText: text || ''}); }",
        Output("ledger-grid", "dashGridOptions"),
        Input("ledger-search", "value"),
        State("ledger-grid", "dashGridOptions"),
        prevent_initial_call=True,
    )
    app.clientside_callback(
        "function (shown, rows) { return rows && shown ? shown.length + ' of ' + rows.length + ' shown' : ''; }",
        Output("ledger-hits", "children"),
        Input("ledger-grid", "virtualRowData"),
        State("ledger-grid", "rowData"),
    )


def _known(reader: LedgerReader) -> Worked | None:
    try:
        result = reader.ask()
    except StoreError:
        return None
    return None if result is None else result.found


def _groups(reader: LedgerReader, factor: str) -> list[GroupLives]:
    worked = _known(reader)
    return [] if worked is None else [one for one in worked.groups if one.group.factor == factor]


def _state(worked: Worked) -> str:
    if not worked.rows:
        return "No insert has been entered yet. Enter one at the press when it is mounted, or how it was made before."
    gone = sum(row.gone_off is True for row in worked.rows)
    used = sum(row.n_shots > 0 for row in worked.rows)
    upto = ", ".join(f"shot {last} of {press}" for press, last in worked.upto)
    counts = f"{some(len(worked.rows), 'insert')} on record, {used} with shots, {gone} gone off"
    said = f"{counts}; up to {upto or 'no shot yet'}."
    if worked.n_older:
        said += f" {worked.n_older} older ones are listed only; the command shotlog inserts works out all."
    return said


def _shown(row: LedgerRow) -> dict[str, Any]:
    return {name: getattr(row, name) for name, _, _, _ in _COLUMNS}


PAGE = Page("Inserts", "/inserts", layout, register)
