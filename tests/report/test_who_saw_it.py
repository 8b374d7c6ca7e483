"""The first page says who saw what, whatever else is a reason, and the parts that tell most stand on top."""

import re
from dataclasses import replace
from datetime import UTC

import pytest

from shotlog.report.decisions import decisions_section
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
