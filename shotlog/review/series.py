"""Single-use halves as series: the pieces of each print batch, where they lie, and those that lie off by themselves.

Settling shots are left out of every level: they speak of a cold mould. Pieces are compared only where the set-up and
the reused halves opposite were the same: another half has a level of its own.
"""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.entries import KINDS, LOT
from shotlog.errors import NotEnoughShots
from shotlog.records import InForce
from shotlog.review.scatter import Apart, Limits, odd_ones, scatter_of
from shotlog.review.source import PressRecord

__all__ = ["BatchLevel", "BatchSpread", "OddPiece", "Pieces", "Series", "pieces_of"]

F = NDArray[np.float64]

OF_A_PIECE = ("cushion", "peak_pressure", "fill_time", "switchover_pressure", "part_weight", "mass_balance")
"""What a piece can move. The rest speaks of the press, or of the half opposite."""


@dataclass(frozen=True, slots=True)
class BatchLevel:
    """One quantity over the pieces of a batch, odd ones left out: how many, mean, spread, and limits of a further one.

    `spread` and `limits` are None where too few pieces have a value; `apart` where there is no other batch.
    """

    n: int
    mean: float
    spread: float | None
    limits: Limits | None
    apart: Apart | None


@dataclass(frozen=True, slots=True)
class Series:
    """The pieces of one print batch under one set-up and opposite half, from `serial` to `last_serial`.

    `n_pieces`: how many were taken. `spans`: the shots that took them, first and last of each unbroken run. `beside`:
    what else was in force over them, in words, so that a batch that lies apart is not blamed for a lot.
    """

    half: str
    serial: str
    last_serial: str
    design: str
    print_batch: str
    spans: tuple[tuple[int, int], ...]
    n_pieces: int
    beside: tuple[str, ...]
    levels: Mapping[str, BatchLevel]

    @property
    def first(self) -> int:
        """The first shot."""
        return self.spans[0][0]

    @property
    def last(self) -> int:
        """The last shot."""
        return self.spans[-1][1]


@dataclass(frozen=True, slots=True)
class OddPiece:
    """A piece whose shot lies off its batch while the pieces before and after lie right: it is this piece.

    `channels`: for each quantity that is off, its value, the mean of its batch, and the distance in spreads.
    """

    half: str
    serial: str
    print_batch: str
    shot: int
    channels: Mapping[str, tuple[float, float, float]]


@dataclass(frozen=True, slots=True)
class BatchSpread:
    """One quantity over the batches of a design under one set-up and opposite half, shots `first` to `last`.

    See `scatter.Scatter`: `within` batches, `between` them, and limits of a piece of a batch not met yet.
    """

    half: str
    design: str
    first: int
    last: int
    n_batches: int
    channel: str
    within: float
    between: float | None
    other_batch: Limits | None


@dataclass(frozen=True, slots=True)
class Pieces:
    """All that a press's single-use pieces say: the batches, the spread over them, the odd ones."""

    series: tuple[Series, ...] = ()
    spreads: tuple[BatchSpread, ...] = ()
    odd: tuple[OddPiece, ...] = ()


@dataclass(frozen=True, slots=True)
class _Batch:
    series: Series
    shots: tuple[int, ...]
    serials: tuple[str, ...]


def pieces_of(record: PressRecord, first: int = 0) -> Pieces:
    """Return what a press's single-use pieces say; levels rest on the whole log, batches before `first` are not shown.

    A piece whose batch nobody said belongs to the series it was mounted in.
    """
    found = Pieces()
    settled: dict[str, dict[int, float]] = {}
    if any(stay.mounting.single_use for stay in record.timeline.stays):
        for channel in (name for name in OF_A_PIECE if name in record.channels):
            shots, values = record.settled(channel, 0, record.last_shot)
            settled[channel] = dict(zip(shots.tolist(), values.tolist(), strict=True))
    for alike in _alike(record):
        levels: list[dict[str, BatchLevel]] = [{} for _ in alike]
        odd: dict[tuple[int, int], dict[str, tuple[float, float, float]]] = {}
        spreads = []
        for channel, value in settled.items():
            spread = _compare(channel, value, alike, levels, odd)
            if spread is not None:
                spreads.append(spread)
        series = tuple(replace(batch.series, levels=levels[at]) for at, batch in enumerate(alike))
        named = (_odd(alike[at], n, channels) for (at, n), channels in sorted(odd.items()))
        found = Pieces((*found.series, *series), (*found.spreads, *spreads), (*found.odd, *named))
    shown = tuple(sorted((one for one in found.series if one.last >= first), key=lambda one: one.first))
    return Pieces(
        shown,
        tuple(one for one in found.spreads if one.last >= first),
        tuple(sorted((one for one in found.odd if one.shot >= first), key=lambda one: one.shot)),
    )


def _odd(batch: _Batch, n: int, channels: Mapping[str, tuple[float, float, float]]) -> OddPiece:
    return OddPiece(batch.series.half, batch.serials[n], batch.series.print_batch, batch.shots[n], channels)


def _alike(record: PressRecord) -> list[list[_Batch]]:
    """Return the batches of each half and design under each set-up and opposite half, in order of first shot."""
    taken: dict[tuple[str, str, int, str], dict[str, list[tuple[int, InForce]]]] = {}
    starts = [stretch.first for stretch in record.stretches]
    opposites = [repr(sorted(stretch.halves.items())) for stretch in record.stretches]
    for shot, setup, half, held, series in _taken(record):
        batch = held.print_batch or f"\0{series}"
        at = bisect_right(starts, shot) - 1
        opposite = opposites[at] if at >= 0 else ""
        taken.setdefault((half, held.design, setup, opposite), {}).setdefault(batch, []).append((shot, held))
    return [
        [_batch(record, half, design, name.partition("\0")[0], pieces) for name, pieces in by_batch.items()]
        for (half, design, *_), by_batch in taken.items()
    ]


def _taken(record: PressRecord) -> Iterator[tuple[int, int, str, InForce, int]]:
    """Yield every shot's single-use piece: shot, number of the set-up, half, piece, first shot of its mounting.

    Shots nobody saw took a piece as well; dry ones took none.
    """
    timeline = record.timeline
    dry, last = set(timeline.dry_shots), record.last_shot
    setups = sorted(
        e.event.at_shot for e in record.entries if KINDS[e.event.kind].effect.new_baseline and not e.taken_back
    )
    for stay in timeline.stays:
        if stay.mounting.single_use:
            for shot in range(stay.first, int(min(stay.end, last + 1))):
                held = timeline.halves(shot).get(stay.mounting.half) if shot not in dry else None
                if held is not None:
                    yield shot, sum(at <= shot for at in setups), stay.mounting.half, held, stay.first


def _batch(record: PressRecord, half: str, design: str, name: str, pieces: Sequence[tuple[int, InForce]]) -> _Batch:
    shots, serials = tuple(shot for shot, _ in pieces), tuple(held.serial for _, held in pieces)
    spans: list[tuple[int, int]] = []
    for shot in shots:
        if spans and all(between in record.timeline.dry_shots for between in range(spans[-1][1] + 1, shot)):
            spans[-1] = (spans[-1][0], shot)
        else:
            spans.append((shot, shot))
    beside = _beside(record, spans)
    series = Series(half, serials[0], serials[-1], design, name, tuple(spans), len(shots), beside, {})
    return _Batch(series, shots, serials)


def _beside(record: PressRecord, spans: Sequence[tuple[int, int]]) -> tuple[str, ...]:
    """Return lots and reused halves in force over spans of shots, in words."""
    lots = [(e.event.at_shot, e.event.text) for e in record.entries if e.event.kind == LOT and not e.taken_back]
    lots.sort(key=lambda lot: lot[0])
    said: list[str] = []
    for first, last in spans:
        before = [text for at, text in lots if at <= first][-1:]
        said += [f"lot {text}" for text in [*before, *(text for at, text in lots if first < at <= last)]]
        reused = [stay for stay in record.timeline.stays if not stay.mounting.single_use]
        said += [stay.mounting.insert.serial for stay in reused if stay.first <= last and stay.end > first]
    return tuple(dict.fromkeys(said))


def _compare(
    channel: str,
    value: Mapping[int, float],
    alike: Sequence[_Batch],
    levels: Sequence[dict[str, BatchLevel]],
    odd: dict[tuple[int, int], dict[str, tuple[float, float, float]]],
) -> BatchSpread | None:
    """Work out one channel over batches alike: add each batch's level and each odd piece; return the spread."""
    known = [_values(value, batch) for batch in alike]
    off = odd_ones([values for _, values in known])
    sound = [
        np.delete(values, [n for at_, n in off if at_ == at]) if len(values) else values
        for at, (_, values) in enumerate(known)
    ]
    present = [at for at, values in enumerate(sound) if len(values)]
    if not present:
        return None
    least = CHANNELS[channel].least_change
    try:
        scatter = scatter_of([sound[at] for at in present], least)
    except NotEnoughShots:
        scatter = None
    for place, at in enumerate(present):
        values, mean = sound[at], float(sound[at].mean())
        spread = float(values.std(ddof=1)) if len(values) > 1 else None
        limits = None if scatter is None else scatter.same_batch[place]
        apart = scatter.apart[place] if scatter is not None and scatter.apart else None
        levels[at][channel] = BatchLevel(len(values), mean, spread, limits, apart)
    if scatter is None:
        return None
    for at, n in off:
        places, values = known[at]
        if at in present and _single(values, n, levels[at][channel].mean, least):
            mean = levels[at][channel].mean
            far = (float(values[n]), mean, abs(float(values[n]) - mean) / scatter.within)
            odd.setdefault((at, places[n]), {})[channel] = far
    series, last = alike[0].series, max(batch.shots[-1] for batch in alike)
    where = (series.half, series.design, series.first, last, len(present))
    return BatchSpread(*where, channel, scatter.within, scatter.between, scatter.other_batch)


def _values(value: Mapping[int, float], batch: _Batch) -> tuple[list[int], F]:
    """Return the places in a batch of the pieces with a settled value, and the values."""
    places = [n for n, shot in enumerate(batch.shots) if shot in value]
    return places, np.array([value[batch.shots[n]] for n in places], dtype=np.float64)


def _single(values: F, n: int, mean: float, least: float) -> bool:
    """Say whether a value that lies off stands alone: by a practical size, and its neighbours less than half as far.

    Otherwise it is the end of a drift or the beginning of another level, and not the piece.
    """
    far = abs(float(values[n]) - mean)
    beside = [abs(float(values[at]) - mean) for at in (n - 1, n + 1) if 0 <= at < len(values)]
    return far >= least and all(one < far / 2.0 for one in beside)
