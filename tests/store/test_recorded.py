"""The shots as columns are what they are shot by shot, wherever a block of them ends."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.records import HALVES, Shot, Weighing
from shotlog.store.inserts.entries import mount, note, remove
from shotlog.store.inserts.queue import enqueue
from shotlog.store.log import frames, recorded
from shotlog.store.log.log import Log
from shotlog.store.parts.weights import match_new
from shotlog.wording.weighings import say_proposal
from tests.made_shots import START
from tests.recorded_shots import columns_of

NUMBERS = (3, 4, 5, 6, 7, 11, 12, 13, 20, 21, 22)


def at(shot: int) -> datetime:
    return START + timedelta(minutes=shot)


@pytest.fixture
def eventful(log: Log, monkeypatch: pytest.MonkeyPatch) -> Log:
    """A press on which something happens at nearly every shot, and some of it at shots that nobody saw."""
    monkeypatch.setattr(recorded, "_AT_ONCE", 4)
    mount(log, "P25", "A-7", at(0), at_shot=4, half="fixed", design="cap-r2")
    mount(log, "P25", "B-1", at(0), at_shot=5, half="moving", design="plug", print_batch="PB-1")
    for n in NUMBERS:
        values = {"cushion": 4.5 + n / 10, "fill_time": 0.7, "part_weight": 9.5}
        missing = {12: ("cushion", "part_weight"), 6: ()}.get(n, ("part_weight",))
        kept = {name: value for name, value in values.items() if name not in missing}
        log.append([Shot("P25", n, n % 16, at(n), kept)])
        if n in (5, 6, 12, 13):
            log.append([Weighing("P25", "balance", 9.0 + n, at(n) + timedelta(seconds=20), 50.0, b"", 0.5, 40.0)])
            match_new(log, "P25", at(n), say_proposal)
    note(log, "P25", "lot", "L2", at(30), at_shot=9)
    note(log, "P25", "finding", "=flash;\nat the gate", at(30), at_shot=9, half="moving")
    remove(log, "P25", "B-1", at(30), reason="flash", at_shot=8)
    mount(log, "P25", "B-2", at(30), at_shot=12, half="moving", design="plug")
    mount(log, "P25", "B-1", at(30), at_shot=20, half="moving", design="plug", print_batch="PB-1")
    enqueue(log, "P25", ["K-7", "K-2", "K-9"], at(30), at_shot=6, half="core", said={"print_batch": "PB-3"})
    note(log, "P25", "dry", "counted, no part", at(30), at_shot=11)
    return log


@pytest.mark.parametrize(("after", "upto"), [(-1, None), (5, 21), (7, 12), (22, None), (8, 10)])
def test_columns_are_what_is_said_shot_by_shot(eventful: Log, after: int, upto: int | None) -> None:
    blocks = list(eventful.recorded("P25", after, upto))
    plain = columns_of(eventful.logged("P25", after, upto))
    assert {name: [cell for block in blocks for cell in block[name]] for name in plain} == plain
    assert all(0 < len(block["shot"]) <= 4 for block in blocks)


def test_an_export_reads_back_as_the_shots(eventful: Log, tmp_path: Path) -> None:
    present = eventful.channels_present(["P25"])
    assert present == ["cushion", "fill_time", "part_weight", "mass_balance"]
    blocks = eventful.recorded("P25", channels=present)
    assert recording.write(tmp_path / "r.csv", blocks, present, optional=True) == len(NUMBERS)
    assert list(recording.read(tmp_path / "r.csv")) == list(eventful.logged("P25"))


def test_how_many_an_insert_had_made_is_what_counting_says(eventful: Log) -> None:
    timeline, frame = eventful.timeline("P25"), eventful.shots("P25")
    frames.add_made(frame, {"P25": timeline})
    made: dict[tuple[str, str], set[int]] = {}
    for n in range(NUMBERS[-1] + 1):
        for half, stay in timeline.stays_at(n).items():
            made.setdefault((half, stay.mounting.insert.serial), set()).add(n)
    for half in HALVES:
        expected = []
        for n in NUMBERS:
            stay = timeline.stays_at(n).get(half)
            earlier = () if stay is None else made[half, stay.mounting.insert.serial]
            expected.append(1 if stay and stay.mounting.single_use else sum(k <= n for k in earlier))
        assert frame[f"{half}_shots"].fillna(0).tolist() == expected
    assert frame["shot"][frame["dry"]].tolist() == [11]
    assert {name for name in CHANNELS if name in frame} == {"cushion", "fill_time", "part_weight", "mass_balance"}
