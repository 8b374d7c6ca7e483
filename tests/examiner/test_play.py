"""Verdicts are kept beside the life they are on, and every change that stands is read from them."""

from dataclasses import dataclass, field
from types import SimpleNamespace

import numpy as np

from shotlog.records import Verdict
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import play, stands
from tests.benchmark.examiner.press import draw_press


def _history(seed: int) -> History:
    rng = np.random.default_rng([20, seed])
    return History(draw_press(rng, 3), rng)


def test_each_examined_life_has_its_own_verdicts() -> None:
    history = _history(1)
    history.life(6)
    second, third = history.life(5, examined=True), history.life(4, examined=True)
    said = play(history).said
    assert [one.life for one in said] == [second, third]
    for one, life in zip(said, (second, third), strict=True):
        assert [verdict.shot for verdict in one.verdicts] == list(range(life.first, life.first + life.n_shots))
        assert {verdict.insert for verdict in one.verdicts} == {life.serial}
        assert [verdict.shots_on_insert for verdict in one.verdicts] == list(range(1, life.n_shots + 1))


def _verdict(cause: str, group: str, onset: int | None) -> Verdict:
    return Verdict("p", 1040, "M1", 40, False, "keep", cause=cause, group=group, onset=onset)


def test_no_call_means_nothing_stands() -> None:
    assert list(stands(_verdict("", "", None))) == []


@dataclass(frozen=True)
class _Several:
    cause: str
    group: str
    onset: int
    others: tuple[object, ...] = field(default=())


def test_other_open_changes_are_read_in_either_form() -> None:
    first = _Several("lot change", "material", 1010, ("insert:gate erosion:1030",))
    assert list(stands(first)) == [("material", "lot change", 1010), ("insert", "gate erosion", 1030)]  # type: ignore[arg-type]
    other = SimpleNamespace(cause="gate erosion", group="insert", onset=1030)
    second = _Several("lot change", "material", 1010, (other,))
    assert list(stands(second)) == list(stands(first))  # type: ignore[arg-type]
