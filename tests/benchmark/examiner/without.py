"""Parts of the call that can be left out, one at a time, to see what each is worth: `--without NAME`.

A part is a function that returns what is patched while a history is played. A part of which no figure gets worse
without it is not worth its lines.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager
from dataclasses import replace
from unittest.mock import patch

import numpy as np

from shotlog.charts.joint import Joint
from shotlog.wear.change import hypotheses as table
from shotlog.wear.change.causes import CAUSES, UNSEEN_MELT
from shotlog.wear.change.detector import Filter
from shotlog.wear.constants import COURSE_POWERS
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.ends import ends_of
from shotlog.wear.life.worn import COURSES

__all__ = ["PARTS", "without"]


def _labels() -> AbstractContextManager[object]:
    """Nothing is learnt of causes from what people and swaps say."""
    return patch("shotlog.wear.life.half.taught", lambda table, *_: table)


def _tails() -> AbstractContextManager[object]:
    """All noise is taken for normal."""
    return patch("shotlog.wear.level.sisters.heaviness", lambda _: 0.0)


def _carried_over() -> AbstractContextManager[object]:
    """A far value that lasts by itself confirms itself."""
    return patch.object(Filter, "carried_over", lambda _, u: np.zeros(len(u)))


def _by_a_third() -> AbstractContextManager[object]:
    """A far shot is confirmed by a much smaller one."""
    return patch("shotlog.wear.life.stretch.SAME_SHARE", 0.0)


def _tempering() -> AbstractContextManager[object]:
    """The table of causes is taken to hold whatever may come."""
    return patch("shotlog.wear.change.tempering.SOMETHING_ELSE", 0.0)


def _cleared() -> AbstractContextManager[object]:
    """Calls that people found to be none leave the bars as they are."""
    return patch("shotlog.wear.monitor.raised", lambda *_: 0.0)


_TYPICAL = {
    "cushion": 1.0 / 0.057,
    "peak_pressure": 1.0 / 0.0083,
    "switchover_pressure": 1.0 / 0.0077,
    "fill_time": 1.0 / 0.0056,
    "switchover_position": 1.0 / 0.02,
    "recovery_time": 1.0 / 0.02,
    "melt_temperature": 1.0 / 0.5,
    "insert_temperature": 1.0 / 0.8,
    "clamp_force": 1.0 / 0.003,
    "part_weight": 1.0 / 0.015,
    "mass_balance": 1.0 / 0.02,
}
"""Spreads of the press that the trade notes tell of, as `hypotheses` takes them."""


@contextmanager
def _other_table(patched: AbstractContextManager[object]) -> Iterator[None]:
    """Build the hypotheses anew while something they are made from is patched, and again after it."""
    with patched:
        table._built.cache_clear()
        yield
    table._built.cache_clear()


def _own_noise() -> AbstractContextManager[object]:
    """Every press sees a signature in the spreads of one press."""

    def typical(prior: Prior) -> np.ndarray:
        return np.array([_TYPICAL.get(name, 1.0) for name in prior.channels])

    return _other_table(patch.object(table, "_scale", typical))


def _transducers() -> AbstractContextManager[object]:
    """Channels of one transducer drift one at a time."""
    return _other_table(patch.object(table, "SHARED_ALIKE", 1e-9))


def _free() -> AbstractContextManager[object]:
    """No direction is free."""
    return _other_table(patch.object(table, "FREE_WIDTH", 1e-9))


def _left_of_ranges() -> AbstractContextManager[object]:
    """A change lies no further beside a vector of a wide range than beside that of a narrow one."""
    return _other_table(patch.object(table, "LEFT_OF_RANGE", 1e-9))


def _unseen_melt() -> AbstractContextManager[object]:
    """The thermocouple shows every melt that is hotter."""
    return _other_table(patch.dict(CAUSES, {UNSEEN_MELT: replace(CAUSES[UNSEEN_MELT], prior=1e-9)}))


def _held_up() -> AbstractContextManager[object]:
    """Nothing in the mould slows the fill."""
    name = "fill held up in the mould"
    return _other_table(patch.dict(CAUSES, {name: replace(CAUSES[name], prior=1e-9)}))


def _spread_first() -> AbstractContextManager[object]:
    """A leak past the check ring falls as often without a spread that grows as with it."""
    return _other_table(patch.object(table, "SPREAD_GROWS", 0.5))


def _heard_through() -> AbstractContextManager[object]:
    """Of a life that was called only the shots before the change tell of the noise."""
    return patch("shotlog.wear.life.leaving.heard_through", lambda sister, *_: sister)


def _sisters_wear() -> AbstractContextManager[object]:
    """Nothing is known of how sisters wore."""
    return patch("shotlog.wear.life.leaving.worn_of", lambda *_: None)


def _courses() -> AbstractContextManager[object]:
    """All wear is taken to go on evenly."""
    even = np.log(np.where(np.arange(len(COURSES)) == COURSE_POWERS.index(1.0) + 1, 1.0, 1e-6))
    real = ends_of
    return patch("shotlog.wear.life.pool.ends_of", lambda *given: replace(real(*given), log_share=even))


def _pulled() -> AbstractContextManager[object]:
    """What the filter takes of a change for level is left in the level."""
    return patch("shotlog.wear.verdict.bounds.pulled", lambda post, *_: np.zeros(len(post.effect)))


def _given_alone() -> AbstractContextManager[object]:
    """Derived limits count beside a given one that lies ahead."""
    return patch("shotlog.wear.verdict.shots_left._counting", lambda _, limits, __: dict(limits))


def _sudden() -> AbstractContextManager[object]:
    """Nothing breaks beside the wear."""
    real = ends_of
    return patch("shotlog.wear.life.pool.ends_of", lambda *given: replace(real(*given), sudden=1e-9))


def _chart_sisters() -> AbstractContextManager[object]:
    """The limits of every insert's charts rest on its own shots alone."""
    return patch("shotlog.charts.life_charts.Joint", lambda _, least, judged: Joint((), least, judged))


PARTS: Mapping[str, Callable[[], AbstractContextManager[object]]] = {
    "courses": _courses,
    "given limits alone": _given_alone,
    "labels": _labels,
    "pulled level": _pulled,
    "sisters' wear": _sisters_wear,
    "sudden breaks": _sudden,
    "tails": _tails,
    "carried-over": _carried_over,
    "by-a-third": _by_a_third,
    "tempering": _tempering,
    "cleared": _cleared,
    "own-noise": _own_noise,
    "transducers": _transducers,
    "free-directions": _free,
    "left-of-ranges": _left_of_ranges,
    "unseen-melt": _unseen_melt,
    "held-up": _held_up,
    "spread-first": _spread_first,
    "heard-through": _heard_through,
    "chart-sisters": _chart_sisters,
}
"""By name, what leaves a part of the call out."""


@contextmanager
def without(names: Sequence[str]) -> Iterator[None]:
    """Leave out the parts named."""
    with ExitStack() as stack:
        for name in names:
            stack.enter_context(PARTS[name]())
        yield
