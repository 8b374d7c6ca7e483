"""Where the labels over the strips go, so that none lies on another."""

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Placed", "place", "shortened"]

_LONGEST = 22
_APART = 1.5
"""Characters that stay empty after a label."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its row (0 is the lowest) and the side of its line on which it stands."""

    shot: float
    text: str
    row: int
    leftward: bool


def shortened(text: str, longest: int = _LONGEST) -> str:
    """Return the text, cut to what fits over a strip."""
    return text if len(text) <= longest else text[: longest - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"


def place(labels: Iterable[tuple[float, str]], low: float, high: float, n_chars: int, n_rows: int = 3) -> list[Placed]:
    """Place labels, the important ones first; one that finds no room is left out (its line stays).

    Parameters
    ----------
    labels
        Shot and text of each.
    low, high
        The stretch of shots shown.
    n_chars
        How many characters fit side by side over that stretch.
    n_rows
        How many rows of labels there are.
    """
    taken: list[list[tuple[float, float]]] = [[] for _ in range(n_rows)]
    placed = []
    for shot, whole in labels:
        text, char = shortened(whole), (high - low) / n_chars
        width = (len(text) + _APART) * char
        leftward = shot + width > high and shot - width >= low
        if shot + width > high and not leftward:
            leftward = shot - low > high - shot
            text = shortened(text, max(1, int((shot - low if leftward else high - shot) / char - _APART)))
            width = (len(text) + _APART) * char
        left, right = (shot - width, shot) if leftward else (shot, shot + width)
        for row, spans in enumerate(taken):
            if all(right <= other_left or left >= other_right for other_left, other_right in spans):
                spans.append((left, right))
                placed.append(Placed(shot, text, row, leftward))
                break
    return placed
