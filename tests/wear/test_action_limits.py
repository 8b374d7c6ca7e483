"""Action limits: never keep at a shot beyond one, whatever else is known of the insert, and said which."""

import json
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import settings as trying
from hypothesis import strategies as st
from made import CENTRE, SPREAD, life, sisters

from shotlog.evaluator import Evaluator
from shotlog.facts import Facts, PassedLimit
from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.limits import LimitWatch, beyond_limits, tightest

LOW = {"cushion": Bound(low=4.5)}


def judged(shots: list[LoggedShot], **limits: Mapping[str, Bound]) -> list[Verdict]:
    """Return the verdicts on shots, with the limits of each design by its name."""
    evaluator = Evaluator("p", {name: DesignSettings(name, limits=bounds) for name, bounds in limits.items()})
    return [verdict for shot in shots for verdict in evaluator.step(shot) if isinstance(verdict, Verdict)]


def with_values(shots: list[LoggedShot], at: Mapping[int, Mapping[str, float]]) -> list[LoggedShot]:
    """Return shots with other values at some places, which count from 1."""
    return [replace(shot, values={**shot.values, **at.get(n, {})}) for n, shot in enumerate(shots, 1)]


def test_a_first_insert_is_never_kept_beyond_a_limit_while_it_settles() -> None:
    verdicts = judged(with_values(life(1, "A", 9), {n: {"cushion": 4.4} for n in (1, 4, 5, 6)}), d=LOW)
    assert [one.verdict for one in verdicts] == [
        "watch", "keep", "keep", "watch", "watch", "watch", "keep", "keep", "keep",
    ]  # fmt: skip
    assert [one.limits for one in verdicts[3:7]] == [("cushion",)] * 3 + [()]
    assert all(one.settling for one in verdicts)
    assert verdicts[5].facts is not None
    assert verdicts[5].facts.limits == (PassedLimit("cushion", 4.5, False, 4.4, 3, False),)
    assert (verdicts[5].left_median, verdicts[6].left_median) == (0.0, None)


def test_one_reading_beyond_is_a_watch_and_two_running_are_a_swap() -> None:
    verdicts = judged(with_values(life(1, "A", 37), {n: {"cushion": 4.4} for n in (25, 35, 36)}), d=LOW)
    assert [one.shot for one in verdicts if one.verdict == "watch"] == [25, 35]
    assert verdicts[35].verdict == "swap"


def test_a_missed_or_dry_shot_between_does_not_end_a_run() -> None:
    shots = with_values(
        life(1, "A", 40, events={35: (("dry", "purged"),)}), {n: {"cushion": 4.4} for n in (34, 35, 36)}
    )
    verdicts = {one.shot: one.verdict for one in judged([one for one in shots if one.shot != 30], d=LOW)}
    assert (verdicts[34], verdicts[35], verdicts[36]) == ("watch", "keep", "swap")


def test_a_channel_that_is_never_judged_counts_and_so_does_the_other_half() -> None:
    held = {"fixed": InForce("F-1", "plate"), "moving": InForce("A", "d")}
    shots = with_values(life(1, "A", 20, halves=held), {17: {"cycle_time": 95.0}, 19: {"part_weight": 9.0}})
    other = {"cycle_time": Bound(high=90.0), "part_weight": Bound(low=9.5)}
    verdicts = judged(shots, plate=other, d={"cycle_time": Bound(high=100.0)})
    assert [(one.shot, one.verdict, one.limits) for one in verdicts if one.limits] == [
        (17, "watch", ("cycle_time",)), (19, "watch", ("part_weight",)),
    ]  # fmt: skip


def test_a_level_beyond_is_a_swap_though_the_last_reading_is_not() -> None:
    shots = [replace(s, values={**s.values, "cushion": s.values["cushion"] - 0.53}) for s in life(4, "A", 60, warm=0.0)]
    within = [one for one in judged(shots, d=LOW)[40:] if shots[one.shot - 1].values["cushion"] >= 4.5]
    assert len(within) > 3
    for one in within:
        assert one.verdict == "swap"
        assert one.facts is not None
        assert one.facts.limits[0].level
        assert one.facts.limits[0].running == 0


def test_a_level_within_is_not_passed_by_what_scatters_about_it() -> None:
    shots = [replace(s, values={**s.values, "cushion": s.values["cushion"] - 0.4}) for s in life(4, "A", 60, warm=0.0)]
    verdicts = judged(shots, d=LOW)
    assert [one.limits != () for one in verdicts] == [shot.values["cushion"] < 4.5 for shot in shots]


def test_what_is_laid_elsewhere_is_looked_at_first() -> None:
    called = Verdict("p", 40, "A", 40, False, "watch", cause="lot change", group="material", facts=Facts("called"))
    passed = (PassedLimit("cushion", 4.5, False, 4.2, 5, True),)
    assert beyond_limits(called, passed, True, 10).verdict == "watch"
    assert beyond_limits(called, passed, False, 10).verdict == "swap"
    assert beyond_limits(replace(called, settling=True), passed, False, 10).verdict == "watch"
    assert beyond_limits(called, passed, False, 40).verdict == "watch", "the design's settling shots"
    assert beyond_limits(replace(called, verdict="swap"), passed, True, 10).verdict == "swap"
    assert beyond_limits(called, (), False, 10) is called


def test_of_several_limits_the_one_passed_first_counts() -> None:
    found = tightest([{"cushion": Bound(2.0, 9.0)}, {"cushion": Bound(low=3.0), "fill_time": Bound(high=1.0)}])
    assert found == {"cushion": Bound(3.0, 9.0), "fill_time": Bound(high=1.0)}


def test_a_swap_starts_the_count_again() -> None:
    shots = with_values(
        [*sisters(3), *life(9, "B", 20, first=181, hours=9)], {180: {"cushion": 4.4}, 181: {"cushion": 4.4}}
    )
    verdicts = judged(shots, d=LOW)
    for one in verdicts[179:181]:
        assert one.facts is not None
        assert one.facts.limits[0].running == 1


@pytest.mark.parametrize(("low", "high"), [(4.5, None), (None, 4.5)])
def test_a_value_at_the_limit_is_within(low: float | None, high: float | None) -> None:
    assert LimitWatch().take({"cushion": Bound(low, high)}, {"cushion": 4.5}, {}) == ()


notes = st.sampled_from(["", "", "", "", "pause", "dry", "setup", "lot", "finding", "note"])


@given(
    st.lists(st.tuples(st.integers(-7, 7), notes, st.booleans()), min_size=3, max_size=60),
    st.integers(0, 2),
    st.integers(1, 5),
)
@trying(max_examples=15, deadline=None)
def test_never_keep_beyond_a_limit_whatever_happens(
    happened: list[tuple[int, str, bool]], learnt: int, far: int
) -> None:
    """Any course, any entries, with and without sisters, with a restart at any shot: each is said, and as batch."""
    limits = {name: Bound(CENTRE[name] - far * SPREAD[name], CENTRE[name] + far * SPREAD[name]) for name in SPREAD}
    designs = {"d": DesignSettings("d", limits=limits)}
    shots = sisters(learnt, n_shots=30)
    for shot, (off, note, _) in zip(life(5, "B", len(happened), first=30 * learnt + 1, hours=9), happened, strict=True):
        moved = {name: value + off * SPREAD[name] for name, value in shot.values.items()}
        shots.append(replace(shot, values=moved, events=((note, "x"),) if note else ()))
    whole, pieces = Evaluator("p", designs), Evaluator("p", designs)
    restarts = [False] * 30 * learnt + [again for _, _, again in happened]
    for shot, restart in zip(shots, restarts, strict=True):
        *_, verdict = whole.step(shot)
        assert isinstance(verdict, Verdict)
        assert pieces.step(shot)[-1] == verdict
        beyond = [
            name
            for name, value in shot.values.items()
            if not limits[name].low <= value <= limits[name].high and ("dry", "x") not in shot.events  # type: ignore[operator]
        ]
        assert set(beyond) <= set(verdict.limits)
        assert not verdict.limits or (verdict.verdict != "keep" and verdict.left_median == 0.0)
        if restart:
            state = json.loads(json.dumps(pieces.save()))
            pieces = Evaluator("p", designs)
            pieces.restore(state)


def test_a_dead_channel_beyond_its_limit_is_never_kept_and_no_swap_mends_it() -> None:
    shots = [
        replace(s, values={**s.values, "cushion": 4.4 if s.shot > 25 else s.values["cushion"]})
        for s in life(1, "A", 60)
    ]
    verdicts = judged(shots, d=LOW)
    assert {one.verdict for one in verdicts[25:]} <= {"watch", "swap"}
    frozen = [one for one in verdicts if one.facts is not None and one.facts.frozen]
    assert len(frozen) > 20
    assert (frozen[-1].verdict, frozen[-1].group, frozen[-1].limits) == ("watch", "measurement", ("cushion",))


def test_a_limit_passed_until_the_end_ends_the_life_counted_over_all_stays() -> None:
    monitor = Monitor("p", {"d": DesignSettings("d", limits=LOW)})
    back = with_values(
        life(2, "A", 40, first=61, hours=3), {n: {"cushion": 4.4, "peak_pressure": 527.0} for n in range(36, 41)}
    )
    for shot in [*life(1, "A", 40), *life(3, "B", 20, first=41, hours=1), *back, *life(4, "C", 1, first=101, hours=5)]:
        monitor.step(shot)
    assert [(one.serial, one.n_shots, one.made, one.failed) for one in monitor._mounted.pool.ended["d"]] == [
        ("B", 20, 20, False), ("A", 40 + 35, 80, True),
    ]  # fmt: skip


def test_without_limits_nothing_is_watched() -> None:
    monitor = Monitor("p", {})
    assert {monitor.step(shot).limits for shot in life(1, "A", 30)} == {()}
