"""The twelve questions asked after the shift: each answered whole by one command, and by one page and one touch.

Asked of one made-up afternoon with a call, a swap, a lot, a pause, a gap, a torn shot, an outage, inspections, a bath,
places and decisions. What an answer must hold is what its question asks for.
"""

import json
from collections.abc import Callable, Iterator
from datetime import timedelta

import pytest
from barriers import barriers
from playwright.sync_api import expect
from served import Viewers

from dashboard import Source
from dashboard.shift.asked import answer_to, asked_part
from dashboard.shift.query import Query
from dashboard.shift.whole import ShiftReader
from shotlog.answers.part import blocks_of
from shotlog.answers.questions import QUESTIONS
from shotlog.answers.table import Table, printed
from shotlog.cli import review as review_command
from shotlog.cli.main import main
from shotlog.clock import HandClock, SystemClock, iso_utc
from shotlog.parts.part import Part
from shotlog.records import Fault, Gap, Link, Weighing
from shotlog.review.chain import chain_of
from shotlog.settings import Settings
from shotlog.store.inserts import entries
from shotlog.store.log.log import open_log
from shotlog.store.parts.places import put_at
from tests.review import made_up_log
from tests.review.made_up_press import START, at

Command = Callable[..., str]

ELEMENTS = {
    "doubt": ("24 to 40", "27", "24 to 29", "12 held", "box-3", "12 parts", "41 to", "nothing against them", "bath 1"),
    "half": ("B-1", "moving half", "27 (24 to 29)", "gate erosion", "yes: B-1 out at shot 41",
             "none was mounted that long"),
    "lots": ("1 to 85", "not noted", "86 to 120", "L2 & more", "at shot 86 or later", "too few shots beside it",
             "B-1 27"),
    "missed": ("70 to 71", "counter went on", "torn", "settling, not judged", "weighings", "connection lost",
               "dry shots"),
    "baselines": ("B-1", "6 to 17", "12", "nobody chose them", "Learnt 5 later", "Learnt from twice",
                  "Would another alter it?", "28 28 too few shots to tell no"),
    "lives": ("B-1", "40 26 (23 to 28)", "gone off", "still mounted", "acrylate photopolymer", "needs 3 inserts"),
    "calls": ("B-1", "30", "swapped before shot 41", "9", "confirmed", "brought the level back",
              "not this insert", "open", "100 %"),
    "stops": ("60", "pause: 20 min", "cushion", "peak pressure", "shots"),
    "bad": ("100", "window missing", "BAD", "beside shots", "wall", "Chance", "Correlation within runs"),
    "first": ("27", "first after the estimated onset",  # the last before the early edge is known to be good
              "first after the swap of B-1", "farthest from the level"),
    "earlier": ("24 to 40", "12", "10", "22", "100.00", "10.00 each"),
}  # fmt: skip
"""What the answer to each question must hold of that afternoon, in the words of command and page."""

ONE_PART = (
    "HELD", "box-3", "A-1", "B-1", "shot 36 of this half", "print batch PL-1", "lot", "set-up", "Cushion, mm",
    "Neighbours",
    "Away, in spreads", "Swap B-1: cushion down since shot 27", "Noted at its shot", "Where it has been", "Inspected",
    "Decided",
)  # fmt: skip


@pytest.fixture(scope="module")
def afternoon(tmp_path_factory: pytest.TempPathFactory) -> Settings:
    """The made-up afternoon of the review, with a pause, an outage, a weighing and two places more."""
    settings = made_up_log.settings_in(tmp_path_factory.mktemp("asked"))
    with open_log(settings.store, read_only=False) as log:
        log.use_trial("cap trial 7", "cap", "PP", iso_utc(START))
        log.append([Link("P1", START, "connected", "it answers")])
        made_up_log._mount(log)
        entries.note(log, "P1", "pause", "20 min", at(59), at_shot=60)
        entries.note(log, "P1", "good", "measured", at(41), at_shot=23)
        log.append(made_up_log._shots())
        log.append([Gap("P1", 70, 71, at(72), "counter went on from 69 to 72")])
        log.append([Fault("P1", at(30), "torn", "values changed while they were read", b"\x01", 30)])
        log.append(
            [Link("P1", at(69) + timedelta(seconds=9), "lost", "no answer"), Link("P1", at(71), "connected", "")]
        )
        log.append([Weighing("P1", "balance", 4.1, at(50), 60.0, b"4.1")])
        made_up_log._judge(log)
        made_up_log._look_at(log, settings)
        put_at(log, [Part("P1", shot) for shot in range(26, 38)], "box-3", made_up_log.LATER, initials="ab")
    return settings


@pytest.fixture
def command(afternoon: Settings, capsys: pytest.CaptureFixture[str]) -> Command:
    def typed(name: str, *words: str) -> str:
        capsys.readouterr()
        assert main([name, str(afternoon.file), *words]) == 0
        return capsys.readouterr().out

    return typed


@pytest.fixture
def source(afternoon: Settings) -> Iterator[Source]:
    """What the pages are served from here."""
    made = Source(afternoon, HandClock(made_up_log.LATER))
    yield made
    made.close()


@pytest.fixture(scope="module")
def reader(afternoon: Settings) -> ShiftReader:
    return ShiftReader(Source(afternoon, HandClock(made_up_log.LATER)))


def said(text: str) -> str:
    """Return a text with every run of blanks as one, as a person reads a table."""
    return " ".join(text.split())


def test_every_question_is_asked_here_by_its_word() -> None:
    assert tuple(ELEMENTS) == tuple(QUESTIONS) == review_command._WORDS
    assert len(ELEMENTS) + 1 == 12, "and the whole chain of one part"


@pytest.mark.parametrize("word", ELEMENTS)
def test_the_command_answers_it_whole(command: Command, word: str) -> None:
    answer = said(command("review", "--ask", word))
    assert [one for one in ELEMENTS[word] if one not in answer] == [], answer


@pytest.mark.parametrize(
    "word",
    [
        pytest.param(word, marks=pytest.mark.long if n % 2 else ())
        for n, word in enumerate(word for word in ELEMENTS if word != "lives")
    ],
)
def test_the_page_answers_it_with_the_same_rows(command: Command, reader: ShiftReader, word: str) -> None:
    clock = SystemClock()  # as the command has it: what is overdue depends on it
    answer = answer_to(reader, Query(ask=word), clock)
    shown = said("\n".join(printed(table) for table in answer))
    assert [one for one in ELEMENTS[word] if one not in shown] == [], shown
    tables = json.loads(command("review", "--ask", word, "--json"))["tables"]
    assert [rows_of(table) for table in answer] == [[list(row.values()) for row in one["rows"]] for one in tables]


def rows_of(table: Table) -> list[list[object]]:
    return [list(row) for row in table.rows]


def test_the_page_has_a_button_for_each_question_and_one_way_to_the_others() -> None:
    buttons = asked_part(Query(), [])[1].children
    ways = {button.children: button.href for button in buttons}
    assert list(ways) == [*(question.button for question in QUESTIONS.values()), "One part"]
    assert ways["Calls"] == "/shift?ask=calls"
    assert (ways["Lives"], ways["One part"]) == ("/inserts", "/part")


@pytest.mark.browser
def test_one_touch_answers_and_keeps_nobody_out(viewers: Viewers) -> None:
    page = viewers.open("/shift")
    page.get_by_role("navigation", name="Questions").get_by_role("link", name="Which half").click()
    answer = page.locator("#shift-asked")
    expect(answer).to_contain_text("27 (24 to 29)")
    assert barriers(page) == []
    with page.expect_download() as saved:
        answer.get_by_role("link", name="CSV").click()
    assert "27 (24 to 29)" in saved.value.path().read_text(encoding="utf-8")
    answer.get_by_role("link", name="Lives").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Inserts")


def test_lives_are_answered_by_a_page_and_a_command_of_their_own(command: Command) -> None:
    answer = said(command("inserts"))
    for element in ("B-1", "26", "gone off", "still mounted", "design cap-r2", "acrylate photopolymer"):
        assert element in answer


def test_one_part_is_answered_by_its_page_and_its_command(afternoon: Settings, command: Command) -> None:
    answer = said(command("part", "P1", "36"))
    assert [one for one in ONE_PART if one not in answer] == [], answer
    with open_log(afternoon.store) as log:
        chain = chain_of(log, afternoon.designs, Part("P1", 36))
    shown = said("\n".join(printed(block) for block in blocks_of(chain, made_up_log.LATER)))
    assert [one for one in ONE_PART if one not in shown] == [], shown


def test_lots_of_a_span_are_answered_for_the_parts_named(command: Command) -> None:
    assert "lot: not noted (shots 80 to 85); L2 & more (shots 86 to 90)" in command("parts", "P1", "80-90")


def test_a_question_about_one_press_leaves_the_others_out(command: Command) -> None:
    assert "not in doubt" in command("review", "--ask", "doubt", "--press", "P1").lower()
    assert "P1" not in command("review", "--ask", "calls", "--press", "P2")
