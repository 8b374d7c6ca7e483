"""An answer as rows under heads: the command prints it, a page draws it, a download holds it."""

from dataclasses import dataclass

__all__ = ["Cell", "Table", "printed"]

Cell = str | int


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads; columns named in `numbers` stand to the right. `serials`: the column that names an insert.

    `title` and `about`: what it tells, and what to know of it. `empty`: what is said where there are no rows.
    """

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    numbers: frozenset[str] = frozenset()
    serials: str = ""
    title: str = ""
    about: str = ""
    empty: str = ""


_WIDE = 44
"""A column with longer texts than this is not padded to them (own)."""


def printed(table: Table) -> str:
    """Return a table as lines for a terminal: columns of short texts stand under each other, long ones run on."""
    lines = [table.title] if table.title else []
    if not table.rows:
        return "\n".join([*lines, f"  {table.empty or 'none'}"])
    lines += [f"  {table.about}"] if table.about else []
    cells = [[str(cell) for cell in row] for row in (table.heads, *table.rows)]
    longest = [max(len(row[n]) for row in cells) for n in range(len(table.heads))]
    width = [size if size <= _WIDE else 0 for size in longest]
    for row in cells if any(table.heads) else cells[1:]:
        padded = [
            cell.rjust(size) if head in table.numbers else cell.ljust(size)
            for head, cell, size in zip(table.heads, row, width, strict=True)
        ]
        lines.append(f"  {'  '.join(padded)}".rstrip())
    return "\n".join(lines)
