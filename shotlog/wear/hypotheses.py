"""Hypotheses: the signature table turned into arrays for the channels at hand.

A family of directions becomes a few vectors: the middle of its ranges and the corners of its two widest ones. Every row is a
vector with its cause, its sign and the share of each shape.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.cause import CAUSES, SENSOR, UNKNOWN
from shotlog.wear.signatures import SHAPES, SIGNATURES, Signature

__all__ = ["Hypotheses", "hypotheses"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """Rows: `cause` index into `names`, `direction` (m, p), `shape_share` (m, 4) with the cause's prior in it.

    `spread_cause`: by channel, the cause whose spread grows there, or -1; `spread_prior`: its prior share.
    """

    names: tuple[str, ...]
    cause: NDArray[np.int64]
    direction: F
    share: F
    spread_channel: NDArray[np.int64]
    spread_cause: NDArray[np.int64]
    spread_prior: F


def _vectors(signature: Signature, channels: tuple[str, ...]) -> list[F]:
    low = np.array([signature.effect.get(name, (0.0, 0.0))[0] for name in channels])
    high = np.array([signature.effect.get(name, (0.0, 0.0))[1] for name in channels])
    middle, width = (low + high) / 2, high - low
    if not np.abs(middle).max(initial=0.0) > 0:
        return []
    wide = [int(c) for c in np.argsort(-width, kind="stable")[:2] if width[c] > 0.25]
    out = [] if wide else [middle]
    for corner in product((0.2, 0.8), repeat=len(wide)) if wide else ():
        vector = middle.copy()
        for c, at in zip(wide, corner, strict=True):
            vector[c] = low[c] + at * width[c]
        out.append(vector)
    return out


def _visible(signature: Signature, channels: tuple[str, ...]) -> bool:
    """Whether the leading channel is among those at hand, so that the size has its usual meaning."""
    return any(max(abs(low), abs(high)) >= 0.9 for name, (low, high) in signature.effect.items() if name in channels)


def hypotheses(channels: tuple[str, ...], mode: str = "position") -> Hypotheses:
    """Return the rows for these channels; causes that cannot show in them are left out."""
    names = tuple(CAUSES)
    cause: list[int] = []
    rows: list[F] = []
    shares: list[F] = []
    spread: list[tuple[int, int, float]] = []

    def add(name: str, vectors: list[F], shapes: dict[str, float], prior: float) -> None:
        for vector in vectors:
            cause.append(names.index(name))
            rows.append(vector)
            shares.append(np.array([shapes.get(shape, 0.0) for shape in SHAPES]) * prior / len(vectors))

    for name, one in CAUSES.items():
        if not one.signature:
            continue
        signature = SIGNATURES[one.signature]
        if signature.mode not in ("any", mode) or not _visible(signature, channels):
            continue
        vectors = _vectors(signature, channels)
        if signature.either_way:
            vectors = vectors + [-v for v in vectors]
        prior = one.prior
        if signature.spread in channels:
            prior = one.prior / 2
            spread.append((channels.index(signature.spread), names.index(name), one.prior / 2))
        add(name, vectors, dict(signature.shapes), prior)
    single = [sign * np.eye(len(channels))[c] for c in range(len(channels)) for sign in (1.0, -1.0)]
    even = {"step": 0.5, "ramp": 0.5}
    add(SENSOR, single, even, CAUSES[SENSOR].prior)
    add(UNKNOWN, single, even, CAUSES[UNKNOWN].prior)
    return Hypotheses(
        names,
        np.array(cause, dtype=np.int64),
        np.array(rows),
        np.array(shares),
        np.array([s[0] for s in spread], dtype=np.int64),
        np.array([s[1] for s in spread], dtype=np.int64),
        np.array([s[2] for s in spread]),
    )
