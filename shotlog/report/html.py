"""Pieces of HTML: everything that comes from outside is escaped here."""

from collections.abc import Iterable, Iterator, Sequence
from html import escape

__all__ = ["Html", "definition", "in_parts", "items", "joined", "note", "paragraph", "section", "table", "text"]


class Html(str):
    """A piece of finished HTML; plain text is anything else."""

    __slots__ = ()

    def __add__(self, other: str) -> "Html":
        """Return this and what follows, escaped unless it is HTML."""
        return Html(super().__add__(text(other)))


def text(given: object) -> Html:
    """Return something as HTML, escaped unless it is HTML already."""
    return given if isinstance(given, Html) else Html(escape(str(given)))


def joined(parts: Iterable[object]) -> Html:
    """Return pieces one after the other."""
    return Html("".join(text(part) for part in parts))


def paragraph(*parts: object) -> Html:
    """Return a paragraph."""
    return Html(f"<p>{joined(parts)}</p>\n")


def note(*parts: object) -> Html:
    """Return a paragraph that explains how to read what stands beside it."""
    return Html(f'<p class="note">{joined(parts)}</p>\n')


def items(lines: Iterable[object]) -> Html:
    """Return a list; without a line, nothing."""
    told = [f"<li>{text(line)}</li>\n" for line in lines]
    return Html(f"<ul>\n{''.join(told)}</ul>\n" if told else "")


def table(heads: Sequence[str], rows: Iterable[Sequence[object]], numbers: Sequence[int] = (), name: str = "") -> Html:
    """Return a table; `numbers` are the columns set flush right. Without rows, nothing.

    A row that says nothing, and a column in which no row does, is left out.
    """
    said = [row for row in rows if any(_says(cell) for cell in row)]
    kept = [at for at in range(len(heads)) if any(_says(row[at]) for row in said)]
    flush = [place for place, at in enumerate(kept) if at in numbers]
    body = [_row([row[at] for at in kept], flush) for row in said]
    if not body:
        return Html("")
    caption = f"<caption>{text(name)}</caption>" if name else ""
    head = "".join(f'<th scope="col"{_right(place, flush)}>{text(heads[at])}</th>' for place, at in enumerate(kept))
    return Html(
        f'<div class="wide"><table>{caption}<thead><tr>{head}</tr></thead>\n'
        f"<tbody>\n{''.join(body)}</tbody></table></div>\n"
    )


def _says(cell: object) -> bool:
    return str(cell) not in ("", "\N{EN DASH}")


def _row(row: Sequence[object], numbers: Sequence[int]) -> str:
    cells = "".join(f"<td{_right(at, numbers)}>{text(one)}</td>" for at, one in enumerate(row))
    return f"<tr>{cells}</tr>\n"


def _right(at: int, numbers: Sequence[int]) -> str:
    return ' class="n"' if at in numbers else ""


def definition(pairs: Iterable[tuple[object, object]]) -> Html:
    """Return names with what they stand for."""
    return Html("<dl>" + "".join(f"<dt>{text(a)}</dt><dd>{text(b)}</dd>\n" for a, b in pairs) + "</dl>\n")


def in_parts(anchor: str, title: str, parts: Iterable[object], level: int = 2) -> Iterator[Html]:
    """Yield a section under its heading part by part: one with thousands of pictures is never held at once."""
    yield Html(f'<section id="{escape(anchor)}"><h{level}>{text(title)}</h{level}>\n')
    for part in parts:
        yield text(part)
    yield Html("</section>\n")


def section(anchor: str, title: str, *parts: object, level: int = 2) -> Html:
    """Return a section under its heading."""
    return joined(in_parts(anchor, title, parts, level))
