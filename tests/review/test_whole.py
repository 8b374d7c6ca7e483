"""The review of a log: that it says what the log says, of a whole trial, of a part of it, of nothing."""

import json
from pathlib import Path

import pytest

from shotlog.review import Review, as_json, review
from shotlog.review.ledger import histories_of, ledger_of, states_of
from shotlog.settings import Settings
from shotlog.store.log.log import open_log
from tests.review.made_up_log import LATER, fill, settings_in, spoil
from tests.review.made_up_press import at


@pytest.fixture(scope="session")
def whole(afternoon: Settings) -> Review:
    with open_log(afternoon.store) as log:
        return review(log, afternoon, LATER)


def test_it_counts_what_the_log_holds(whole: Review) -> None:
    (press,) = whole.presses
    assert (press.press, press.first, press.last, press.n_seen, press.n_missed) == ("P1", 1, 120, 118, 2)
    assert press.n_settling == 15
    assert [(kind.kind, kind.n) for kind in press.faults] == [("torn", 1)]
    assert whole.silent == ("P2",)
    assert [trial.name for trial in whole.trials] == ["cap trial 7"]


def test_each_life_is_there_with_its_end_and_date(whole: Review) -> None:
    lives = {entry.life.serial: entry.life for entry in whole.ledger.entries}
    assert {serial: life.failed for serial, life in lives.items()} == {
        "A-1": True, "B-1": True, "B-2": False, "B-3": False,
    }  # fmt: skip
    assert lives["A-1"].dated_by == "first part found bad"
    assert (lives["A-1"].sound, lives["B-1"].sound, lives["B-2"].sound) == (99, 26, 40)
    assert {entry.material for entry in whole.ledger.entries} == {"PP"}


def test_parts_in_doubt_stand_as_people_decided(whole: Review) -> None:
    called, *found = whole.presses[0].suspects
    assert (called.first, called.last) == (24, 40)
    assert (called.parts.held, called.parts.released, called.parts.scrapped) == (12, 2, 3)
    # flash at 40, no half named, until a part made without the other half is known to be good; the bad part at 100
    assert [(one.first, one.last) for one in found] == [(41, 44), (65, 99), (100, 100), (101, 120)]
    held = sum(one.parts.held for one in (called, *found))
    assert held == whole.presses[0].parts.held, "every held part is explained by a span, and by one only"


def test_a_call_tells_what_changed_near_its_onset(whole: Review) -> None:
    (call,) = whole.presses[0].calls
    assert (call.episode.cause, call.episode.swap_at) == ("gate erosion", 32)
    assert call.changed_near == ()
    assert call.sisters == ()


def test_single_use_pieces_are_a_series_and_no_life(whole: Review) -> None:
    series = whole.presses[0].pieces.series
    assert [(one.print_batch, one.half, one.n_pieces, one.spans) for one in series] == [
        ("PL-1", "core", 40, ((1, 40),)), ("PL-1", "core", 40, ((41, 80),)), ("PL-1", "core", 40, ((81, 120),)),
    ]  # fmt: skip
    assert series[0].beside == ("A-1", "B-1")


def test_a_call_is_answered_by_the_swap_it_led_to(whole: Review) -> None:
    (answer,) = whole.presses[0].answers
    assert (answer.acted_at, answer.lag, answer.answer) == (41, 9, "confirmed")
    assert answer.ground == "the swap brought the level back"


def test_groups_have_plans_only_where_lives_allow(whole: Review) -> None:
    design = next(group for group in whole.ledger.groups if group.factor == "design")
    assert (design.name, design.curve.n, design.n_failed, design.weibull) == ("cap-r2", 4, 2, None)
    assert "given 2" in design.why_not
    assert {group.factor for group in whole.ledger.groups} == {"design", "resin family", "moulded material"}


def test_the_digest_is_that_of_the_log(whole: Review, afternoon: Settings) -> None:
    with open_log(afternoon.store) as log:
        assert (whole.log.n_transactions, whole.log.digest) == log.verify()


def test_json_carries_the_same_facts(whole: Review) -> None:
    document = json.loads(json.dumps(as_json(whole), allow_nan=False))
    (press,) = document["presses"]
    assert press["suspects"][0]["look_first"][0] == {"shot": 27, "why": "first after the estimated onset"}
    assert press["swaps"][0]["outcome"] == "came back"
    assert press["start"].endswith("+00:00")
    assert len(press["shots"]) == len(press["values"]["cushion"]) == 118
    assert document["log"]["digest"] == whole.log.digest


def test_a_period_leaves_out_what_came_before(afternoon: Settings, whole: Review) -> None:
    with open_log(afternoon.store) as log:
        late = review(log, afternoon, LATER, at(81))
    (press,) = late.presses
    assert (press.first, press.n_seen, press.calls, press.answers) == (81, 40, (), ())
    assert [swap.at_shot for swap in press.swaps] == [81]
    told = {one.life.serial: one.life for one in late.ledger.entries}
    assert press.swaps == tuple(swap for swap in whole.presses[0].swaps if swap.at_shot >= 81)
    assert press.turns == tuple(turn for turn in whole.presses[0].turns if turn.last >= 81)
    assert told.keys() == {"A-1", "B-3"}, "lives are those of the inserts that made a shot since"
    assert all(life in [one.life for one in whole.ledger.entries] for life in told.values()), "each with its whole life"


def test_a_period_without_a_shot_is_a_review_of_nothing(afternoon: Settings) -> None:
    with open_log(afternoon.store) as log:
        nothing = review(log, afternoon, LATER, LATER)
    assert (nothing.presses, nothing.silent) == ((), ("P2", "P1"))


def test_an_empty_log_is_reviewed_too(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    open_log(settings.store, read_only=False).close()
    with open_log(settings.store) as log:
        empty = review(log, settings, LATER)
    assert (empty.presses, empty.ledger.entries, empty.log.damage) == ((), (), "")


@pytest.mark.file
def test_a_log_changed_behind_its_back_is_reviewed_and_said_to_be(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    fill(settings)
    spoil(settings.store)
    with open_log(settings.store) as log:
        found = review(log, settings, LATER)
    assert "changed later" in found.log.damage
    assert (found.log.digest, len(found.presses)) == ("", 1)


def test_the_ledger_of_one_design_has_no_other(afternoon: Settings) -> None:
    with open_log(afternoon.store) as log:
        ledger = ledger_of(log, afternoon, histories_of(log), states_of(log, afternoon), "nothing-r1")
    assert ledger.entries == ()
