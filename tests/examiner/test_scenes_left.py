"""Sisters that end elsewhere, break or wear unevenly do so in the shots, and what people said comes with the next."""

import numpy as np
import pytest

from tests.benchmark.examiner.cases import shots_left_otherwise as otherwise
from tests.benchmark.examiner.cases.base import Scene
from tests.benchmark.examiner.histories import History, Life


def _draw(scene: Scene, nth: int) -> History:
    return scene.make(np.random.default_rng([23, nth]))


def _first_below(history: History, life: Life) -> int | None:
    below = np.flatnonzero(life.means[:, int(history.known["at"])] < history.known["limit"])
    return int(below[0]) if below.size else None


@pytest.mark.parametrize("scene", [otherwise.FIRST, otherwise.TWO, otherwise.UNEVEN, otherwise.PRESSURE])
def test_every_insert_comes_out_a_shot_after_it_passed_the_limit(scene: Scene) -> None:
    history = _draw(scene, 1)
    channel = history.press.channels[int(history.known["at"])]
    assert history.design.limits[channel].low == history.known["limit"]
    assert all(_first_below(history, life) == life.n_shots - 2 for life in history.lives)


def test_sisters_were_taken_out_at_one_other_limit_and_the_last_at_the_one_of_now() -> None:
    early = []
    for nth in range(6):
        history = _draw(otherwise.OTHER_LIMIT, nth)
        *sisters, last = history.lives
        assert _first_below(history, last) == last.n_shots - 2
        ends = [_first_below(history, life) for life in sisters]
        early.append(all(end is None for end in ends))
        assert early[-1] or all(
            end is not None and end < life.n_shots - 3 for end, life in zip(ends, sisters, strict=True)
        )
    assert set(early) == {True, False}


def test_a_broken_insert_comes_out_a_shot_later_and_the_next_shot_says_why() -> None:
    broken = 0
    for nth in range(4):
        history = _draw(otherwise.BREAKS, nth)
        told = dict(pair for shot in history.shots for pair in shot.removed)
        for life, following in zip(history.lives[:-1], history.lives[1:], strict=True):
            first = next(shot for shot in history.shots if shot.shot == following.first)
            assert first.removed == ((life.serial, told[life.serial]),)
            breaks = [change for change in life.changes if change.fault.name == "break"]
            assert ("broken" in told[life.serial]) == bool(breaks)
            assert all(change.onset >= life.n_shots - 2 for change in breaks)
            broken += bool(breaks)
    assert 4 <= broken <= 20


def test_a_gate_that_opens_loses_pressure_more_and_more_slowly() -> None:
    history = _draw(otherwise.PRESSURE, 2)
    change = history.lives[0].changes[0]
    lost = -np.diff(change.added[change.onset :, int(history.known["at"])])
    assert np.all(np.diff(lost) < 0.0)
    assert lost[0] > 0.0


def test_uneven_wear_never_goes_back_and_its_bites_differ() -> None:
    history = _draw(otherwise.UNEVEN, 2)
    change = history.lives[0].changes[0]
    bites = -np.diff(change.added[change.onset - 1 :, int(history.known["at"])])
    assert np.all(bites >= 0.0)
    assert 0.7 < bites.std() / bites.mean() < 2.5
