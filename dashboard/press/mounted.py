"""Who is mounted: each insert with the shots on it; of single-use pieces the one that is in, and how many are left."""

from dash import html
from dash.development.base_component import Component

from dashboard.shared.views import Mounted, PressView
from shotlog.answers.needs import FEW
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import some

__all__ = ["mounted"]


def mounted(view: PressView) -> list[Component]:
    """Return the inserts in the mould, for the shot to come."""
    rows = [row for piece in view.mounted for row in (_row(piece, view), _running_out(piece)) if row is not None]
    return [html.H2("Mounted"), *(rows or [html.P("No insert entered.", className="none")])]


def _row(piece: Mounted, view: PressView) -> Component:
    serial = (piece.piece or "no piece") if piece.single_use else piece.serial
    batch = [html.Small(f" {piece.print_batch}", className="batch")] if piece.print_batch else []
    return html.Div(
        [
            html.Span(piece.half, className="half"),
            html.Span([serial, *batch], className="serial"),
            html.Span(_left(piece) if piece.single_use else _made(piece), className=_look(piece)),
        ],
        className="piece judged" if piece == view.judged else "piece",
    )


def _look(piece: Mounted) -> str:
    return "count in-now" if piece.single_use and piece.waiting is None else "count"


def _made(piece: Mounted) -> list[Component | str]:
    return [html.B(str(piece.earlier + piece.n_shots)), " shots"]


def _left(piece: Mounted) -> list[Component | str]:
    """Return how many pieces are left, the one that is in counted; those numbered on never run out.

    The piece that is in has made no shot yet: the shots are those of the series.
    """
    if piece.waiting is None:
        return [html.Small(f"in now, single-use, numbered on from {piece.serial}")]
    return [html.B(str(len(piece.waiting))), " left", html.Small(" single-use")]


def _running_out(piece: Mounted) -> Component | None:
    """Return what is said where few pieces are left, or none."""
    if piece.waiting is None or len(piece.waiting) > FEW:
        return None
    half = half_named(piece.half)
    if not piece.waiting:
        words = f"No piece left in the {half}: the next shot has none on record. Queue more under Single-use pieces."
    else:
        words = f"Only {some(len(piece.waiting), 'piece')} left in the {half}."
    return html.P(words, className="running-out", role="status")
