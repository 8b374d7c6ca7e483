"""What an insert was when it came out, in case it comes back: its shots, its level, and the changes laid to it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shotlog.wear.constants import BESIDE_SIGMA, MOVED_SHARE, REMOUNTED_SIGMA
from shotlog.wear.life.changes import Finding, OpenChange
from shotlog.wear.life.half import HalfState

__all__ = ["TakenOut", "come_back", "taken_out"]


@dataclass(frozen=True, slots=True)
class TakenOut:
    """An insert that is out of the mould: `made` shots on it in all.

    `key`: its pool. `level`: what it left with, mean and variance by channel in its unit. `changes`: open ones laid to
    it, in the press's shots. `beside`: serials of the other reused inserts in the mould then. `found`: a finding that
    stands against it.
    """

    made: int
    key: str
    level: dict[str, tuple[float, float]]
    changes: list[OpenChange]
    beside: list[str]
    found: Finding | None = None

    def moved(self, by: Mapping[str, float]) -> "TakenOut":
        """Return it for a level that has moved since, by channel in its unit; how far is not known exactly."""
        level = {c: (m + by.get(c, 0.0), v + (MOVED_SHARE * by.get(c, 0.0)) ** 2) for c, (m, v) in self.level.items()}
        return replace(self, level=level)

    def acquitted(self) -> "TakenOut":
        """Return it without its changes: the swap has shown that they were not its own."""
        by: dict[str, float] = {}
        for one in self.changes:
            by = {name: by.get(name, 0.0) - size for name, size in one.effect.items()}
        return replace(self.moved(by), changes=[])


def taken_out(life: HalfState, mine: Sequence[OpenChange], at_shot: int, beside: Sequence[str]) -> TakenOut:
    """Return what an insert is when it comes out before the press's shot `at_shot`; `mine`: changes laid to it."""
    stretch = life.ahead or life.stretch
    prior, filt = stretch.prior, stretch.filter
    level: dict[str, tuple[float, float]] = {}
    if prior is not None and filt is not None:
        mean, variance = filt.level(filt.last)
        means, variances = prior.reference + mean * prior.sigma, variance * prior.sigma**2
        level = dict(zip(prior.channels, zip(means.tolist(), variances.tolist(), strict=True), strict=True))
    kept = [one.later(life.first - 1) for one in mine if one.group == "insert" and not one.carried]
    return TakenOut(life.made + at_shot - life.first, life.key, level, kept, list(beside), life.found)


def come_back(life: HalfState, left: TakenOut, beside: Sequence[str]) -> None:
    """Let an insert that comes back go on as what it was: its clock, its changes, and its level if that still holds."""
    life.go_on_from(left.made, [one.later(1 - life.first) for one in left.changes], left.found)
    prior = life.stretch.prior
    if prior is None or left.key != life.key:
        return
    other = 0.0 if sorted(left.beside) == sorted(beside) else BESIDE_SIGMA
    wider = REMOUNTED_SIGMA**2 + other**2
    spread = dict(zip(prior.channels, prior.sigma.tolist(), strict=True))
    life.know({c: (mean, variance + wider * spread.get(c, 0.0) ** 2) for c, (mean, variance) in left.level.items()})
