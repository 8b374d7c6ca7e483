"""Calls that judging again changed: what had been said stays beside what is said now."""

from datetime import timedelta
from pathlib import Path

import pytest

from shotlog.records import Verdict
from shotlog.review.rejudged import Rejudged, rejudged
from shotlog.store.asked.history import Judging, judgings
from shotlog.store.log.judgements import open_judging, record
from shotlog.store.log.log import open_log
from tests.review.made_up_log import settings_in
from tests.review.made_up_press import START, at, verdict


def said(calls: dict[range, dict[str, object]], last: int = 40, first: int = 1) -> tuple[Verdict, ...]:
    """Return verdicts: keep, but over the spans given."""
    told = []
    for shot in range(first, last + 1):
        more = next((more for span, more in calls.items() if shot in span), None)
        told.append(verdict(shot, "B-1") if more is None else verdict(shot, "B-1", "swap", **more))
    return tuple(told)


def judged(*every: tuple[int, tuple[Verdict, ...]]) -> tuple[Rejudged, ...]:
    return rejudged("P1", [Judging(start, START, f"why {n}", told) for n, (start, told) in enumerate(every)])


CALL = {range(30, 41): {"onset": 25, "group": "insert", "cause": "gate erosion"}}


def test_judged_once_nothing_changed() -> None:
    assert judged((0, said(CALL))) == ()
    assert judged((0, said(CALL, last=35)), (36, said(CALL, first=36))) == (), "going on is not judging again"


def test_a_call_that_a_late_lot_explains_is_shown_as_taken_back() -> None:
    (one,) = judged((0, said(CALL)), (24, said({}, first=24)))
    assert (one.outcome, one.reason, one.now) == ("no longer called", "why 1", None)
    assert one.was is not None
    assert (one.was.first, one.was.onset) == (30, 25)


def test_a_call_in_the_middle_of_which_judging_began_again_is_one_call() -> None:
    assert judged((0, said(CALL)), (34, said(CALL, first=34))) == ()


def test_a_call_dated_or_laid_otherwise_says_both() -> None:
    (dated,) = judged((0, said(CALL)), (20, said({range(28, 41): {"onset": 21, "group": "insert"}}, first=20)))
    assert dated.outcome == "dated to shot 21, before to 25"
    (laid,) = judged((0, said(CALL)), (20, said({range(30, 41): {"onset": 25, "group": "material"}}, first=20)))
    assert laid.outcome == "laid to material, before to insert"
    assert judged((0, said(CALL)), (20, said({range(30, 41): {"onset": 26, "group": "insert"}}, first=20))) == ()


def test_a_call_made_only_when_judged_again() -> None:
    (one,) = judged((0, said({})), (1, said(CALL)))
    assert (one.outcome, one.was) == ("called only then", None)


@pytest.mark.either
def test_judgings_come_from_the_log_with_what_they_said(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    with open_log(settings.store, read_only=False) as log:
        for start, reason, told in ((0, "first", said(CALL)), (5, "nothing came of it", ()), (24, "lot", said({}))):
            with log.transaction() as work:
                time = at(start).isoformat()
                press_id = work.press_id("P1", time)
                record(work, press_id, open_judging(work, press_id, start, "b", reason, time), told[start:])
        found = list(judgings(log, "P1"))
        assert [(one.from_shot, one.reason, len(one.verdicts)) for one in found] == [
            (0, "first", 40), (5, "nothing came of it", 0), (24, "lot", 16),
        ]  # fmt: skip
        assert found[1].time - found[0].time == timedelta(seconds=5 * 75)
        assert [one.reason for one in rejudged("P1", found)] == ["lot"]
        assert list(judgings(log, "P2")) == []
