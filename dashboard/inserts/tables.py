"""The tables under the ledger: life curves in figures, why inserts came out, and what an accepted part cost."""

from dash import html
from dash.development.base_component import Component

from dashboard.inserts.ledger import CostRow, GroupLives, Worked
from dashboard.shared.attributes import attributes
from shotlog.review.survival import Interval
from shotlog.wording.numbers import some
from shotlog.wording.parts import factor_named
from shotlog.wording.verdicts import lives_counted

__all__ = ["costs", "curve_table", "reasons"]

_REASONS_SHOWN = 12


def curve_table(worked: Worked | None, factor: str, groups: list[GroupLives]) -> Component:
    """Return what the curves say in figures: a row for each group of a factor, and whether they differ."""
    said = factor_named(factor)
    if not groups:
        return html.P(
            f"No insert with shots has its {said} on record, so there is no curve by {said}.", className="none"
        )
    heads = (said.capitalize(), "Lives", "Gone off", "10 % by shot", "Half by shot", "Weibull shape", "Planned swap")
    rows = [_group_row(one) for one in groups]
    head = html.Thead(html.Tr([html.Th(text, scope="col") for text in heads]))
    return html.Div(
        [html.Table([head, html.Tbody(rows)]), _compared(worked, factor, said), *_counted(worked, factor)],
        className="wide",
        tabIndex=0,
    )


def _counted(worked: Worked | None, factor: str) -> list[Component]:
    """Return on whose lives it rests how long inserts will do, by press, where lives of other presses count."""
    known = worked.counted if worked is not None and factor == "design" else ()
    return [
        html.P(f"On {press}, how long {design} will do rests on the {lives_counted(*lives)}.", className="legend")
        for (press, design), lives in known
    ]


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


def _compared(worked: Worked | None, factor: str, said: str) -> Component:
    found = next((one for one in (worked.comparisons if worked else ()) if one.factor == factor), None)
    if found is None:
        return html.P("In brackets: 95 % interval.", className="legend")
    return html.P(
        f"In brackets: 95 % interval. Were every {said} to live alike, a difference as large as this one would come up "
        f"with a chance of {found.p:.2g} (log-rank test).",
        className="legend",
    )


def reasons(worked: Worked) -> list[Component]:
    """Return why inserts came out, the commonest reason first."""
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
                    **attributes(aria_hidden="true"),
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


def costs(worked: Worked) -> list[Component]:
    """Return what an accepted part of each design cost, broken down."""
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
    counts = (
        f"{some(row.n_inserts, 'insert')}; parts: {row.accepted} accepted, {row.held} held, {row.scrapped} scrapped"
    )
    return html.Div(
        [
            html.H3([f"{row.design or 'No design on record'}: ", html.B(each)]),
            html.P(", ".join(parts)),
            html.P(counts, className="legend"),
        ],
        className="cost",
    )
