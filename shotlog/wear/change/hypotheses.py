"""Hypotheses: the signature table turned into arrays for a press, its channels and its noise.

A family of directions becomes a few vectors: the middle of its ranges and the corners of its two widest ones; channels
read from one transducer go to their corners together. How far a change may lie beside its vector is what its vectors
leave of the ranges, and a share of the vector (`compiled.forgiving`). Every row is a vector with its cause, its sign
and the share of each shape. In every group one row a shape has no direction: what fits no signature is laid to the
group whose channels moved.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.change.causes import (
    BATCH,
    CAUSES,
    SENSOR,
    UNKNOWN,
    UNKNOWN_MELT,
    UNKNOWN_UPSTREAM,
)
from shotlog.wear.change.signatures import SHAPES, SIGNATURES, Range, in_spreads, placed
from shotlog.wear.constants import (
    CORNERS,
    FREE_SHARE,
    FREE_WIDTH,
    LEAST_LEVEL,
    LEFT_OF_RANGE,
    SHARED_ALIKE,
    SHARED_OFF,
    SINGLE_SHAPES,
    SPREAD_GROWS,
    TABLE_OFF,
    TABLE_OFF_LEAST,
    WIDE_RANGE,
)
from shotlog.wear.level.baseline import Prior

__all__ = ["Hypotheses", "hypotheses", "off_table"]

F = NDArray[np.float64]

_Vector = tuple[F, F]
"""A direction and how far a change may lie beside it, a standard deviation a channel, as a share of its size."""


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """One row per shape and direction, sorted by shape.

    `shape`, `cause` (m,): indices into SHAPES and `names`. `direction` (m, p), 0 for a free one, which stands last of
    its shape; `pairs` (m, p (p + 1) / 2): its products over channel pairs. `beside` (m, p): how far a change may lie
    beside it, see `forgive`. `share` (m,): prior share. `spread_channel`,
    `spread_cause`, `spread_share`: causes that show as a growing spread of a channel. `alone` (p,): share of a step up,
    or down, in that channel and no other.
    """

    names: tuple[str, ...]
    shape: NDArray[np.int64]
    cause: NDArray[np.int64]
    direction: F
    pairs: F
    beside: F
    share: F
    spread_channel: NDArray[np.int64]
    spread_cause: NDArray[np.int64]
    spread_share: F
    alone: F


def hypotheses(prior: Prior, mode: str = "position", pieces: bool = True) -> Hypotheses:
    """Return the rows for what an insert is judged by, under a mode of `signatures.MODES`; causes that cannot show in
    its channels are left out, and so is what comes with a new piece every shot where there are no such `pieces`.
    Shared: never written to.
    """
    return _built(prior.channels, tuple(_scale(prior).tolist()), tuple(prior.sigma.tolist()), mode, pieces)


def _scale(prior: Prior) -> F:
    """Return how many spreads a share of the level is, or one of the channel's unit; see `Channel.relative`.

    A level that lies within a few spreads of zero is no level: the channel has an offset.
    """
    relative = np.array([CHANNELS[name].relative for name in prior.channels])
    level = np.maximum(np.abs(prior.reference), LEAST_LEVEL * prior.sigma)
    return np.asarray(np.where(relative, level, 1.0) / prior.sigma)


@lru_cache(maxsize=32)
def _built(
    channels: tuple[str, ...], scale: tuple[float, ...], sigma: tuple[float, ...], mode: str, pieces: bool
) -> Hypotheses:
    names, ranges, by_channel = tuple(CAUSES), _ranges(channels, mode), dict(zip(channels, scale, strict=True))
    rows: list[tuple[int, int, F, F, float]] = []
    spread: list[tuple[int, int, float]] = []

    def add(name: str, vectors: list[_Vector], shapes: Mapping[str, float], prior: float) -> None:
        cause = names.index(name)
        for shape, share in shapes.items():
            at, each = SHAPES.index(shape), share * prior / max(len(vectors), 1)
            rows.extend((at, cause, vector, beside, each) for vector, beside in vectors)

    for name, one in CAUSES.items():
        if not one.signature or (name == BATCH and not pieces):
            continue
        signature = SIGNATURES[one.signature]
        vectors = _vectors(in_spreads(ranges[one.signature], by_channel), channels)
        if not vectors:
            continue
        if signature.either_way:
            vectors = vectors + [(-vector, beside) for vector, beside in vectors]
        prior = one.prior
        if signature.spread in channels:
            prior = one.prior * (1.0 - SPREAD_GROWS)
            spread.append((channels.index(signature.spread), names.index(name), one.prior * SPREAD_GROWS))
        add(name, vectors, signature.shapes, prior)
    single = dict(zip(("step", "ramp"), SINGLE_SHAPES, strict=True))
    each = np.eye(len(channels))
    for vectors, share in _by_transducer(channels, each / np.array(sigma)):
        add(SENSOR, vectors, single, CAUSES[SENSOR].prior * share)
    upstream = np.array([CHANNELS[name].upstream for name in channels])
    for name, alone, among in (
        (UNKNOWN, ~upstream, ~upstream),
        (UNKNOWN_UPSTREAM, upstream, np.ones(len(channels))),
        (UNKNOWN_MELT, np.zeros(0, dtype=np.bool_), np.ones(len(channels))),
    ):
        vectors = [(sign * each[c], TABLE_OFF * each[c]) for c in np.flatnonzero(alone) for sign in (1.0, -1.0)]
        prior = CAUSES[name].prior * (1.0 - FREE_SHARE) if vectors else 0.0
        add(name, vectors, single, prior)
        add(name, [(np.zeros(len(channels)), FREE_WIDTH * among)], single, CAUSES[name].prior - prior)
    return _as_arrays(channels, names, rows, spread)


@lru_cache(maxsize=32)
def _ranges(channels: tuple[str, ...], mode: str) -> dict[str, dict[str, Range]]:
    """Return what each signature moves of the channels at hand; shared, never written to."""
    return {name: placed(signature, channels, mode) for name, signature in SIGNATURES.items()}


@lru_cache(maxsize=32)
def _upper(n: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    return np.triu_indices(n)


def off_table(vector: F) -> F:
    """Return how far a change may lie beside a vector, whose ratios are known to within a share only."""
    return TABLE_OFF * np.maximum(np.abs(vector), TABLE_OFF_LEAST)


def _as_arrays(
    channels: tuple[str, ...],
    names: tuple[str, ...],
    rows: list[tuple[int, int, F, F, float]],
    spread: list[tuple[int, int, float]],
) -> Hypotheses:
    upper, direction = _upper(len(channels)), np.array([row[2] for row in rows])
    shape, share = np.array([row[0] for row in rows]), np.array([row[4] for row in rows])
    order = np.lexsort((~direction.any(axis=1), shape))
    shape, share, direction = shape[order], share[order], direction[order]
    up_alone = (np.count_nonzero(direction, axis=1) == 1) & (shape == SHAPES.index("step"))
    return Hypotheses(
        names,
        shape,
        np.array([row[1] for row in rows])[order],
        direction,
        np.ascontiguousarray(direction[:, upper[0]] * direction[:, upper[1]]),
        np.array([row[3] for row in rows])[order],
        share,
        np.array([s[0] for s in spread], dtype=np.int64),
        np.array([s[1] for s in spread], dtype=np.int64),
        np.array([s[2] for s in spread]),
        (share * up_alone) @ (direction > 0.0),
    )


def _vectors(ranges: Mapping[str, Range], channels: tuple[str, ...]) -> list[_Vector]:
    if not ranges:
        return []
    low, high = np.array([ranges.get(name, (0.0, 0.0)) for name in channels]).T
    widest: dict[str, float] = {}
    for name, (least, most) in ranges.items():
        read = CHANNELS[name].transducer or name
        widest[read] = max(widest.get(read, 0.0), most - least)
    wide = sorted((one for one in widest if widest[one] > WIDE_RANGE), key=lambda one: -widest[one])[:2]
    at, left = _corners(channels, tuple(wide))
    vectors, width = low + at * (high - low), high - low
    return list(zip(vectors, np.hypot(off_table(vectors), LEFT_OF_RANGE * left * width), strict=True))


@lru_cache(maxsize=256)
def _corners(channels: tuple[str, ...], wide: tuple[str, ...]) -> tuple[F, F]:
    """Return where in their ranges the channels lie in each vector, and what share of a range is left about it, if
    those read by the `wide` transducers lie at its corners.
    """
    corners = np.array(list(product(CORNERS, repeat=len(wide))))
    at, left = np.full((len(corners), len(channels)), 0.5), np.ones(len(channels))
    for k, one in enumerate(wide):
        cornered = [c for c, name in enumerate(channels) if (CHANNELS[name].transducer or name) == one]
        at[:, cornered], left[cornered] = corners[:, k : k + 1], 0.5
    return at, left


def _by_transducer(channels: tuple[str, ...], each: F) -> Iterator[tuple[list[_Vector], float]]:
    """Yield vectors of what a transducer does to the channels read from it, in which `each` is one of the unit, and
    their share; what ails it moves all of them alike, and seldom only one of them.
    """
    read = [CHANNELS[name].transducer for name in channels]
    places = [one for one in dict.fromkeys(read) if one]
    for one in places:
        among = np.array([name == one for name in read])
        alike = each[among].sum(axis=0)
        alone = [each[c] for c in np.flatnonzero(among)]
        for some, share in (
            (([alike], SHARED_ALIKE), (alone, 1.0 - SHARED_ALIKE)) if len(alone) > 1 else ((alone, 1.0),)
        ):
            unit = [vector / np.abs(vector).max() for vector in some]
            yield [(s * v, SHARED_OFF * np.abs(v)) for v in unit for s in (1.0, -1.0)], share / len(places)
