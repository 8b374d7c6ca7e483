"""What is seen on a half is refused where nothing was in it: it would hold no part, and nobody would be told."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from made_shots import START, moulded, shots

from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.inspections import inspect, inspections

NOW = moulded(100)
NOTHING_THERE = r"half: given 'core', in which nothing was in P25 at shot 9, allowed: fixed \(A-07\), moving \(B-11\)"


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    """A mould without a core, 20 shots; B-11 came out after shot 12, and nothing in."""
    with open_log(f"sqlite:///{tmp_path}/trial.db", read_only=False) as opened:
        entries.mount(opened, "P25", "A-07", START, half="fixed", at_shot=0)
        entries.mount(opened, "P25", "B-11", START, half="moving", at_shot=0)
        opened.append(shots(1, 20))
        entries.remove(opened, "P25", "B-11", moulded(12), reason="crack", at_shot=13)
        yield opened


@pytest.mark.parametrize("kind", ["finding", "note", "sound"])
def test_what_was_seen_on_a_half_that_holds_nothing_is_refused_with_what_is_there(log: Log, kind: str) -> None:
    with pytest.raises(UsageError, match=NOTHING_THERE):
        entries.note(log, "P25", kind, "R. K., gate", NOW, at_shot=9, half="core")
    assert log.timeline("P25").events == []


def test_a_result_that_blames_such_a_half_is_refused_as_well(log: Log) -> None:
    with pytest.raises(UsageError, match=NOTHING_THERE):
        inspect(log, Part("P25", 9), NOW, finding="flash", half="core")
    assert inspections(log, "P25") == []


def test_what_counts_is_what_was_in_it_at_the_shot(log: Log) -> None:
    entries.note(log, "P25", "finding", "crack", NOW, at_shot=12, half="moving")
    with pytest.raises(UsageError, match=r"at shot 13, allowed: fixed \(A-07\)$"):
        entries.note(log, "P25", "finding", "crack", NOW, at_shot=13, half="moving")
    with pytest.raises(UsageError, match=r"at shot 20, allowed: fixed"):
        entries.note(log, "P25", "finding", "crack", NOW, half="moving")


def test_where_nobody_has_entered_what_runs_any_half_may_be_named(log: Log) -> None:
    log.append(shots(1, 9, press="P15"))
    assert entries.note(log, "P15", "finding", "flash", NOW, half="moving").record.half == "moving"
