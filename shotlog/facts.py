"""What a verdict rests on, as data: `shotlog.wording` makes its sentence from it, and nothing has to read a sentence.

Frozen. None, or nothing, where there is nothing to say. Channel values are in the channel's unit, shots in the press's
own numbers.
"""

from dataclasses import dataclass

__all__ = ["ChannelChange", "Facts", "PassedLimit"]


@dataclass(frozen=True, slots=True)
class ChannelChange:
    """How far a channel has moved: `size` with its sign, and `least`, the smallest change of practical size."""

    channel: str
    size: float
    least: float


@dataclass(frozen=True, slots=True)
class PassedLimit:
    """An action limit that the fitted level is beyond; `derived` from the baseline rather than given."""

    channel: str
    limit: float
    derived: bool


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known after one shot beside the verdict's own columns.

    `stage`: ``settling`` (judged from shot `judged_from` on), ``waited`` (after a wait whose effect is not known well
    enough to judge by), ``learning`` (the insert's own level is not known yet), ``quiet`` (no change since shot
    `quiet_since`, judged beside `n_sisters` sisters) or ``called`` (a change).

    `odd_shot`: a shot held back as odd. `asked_shot`: an insert may have been changed before it without an entry.

    Of a call: `changes` by channel; `grown_spread`, the channel whose shot-to-shot spread has grown instead; `rival`, a
    cause it cannot be told apart from, with its weight and the called cause's own; what the next shot and a swap, a
    part, are expected to cost; the swap it outlived, and whether another half stayed in the mould then.
    """

    stage: str
    judged_from: int | None = None
    quiet_since: int | None = None
    n_sisters: int | None = None
    odd_shot: int | None = None
    asked_shot: int | None = None
    changes: tuple[ChannelChange, ...] = ()
    grown_spread: str | None = None
    cause_weight: float | None = None
    rival: str | None = None
    rival_weight: float | None = None
    next_shot_cost: float | None = None
    swap_cost: float | None = None
    outlived_swap: int | None = None
    other_half: bool | None = None
    passed: PassedLimit | None = None
