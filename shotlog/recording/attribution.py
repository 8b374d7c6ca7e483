"""Who made a shot and what was noted of it, as the cells of a recording."""

from collections.abc import Iterable, Mapping

from shotlog.entries import REMOVED
from shotlog.records import HALVES, InForce

__all__ = ["event_cell", "halves_cells", "one_line"]


def halves_cells(halves: Mapping[str, InForce]) -> tuple[str, ...]:
    """Return the cells of the columns `heading.OF_HALVES` for the inserts in force."""
    held = {half: halves[half] for half in HALVES if half in halves}
    designs = [piece.design for piece in held.values()]
    return (
        *(held[half].serial if half in held else "" for half in HALVES),
        ";".join(designs) if len(set(designs)) > 1 else "".join(designs[:1]),
        ";".join(half for half, piece in held.items() if piece.single_use),
        ";".join(f"{half}:{piece.print_batch}" for half, piece in held.items() if piece.print_batch),
    )


def event_cell(removed: Iterable[tuple[str, str]], noted: Iterable[tuple[str, str, str]]) -> str:
    """Return the cell of what was taken out (serial, reason) and of what was noted (kind, text, half or empty)."""
    out = (f"{REMOVED}:{serial}:{reason}" for serial, reason in removed)
    said = (f"{kind}{half and f'@{half}'}:{one_line(text)}" for kind, text, half in noted)
    return ";".join((*out, *said))


def one_line(text: str) -> str:
    """Return the text of an event as a cell keeps it: on one line, without the mark that separates events."""
    return " ".join(text.replace(";", ",").split())
