"""Single-use halves as series: pieces of one print batch, their level and the spread between them."""

from collections.abc import Mapping
from dataclasses import dataclass

from shotlog.review.source import PressRecord

__all__ = ["Series", "series_of"]


@dataclass(frozen=True, slots=True)
class Series:
    """Pieces of a single-use half under one mounting: print batch, shots.

    And each channel's mean and spread between pieces.
    """

    half: str
    serial: str
    design: str
    print_batch: str
    first: int
    last: int
    n_pieces: int
    levels: Mapping[str, tuple[float, float]]


def series_of(record: PressRecord) -> list[Series]:
    """Return the series of a press in order, also those of before the period."""
    found = []
    for stay in record.timeline.stays:
        if not stay.mounting.single_use or stay.first > record.last_shot:
            continue
        insert, last = stay.mounting.insert, int(min(stay.end - 1, record.last_shot))
        levels = {}
        for channel in record.channels:
            _, values = record.column(channel, stay.first, last)
            if len(values) >= 2:
                levels[channel] = (float(values.mean()), float(values.std(ddof=1)))
        n = record.timeline.n_taken(stay, last + 1)
        place = (stay.mounting.half, insert.serial, insert.design, insert.print_batch)
        found.append(Series(*place, stay.first, last, n, levels))
    return found
