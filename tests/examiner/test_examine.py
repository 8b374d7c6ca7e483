"""An examination is repeatable, keeps the truth with the data, and its figures carry n and error."""

import numpy as np
import pytest

from tests.benchmark.examiner.cases import CASES
from tests.benchmark.examiner.cases.base import Goal
from tests.benchmark.examiner.figures import Figure, mean_of, ratio_of


def _scenes() -> dict[str, object]:
    return {scene.name: scene for case in CASES.values() for scene in case.scenes}


@pytest.mark.parametrize("name", _scenes())
def test_every_scene_draws_the_same_history_again_with_its_truth(name: str) -> None:
    scene = _scenes()[name]
    first, second = (scene.make(np.random.default_rng([17, 1])) for _ in range(2))  # type: ignore[attr-defined]
    assert first.shots == second.shots
    assert any(life.examined for life in first.lives)
    assert [shot.shot for shot in first.shots] == list(range(1001, 1001 + len(first.shots)))
    for life in first.lives:
        assert all(0 <= change.onset < life.n_shots for change in life.changes)
        own = first.shots[life.first - 1001 : life.first - 1001 + life.n_shots]
        assert life.serial in {piece.serial for piece in own[0].halves.values()}
        shown = np.array([[shot.values[channel] for channel in first.press.channels] for shot in own])
        assert shown == pytest.approx(life.values, abs=1e-6)


def test_errors_go_by_press() -> None:
    rng = np.random.default_rng(18)
    apart = mean_of([[x] for x in rng.integers(0, 2, 400)])
    alike = mean_of([[x] * 10 for x in rng.integers(0, 2, 40)])
    assert apart.error == pytest.approx(0.025, rel=0.2)
    assert alike.error == pytest.approx(0.079, rel=0.3)
    assert alike.n == 400
    assert mean_of([[0.0]] * 18).error == 0.05
    assert ratio_of([2.0, 4.0], [1.0, 2.0]).value == 2.0


def test_a_goal_is_met_within_its_bounds_only() -> None:
    assert [Goal(0.88, 0.95).met(Figure(v, 9, 0.0)) for v in (0.87, 0.88, 0.95, 0.96)] == [False, True, True, False]
    assert (str(Goal(low=0.8)), str(Goal(high=0.1)), str(Goal(0.75, 0.85))) == (">= 0.8", "<= 0.1", "0.75-0.85")
    assert not Goal(low=0.0).met(Figure(float("nan"), 0, 0.0))
