"""The twelve questions that are asked after the shift (records.md, section 5), of a day whose truth is known.

Each is answered by one command and, on the page, by one touch on *After the shift*. Looked for are the numbers and
serials of the truth, not sentences: an answer may be worded as it likes.
"""

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

import pytest
from playwright.sync_api import Page, TimeoutError

from tests.chromium import until
from tests.examined.shop import Shop


@dataclass(frozen=True)
class Question:
    """`words` must all stand in the answer, each given as a pattern; `touch` is the button on the page."""

    asked: str
    command: str
    touch: str
    words: tuple[str, ...]


QUESTIONS = [
    Question(
        "1. which parts after the onset, margin, where are they; which are unaffected",
        "review --ask doubt --press P1",
        "Parts in doubt",
        (r"\b171\b", r"\b166\b", r"\b190\b|\b193\b", "box-2", r"\b61 to 165\b", r"\b194 to 230\b", "shelf-3", "box-1"),
    ),
    Question(
        "2. which half, at which of its shots, gone at the swap, sisters",
        "review --ask half --press P1",
        "Which half",
        ("B-09", "moving", r"\b56\b", r"\b171\b", "[Ss]ister"),
    ),
    Question(
        "3. which lots, when at the screw, what changed near the onset",
        "review --ask lots --press P1",
        "Lots",
        ("L1", "L2", r"\b140\b", r"\b139\b", r"\b171\b"),
    ),
    Question(
        "4. missed, torn, weighed late, excluded; were we blind",
        "review --ask missed --press P1",
        "Missed and blind",
        (r"\b228\b", "[Mm]issed", "torn", r"1 to 10\b"),
    ),
    Question(
        "5. was the baseline any good",
        "review --ask baselines --press P1",
        "Baselines",
        ("froze", "[Ww]arm-up", "B-11", r"\b131 to \d+", "alter"),
    ),
    Question(
        "6. how long did each last, how did it end, which planned life",
        "review --ask lives --press P1",
        "Lives",
        ("B-09", r"\b55\b", "B-10", "[Cc]ensored|not known to be off|longer", "B-12", "still mounted", r"10 %"),
    ),
    Question(
        "7. acted on, how long after, what was found, shares",
        "review --ask calls --press P1",
        "Calls",
        (r"\b56\b", r"\b61\b", r"\b172\b", "[Cc]onfirmed", "%"),
    ),
    Question(
        "8. what did the pauses do, shots until settled",
        "review --ask stops --press P1",
        "Stops",
        (r"\b101\b", "34 min", r"peak pressure \+", r"\b\d+ shots"),
    ),
    Question(
        "9. what do inspected parts look like, what have the bad ones in common",
        "review --ask bad --press P1",
        "Bad parts",
        (r"\b180\b", r"1\.42", "spreads", r"\b165\b", "common", "B-09|B-11"),
    ),
    Question(
        "10. which to inspect first",
        "review --ask first --press P1",
        "Look first",
        (r"\b170\b", r"\b171\b", r"\b191\b", r"\b121\b", "box-2"),
    ),
    Question(
        "11. were the onset 10 shots earlier",
        "review --ask earlier --press P1",
        "Ten shots earlier",
        (r"\b171\b", r"[Mm]ore", r"[Cc]ost", r"\d\.\d|\b\d+\b"),
    ),
]

CHAIN = (
    "A-07", "HB-1", "B-11", "PB-2", "L2", "recipe 4", r"4\.5\d", "1.42", "mt", "box-2", "(?i)held",
    r"10:19", r"shot 60 of",
)  # fmt: skip
"""Question 12, the chain of part 180: halves, batches, lot, set-up, values, inspection, who, where, disposition."""


def missing(words: tuple[str, ...], answer: str) -> list[str]:
    return [word for word in words if not re.search(word, answer)]


@pytest.mark.parametrize(
    "question",
    [pytest.param(one, id=one.asked, marks=pytest.mark.long if n % 2 else ()) for n, one in enumerate(QUESTIONS)],
)
def test_one_command_answers(question: Question, whole: Shop) -> None:
    answer = whole.do(*question.command.split())
    assert missing(question.words, answer) == [], answer


def test_one_command_answers_which_lot_made_some_parts(whole: Shop) -> None:
    answer = whole.do("parts", "P1", "135-168")
    assert missing(("L1", "L2", r"\b139\b", r"\b140\b", "recipe 4", "B-11", "A-07"), answer) == [], answer


def test_one_command_shows_the_whole_chain_of_a_part(whole: Shop) -> None:
    answer = whole.do("part", "P1", 180)
    assert missing(CHAIN, answer) == [], answer


HAS_ALL = "words => words.every(word => new RegExp(word).test(document.querySelector('main')?.innerText))"


@pytest.mark.browser
def test_one_touch_after_the_shift_answers(whole: Shop, opened: Callable[[Shop, str], Page]) -> None:
    page = opened(whole, "/shift")
    home = page.url
    unanswered = {}
    for question in QUESTIONS:
        page.goto(home)
        named = page.get_by_role("button", name=question.touch, exact=True)
        named.or_(page.get_by_role("link", name=question.touch, exact=True)).first.click()
        with suppress(TimeoutError):
            until(page, HAS_ALL, arg=list(question.words))
        unanswered[question.touch] = missing(question.words, page.inner_text("main"))
    assert {touch: words for touch, words in unanswered.items() if words} == {}


@pytest.mark.browser
def test_the_page_of_a_part_has_the_whole_chain(whole: Shop, opened: Callable[[Shop, str], Page]) -> None:
    assert missing(CHAIN, opened(whole, "/part/P1/180").inner_text("main")) == []
