"""One part: every fact of its chain, the same as the command `shotlog part` prints, on one page that prints well."""

from collections.abc import Sequence
from typing import Any
from urllib.parse import quote, unquote

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.parts.desk import PartsDesk
from dashboard.shared.address import address_of, at
from dashboard.shared.attributes import attributes
from dashboard.shared.drawn_table import drawn_rows, side
from dashboard.shared.page import Context, Page
from dashboard.shared.part_path import PATH, named_in, path_of
from dashboard.shared.pictures import picture_wall, taking
from shotlog.answers.part import blocks_of, part_named
from shotlog.answers.table import Table
from shotlog.errors import StoreError, UsageError
from shotlog.review.chain import PartChain, chain_of
from shotlog.wording.times import clock_time

__all__ = ["PAGE"]

_ASKED = "Part: PRESS/SHOT, PRESS/SHOT/CAVITY, or scan its label or its piece"

_NO_CLAIM = "Values of the press tell how a shot was made; whether a part is fit for use, people and instruments tell."


def layout(context: Context, rest: str) -> Component:
    """Return the page of the part that the address names; without one, the field that asks which."""
    named = unquote(rest).strip("/")
    if not named:
        return html.Div([html.H1("One part"), *_field("")], className="sheet part-page")
    try:
        log = context.source.reading()
        part = PartsDesk(context.source).find("", named).part
        chain = chain_of(log, context.source.settings.designs, part)
    except StoreError as error:
        return html.Div([html.H1("One part"), html.P(f"The log cannot be read: {error}.")], className="sheet part-page")
    except UsageError as error:
        said = html.P(str(error), role="alert", className="refused")
        return html.Div([html.H1("No such part"), said, *_field(named)], className="sheet part-page")
    now = context.source.clock.now()
    stands, *blocks = (one for one in blocks_of(chain, now) if one.name != "pictured")
    return html.Div(
        [
            _head(chain, stands),
            _ways(chain),
            html.Div([_block(one) for one in blocks], className="blocks"),
            _pictures(chain, context.source.settings.edge),
            html.P(
                f"Read from the log {context.source.settings.store_shown} at {clock_time(now)}. {_NO_CLAIM}",
                className="about",
            ),
            *_field(""),
        ],
        className="sheet part-page",
        key=str(part),
    )


def _head(chain: PartChain, stands: Table) -> Component:
    state = chain.standing.state
    first, *rest = stands.rows
    return html.Div(
        [
            html.H1(part_named(chain)),
            html.P(str(first[1]), className=f"state {state}"),
            *(html.P([html.B(f"{head}: "), str(text)]) for head, text in rest),
        ],
        className="part-head",
    )


def _ways(chain: PartChain) -> Component:
    """Return the ways on: the parts beside it, the other cavities, its inserts, where it is decided on, the printer."""
    part = chain.part
    ways = [
        ("Part before", path_of(part.press, part.shot - 1, part.cavity)),
        ("Part after", path_of(part.press, part.shot + 1, part.cavity)),
    ]
    ways += [
        (f"Cavity {n}", path_of(part.press, part.shot, n)) for n in range(1, chain.n_cavities + 1) if n != part.cavity
    ]
    ways += [(one.held.serial, address_of("/inserts", one.held.serial)) for one in chain.halves]
    ways += [("Inspect, release, scrap, say where it is", at("/parts"))]
    return html.Nav(
        [
            *(dcc.Link(text, href=href, className="touch") for text, href in ways),
            html.Button("Print", id="part-print", className="touch"),
        ],
        className="ways",
        **attributes(aria_label="From this part"),
    )


def _block(block: Table) -> Component:
    about = [html.P(block.about)] if block.about else []
    inside = (
        [_rows(block)] if block.rows else [html.P(f"{block.empty[:1].upper()}{block.empty[1:]}.", className="none")]
    )
    return html.Section(
        [html.H2(block.title), *about, *inside],
        className="block",
        **attributes(aria_label=block.title),
    )


def _pictures(chain: PartChain, edge: str) -> Component:
    """Return the pictures themselves, where the command names their files."""
    part = chain.part
    return html.Section(
        [
            html.H2("Pictured"),
            picture_wall(chain.pictures, edge)
            if chain.pictures
            else html.P("No picture was taken of it.", className="none"),
            taking(edge, press=part.press, shot=part.shot, cavity=part.cavity),
        ],
        className="block",
        **attributes(aria_label="Pictured"),
    )


def _rows(block: Table) -> Component:
    rows = [
        html.Tr(
            [
                html.Th(str(row[0]), scope="row"),
                *(html.Td(str(cell), className=side(block, head))
                  for head, cell in zip(block.heads[1:], row[1:], strict=True)),
            ]
        )
        for row in block.rows
    ]  # fmt: skip
    return drawn_rows(block, rows)


def _field(given: str) -> Sequence[Component]:
    """Return the field that leads to another part."""
    entry = dcc.Input(id="part-asked", value=given, type="text", autoComplete="off", className="field", n_submit=0)
    return (
        html.Div(
            [
                html.Label([html.Span(_ASKED), entry], className="labelled"),
                html.Button("Show", id="part-go", className="touch"),
            ],
            className="asked",
        ),
        dcc.Location("part-url", refresh="callback-nav"),
    )


def register(app: Dash, _context: Context) -> None:
    """Go to the part that is typed or scanned; print."""

    @app.callback(
        Output("part-url", "pathname"),
        Input("part-go", "n_clicks"),
        Input("part-asked", "n_submit"),
        State("part-asked", "value"),
        prevent_initial_call=True,
    )
    def go(clicks: int | None, submits: int | None, asked: str | None) -> Any:
        named = named_in(asked or "")
        return at(f"{PATH}/{quote(named)}") if named and (clicks or submits) else no_update

    app.clientside_callback(
        "function (clicks) { if (clicks) { window.print(); } return window.dash_clientside.no_update; }",
        Output("part-print", "title"),
        Input("part-print", "n_clicks"),
        prevent_initial_call=True,
    )


PAGE = Page("One part", PATH, layout, register, listed=False)
