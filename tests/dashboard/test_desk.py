"""Entries made at the screen: what reaches the log, what is told, what is refused."""

import pytest
from hand_filled import Trial

from dashboard import Source
from dashboard.press.desk import AsksFirst, Desk, next_serial
from shotlog.errors import StoreUnreachable, UsageError
from shotlog.records import Shot
from shotlog.store.asked import state


@pytest.fixture
def desk(source: Source) -> Desk:
    return Desk(source)


def test_a_swap_is_stored_and_told_as_stored(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(5)
    assert desk.swap("P25", " B-12 ", "moving", design="cap-r2").words == "B-12 in moving from shot 6"
    stay = trial.log.timeline("P25").stays_at(6)["moving"]
    assert (stay.mounting.insert.serial, stay.mounting.insert.design) == ("B-12", "cap-r2")


def test_a_swap_taken_back_leaves_the_insert_before_in_place(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(5)
    stored = desk.swap("P25", "B-12", "moving", at_shot="3")
    assert desk.undo(stored.entry).words == "Taken back: B-12 in moving from shot 3"
    assert trial.log.timeline("P25").stays_at(6)["moving"].mounting.insert.serial == "B-11"
    assert [row.taken_back for row in state.mountings(trial.log, "P25")] == [False, True]


def test_an_insert_that_comes_back_keeps_the_design_it_has_on_record(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(3)
    desk.swap("P25", "B-12", "moving", design="other")
    trial.shots(3)
    desk.swap("P25", "B-11", "moving", design="other")
    assert trial.log.timeline("P25").stays_at(7)["moving"].mounting.insert.design == "cap-r2"


def test_an_insert_mounted_elsewhere_is_refused_in_words(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11", press="P15")
    with pytest.raises(UsageError, match="already mounted"):
        desk.swap("P25", "B-11", "moving")


@pytest.mark.parametrize("serial", ["", "  ", "B;12"])
def test_a_serial_that_is_none_is_refused(trial: Trial, desk: Desk, serial: str) -> None:
    trial.shots(1)
    with pytest.raises(UsageError, match="serial"):
        desk.swap("P25", serial, "moving")


def test_a_finding_belongs_to_the_last_shot_and_can_be_taken_back(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(4)
    stored = desk.note("P25", "finding", "flash")
    assert stored.words == "seen: flash, at shot 4"
    assert desk.undo(stored.entry).words == "Taken back: seen: flash, at shot 4"
    (row,) = state.entries(trial.log, "P25")
    assert (row.event.text, row.taken_back) == ("flash", True)
    with pytest.raises(UsageError, match="taken back before"):
        desk.undo(stored.entry)


def test_an_undo_takes_back_its_own_entry_and_no_other(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(4)
    first = desk.note("P25", "finding", "flash")
    trial.clock.advance(10)
    second = desk.note("P25", "finding", "flash")
    assert first.entry != second.entry
    desk.undo(first.entry)
    assert [row.taken_back for row in state.entries(trial.log, "P25")] == [True, False]


def test_a_button_touched_twice_at_once_is_one_entry(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(4)
    first = desk.note("P25", "pause", "pause")
    trial.clock.advance(1)
    assert desk.note("P25", "pause", "pause") == first
    assert len(state.entries(trial.log, "P25")) == 1


def test_a_clock_that_is_set_back_makes_no_second_finding_the_same_touch(trial: Trial, desk: Desk) -> None:
    """Flash seen again at 10:00, after a clock that showed 12:00 was set right, was taken for the touch at 12:00."""
    trial.mount("B-11")
    trial.shots(4)
    first = desk.note("P25", "finding", "flash")
    trial.clock.set_by(-7200.0)
    trial.clock.advance(600.0)
    assert desk.note("P25", "finding", "flash").entry != first.entry
    assert len(state.entries(trial.log, "P25")) == 2


def test_what_was_taken_back_may_be_noted_again_at_once(trial: Trial, desk: Desk) -> None:
    trial.mount("B-11")
    trial.shots(4)
    first = desk.note("P25", "pause", "pause")
    desk.undo(first.entry)
    assert desk.note("P25", "pause", "pause").entry != first.entry


def test_an_empty_text_is_refused(trial: Trial, desk: Desk) -> None:
    trial.shots(1)
    with pytest.raises(UsageError, match="text of lot"):
        desk.note("P25", "lot", "  ")


def test_no_log_is_made_by_an_entry(trial: Trial, desk: Desk) -> None:
    with pytest.raises(StoreUnreachable, match="no such file yet"):
        desk.note("P25", "note", "hello")
    assert not (trial.file.parent / "trial.db").exists()


@pytest.mark.parametrize(("serial", "following"), [("B-11", "B-12"), ("S-009", "S-010"), ("left", ""), ("", "")])
def test_the_next_serial_of_a_series(serial: str, following: str) -> None:
    assert next_serial(serial) == following


def test_a_number_of_the_presss_own_display_is_understood_and_said(trial: Trial, desk: Desk) -> None:
    trial.log.append([Shot("P25", n, n % 65536, trial.clock.now(), {"cushion": 4.9}) for n in range(65530, 65540)])
    said = desk.note("P25", "finding", "flash", "3").words
    assert said == "the press shows 3: shot 65539; seen: flash, at shot 65539"
    with pytest.raises(UsageError, match="given 70000; the last shot of P25 is 65539, where it showed 3"):
        desk.swap("P25", "B-11", "moving", at_shot="70000")


def test_a_lot_label_is_no_series_until_somebody_says_so(trial: Trial, desk: Desk) -> None:
    trial.shots(1)
    with pytest.raises(AsksFirst, match="The next shots would take B-lot1, B-lot2, B-lot3 and so on"):
        desk.swap("P25", "B-lot1", "moving", single_use=True)
    assert desk.swap("P25", "B-lot1", "moving", single_use=True, sure=True).words.startswith("B-lot1 in moving")
