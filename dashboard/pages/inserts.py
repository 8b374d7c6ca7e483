"""*Inserts*: the ledger with search and sort, life curves, why inserts came out, and what an accepted part costs."""

from typing import Any
from urllib.parse import unquote

import dash_ag_grid
from dash import Dash, Input, Output, State, dcc, html, no_update

from dashboard.figures.life_curve import MOST, life_curve_figure, life_curve_in_words
from dashboard.ledger import CostRow, GroupLives, LedgerReader, Row, Worked
from dashboard.pages import insert_story
from dashboard.pages.base import Context, Page
from shotlog.errors import StoreError
from shotlog.review.groups import FACTORS
from shotlog.review.survival import Interval

__all__ = ["PAGE"]

Component = Any

_COLUMNS: tuple[tuple[str, str, int, str], ...] = (
    ("serial", "Serial", 120, "serial"),
    ("design", "Design", 150, ""),
    ("half", "Half", 90, ""),
    ("state", "State", 160, ""),
    ("n_shots", "Shots", 85, "number"),
    ("sound", "Sound", 85, "number"),
    ("cost_low", "A part cost", 115, "cost"),
    ("cost_high", "up to", 85, "cost"),
    ("reason", "Why it came out", 190, ""),
    ("ground", "How the end is known", 260, ""),
    ("print_batch", "Print batch", 110, ""),
    ("resin", "Resin", 170, ""),
    ("material", "Moulded", 120, ""),
    ("press", "Press", 90, ""),
    ("first", "From shot", 100, "number"),
)
"""Columns of the ledger: field of a row, head, width in px, kind."""

_SAID = {"resin family": "resin", "moulded material": "material"}
_REASONS_SHOWN = 12


def layout(context: Context, rest: str) -> Component:
    """Return the ledger, or the story of the insert named in the address."""
    serial = unquote(rest.strip("/"))
    if serial:
        return insert_story.layout(serial)
    return html.Div(
        [
            html.H1("Inserts"),
            html.P("The ledger is being worked out; that takes some seconds.", id="ledger-state", role="status"),
            html.Div([_search(), _grid(), _below()], id="ledger-body", className="waiting"),
            dcc.Store("ledger-number"),
            dcc.Interval("ledger-tick", interval=2000),
        ],
        className="sheet ledger-page",
    )


def _search() -> Component:
    entry = dcc.Input(id="ledger-search", value="", type="text", autoComplete="off", className="field")
    label = html.Label([html.Span("Search: serial, design, batch, reason"), entry], className="labelled search")
    return html.Div([label, html.Span(id="ledger-hits", className="hits", role="status")], className="ledger-tools")


def _below() -> Component:
    return html.Div(
        [
            html.Section(_curve_part(), className="curve", **{"aria-label": "Life curve"}),
            html.Section(id="ledger-costs", className="costs", **{"aria-label": "Cost per accepted part"}),
            html.Section(id="ledger-reasons", className="reasons", **{"aria-label": "Why inserts came out"}),
        ],
        className="ledger-below",
    )


def _grid() -> Component:
    return dash_ag_grid.AgGrid(
        id="ledger-grid",
        columnDefs=[_column(*column) for column in _COLUMNS],
        rowData=[],
        defaultColDef={"sortable": True, "resizable": True, "suppressMovable": True},
        dashGridOptions={
            "rowHeight": 48,
            "headerHeight": 48,
            "animateRows": False,
            "suppressCellFocus": False,
            "localeText": {"noRowsToShow": "No insert to show."},
        },
        className="ledger-grid",
        style={"height": None, "width": "100%"},
    )


def _column(name: str, head: str, width: int, kind: str) -> dict[str, Any]:
    column: dict[str, Any] = {"field": name, "headerName": head, "width": width}
    if kind in ("number", "cost"):
        column |= {"type": "rightAligned", "filter": False}
    if kind == "cost":
        column["valueFormatter"] = {"function": "params.value == null ? '' : d3.format('.2f')(params.value)"}
    if kind == "serial":
        column |= {"cellRenderer": "LedgerSerial", "pinned": "left"}
    return column


def _curve_part() -> list[Component]:
    factors = [
        html.Button(
            _SAID.get(factor, factor),
            className="touch pick",
            **{"data-factor": factor, "aria-pressed": str(factor == FACTORS[0]).lower()},
        )
        for factor in FACTORS
    ]
    return [
        html.H2("Life curve"),
        html.Div(factors, className="picks", role="group", **{"aria-label": "Life curve by"}),
        html.Div(id="curve-names", className="picks", role="group", **{"aria-label": f"Shown, {MOST} at most"}),
        dcc.Graph("life-curve", figure={"data": [], "layout": {}}, responsive=True, config={"displayModeBar": False},
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
            **{"data-group": one.group.name, "aria-pressed": str(one.group.name in shown).lower()},
        )
        for one in groups
    ]


def register(app: Dash, context: Context) -> None:
    """Fill the page once the ledger is worked out, and again when a newer one is."""
    reader = LedgerReader(context.source)
    insert_story.register(app, context, reader)

    @app.callback(
        Output("ledger-state", "children"),
        Output("ledger-body", "className"),
        Output("ledger-grid", "rowData"),
        Output("ledger-costs", "children"),
        Output("ledger-reasons", "children"),
        Output("ledger-number", "data"),
        Output("beat", "data", allow_duplicate=True),
        Input("ledger-tick", "n_intervals"),
        State("ledger-number", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def refresh(tick: int | None, shown: int | None) -> Any:
        quiet = (*(no_update,) * 6, tick or 0)
        try:
            result = reader.ask()
        except StoreError as error:
            return (f"There is nothing to show: {error}.", "waiting", *quiet[2:])
        if result is None or result.number == shown:
            return quiet
        if result.found is None:
            said = f"The ledger could not be worked out: {result.refused}."
            return (said, *quiet[1:5], result.number, tick or 0)
        worked = result.found
        rows = [_shown(row) for row in worked.rows]
        seen = "" if rows else "waiting"
        return _state(worked), seen, rows, _costs(worked), _reasons(worked), result.number, tick or 0

    @app.callback(
        Output("curve-names", "children"),
        Output("curve-groups", "data"),
        Output("curve-table", "children"),
        Input("curve-factor", "data"),
        Input("ledger-number", "data"),
        State("curve-groups", "data"),
    )
    def choose(factor: str, _number: int | None, chosen: list[str] | None) -> Any:
        groups = _groups(reader, factor)
        names = [one.group.name for one in groups]
        most = {one.group.name for one in sorted(groups, key=lambda one: -one.group.curve.n)[:MOST]}
        shown = [name for name in chosen or [] if name in names] or [name for name in names if name in most]
        return _names(groups, shown), shown, _table(reader, factor, groups)

    @app.callback(
        Output("life-curve", "figure"),
        Output("life-curve-words", "children"),
        Input("curve-groups", "data"),
        Input("mode", "data"),
        Input("ledger-number", "data"),
        State("curve-factor", "data"),
    )
    def draw(chosen: list[str] | None, mode: str | None, _number: int | None, factor: str) -> Any:
        groups = [one for one in _groups(reader, factor) if one.group.name in (chosen or [])]
        return life_curve_figure(groups, mode or "day"), life_curve_in_words(groups)

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
    said = f"{len(worked.rows)} inserts on record, {used} with shots, {gone} gone off; up to {upto or 'no shot yet'}."
    if worked.n_older:
        said += f" {worked.n_older} older ones are listed only; the command shotlog inserts works out all."
    return said


def _shown(row: Row) -> dict[str, Any]:
    return {name: getattr(row, name) for name, _, _, _ in _COLUMNS}


def _table(reader: LedgerReader, factor: str, groups: list[GroupLives]) -> Component:
    said = _SAID.get(factor, factor)
    if not groups:
        return html.P(
            f"No insert with shots has its {said} on record, so there is no curve by {said}.", className="none"
        )
    heads = (said.capitalize(), "Lives", "Gone off", "10 % by shot", "Half by shot", "Weibull shape", "Planned swap")
    rows = [_group_row(one) for one in groups]
    head = html.Thead(html.Tr([html.Th(text, scope="col") for text in heads]))
    return html.Div(
        [html.Table([head, html.Tbody(rows)]), _compared(reader, factor, said)], className="wide", tabIndex=0
    )


def _group_row(one: GroupLives) -> Component:
    group = one.group
    fitted = group.weibull
    cells: list[Component] = [html.Td(str(group.curve.n)), html.Td(str(group.n_failed))]
    if fitted is None:
        cells.append(html.Td(group.why_not, colSpan=4))
    else:
        cells += [html.Td(_between(fitted.b10)), html.Td(_between(fitted.b50)), html.Td(_between(fitted.shape, 2))]
        planned = "no costs given" if group.plan is None else "none pays"
        if group.plan is not None and group.plan.shots is not None:
            planned = f"after {group.plan.shots} shots"
        cells.append(html.Td(planned))
    return html.Tr([html.Th(group.name, scope="row"), *cells])


def _between(one: Interval, decimals: int = 0) -> str:
    return f"{one.value:.{decimals}f} ({one.low:.{decimals}f} to {one.high:.{decimals}f})"


def _compared(reader: LedgerReader, factor: str, said: str) -> Component:
    worked = _known(reader)
    found = next((one for one in (worked.comparisons if worked else ()) if one.factor == factor), None)
    if found is None:
        return html.P("In brackets: 95 % interval.", className="legend")
    return html.P(
        f"In brackets: 95 % interval. Were every {said} to live alike, a difference as large as this one would come up "
        f"with a chance of {found.p:.2g} (log-rank test).",
        className="legend",
    )


def _reasons(worked: Worked) -> list[Component]:
    head = html.H2("Why inserts came out")
    if not worked.reasons:
        return [head, html.P("No insert with shots has come out yet.", className="none")]
    most = worked.reasons[0].n
    heads = html.Thead(
        html.Tr([html.Th(text, scope="col") for text in ("Reason entered", "Inserts", "Gone off", "Drawn")])
    )
    rows = [
        html.Tr(
            [
                html.Td(reason.text),
                html.Td(str(reason.n), className="number"),
                html.Td(str(reason.n_gone_off), className="number"),
                html.Td(
                    [
                        html.Span(className="bar gone", style={"width": f"{58.0 * reason.n_gone_off / most:.1f}%"}),
                        html.Span(
                            className="bar", style={"width": f"{58.0 * (reason.n - reason.n_gone_off) / most:.1f}%"}
                        ),
                    ],
                    className="bars",
                    **{"aria-hidden": "true"},
                ),
            ]
        )
        for reason in worked.reasons[:_REASONS_SHOWN]
    ]
    more = len(worked.reasons) - _REASONS_SHOWN
    left = [html.P(f"{more} rarer reasons are not shown.", className="legend")] if more > 0 else []
    legend = html.P("Filled: had gone off by parts, damage or signals. Hollow: still sound as far as is known.",
                    className="legend")  # fmt: skip
    return [head, html.Table([heads, html.Tbody(rows)]), legend, *left]


def _costs(worked: Worked) -> list[Component]:
    head = html.H2("Cost per accepted part")
    if not worked.costs:
        none = "No costs are set. Give [design.NAME.cost] in the configuration: part, insert, changeover, late_find."
        return [head, html.P(none, className="none")]
    legend = (
        "Free of currency. From: should every held part be accepted; to: should every one be bad. Broken down per "
        "accepted or held part. A design is charged its own inserts and changeovers, and every part made on them."
    )
    return [head, *(_design_cost(row) for row in worked.costs), html.P(legend, className="legend")]


def _design_cost(row: CostRow) -> Component:
    n = row.accepted + row.held
    spent = {"moulding": row.part, "inserts": row.insert, "changeovers": row.changeover, "late finds": row.late_find}
    parts = [f"{what} {value / n:.2f}" for what, value in spent.items()] if n else []
    each = "no part accepted" if row.low is None else f"{row.low:.2f}"
    if row.high is None and row.held:
        each += " if all held parts are accepted"
    elif row.high is not None and row.held:
        each += f" to {row.high:.2f}"
    counts = f"{_inserts(row.n_inserts)}; parts: {row.accepted} accepted, {row.held} held, {row.scrapped} scrapped"
    return html.Div(
        [
            html.H3([f"{row.design or 'No design on record'}: ", html.B(each)]),
            html.P(", ".join(parts)),
            html.P(counts, className="legend"),
        ],
        className="cost",
    )


def _inserts(n: int) -> str:
    return "1 insert" if n == 1 else f"{n} inserts"


PAGE = Page("Inserts", "/inserts", layout, register)
