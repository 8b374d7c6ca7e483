"""The sentences of a verdict, word for word, each made from its facts."""

from dataclasses import replace

import pytest

from shotlog.facts import ChannelChange, Facts, SwapFinding
from shotlog.records import Verdict
from shotlog.wear.change.causes import CAUSES
from shotlog.wording.verdicts import moved, question, swap_said, told, unchanged, worded

KEEP = Verdict("P25", 53, "B-12", 13, False, "keep")
FELL = (ChannelChange("peak_pressure", -12.14, 3.0), ChannelChange("cushion", -0.04, 0.05))
CALLED = Verdict(
    "P25", 53, "B-12", 13, False, "watch", "", (), "gate erosion", "insert", 0.862, 40, 38, 42, 8.2, 3.4, 20.1, 7.1,
    5.0, Facts("called", changes=FELL, cause_weight=0.7),
)  # fmt: skip
SEEN = "peak pressure down 12 bar and cushion down 0.040 mm since shot 40 (38 to 42)"
CHECK = CAUSES["gate erosion"].check


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
    assert told(replace(KEEP, insert="", facts=Facts("waited"))).endswith("; shot 13 on the insert")


@pytest.mark.parametrize(
    ("verdict", "sentence"),
    [
        (CALLED, f"{SEEN}: most likely the insert (0.86), gate erosion; about 8 shots left (3 to 20); {CHECK}"),
        (
            called(rival="vent clogging", next_shot_cost=2.0, swap_cost=0.456, outlived_swap=31, other_half=True,
                   asked_shot=45),
            f"{SEEN}: most likely the insert (0.86), cannot be told apart: gate erosion or vent clogging; about 8 "
            "shots left (3 to 20); next shot costs 2.00, swapping 0.46 a part; it outlived the swap at shot 31: the "
            f"other half, the clamp or the press; was an insert changed before shot 45?; {CHECK}",
        ),
        (
            replace(called(grown_spread="cushion", outlived_swap=31, other_half=False), onset_low=40, onset_high=40),
            "shot-to-shot spread of the cushion has grown since shot 40: most likely the insert (0.86), gate erosion; "
            f"about 8 shots left (3 to 20); it outlived the swap at shot 31; {CHECK}",
        ),
    ],
)  # fmt: skip
def test_a_call_says_what_was_seen_what_it_likely_is_and_what_to_check(verdict: Verdict, sentence: str) -> None:
    assert told(verdict) == sentence


@pytest.mark.parametrize(
    ("left", "words"),
    [
        ((None, None, None), "no end in sight"),
        ((0.0, 0.0, 0.0), "no good shot left"),
        ((1.4, None, 3.0), "about 1 shot left (0 to 3)"),
        ((12.0, 4.0, None), "about 12 shots left (4 to over 300)"),
    ],
)
def test_shots_left(left: tuple[float | None, float | None, float | None], words: str) -> None:
    median, low, high = left
    assert worded(replace(CALLED, left_median=median, left_low=low, left_high=high)).more[0] == words


def test_the_two_largest_changes_are_told_and_none_of_no_size() -> None:
    small = ChannelChange("fill_time", 0.003, 0.008)
    assert moved((small, ChannelChange("cushion", 0.3, 0.05))) == "cushion up 0.30 mm"
    assert moved((small,)) == "fill time up 0.0030 s"


def test_a_log_of_before_facts_were_kept_says_what_was_said() -> None:
    assert told(replace(KEEP, sentence="no change seen; as it was said")) == "no change seen; as it was said"


def test_a_swap_says_whether_it_was_the_insert() -> None:
    assert swap_said(SwapFinding("P25", "B-12", 61, "confirmed", -3.5, -2.2)) == (
        "the change on B-12 reset with the swap: it was the insert (by the shots since 33 to 1, before it stood 9 to 1)"
    )
    assert swap_said(SwapFinding("P25", "B-12", 61, "refuted", 6.9, -2.2)) == (
        "the change on B-12 outlived the swap: it was not the insert "
        "(by the shots since 992 to 1, before it stood 1 to 9)"
    )
    assert unchanged(9) == "no insert was changed before shot 9"
    assert question(9) == "was an insert changed before shot 9?"
