"""A table of answers on a page: its headings, its rows, and numbers under numbers."""

from collections.abc import Sequence

from dash import html

from dashboard.shared.attributes import attributes
from shotlog.answers.table import Table

__all__ = ["drawn_rows", "side"]


def drawn_rows(table: Table, rows: Sequence[html.Tr]) -> html.Div:
    """Return rows under the headings of a table; where the screen is narrow it scrolls by itself."""
    heads = [html.Th(text, scope="col", className=side(table, text)) for text in table.heads]
    above = [html.Thead(html.Tr(heads))] if any(table.heads) else []
    drawn = html.Table([*above, html.Tbody(list(rows))])
    return html.Div(drawn, className="scroll", tabIndex=0, role="region", **attributes(aria_label=table.title))


def side(table: Table, head: str) -> str:
    """Return the class of a cell under a heading."""
    return "number" if head in table.numbers else ""
