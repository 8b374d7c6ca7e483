"""The evidence behind one verdict, as plain data, for whoever wants to see why."""

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["CauseEvidence", "Evidence", "SwapFinding"]


@dataclass(frozen=True, slots=True)
class CauseEvidence:
    """One cause: log likelihood ratio against "no change" (prior shares in it), weight, likeliest onset (press's shot
    number).

    `change`: fitted change at the last shot by channel, in the channel's unit.
    """

    cause: str
    group: str
    log_likelihood: float
    weight: float
    onset: int
    change: Mapping[str, float]
    check: str
    action: str


@dataclass(frozen=True, slots=True)
class SwapFinding:
    """What a swap said about the change seen before it: `outcome` is ``confirmed`` (it reset: the insert) or
    ``refuted``.
    """

    press: str
    insert: str
    at_shot: int
    outcome: str
    text: str


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the last verdict rests on; channel values in the channel's unit.

    `level`: own level. `spread`: within-insert spread. `least_change`: smallest change of practical size. `change`,
    `slope`: fitted change now and per shot, over all causes. `question`: what to ask the people at the press ("was an
    insert changed before shot N?"), empty if nothing.
    """

    press: str
    shot: int
    insert: str
    log_odds: float
    threshold: float
    n_sisters: int
    settled_at: int
    causes: tuple[CauseEvidence, ...] = ()
    groups: Mapping[str, float] = field(default_factory=dict)
    level: Mapping[str, float] = field(default_factory=dict)
    spread: Mapping[str, float] = field(default_factory=dict)
    lag_1: Mapping[str, float] = field(default_factory=dict)
    least_change: Mapping[str, float] = field(default_factory=dict)
    change: Mapping[str, float] = field(default_factory=dict)
    slope: Mapping[str, float] = field(default_factory=dict)
    limits: Mapping[str, tuple[float | None, float | None]] = field(default_factory=dict)
    question: str = ""
    swaps: tuple[SwapFinding, ...] = ()
