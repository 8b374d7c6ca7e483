"""The first page says who saw what, whatever else is a reason, and the parts that tell most stand on top."""

import re
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from shotlog.records import MadeEntry, Signature
from shotlog.report.decisions import decisions_section
from shotlog.report.happened import press_section
from shotlog.report.to_inspect import inspect_section
from shotlog.review import Review, review
from shotlog.review.look_first import ToInspect
from shotlog.settings import Settings
from shotlog.store.log.log import open_log
from tests.review.made_up_log import LATER
from tests.review.test_held import FINDING, SINCE, WRONG, Doubt, called, found, held, parts


@pytest.fixture(scope="module")
def whole(afternoon: Settings) -> Review:
    with open_log(afternoon.store) as log:
        return review(log, afternoon, LATER)


def test_who_saw_it_is_not_hidden_among_further_reasons(whole: Review) -> None:
    seen = replace(WRONG, basis=FINDING, bad=None, text="core blade gone", half="moving", initials="kq")
    again = Doubt("P1", FINDING, "B-1", 20, 30, SINCE, wrong=seen)
    (group,) = held(parts(range(20, 31), found(20, 30), again, called("swap", 20, 30), called("watch", 20, 30, "A-1")))
    (press,) = whole.presses
    told = decisions_section(replace(whole, presses=(replace(press, held=(group,)),)))
    assert "core blade gone, moving half, by kq" in told
    assert "kq" in decisions_section(replace(whole, presses=(replace(press, held=(group,) * 7),)))


def test_the_parts_that_tell_most_stand_on_top(whole: Review) -> None:
    (press,) = whole.presses
    looks = (
        ToInspect(71, ("onset",), 0),
        ToInspect(70, ("before it",), 0),
        ToInspect(21, ("first after the swap",), 1),
    )
    told = inspect_section(replace(whole, presses=(replace(press, inspect_first=looks),)), UTC)
    assert re.findall(r"</strong>\u00a0(\d+)", told) == ["71", "70", "21"]


def test_what_was_entered_at_one_touch_is_one_row(whole: Review) -> None:
    """Twenty-four parts put into a bath took as many lines, and the day no longer fitted on ten pages."""
    (press,) = whole.presses
    by, later = Signature("", "", "page", "127.0.0.1", "mk"), datetime(2026, 3, 2, 9, tzinfo=UTC)

    def put(number: int, shot: int, *, at: datetime = later, kind: str = "bath-in") -> MadeEntry:
        return MadeEntry(kind, number, "P1", shot, shot, 1, "bath 1", "", "", "mk", at, signature=by)

    out = MadeEntry("removal", 8, "P1", 4, 4, None, "B-1", "flash", "moving", "mk", later, signature=by)
    into = MadeEntry("mounting", 9, "P1", 4, 4, None, "B-2", "", "moving", "mk", later, signature=by)
    made = (*(put(n, n) for n in (1, 2, 3, 7, 8)), put(6, 9, at=later.replace(hour=10)), out, into)
    told = "".join(press_section(whole, replace(press, entered=made), UTC, lambda _: None, None))
    rows = re.findall("<tr>(.*?)</tr>", told.partition("What people entered")[2].replace("\u00a0", " "))
    assert [re.findall("<td>(.*?)</td>", row)[:2] for row in rows[1:]] == [
        ["into bath 1", "1 to 3, 7 to 8"],
        ["into bath 1", "9"],
        ["B-1 removed: flash; B-2 mounted, moving half", "4"],
    ]
