"""What a reason for taking an insert out says, and what it takes to call a life ended."""

import pytest

from shotlog.parts.ending import GROUNDS, WORDS, decide, words_in
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
    assert told["sound"] == 'taken out sound: "{so it was said}"'
