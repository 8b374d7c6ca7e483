"""Which parts to inspect first: either side of an onset, then the first after a swap, then the rest; none twice."""

from dataclasses import replace

import pytest

from shotlog.review import Review, review
from shotlog.review.look_first import inspect_first
from shotlog.settings import Settings
from shotlog.store.log.log import open_log
from tests.review.made_up_log import LATER
from tests.review.test_held import BAD, called, found, held, parts


@pytest.fixture(scope="module")
def whole(afternoon: Settings) -> Review:
    with open_log(afternoon.store) as log:
        return review(log, afternoon, LATER)


def test_either_side_of_an_onset_then_the_first_after_each_swap_then_the_rest(whole: Review) -> None:
    (press,) = whole.presses
    looks = {one.shot: one for one in press.inspect_first}
    assert looks[27].why[0] == "B-1: first after the estimated onset"
    assert looks[23].why == ("B-1: last before the early edge, should be sound",)
    assert "first after the swap of B-1 for B-2" in looks[41].why
    assert [one.round for one in press.inspect_first] == sorted(one.round for one in press.inspect_first)
    assert [looks[shot].round for shot in (27, 23, 81)] == [0, 0, 1]
    assert press.inspect_first[-1].round == 2
    (scrapped,) = (run for run in press.runs if run.state == "scrapped")
    (released,) = (run for run in press.runs if run.state == "released")
    assert not looks.keys() & {*range(scrapped.first, scrapped.last + 1), *range(released.first, released.last + 1)}


def test_what_was_looked_at_or_never_seen_is_not_asked_for(whole: Review) -> None:
    (press,) = whole.presses
    span = press.suspects[0]
    seen = set(press.shots.tolist())
    looked = replace(BAD, part=replace(BAD.part, shot=27))
    assert 27 in {one.shot for one in inspect_first([span], (), (), (), seen)}
    assert 27 not in {one.shot for one in inspect_first([span], (), (), (looked,), seen)}
    assert 27 not in {one.shot for one in inspect_first([span], (), (), (), seen - {27})}
    assert inspect_first([replace(span, parts=replace(span.parts, held=0))], (), (), (), seen) == ()


def test_a_span_held_for_what_people_found_is_halved() -> None:
    (group,) = held(parts(range(20, 41), found(20, 40)))
    first, midway = inspect_first((), [group], (), (), set(range(1, 60)))
    assert (first.shot, first.why) == (20, ("A-1: first of those held for what was found",))
    assert (midway.shot, midway.why) == (30, ("A-1: midway among those held for what was found",))
    assert inspect_first((), held(parts(range(20, 41), called("swap", 20, 40))), (), (), set(range(1, 60))) == ()
