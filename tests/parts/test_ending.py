"""What a reason for taking an insert out says, and what it takes to call a life ended."""

import pytest

from shotlog.parts.ending import GROUNDS, PEOPLE, SHOTS, WORDS, decide, tells_damage, words_in
from shotlog.wording.parts import ending_text

FACTS = {"mounted": False, "bad_part": False, "called": False, "refuted": False, "confirmed": False}


@pytest.mark.parametrize(
    ("reason", "failed"),
    [
        ("core blade broken", True),
        ("Gate ERODED", True),
        ("flash", True),
        ("short shots", True),
        ("cushion scatters", True),
        ("planned life", False),
        ("precaution", False),
        ("trial over", False),
        ("no flash, end of shift", False),
        ("not yet worn, planned", False),
        ("taken out before cracks", False),
        ("", False),
        ("Schicht zu Ende", False),
    ],
)
def test_words_decide_where_nothing_else_speaks(reason: str, failed: bool) -> None:
    assert decide(reason, **FACTS).failed is failed


@pytest.mark.parametrize("word", sorted({word for words in WORDS.values() for word in words}))
def test_every_word_is_found_whole_and_begun_and_not_inside_another(word: str) -> None:
    assert words_in(f"we saw {word}s there")
    assert words_in(word)
    assert not words_in(f"x{word.replace(' ', '')}")


def test_a_call_outweighs_a_planned_swap() -> None:
    assert decide("planned life", **FACTS | {"called": True}).failed


def test_a_refuted_swap_is_censored_whatever_was_seen_on_the_parts() -> None:
    facts = FACTS | {"called": True, "refuted": True}
    assert not decide("flash", **facts).failed
    assert decide("insert cracked", **facts).failed


def test_a_bad_part_makes_it_a_failure_even_while_mounted_and_refuted() -> None:
    assert decide("", **FACTS | {"mounted": True, "bad_part": True, "refuted": True}).failed


def test_a_mounted_insert_without_a_call_is_censored() -> None:
    ending = decide("", **FACTS | {"mounted": True})
    assert (ending.failed, ending.ground) == (False, "mounted")
    assert decide("", **FACTS | {"mounted": True, "called": True}).failed


def test_the_ground_quotes_what_was_said() -> None:
    ending = decide("core blade broken", **FACTS)
    assert ending_text(ending.ground, "core blade broken") == 'damage seen on it: "core blade broken"'


def test_every_ground_has_words() -> None:
    told = {ground: ending_text(ground, "{so it was said}") for ground in GROUNDS}
    assert len(set(told.values())) == len(GROUNDS)
    assert told["sound"] == 'taken out for another reason: "{so it was said}"'


def test_a_finding_that_says_only_what_was_not_seen_stands_against_nothing() -> None:
    assert all(tells_damage(text) for text in ("flash", "gate looks odd", "no flash, but a crack"))
    assert not any(tells_damage(text) for text in ("no flash", "sound"))


@pytest.mark.parametrize(
    ("reason", "facts", "ending", "differ"),
    [
        ("precaution", {"called": True}, (True, "called", "no finding", "gone off"), True),
        ("still good", {"called": True, "confirmed": True}, (False, "found sound", "found sound", "gone off"), True),
        ("core cracked", {}, (True, "damage seen", "damage seen", ""), True),
        ("core cracked", {"called": True}, (True, "damage seen", "damage seen", "gone off"), False),
        ("planned", {"found": True}, (True, "finding", "finding", ""), True),
        ("planned", {}, (False, "sound", "no finding", ""), False),
        ("", {"called": True}, (True, "called", "", "gone off"), False),
        ("Schicht zu Ende", {"called": True}, (True, "called", "other words", "gone off"), False),
        ("planned", {"called": True, "refuted": True}, (False, "refuted", "no finding", "not this insert"), False),
    ],
)
def test_what_people_found_decides_and_a_difference_is_kept(
    reason: str, facts: dict[str, bool], ending: tuple[bool, str, str, str], differ: bool
) -> None:
    found = decide(reason, **FACTS | facts)
    assert (found.failed, found.ground, found.people, found.shots) == ending
    assert found.people in PEOPLE
    assert found.shots in SHOTS
    assert found.differ is differ
