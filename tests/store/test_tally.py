"""Counts carried on are what counting afresh gives, and tell which press has anything new."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.records import Fault, Gap, Link
from shotlog.store.asked import state
from shotlog.store.asked.presence import touch
from shotlog.store.asked.tally import Tally
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log, open_log
from shotlog.store.undo import take_back
from tests.made_shots import shot

NOW = datetime(2026, 1, 5, 10, 30, tzinfo=UTC)


def test_carried_on_they_equal_a_count_from_the_start(log: Log) -> None:
    tally = Tally()
    assert tally.counts(log, "P25").n_shots == 0
    steps = [
        [shot(1), shot(2)],
        [shot(1, "P2")],
        [Fault("P25", NOW, "range", "too high"), Fault("P2", NOW, "range", "too high")],
        [shot(3), Fault("P25", NOW, "bad line", "short"), Fault("P25", NOW, "range", "too high")],
        [shot(2)],
    ]
    for records in steps:
        log.append(records)
        for press in ("P25", "P2"):
            carried, afresh = tally.counts(log, press), Tally().counts(log, press)
            assert (carried.n_shots, carried.faults) == (afresh.n_shots, afresh.faults)
    counts = tally.counts(log, "P25")
    assert (counts.n_shots, dict(counts.faults), counts.n_faults) == (3, {"range": 2, "bad line": 1}, 3)


@pytest.mark.either
def test_only_the_press_with_something_new_has_changed(log: Log) -> None:
    tally = Tally()
    log.append([shot(1), shot(1, "P2")])
    before, _ = tally.all(log, ["P25", "P2"])
    log.append([Link("P2", NOW, "lost", "timed out")])
    after, _ = tally.all(log, ["P25", "P2"])
    assert after["P25"] == before["P25"]
    assert after["P2"].changes != before["P2"].changes
    assert after["P2"].entries == before["P2"].entries


@pytest.mark.either
def test_an_entry_is_told_from_a_shot_and_one_taken_back_concerns_all(log: Log) -> None:
    tally = Tally()
    log.append([shot(1), shot(1, "P2")])
    first, _ = tally.all(log, ["P25", "P2"])
    entries.note(log, "P25", "lot", "L2", NOW)
    noted, _ = tally.all(log, ["P25", "P2"])
    assert noted["P25"].entries != first["P25"].entries
    assert noted["P2"] == first["P2"]
    (row,) = state.entries(log, "P25")
    take_back(log, "events", row.entry_id, NOW, "wrong")
    taken, _ = tally.all(log, ["P25", "P2"])
    assert all(taken[press].entries != noted[press].entries for press in taken)


def test_it_says_when_the_logger_was_last_at_work(log: Log) -> None:
    tally = Tally()
    assert tally.all(log, [])[1] is None
    touch(log, "run", "1 press", NOW)
    assert tally.all(log, [])[1] == NOW


def test_another_log_in_its_place_is_counted_afresh(log: Log, tmp_path: Path) -> None:
    tally = Tally()
    log.append([shot(n) for n in range(1, 6)])
    assert tally.counts(log, "P25").n_shots == 5
    with open_log(f"sqlite:///{tmp_path}/other.db", read_only=False) as other:
        other.append([shot(1)])
        assert tally.counts(other, "P25").n_shots == 1


def test_shots_taken_in_later_are_no_longer_missed(log: Log) -> None:
    log.append([shot(1), Gap("P25", 2, 4, NOW, "the counter jumped"), shot(5)])
    assert state.n_missed(log, "P25") == 3
    log.append([shot(3)])
    assert state.n_missed(log, "P25") == 2
    assert state.press_state(log, "P25").n_missed == 2
