"""A fault in a way of its own comes back in the same way, and the shot after each end tells what people said it was."""

import numpy as np
import pytest

from tests.benchmark.examiner.cases import labels
from tests.benchmark.examiner.cases.base import Scene
from tests.benchmark.examiner.histories import History

_WAYS = {way.name: way for way in labels._WAYS}


def _draw(scene: Scene, nth: int) -> History:
    return scene.make(np.random.default_rng([29, nth]))


def _told(history: History) -> dict[int, str]:
    return {shot.shot: why for shot in history.shots for _, why in shot.removed}


@pytest.mark.parametrize("nth", range(6))
def test_scenes_with_and_without_words_draw_the_same_shots(nth: int) -> None:
    said, bare, wrong = (_draw(scene, nth) for scene in (labels.LABELLED, labels.BARE, labels.ONE_WRONG))
    assert all(np.array_equal(a.values, b.values) for a, b in zip(said.lives, bare.lives, strict=True))
    assert all(np.array_equal(a.values, b.values) for a, b in zip(said.lives, wrong.lives, strict=True))
    way = _WAYS[said.lives[-1].changes[0].fault.name]
    assert list(_told(said)) == [life.first for life in said.lives[4:]]
    assert set(_told(said).values()) <= set(way.said)
    assert [why for why in _told(wrong).values() if why not in way.said] == [way.wrongly]
    assert _told(bare) == {}


@pytest.mark.parametrize("nth", range(6))
def test_a_fault_moves_all_values_alike_from_life_to_life(nth: int) -> None:
    history = _draw(labels.LABELLED, nth)
    ways = np.array([life.changes[0].direction for life in history.lives[3:]]) / history.press.spread
    alike = ways @ ways.T / np.outer(np.linalg.norm(ways, axis=1), np.linalg.norm(ways, axis=1))
    assert alike.min() > 0.95


def test_the_other_fault_is_of_another_group() -> None:
    for nth in range(6):
        history = _draw(labels.OTHER, nth)
        *_, before, last = history.lives
        assert last.changes[0].group != before.changes[0].group


def test_all_ways_are_drawn() -> None:
    assert {_draw(labels.BARE, nth).lives[-1].changes[0].fault.name for nth in range(30)} == set(_WAYS)
