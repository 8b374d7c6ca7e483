"""What the scenes say happens is in the shots that the call is shown."""

import itertools

import numpy as np
import pytest

from tests.benchmark.examiner.cases import halves, limits, lookalikes, several, shots_left
from tests.benchmark.examiner.cases.base import Scene
from tests.benchmark.examiner.histories import History


def _draw(scene: Scene, nth: int = 1) -> History:
    return scene.make(np.random.default_rng([19, nth]))


@pytest.mark.parametrize(
    ("one", "other"), [(several.SECOND, several.ALONE), (lookalikes.EROSION, lookalikes.NOTED)], ids=["second", "noted"]
)
def test_scenes_to_be_compared_draw_the_same_lives(one: Scene, other: Scene) -> None:
    first, second = _draw(one), _draw(other)
    assert one.drawn_as == other.drawn_as != ""
    assert all(np.array_equal(a.values, b.values) for a, b in zip(first.lives[:-1], second.lives[:-1], strict=True))
    a, b = first.lives[-1], second.lives[-1]
    assert (a.changes[-1].onset, a.changes[-1].size_sigma) == (b.changes[-1].onset, b.changes[-1].size_sigma)
    assert a.values[: a.changes[0].onset] == pytest.approx(b.values[: a.changes[0].onset])


def test_a_bag_is_noted_three_shots_before_the_gate_erodes() -> None:
    history = _draw(lookalikes.NOTED)
    noted = [shot.shot for shot in history.shots if shot.events]
    assert noted == [history.lives[-1].onset() - 3]


def test_a_slower_cadence_shows_in_the_times_and_the_pressure_follows() -> None:
    history = _draw(lookalikes.CADENCE)
    life, at = history.lives[-1], int(history.known["at"])
    times = [shot.time for shot in history.shots[-life.n_shots :]]
    took = np.array([(b - a).total_seconds() for a, b in itertools.pairwise(times)])
    assert np.all((took[: at - 1] >= 60.0) & (took[: at - 1] < 70.0))
    assert np.all((took[at - 1 :] >= 90.0) & (took[at - 1 :] < 100.0))
    pressure = life.means[:, history.press.channels.index("peak_pressure")]
    assert pressure[at + 30] > pressure[at - 1]


def test_a_frozen_channel_repeats_itself_and_the_others_go_on() -> None:
    history = _draw(lookalikes.FROZEN)
    values = history.lives[-1].values
    at = history.press.channels.index("peak_pressure")
    assert len(set(values[29:, at])) == 1
    assert len(set(values[:30, at])) > 5
    assert len(set(values[29:, history.press.channels.index("switchover_pressure")])) > 5


@pytest.mark.parametrize("scene", shots_left.SCENES.values(), ids=lambda scene: scene.name)
def test_inserts_that_wear_to_the_limit_end_there(scene: Scene) -> None:
    history = _draw(scene)
    low, at = history.known["limit"], int(history.known["cushion at"])
    ends = [np.flatnonzero(life.means[:, at] < low) for life in history.lives]
    assert sum(len(below) == 2 for below in ends) >= 5
    assert all(below[0] == life.n_shots - 2 for life, below in zip(history.lives, ends, strict=True) if len(below))


@pytest.mark.parametrize("scene", [limits.SETTLED, limits.SETTLING, limits.FROM_FIRST], ids=lambda scene: scene.name)
def test_a_limit_is_passed_from_the_stated_shot_on_by_every_value(scene: Scene) -> None:
    history = _draw(scene)
    life, at = history.lives[-1], int(history.known["cushion at"])
    since = life.changes[0].onset if life.changes else 0
    assert np.all(life.values[since:, at] < history.known["limit"])
    assert history.design.limits["cushion"].low == history.known["limit"]


def test_each_half_has_its_own_serials() -> None:
    history = _draw(halves.REUSED)
    last = history.lives[-1]
    fixed = [shot.halves["fixed"].serial for shot in history.shots[-last.n_shots :]]
    assert fixed[35] != fixed[36] == fixed[-1]
    assert {shot.halves["moving"].serial for shot in history.shots[-last.n_shots :]} == {last.serial}
    assert last.changes[0].onset == 30


def test_single_use_pieces_are_new_each_shot_and_come_in_plates() -> None:
    history = _draw(halves.SWOLLEN)
    pieces = [shot.halves["moving"] for shot in history.shots]
    assert len({piece.serial for piece in pieces}) == len(pieces)
    assert all(piece.single_use for piece in pieces)
    last = history.lives[-1]
    own = pieces[-last.n_shots :]
    assert [piece.print_batch for piece in own[24:36]] == [own[24].print_batch] * 12
    assert own[23].print_batch != own[24].print_batch != own[36].print_batch
    at = history.press.channels.index("cushion")
    assert last.means[24:36, at].mean() > last.means[40:, at].mean() + history.press.spread[at]


def test_a_step_of_thirty_sigma_comes_on_top_of_the_fault_that_stayed() -> None:
    history = _draw(several.UNDER_OPEN)
    before, after = history.lives[-2:]
    assert before.changes[0].group == "press"
    change = after.changes[0]
    step = np.abs(after.means[change.onset] - after.means[change.onset - 1]) / history.press.spread
    assert step.max() == pytest.approx(30.0, abs=1.5)
