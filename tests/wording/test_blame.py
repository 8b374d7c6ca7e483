"""Whom the headline points at, and that what stands beside a verdict never says the opposite of it."""

from dataclasses import replace

import pytest

from shotlog.facts import ChannelChange, Facts, Found, Noted, PassedLimit, Seated, SwapAsked
from shotlog.records import Verdict
from shotlog.wording.blame import headline, likely, pointed_at
from shotlog.wording.verdicts import announced, told, worded

MOULD = (Seated("fixed", "A-07", 1), Seated("moving", "B-14", 263))
CALLED = Facts("called", changes=(ChannelChange("cushion", -0.4, 0.05),), half="fixed", mould=MOULD)
ON_A = Verdict(
    "P25", 270, "A-07", 456, False, "swap", cause="parting-line wear", group="insert", weight=0.9, onset=210,
    onset_low=204, onset_high=216, left_median=12.0, left_low=4.0, left_high=30.0, facts=CALLED,
)  # fmt: skip
QUIET = replace(ON_A, verdict="keep", group="", cause="")


def with_facts(verdict: Verdict, **facts: object) -> Verdict:
    assert verdict.facts is not None
    return replace(verdict, facts=replace(verdict.facts, **facts))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("verdict", "head", "beside"),
    [
        (ON_A, "Swap A-07, fixed half", ""),
        (replace(ON_A, verdict="watch"), "Watch", "likely A-07, fixed half"),
        (with_facts(ON_A, halves_alike="B-14"), "Swap A-07 or B-14", "which half cannot be told"),
        (
            with_facts(replace(ON_A, verdict="watch"), asked=SwapAsked("B-13", 263)),
            "Watch",
            "which half cannot be told yet",
        ),
        (
            with_facts(replace(ON_A, insert="B-14", verdict="watch"), outlived_swap=263, other_half=True),
            "Watch",
            "not B-14: look at A-07, fixed half, the clamp or the press",
        ),
        (replace(ON_A, verdict="watch", group="press", cause="check-ring leak"), "Watch",
         "likely the press, not the insert"),
        (with_facts(replace(ON_A, weight=0.39, cause="gate erosion", verdict="watch"), rival="lot change"), "Watch",
         "the insert or the material, which cannot be told"),
        (replace(QUIET, facts=Facts("quiet", quiet_since=263)), "No change seen", ""),
        (replace(QUIET, facts=Facts("settling", judged_from=9)), "Settling", ""),
    ],
)  # fmt: skip
def test_the_headline_names_what_is_to_be_done_and_to_what(verdict: Verdict, head: str, beside: str) -> None:
    assert (headline(verdict), likely(verdict)) == (head, beside)


def test_a_limit_alone_names_the_one_insert_and_none_of_two() -> None:
    """It said swap over a bar on the half changed last."""
    passed = (PassedLimit("cushion", 4.5, False, 4.2, 3),)
    quiet = Facts("quiet", quiet_since=11, limits=passed, mould=MOULD)
    beyond = replace(ON_A, group="", cause="", limits=("cushion",), facts=quiet)
    assert (headline(beyond), likely(beyond), pointed_at(beyond)) == ("Swap", "which half cannot be told", ())
    alone = with_facts(beyond, mould=MOULD[:1])
    assert (headline(alone), likely(alone)) == ("Swap A-07, fixed half", "")
    found = with_facts(beyond, found=Found(269, "crack", "fixed"))
    assert headline(found) == "Swap A-07, fixed half"
    unnamed = with_facts(beyond, found=Found(269, "crack"))
    assert (headline(unnamed), likely(unnamed)) == ("Swap A-07 or B-14", "which half cannot be told")


def test_what_is_found_on_a_single_use_piece_names_the_piece_and_swaps_nothing() -> None:
    """It said "Swap SH-02, fixed half" of a piece that had left with its part."""
    quiet = Facts("quiet", quiet_since=11, mould=MOULD[:1])
    verdict = replace(ON_A, verdict="watch", group="", cause="")
    of_piece = replace(verdict, facts=replace(quiet, found=Found(269, "cracked on loading", "moving", "S-19")))
    assert (headline(of_piece), likely(of_piece), pointed_at(of_piece)) == ("Look at the part of shot 269", "", ())
    assert told(of_piece).startswith("seen at shot 269 on S-19, moving half: cracked on loading; ")
    assert told(of_piece).endswith("look at that part")
    either = replace(verdict, facts=replace(quiet, found=Found(269, "cracked", "", "S-19")))
    assert pointed_at(either) == ()
    assert told(either).startswith("seen at shot 269 on S-19 or A-07, which of them nobody said: cracked; ")


def test_after_a_swap_that_has_not_shown_anything_no_half_is_accused() -> None:
    """Just after B-11 made way for B-12: "watch, likely A-07, no good shot left"."""
    asked = with_facts(replace(ON_A, verdict="watch"), asked=SwapAsked("B-13", 263))
    assert "which half cannot be told yet: B-13, out since shot 263, or A-07, fixed half" in told(asked)
    assert "bad" not in told(asked)
    assert "parting-line wear on A-07" not in told(asked)


def test_what_stands_beside_a_half_is_a_material_of_equal_weight() -> None:
    """It said "most likely the insert (0.39)" of what could as well be the lot."""
    either = with_facts(
        replace(ON_A, weight=0.39, cause="gate erosion"), rival="lot change", cause_weight=0.36, rival_weight=0.31
    )
    assert worded(either).why == (
        "the insert or the material, cannot be told apart: gate erosion (0.36) or lot change (0.31)"
    )


@pytest.mark.parametrize(
    ("verdict", "risk", "said"),
    [
        ("swap", 1.86, "cheaper to swap now: the next part risks 1.86"),
        ("watch", 0.40, "cheaper to go on until about shot 278: the next part risks 0.40"),
    ],
)
def test_a_cost_says_what_is_cheaper_and_until_when(verdict: str, risk: float, said: str) -> None:
    """ "next shot costs 0.40, swapping 0.80 a part" was read by nobody."""
    one = with_facts(
        replace(ON_A, verdict=verdict, left_low=10.0), bad_chance=risk / 9.1, next_shot_cost=risk, swap_cost=0.8
    )
    assert f"{said}, a new insert costs 0.80 for each part made on it" in worded(one).more


def test_a_swap_against_the_cost_says_its_reason() -> None:
    broken = with_facts(replace(ON_A, cause="crack or breakage"), bad_chance=0.05, next_shot_cost=0.4, swap_cost=0.8)
    assert "swap although going on is cheaper, since a piece may be missing" in worded(broken).more


def test_beside_a_limit_the_words_follow_the_verdict() -> None:
    """ "Watch" stood beside "no good shot left"."""
    once = (PassedLimit("cushion", 4.5, False, 4.4, 1),)
    lasting = (PassedLimit("cushion", 4.5, False, 4.4, 2),)
    watch = replace(ON_A, verdict="watch", limits=("cushion",))
    assert "hold this part: one shot beyond a limit may be chance, two running are not" in told(
        with_facts(watch, limits=once)
    )
    press = replace(watch, group="press", cause="check-ring leak")
    assert "parts beyond a limit count as bad, and no swap of the insert mends that" in told(
        with_facts(press, limits=lasting)
    )
    assert "parts beyond a limit count as bad; look" in told(with_facts(replace(watch, verdict="swap"), limits=once))


def test_of_a_change_that_lies_elsewhere_nothing_is_said_of_how_long_parts_last() -> None:
    """ "no end in sight" and "no good shot left" took turns on the check ring."""
    press = replace(ON_A, verdict="watch", group="press", cause="check-ring leak", left_median=None)
    assert "bad" not in told(press)
    assert "shots" not in told(press)


def test_figures_that_are_no_longer_followed_are_said_to_be_of_then() -> None:
    """The same 0.40 mm stood under a limit for fifteen shots."""
    assert "since shot 210 (204 to 216) when last followed" in told(with_facts(ON_A, followed=False))
    assert "when last followed" not in told(ON_A)


def test_a_lot_that_is_noted_is_told_and_not_asked_for() -> None:
    lot = replace(ON_A, verdict="watch", group="material", cause="lot change")
    assert "ask when bag or lot was changed" in worded(lot).check
    noted = with_facts(lot, noted=(Noted("purge", "purge", 205), Noted("lot", "L2", 207)))
    assert worded(noted).check == "lot L2 was noted at shot 207: compare recovery time before and after it"


def test_a_line_of_text_says_the_headline_once() -> None:
    assert announced(ON_A).startswith("Swap A-07, fixed half: cushion down 0.40 mm since")
    quiet = replace(ON_A, verdict="keep", group="", cause="", facts=Facts("quiet", quiet_since=263))
    assert announced(quiet).startswith("No change seen in these values since shot 263")
