"""How a place in registers is said, for people. Pure."""

from shotlog.collectors.register_map import Cell

__all__ = ["place_said", "type_said"]


def place_said(cell: Cell) -> str:
    """Return the registers of a cell: ``register 8``, ``registers 8 to 9``."""
    return str(cell.span)


def type_said(cell: Cell) -> str:
    """Return type and orders: ``uint32, high word first``."""
    order = ""
    if cell.kind.words > 1:
        order = f", {'high' if cell.word_order == 'big' else 'low'} word first"
    swapped = ", bytes swapped" if cell.byte_order == "little" else ""
    return f"{cell.kind.name}{order}{swapped}"
