"""Entering once more what was taken back: once, and with the pictures that were taken with it."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from made_pictures import picture
from made_shots import START, moulded, shots
from sqlalchemy import select

from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.store.inserts import entries
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.pictures import of_finding, pictures_of_findings, pictures_of_part, take_picture
from shotlog.store.undo import enter_again, take_back

NOW = moulded(100)


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    """A log of 20 shots on B-11, which came out after the last; a crack was seen at shot 9."""
    with open_log(f"sqlite:///{tmp_path}/trial.db", read_only=False) as opened:
        entries.mount(opened, "P25", "B-11", START, half="moving", at_shot=1)
        opened.append(shots(1, 20))
        entries.note(opened, "P25", "finding", "crack", moulded(9), at_shot=9, half="moving", initials="kq")
        entries.remove(opened, "P25", "B-11", moulded(20), reason="crack", at_shot=21, initials="kq")
        yield opened


def in_force(log: Log, table: str) -> list[int]:
    where = schema.METADATA.tables[table]
    with log.reading() as connection:
        return list(connection.execute(select(where.c.id).where(standing(where))).scalars())


@pytest.mark.parametrize("table", ["events", "removals"])
@pytest.mark.either
def test_an_entry_is_entered_again_once_whoever_asks(log: Log, table: str) -> None:
    take_back(log, table, 1, NOW, "slip")
    assert enter_again(log, table, 1, NOW, "rk")[0] == 2
    with pytest.raises(UsageError, match=f"entry 1 of {table}: it is in force again, as entry 2"):
        enter_again(log, table, 1, NOW + timedelta(minutes=1), "mb")
    assert in_force(log, table) == [2]


def test_what_was_taken_back_anew_may_be_entered_anew(log: Log) -> None:
    take_back(log, "events", 1, NOW, "slip")
    enter_again(log, "events", 1, NOW)
    take_back(log, "events", 2, NOW, "slip")
    assert enter_again(log, "events", 1, NOW)[0] == 3
    assert in_force(log, "events") == [3]


@pytest.mark.either
def test_a_picture_goes_with_its_finding(log: Log, tmp_path: Path) -> None:
    kept = take_picture(log, tmp_path / "pictures", picture(), of_finding(log, 1), NOW, remark="at the gate")
    take_back(log, "events", 1, NOW, "slip")
    number, _ = enter_again(log, "events", 1, NOW)
    assert [one.digest for one in pictures_of_findings(log, [number])[number]] == [kept.digest]
    (shown,) = pictures_of_part(log, Part("P25", 9))
    assert (shown.event_id, shown.remark, shown.taken) == (number, "at the gate", kept.taken)
