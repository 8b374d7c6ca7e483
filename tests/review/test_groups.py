"""Groups of lives: that many of them, worked out in a process of its own, come to what few come to in this one."""

import pytest

from shotlog.review import groups
from shotlog.review.groups import FACTORS, grouped
from shotlog.review.lives import Life


def life(n: int) -> Life:
    gone = n % 3 != 0
    shots = 60 + 7 * (n % 11)
    return Life(
        serial=f"B-{n}", design=("cap-r2", "cap-r3")[n % 2], half="moving", print_batch="", stays=(("P1", 1, shots),),
        mounted=False, reason="", replaced_by="", n_shots=shots, failed=gone, ground="", sound=shots - 4 * gone,
        sound_low=shots - 5, sound_high=shots, since_shot=None, dated_by="",
    )  # fmt: skip


def test_many_lives_are_grouped_in_a_process_of_its_own_and_come_to_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    lives = [life(n) for n in range(24)]
    names = {factor: {one.serial: one.design if factor == "design" else "" for one in lives} for factor in FACTORS}
    here = grouped(lives, names, {"cap-r2": {"part": 2.0, "insert": 18.0}})
    monkeypatch.setattr(groups, "_MANY", 23)
    assert grouped(lives, names, {"cap-r2": {"part": 2.0, "insert": 18.0}}) == here
    assert [group.name for group in here[0]] == ["cap-r2", "cap-r3"]
    assert [one.factor for one in here[1]] == ["design"]
