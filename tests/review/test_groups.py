"""Groups of lives by what they are compared by."""

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


def test_lives_are_grouped_by_what_they_are_named_for_and_compared() -> None:
    lives = [life(n) for n in range(24)]
    names = {factor: {one.serial: one.design if factor == "design" else "" for one in lives} for factor in FACTORS}
    here = grouped(lives, names, {"cap-r2": {"part": 2.0, "insert": 18.0}})
    assert [group.name for group in here[0]] == ["cap-r2", "cap-r3"]
    assert [group.serials[:2] for group in here[0]] == [("B-0", "B-2"), ("B-1", "B-3")]
    assert [group.plan is not None for group in here[0]] == [True, False]
    assert [one.factor for one in here[1]] == ["design"]
