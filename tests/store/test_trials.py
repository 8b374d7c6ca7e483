"""Which shots belong to which trial, found without reading every shot of the log."""

from datetime import UTC, datetime

import pytest

from shotlog.clock import iso_utc
from shotlog.store.asked import trials
from shotlog.store.asked.trials import TrialShots
from shotlog.store.log.log import Log
from tests.made_shots import shots

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def fill(log: Log) -> None:
    log.append(shots(1, 3, "P1"))
    log.use_trial("cap 7", "cap", "PP", iso_utc(NOW))
    log.append(shots(4, 6, "P1"))
    log.append(shots(11, 12, "P2"))
    log.use_trial("never begun", "cap", "PP", iso_utc(NOW))
    log.use_trial("cap 7", "cap", "PA66", iso_utc(NOW))
    log.append(shots(7, 7, "P1"))
    log.use_trial("cap 7", "cap", "PP", iso_utc(NOW))
    log.append(shots(8, 9, "P1"))


def test_each_trial_has_its_first_and_last_shot_on_every_press(log: Log) -> None:
    fill(log)
    assert trials.trials(log) == [
        TrialShots("", "", "", {"P1": (1, 3)}),
        TrialShots("cap 7", "cap", "PP", {"P1": (4, 9), "P2": (11, 12)}),
        TrialShots("cap 7", "cap", "PA66", {"P1": (7, 7)}),
    ]


@pytest.mark.file
def test_shots_are_looked_up_by_trial_and_never_all_read(log: Log) -> None:
    fill(log)
    with log.reading() as connection:
        for query in trials.QUERIES:
            text = str(query.compile(connection, compile_kwargs={"literal_binds": True}))
            steps = [row.detail for row in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {text}")]
            assert (
                sum(
                    "SEARCH shots USING COVERING INDEX shots_by_trial (trial_id=? AND press_id=?)" in step
                    for step in steps
                )
                == 2
            ), steps
            assert not any(step.startswith("SCAN shots") for step in steps), steps
