"""A heater cycle is in every life of its press, a ramp comes on top of it, and a log has presses of many kinds."""

import numpy as np
import pytest

from tests.benchmark.examiner.cases import rates, ringing
from tests.benchmark.examiner.play import play


@pytest.mark.parametrize("n_channels", [3, 7])
def test_a_ramp_comes_on_top_of_a_heater_cycle(n_channels: int) -> None:
    history = ringing.SCENES[n_channels].make(np.random.default_rng([31, 1]))
    cycle = next(source for source in history.press.sources if source.course == "heater")
    assert np.all((np.abs(cycle.load) >= 0.5 * history.press.spread) & (np.abs(cycle.load) <= history.press.spread))
    *_, last = history.lives
    change = last.changes[0]
    grown = np.max(np.abs(np.diff(change.added, axis=0)) / history.press.spread, axis=1)
    assert not grown[: change.onset - 1].any()
    assert grown[change.onset :] == pytest.approx(grown[-1])


def test_a_log_has_presses_of_all_kinds_and_one_life_length_a_press() -> None:
    drawn = [rates.SCENES[None].make(np.random.default_rng([32, nth])) for nth in range(40)]
    assert {history.known["kind"] for history in drawn} == set(range(4))
    assert {min(life.n_shots for life in history.lives) < 41 for history in drawn} == {True, False}
    assert all(not life.changes and life.examined for history in drawn for life in history.lives)


def test_the_same_lives_are_judged_by_what_is_stated() -> None:
    few, many = (rates.SCENES[stated].make(np.random.default_rng([33, 2])) for stated in (2.0, 20.0))
    assert few.shots == many.shots
    bars = [[verdict.threshold for said in play(one).said for verdict in said.verdicts] for one in (few, many)]
    both = [(a, b) for a, b in zip(*bars, strict=True) if a is not None and b is not None]
    assert all(a >= b for a, b in both)
    assert any(a > b for a, b in both)
