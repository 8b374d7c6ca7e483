"""The sentences of a verdict, word for word, each made from its facts."""

from dataclasses import replace

import pytest

from shotlog.facts import (
    Ageing,
    ChannelChange,
    Facts,
    FrozenChannel,
    PassedLimit,
    Rhythm,
    SwapFinding,
    VisibleStep,
)
from shotlog.records import OtherChange, Verdict
from shotlog.wear.change.causes import CAUSES
from shotlog.wording.verdicts import moved, question, swap_said, swap_weighed, told, unchanged, understood, worded

KEEP = Verdict("P25", 53, "B-12", 13, False, "keep")
FELL = (ChannelChange("peak_pressure", -12.14, 3.0), ChannelChange("cushion", -0.04, 0.05))
CALLED = Verdict(
    "P25", 53, "B-12", 13, False, "watch", "", (), "gate erosion", "insert", 0.862, 40, 38, 42, 8.2, 3.4, 20.1, 7.1,
    5.0, Facts("called", changes=FELL, cause_weight=0.7),
)  # fmt: skip
SEEN = "peak pressure down 12 bar and cushion down 0.040 mm since shot 40 (38 to 42)"
CHECK = CAUSES["gate erosion"].check
SOON = "about 8 shots until parts are bad (3 to 20)"


def called(**facts: object) -> Verdict:
    return replace(CALLED, facts=replace(CALLED.facts or Facts("called"), **facts))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("facts", "sentence"),
    [
        (Facts("settling", judged_from=51), "settling: shot 13 on B-12, not judged before shot 51 of the press"),
        (Facts("waited"), "settling after a wait: no change is called; shot 13 on B-12"),
        (Facts("learning"), "not judged: the level of B-12 is not known yet; shot 13 on it"),
        (Facts("quiet", quiet_since=51, n_sisters=3), "no change seen in these values since shot 51; shot 13 on B-12"),
        (
            Facts("quiet", quiet_since=51, n_sisters=0, odd_shot=52, asked_shot=45),
            "no change seen in these values since shot 51; shot 13 on B-12; shot 52 was odd, look at that part and "
            "watch the next shot; first insert of its design, so less sharp; was an insert changed before shot 45?",
        ),
        (
            Facts("quiet", quiet_since=51, n_sisters=4, elsewhere=(ChannelChange("cushion", -0.4, 0.05),)),
            "no change seen in these values since shot 51; shot 13 on B-12; it started off its sisters, cushion down "
            "0.40 mm: judged from its own level",
        ),
    ],
)
def test_while_nothing_is_called(facts: Facts, sentence: str) -> None:
    assert told(replace(KEEP, facts=facts)) == sentence


def test_no_name_is_no_hole_in_the_sentence() -> None:
    assert "on the insert" not in told(replace(KEEP, insert="", facts=Facts("waited")))  # none is entered


@pytest.mark.parametrize(
    ("verdict", "sentence"),
    [
        (CALLED, f"{SEEN}: most likely the insert (0.86), gate erosion; {SOON}; {CHECK}"),
        (
            called(rival="vent clogging", bad_chance=0.154, next_shot_cost=2.0, swap_cost=0.456, outlived_swap=31,
                   other_half=True, asked_shot=45),
            f"{SEEN}: most likely the insert (0.86), cannot be told apart: gate erosion or vent clogging; "
            f"{SOON}; 15% that the next part is bad; "
            "it outlived the swap at shot 31: look at the "
            f"other half, the clamp or the press; was an insert changed before shot 45?; {CHECK}",
        ),
        (
            replace(called(grown_spread="cushion", outlived_swap=31, other_half=False), onset_low=40, onset_high=40),
            "shot-to-shot spread of the cushion has grown since shot 40: most likely the insert (0.86), gate erosion; "
            f"{SOON}; it outlived the swap at shot 31; {CHECK}",
        ),
    ],
)  # fmt: skip
def test_a_call_says_what_was_seen_what_it_likely_is_and_what_to_check(verdict: Verdict, sentence: str) -> None:
    assert told(verdict) == sentence


@pytest.mark.parametrize(
    ("left", "words"),
    [
        ((None, None, None), "when parts turn bad cannot be foreseen"),
        ((0.0, 0.0, 0.0), "the next part is likely bad"),
        ((1.4, None, 3.0), "parts may be bad from now on, more likely in about 1 shot, at the latest in 3 shots"),
        ((0.3, 0.0, None), "parts may be bad from now on"),
        ((12.0, 4.0, None), "about 12 shots until parts are bad (4 to over 300)"),
    ],
)
def test_how_long_parts_stay_good(left: tuple[float | None, float | None, float | None], words: str) -> None:
    median, low, high = left
    assert worded(replace(CALLED, left_median=median, left_low=low, left_high=high)).more[0] == words


LOW = PassedLimit("cushion", 2.0, False, 1.924)
HIGH = PassedLimit("fill_time", 0.9, False, 0.9512)
QUIET = Facts("quiet", quiet_since=51, n_sisters=3)
NONE_SEEN = "no change seen in these values since shot 51; shot 13 on B-12"


@pytest.mark.parametrize(
    ("facts", "limits", "said"),
    [
        (Facts("settling", judged_from=51, limits=(LOW,)), ("cushion",), "cushion 1.92 mm is below 2.00 mm"),
        (
            replace(QUIET, limits=(LOW, HIGH)),
            ("cushion", "fill_time"),
            "cushion 1.92 mm is below 2.00 mm and fill time 0.951 s is above 0.900 s",
        ),
        (replace(QUIET, limits=(replace(LOW, value=1.9996),)), ("cushion",), "cushion is at 2.00 mm"),
        (replace(QUIET, limits=(replace(LOW, value=None),)), ("cushion",), "cushion is beyond 2.00 mm"),
        (replace(QUIET, limits=(replace(LOW, running=1),)), ("cushion",), "cushion 1.92 mm is below 2.00 mm"),
        (
            replace(QUIET, limits=(replace(LOW, running=3, level=True),)),
            ("cushion",),
            "cushion 1.92 mm is below 2.00 mm for 3 shots",
        ),
        (
            replace(QUIET, limits=(replace(LOW, level=True),)),
            ("cushion",),
            "level of the cushion 1.92 mm is below 2.00 mm",
        ),
        (QUIET, ("peak_pressure",), "peak pressure is beyond its own"),
        (CALLED.facts, ("cushion",), "cushion is beyond its own"),
    ],
)
def test_a_limit_passed_is_said_before_all_else(facts: Facts, limits: tuple[str, ...], said: str) -> None:
    """Sixty of sixty shots said keep, and nothing of the limit."""
    without = replace(CALLED if facts is CALLED.facts else KEEP, facts=replace(facts, limits=()))
    verdict = replace(without, verdict="watch", facts=facts, limits=limits)
    assert told(verdict).startswith(f"limit passed: {said}; {worded(without).lead}")
    assert worded(verdict).lead == f"limit passed: {said}; {worded(without).lead}"
    assert worded(verdict).check == (worded(without).check or "look at the last part")


def test_beyond_a_limit_a_part_counts_as_bad() -> None:
    beyond = replace(CALLED, left_median=None, left_low=None, left_high=None, limits=("cushion",))
    assert worded(beyond).more[0] == "parts beyond a limit count as bad"


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        ({"rhythm": Rhythm(31, 60.2, 90.0)}, "the rhythm changed at shot 31, from 60 to 90 s a shot"),
        ({"rhythm": Rhythm(31, 8.4, 7.6)}, "the rhythm changed at shot 31, from 8.4 to 7.6 s a shot"),
        (
            {"ageing": (Ageing("fill_time", -0.00123, 4, 31.4),)},
            "ageing that 4 sisters show too: fill time down 0.0012 s a shot, about 31 shots to its limit",
        ),
        (
            {"ageing": (Ageing("peak_pressure", 1.6, 1),)},
            "ageing that 1 sister shows too: peak pressure up 1.6 bar a shot",
        ),
        (
            {"visible": (VisibleStep("cushion", 0.1249), VisibleStep("peak_pressure", 6.2))},
            "what could be seen by now: a step of 0.12 mm in cushion or 6.2 bar in peak pressure",
        ),
    ],
)
def test_what_is_said_besides(facts: dict[str, object], said: str) -> None:
    """Whatever the stage: also while nothing is judged."""
    assert told(replace(KEEP, facts=replace(QUIET, **facts))) == f"{NONE_SEEN}; {said}"  # type: ignore[arg-type]
    assert told(called(**facts)) == told(CALLED).replace(CHECK, f"{said}; {CHECK}")
    for stage in ("settling", "waited", "learning"):
        assert told(replace(KEEP, facts=Facts(stage, judged_from=51, **facts))).endswith(f"; {said}")  # type: ignore[arg-type]


STILL = "peak pressure stands still since shot 30 and is left out"


@pytest.mark.parametrize(
    ("facts", "found"),
    [
        (QUIET, NONE_SEEN),
        (Facts("settling", judged_from=51), "settling: shot 13 on B-12, not judged before shot 51 of the press"),
    ],
)
def test_a_channel_that_stands_still_goes_first_where_it_decides(facts: Facts, found: str) -> None:
    """It was said behind "no change seen", and nothing of what to look at."""
    frozen = replace(facts, frozen=(FrozenChannel("peak_pressure", 30),))
    verdict = replace(KEEP, verdict="watch", cause="frozen reading", group="measurement", weight=1.0, facts=frozen)
    check = CAUSES["frozen reading"].check
    assert told(verdict) == f"{STILL}: most likely the measurement (1.00), frozen reading; {found}; {check}"


def test_a_channel_that_stands_still_is_told_beside_a_call() -> None:
    assert told(called(frozen=(FrozenChannel("peak_pressure", 30),))) == told(CALLED).replace(
        CHECK, f"{STILL}; {CHECK}"
    )
    two = (FrozenChannel("peak_pressure", 30), FrozenChannel("cushion", 34))
    assert "; peak pressure since shot 30 and cushion since shot 34 stand still and are left out; " in told(
        called(frozen=two)
    )


def test_what_could_be_seen_takes_the_place_of_less_sharp() -> None:
    steps = (VisibleStep("cushion", 0.12),)
    said = told(replace(KEEP, facts=replace(QUIET, n_sisters=0, visible=steps)))
    assert "less sharp" not in said
    assert "a step of 0.12 mm in cushion" in said


def test_what_could_be_seen_is_told_of_three_channels_at_most() -> None:
    names = ("cushion", "peak_pressure", "fill_time", "switchover_position", "recovery_time")
    said = told(replace(KEEP, facts=replace(QUIET, visible=tuple(VisibleStep(name, 12.0) for name in names))))
    assert said.endswith("a step of 12.00 mm in cushion, 12 bar in peak pressure or 12.000 s in fill time")


def test_two_reused_halves() -> None:
    in_moving, either = called(half="moving"), called(half="moving", halves_alike="F-1")
    assert "gate erosion on B-12, moving half; about" in told(in_moving)
    assert "gate erosion; which half cannot be told: B-12, moving half, or F-1; about" in told(either)
    assert told(replace(KEEP, facts=replace(QUIET, half="core"))) == f"{NONE_SEEN}, core"
    assert "half" not in told(replace(in_moving, group="press", cause="check-ring leak"))


def test_the_other_open_changes_are_listed() -> None:
    others = (OtherChange("material", "lot change", 31), OtherChange("press", "", 35))
    verdict = replace(CALLED, others=others)
    assert worded(verdict).also == ("lot change (material) since shot 31", "a change (press) since shot 35")
    said = "also open: lot change (material) since shot 31, a change (press) since shot 35"
    assert told(verdict) == told(CALLED).replace(CHECK, f"{said}; {CHECK}")


def test_a_cause_that_is_in_no_table_is_named_all_the_same() -> None:
    new = replace(CALLED, group="press", cause="some new cause")
    assert told(new) == f"{SEEN}: most likely the press (0.86), some new cause"


def test_the_two_largest_changes_are_told_and_none_of_no_size() -> None:
    small = ChannelChange("fill_time", 0.003, 0.008)
    assert moved((small, ChannelChange("cushion", 0.3, 0.05))) == "cushion up 0.30 mm"
    assert moved((small,)) == "fill time up 0.0030 s"


def test_a_log_of_before_facts_were_kept_says_what_was_said() -> None:
    assert told(replace(KEEP, sentence="no change seen; as it was said")) == "no change seen; as it was said"


def test_a_swap_says_whether_it_was_the_insert() -> None:
    assert swap_weighed(SwapFinding("P25", "B-12", 61, "confirmed", -3.5, -2.2)) == (
        "swap at shot 61: the level came back with the swap: it was B-12 (by the shots since 33 to 1, before it stood "
        "9 to 1)"
    )
    assert swap_weighed(SwapFinding("P25", "B-12", 61, "refuted", 6.9, -2.2)) == (
        "swap at shot 61: the level stayed where it was: it was not B-12 "
        "(by the shots since 992 to 1, before it stood 1 to 9)"
    )
    sure = SwapFinding("P25", "B-12", 61, "refuted", 800.0, -800.0)
    assert swap_weighed(sure).endswith("(by the shots since over 1000 to 1, before it stood 1 to over 1000)")
    assert f"; {swap_said(sure)}; shot 13" in told(replace(KEEP, facts=replace(QUIET, swap=sure)))
    assert swap_said(sure) == "swap at shot 61: the level stayed where it was: it was not B-12"
    assert unchanged(9) == "no insert was changed before shot 9"
    assert question(9) == "was an insert changed before shot 9?"


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        ("flash, gate worn", "Counted as: gate erosion, parting-line wear."),
        ("cracked in the corner", "Counted as: crack or breakage."),
        ("worn", "Counted as: the insert, no cause named."),
        ("insert intact", "Counted as: not the insert, no cause named."),
        ("flsah", "Counted for no cause: these words name none."),
    ],
)
def test_what_is_understood_of_a_reason_is_answered(reason: str, said: str) -> None:
    assert understood(reason) == said
