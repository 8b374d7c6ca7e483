"""Hypotheses: the signature table turned into arrays for the channels at hand.

A family of directions becomes a few vectors: the middle of its ranges and the corners of its two widest ones. Every row
is a vector with its cause, its sign and the share of each shape.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.change.causes import BATCH, CAUSES, SENSOR, UNKNOWN, UNKNOWN_UPSTREAM
from shotlog.wear.change.signatures import SHAPES, SIGNATURES, Signature, under
from shotlog.wear.constants import CORNERS, LEADING, SINGLE_SHAPES, WIDE_RANGE

__all__ = ["Hypotheses", "hypotheses"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """One row per shape and direction, sorted by shape.

    `shape`, `cause` (m,): indices into SHAPES and `names`. `direction` (m, p); `pairs` (m, p (p + 1) / 2): its products
    over channel pairs. `share` (m,): prior share. `spread_channel`,
    `spread_cause`, `spread_share`: causes that show as a growing spread of a channel. `alone` (p,): share of a step up,
    or down, in that channel and no other.
    """

    names: tuple[str, ...]
    shape: NDArray[np.int64]
    cause: NDArray[np.int64]
    direction: F
    pairs: F
    share: F
    spread_channel: NDArray[np.int64]
    spread_cause: NDArray[np.int64]
    spread_share: F
    alone: F


def _vectors(signature: Signature, channels: tuple[str, ...]) -> list[F]:
    low = np.array([signature.effect.get(name, (0.0, 0.0))[0] for name in channels])
    high = np.array([signature.effect.get(name, (0.0, 0.0))[1] for name in channels])
    middle, width = (low + high) / 2, high - low
    if not np.abs(middle).max(initial=0.0) > 0:
        return []
    wide = [int(c) for c in np.argsort(-width, kind="stable")[:2] if width[c] > WIDE_RANGE]
    out = [] if wide else [middle]
    for corner in product(CORNERS, repeat=len(wide)) if wide else ():
        vector = middle.copy()
        for c, at in zip(wide, corner, strict=True):
            vector[c] = low[c] + at * width[c]
        out.append(vector)
    return out


def _visible(signature: Signature, channels: tuple[str, ...]) -> bool:
    """Whether the leading channel is among those at hand, so that the size has its usual meaning."""
    return any(
        max(abs(low), abs(high)) >= LEADING for name, (low, high) in signature.effect.items() if name in channels
    )


@lru_cache(maxsize=32)
def hypotheses(channels: tuple[str, ...], mode: str = "position", pieces: bool = True) -> Hypotheses:
    """Return the rows for these channels under a mode of `signatures.MODES`; causes that cannot show in them are left
    out, and so is what comes with a new piece every shot where there are no such `pieces`. Shared: never written to.
    """
    names = tuple(CAUSES)
    found: dict[int, list[tuple[int, F, float]]] = {at: [] for at in range(len(SHAPES))}
    spread: list[tuple[int, int, float]] = []

    def add(name: str, vectors: list[F], shapes: Mapping[str, float], prior: float) -> None:
        for shape, share in shapes.items():
            for vector in vectors:
                found[SHAPES.index(shape)].append((names.index(name), vector, share * prior / len(vectors)))

    for name, one in CAUSES.items():
        if not one.signature or (name == BATCH and not pieces):
            continue
        signature = under(SIGNATURES[one.signature], mode)
        if not _visible(signature, channels):
            continue
        vectors = _vectors(signature, channels)
        if signature.either_way:
            vectors = vectors + [-v for v in vectors]
        prior = one.prior
        if signature.spread in channels:
            prior = one.prior / 2
            spread.append((channels.index(signature.spread), names.index(name), prior))
        add(name, vectors, signature.shapes, prior)
    single = [
        (sign * np.eye(len(channels))[c], CHANNELS[channels[c]].upstream)
        for c in range(len(channels))
        for sign in (1.0, -1.0)
    ]
    for name, where in ((SENSOR, (True, False)), (UNKNOWN, (False,)), (UNKNOWN_UPSTREAM, (True,))):
        vectors = [vector for vector, upstream in single if upstream in where]
        add(name, vectors, dict(zip(("step", "ramp"), SINGLE_SHAPES, strict=True)), CAUSES[name].prior)
    upper = np.triu_indices(len(channels))
    rows = [(shape, *member) for shape, members in found.items() for member in members]
    direction = np.array([vector for _, _, vector, _ in rows])
    shape = np.array([row[0] for row in rows])
    share = np.array([row[3] for row in rows])
    up_alone = (np.count_nonzero(direction, axis=1) == 1) & (shape == SHAPES.index("step"))
    return Hypotheses(
        names,
        shape,
        np.array([cause for _, cause, _, _ in rows]),
        direction,
        np.ascontiguousarray(direction[:, upper[0]] * direction[:, upper[1]]),
        share,
        np.array([s[0] for s in spread], dtype=np.int64),
        np.array([s[1] for s in spread], dtype=np.int64),
        np.array([s[2] for s in spread]),
        (share * up_alone) @ (direction > 0.0),
    )
