"""Which changes get a label: what people said when an insert came out or was looked at, and what a swap answered.

A reason or a finding counts for the open change that is likeliest what it names. What outlived a swap is none of the
insert's, and was answered by that swap. Where nothing was called there is nothing to label.
"""

from shotlog.wear.change.labelled import Labelled
from shotlog.wear.change.told import INSERT, NOT_INSERT, causes_told
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.swap_odds import Carried

__all__ = ["label_end", "label_sound", "label_swap"]


def label_end(life: HalfState, reason: str, at_shot: int, pool: Pool) -> None:
    """Label the change with which an insert came out before the press's `at_shot`, by the reason given, else by what
    was found on it.
    """
    told = causes_told(reason) or causes_told(life.found.text if life.found is not None else "")
    changes = [one for one in life.open() if not one.carried]
    if told and changes:
        change = max(changes, key=lambda one: (sum(one.weights.get(cause, 0.0) for cause in told), one.at))
        pool.label(life.held.design, Labelled.of(life.held.serial, at_shot, told, change.weights, change.effect))


def label_sound(life: HalfState, n: int, pool: Pool) -> None:
    """Label what is laid to an insert at its shot `n`, where a person has looked at it and found it sound."""
    for one in life.open():
        if one.group == "insert" and not one.carried:
            at_shot = life.first - 1 + n
            pool.label(life.held.design, Labelled.of(life.held.serial, at_shot, NOT_INSERT, one.weights, one.effect))


def label_swap(design: str, carried: Carried, reset: bool, pool: Pool) -> None:
    """Label the change that a swap was asked about: one that has `reset` was the insert's, one that stayed was not."""
    told = INSERT if reset else NOT_INSERT
    one = Labelled.of(carried.insert, carried.at_shot, told, carried.weights, carried.effect)
    pool.answer(design, one, told, stayed=not reset)
