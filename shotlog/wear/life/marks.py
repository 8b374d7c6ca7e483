"""What a stretch is made of: its shots, and the marks from which on its level may be another one."""

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["Beside", "Beyond", "Drifting", "StretchShot"]


@dataclass(frozen=True, slots=True)
class StretchShot:
    """One shot: `n` on the insert, its values, and the mark before it: ``""``, ``pause`` or ``swap`` (of another reused
    half); how long the pause was, in minutes, if known. `took_s`: the time since the shot before, None where that was a
    wait or is not known. `batch`: the single-use halves are of the next print batch from it on."""

    n: int
    values: Mapping[str, float]
    mark: str = ""
    wait_min: float | None = None
    took_s: float | None = None
    batch: bool = False


@dataclass(frozen=True, slots=True)
class Drifting:
    """A drift that is allowed for from shot `n` on: a mean and a spread a shot, by channel in its unit."""

    n: int
    mean: Mapping[str, float]
    sd: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Beside:
    """Another half that came in new before shot `n`, as its sisters have shown: `spread`, how they differ, and
    `warming`, their warm-up (N_WARM), by channel in its unit.
    """

    n: int
    spread: Mapping[str, float]
    warming: Mapping[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Beyond:
    """Where the level left by a change is taken up: the shots `low` to `high`, in which it came, are not looked at.

    `mean`, `sd`: how it goes on from there, by channel in its unit a shot. `wider`: channels whose spread has grown,
    and how many times.
    """

    low: int
    high: int
    mean: Mapping[str, float]
    sd: Mapping[str, float]
    wider: Mapping[str, float] = field(default_factory=dict)
