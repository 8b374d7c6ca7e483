"""*Plan*: what to print before a trial, with which certainty; the same figures as the command `shotlog plan`."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from dash import ALL, Dash, Input, Output, State, dcc, html
from dash.development.base_component import Component

from dashboard.parts.desk import number
from dashboard.shared.apart import apart
from dashboard.shared.attributes import attributes
from dashboard.shared.page import Context, Page
from dashboard.shared.picks import picks
from dashboard.shared.sent import Typed
from shotlog.errors import ShotlogError, StoreError, UsageError
from shotlog.parts.plan import Plan, PlanRow, Stock
from shotlog.review.plan import plan_for
from shotlog.review.plan_asked import PlanAsked
from shotlog.wording.numbers import cost
from shotlog.wording.plan import (
    CAVEATS,
    assumed_text,
    beside_text,
    cost_text,
    count_text,
    figure_text,
    headline,
    hours_text,
    planned_text,
    unread_text,
)

__all__ = ["PAGE", "asked_of"]

_GIVEN: tuple[tuple[str, str], ...] = (
    ("life", "Half of the inserts reach, shots"),
    ("shape", "How alike they live: Weibull shape (2 to 3 is usual)"),
    ("scrap", "Parts of a sound insert not accepted, %"),
    ("breakage", "Pieces that break before they make a part, %"),
    ("settling", "Shots after a change that make no accepted part"),
    ("late", "Bad shots until one gone off is out"),
    ("cycle_s", "Cycle time, s"),
    ("changeover_min", "Change of an insert, min"),
    ("dissolve_h", "Hours in the bath"),
    ("bath_parts", "Parts the bath takes at a time"),
)
"""Figures that may be given by hand, in the order of the page: field of `PlanAsked`, and what it is called."""

_SHARES, _WHOLE = ("scrap", "breakage"), ("settling", "late", "bath_parts", "planned")


def layout(context: Context, _rest: str) -> Component:
    """Return the page: what is asked for, and room for the plan."""
    designs = _designs(context)
    return html.Div(
        [
            html.H1("Plan a trial"),
            html.P("How many inserts to print, from how long such inserts lived in this log."),
            html.Div(
                [
                    picks("plan.design", "Design", designs, designs[0])
                    if designs
                    else html.P("No design is known yet."),
                    html.Div(
                        [
                            _field("other", "Another design", numeric=False),
                            _field("parts", "Accepted parts wanted"),
                            _field("planned", "Swap each insert after, shots (empty: when it has gone off)"),
                        ],
                        className="plan-row",
                    ),
                    html.Details(
                        [
                            html.Summary("Figures given by hand (empty: from this log, else assumed)"),
                            picks("plan.once", "Piece", ["once"], "", {"once": "a new one every shot"}, toggle=True),
                            html.Div([_field(name, label) for name, label in _GIVEN], className="plan-row"),
                        ]
                    ),
                    html.Button("Work it out", id="plan-go", className="touch primary"),
                    html.Span(id="plan-state", role="status"),
                ],
                className="plan-asked",
            ),
            html.Div(id="plan-refused", role="alert", className="refused"),
            html.Div(id="plan-found", className="plan-found"),
        ],
        className="sheet plan-page",
    )


def _designs(context: Context) -> list[str]:
    """Return the designs that the configuration or the log names."""
    found = set(context.source.settings.designs)
    try:
        log = context.source.reading()
        for press in log.presses():
            found |= {stay.mounting.insert.design for stay in log.timeline(press).stays}
    except StoreError:
        pass
    return sorted(found - {""})


def _field(name: str, label: str, *, numeric: bool = True) -> Component:
    entry = dcc.Input(
        id={"type": "plan-field", "name": name},
        value="",
        type="text",
        inputMode="numeric" if numeric else "verbatim",
        autoComplete="off",
        className="field",
        n_submit=0,
    )
    return html.Label([html.Span(label), entry], className="labelled")


def register(app: Dash, context: Context) -> None:
    """Work the plan out when it is asked for, in a process of its own."""

    @app.callback(
        Output("plan-found", "children"),
        Output("plan-refused", "children"),
        Input("plan-go", "n_clicks"),
        Input({"type": "plan-field", "name": ALL}, "n_submit"),
        State({"type": "plan-field", "name": ALL}, "id"),
        State({"type": "plan-field", "name": ALL}, "value"),
        State({"type": "choice", "name": ALL}, "id"),
        State({"type": "choice", "name": ALL}, "data"),
        running=[
            (Output("plan-go", "disabled"), True, False),
            (Output("plan-state", "children"), "Being worked out; that takes some seconds.", ""),
        ],
        prevent_initial_call=True,
    )
    def plan(
        _clicks: int | None,
        _submits: list[int | None],
        names: list[dict[str, str]],
        values: list[Typed],
        choices: list[dict[str, str]],
        chosen: list[Typed],
    ) -> Any:
        given = {one["name"]: (value or "").strip() for one, value in zip(names, values, strict=False)}
        picked = {one["name"]: value or "" for one, value in zip(choices, chosen, strict=False)}
        try:
            found, unread = apart(partial(plan_for, asked=asked_of(given, picked)), context.source.settings)
        except ShotlogError as error:
            return [], str(error)
        return _shown(found, unread), ""

    # On a phone the answer lies below what is seen.
    app.clientside_callback(
        """function (found) {
            const place = document.getElementById("plan-found");
            if (place && found && found.length) { place.scrollIntoView(); }
            return window.dash_clientside.no_update;
        }""",
        Output("plan-found", "title"),
        Input("plan-found", "children"),
        prevent_initial_call=True,
    )


def asked_of(given: Mapping[str, str], picked: Mapping[str, str]) -> PlanAsked:
    """Return what the fields and buttons of the page ask for.

    Raises
    ------
    UsageError
        No design or number of parts is given, or something that is no number.
    """
    design = given.get("other") or picked.get("plan.design", "")
    if not design:
        raise UsageError("design: given nothing, allowed: one of the buttons, or another name")
    parts = number(given.get("parts", ""), "accepted parts wanted")
    if parts is None:
        raise UsageError("accepted parts wanted: given nothing, allowed: a number")
    figures: dict[str, Any] = {}
    for name, label in (("planned", "swap after"), *_GIVEN):
        value = number(given.get(name, "").rstrip("% "), label)
        if value is not None:
            figures[name] = value / 100.0 if name in _SHARES else int(value) if name in _WHOLE else value
    return PlanAsked(design, int(parts), single_use=True if picked.get("plan.once") else None, **figures)


def _shown(plan: Plan, unread: str) -> list[Component]:
    said = [unread_text(unread), beside_text(plan), cost_text(plan), assumed_text(plan)]
    figures = [html.Li(figure_text(one), className=one.source) for one in plan.figures]
    return [
        html.P(headline(plan), className="plan-headline"),
        _stocks(plan),
        *(html.P(one) for one in said if one),
        *_rows(plan),
        html.H2("What it rests on"),
        html.Ul(figures, className="plan-figures"),
        *(html.P(one, className="plan-caveat") for one in CAVEATS),
    ]


def _stocks(plan: Plan) -> Component:
    """Return what is enough, a column for each certainty: that fits a phone."""
    stocks = plan.chosen.stocks
    heads = ["Enough in", *(f"{100 * stock.certainty:.0f} % of trials" for stock in stocks)]
    rows = [[f"Inserts of {name}", *(count_text(one.inserts[name]) for one in stocks)] for name in stocks[0].inserts]
    rows += [[f"Pieces of {name}", *(count_text(one.pieces[name]) for one in stocks)] for name in stocks[0].pieces]
    rows.append(["Shots", *(count_text(one.shots) for one in stocks)])
    rows.append(["At the press", *(hours_text(one.press_h) for one in stocks)])
    rows.append(["Last part out of the bath, after the first shot", *(_bath(one) for one in stocks)])
    return _table("Enough", heads, rows)


def _bath(stock: Stock) -> str:
    return "no bath allowed" if stock.bath_h is None and stock.press_h is not None else hours_text(stock.bath_h)


def _rows(plan: Plan) -> list[Component]:
    if not plan.rows:
        return []
    heads = ["Swapped", "Inserts, 50 %", "90 %", "Hours, 50 %", "90 %", "A part costs", ""]
    return [
        html.H2(f"If {plan.swapped} is swapped"),
        _table("Planned lives", heads, [_cells(plan, r) for r in plan.rows]),
    ]


def _cells(plan: Plan, row: PlanRow) -> list[str]:
    counts = [count_text(stock.inserts[plan.swapped]) for stock in row.stocks]
    hours = [hours_text(stock.press_h) for stock in row.stocks]
    return [planned_text(row), *counts, *hours, cost(row.cost), "cheapest" if row.cheapest else ""]


def _table(label: str, heads: list[str], rows: list[list[str]]) -> Component:
    head = html.Thead(html.Tr([html.Th(text, scope="col") for text in heads]))
    body = [html.Tr([html.Th(row[0], scope="row"), *(html.Td(cell) for cell in row[1:])]) for row in rows]
    table = html.Table([head, html.Tbody(body)])
    return html.Div(table, className="scroll", tabIndex=0, role="region", **attributes(aria_label=label))


PAGE = Page("Plan", "/plan", layout, register)
