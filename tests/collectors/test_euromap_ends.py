"""Where a report over EUROMAP 63 ends and the next goes on: the last line, the shot over midnight, the first bytes."""

import os
from pathlib import Path
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import Collector, Resume, options
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import PressSettings, Section

HEAD = "DATE,TIME,ActCntCyc,ActTimFill[1],ActStrCsh[1]"


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


def following(folder: Path, clock: HandClock) -> Collector:
    """Return a collector that follows a file a day, after the first shot of the first one."""
    put(folder, "SHOTS1126.DAT", HEAD, "20261126,23:59:00,1,0.75,15.0")
    os.utime(folder / "SHOTS1126.DAT", (1000, 1000))
    return begun(folder, clock, None)


def begun(folder: Path, clock: HandClock, resume: Resume | None) -> Collector:
    keys = {
        "kind": "euromap63",
        "folder": str(folder),
        "passive": True,
        "report": "SHOTS*.DAT",
        "shot_counter": {"token": "ActCntCyc"},
        "channels": {
            "cushion": {"token": "ActStrCsh[1]", "unit": "mm"},
            "fill_time": {"token": "ActTimFill[1]", "unit": "s"},
        },
    }
    checked = options(PressSettings("P25", "euromap63", Section("trial.toml", "press[1].collector", keys)))
    collector = checked.build("P25", clock, resume)
    collector.open()
    return collector


def put(folder: Path, name: str, *lines: str, end: str = "\r\n") -> None:
    with (folder / name).open("a", newline="") as file:
        file.write("".join(line + end for line in lines))


def polled(collector: Collector, clock: HandClock, times: int = 4, each_s: float = 3.0) -> list[Any]:
    records: list[Any] = []
    for _ in range(times):
        records += collector.poll()
        clock.advance(each_s)
    return records


def shots(records: list[Any]) -> dict[int, dict[str, float]]:
    return {one.shot: dict(one.values) for one in records if isinstance(one, Shot)}


def said(records: list[Any]) -> list[str]:
    """Return what was said, but of the press's clock, which stands at another day than ours."""
    faults = [one for one in records if isinstance(one, Fault) and one.kind != "press clock"]
    return [f"{one.kind}: {one.detail}" for one in faults]


def test_the_shot_over_midnight_is_read_though_the_new_file_lies_there(tmp_path: Path, clock: HandClock) -> None:
    collector = following(tmp_path, clock)
    records = polled(collector, clock)
    put(tmp_path, "SHOTS1127.DAT", HEAD)
    records += polled(collector, clock, 10)
    put(tmp_path, "SHOTS1126.DAT", "20261126,23:59:59,2,0.75,15.5")
    records += polled(collector, clock)
    put(tmp_path, "SHOTS1127.DAT", "20261127,00:00:30,3,0.75,15.25")
    records += polled(collector, clock)
    assert sorted(shots(records)) == [2, 3]
    assert not any(isinstance(one, Gap) for one in records)
    assert said(records) == []


def test_the_first_shot_of_a_new_file_is_read_at_once(tmp_path: Path, clock: HandClock) -> None:
    collector = following(tmp_path, clock)
    put(tmp_path, "SHOTS1127.DAT", HEAD)
    polled(collector, clock, 10)
    put(tmp_path, "SHOTS1127.DAT", "20261127,00:00:30,2,0.75,15.25")
    assert list(shots(polled(collector, clock, 1))) == [2]


def test_a_new_file_that_cannot_be_read_is_followed_all_the_same(tmp_path: Path, clock: HandClock) -> None:
    collector = following(tmp_path, clock)
    put(tmp_path, "SHOTS1127.DAT", HEAD.replace("ActCntCyc", "ActCntPrt"), "20261127,00:00:30,2,0.75,15.25")
    with pytest.raises(Exception, match="has no ActCntCyc"):
        polled(collector, clock, 10)


def test_the_last_field_of_a_report_that_ended_within_it_is_no_value(tmp_path: Path, clock: HandClock) -> None:
    collector = following(tmp_path, clock)
    put(tmp_path, "SHOTS1126.DAT", "20261126,23:59:30,2,0.75,1", end="")  # 15.25 was being written
    put(tmp_path, "SHOTS1127.DAT", HEAD, "20261127,00:00:30,3,0.75,15.25")
    records = polled(collector, clock, 10)
    assert shots(records) == {2: {"fill_time": 0.75}, 3: {"fill_time": 0.75, "cushion": 15.25}}
    assert said(records) == ["half line: a report ended within a line; its last field may be cut, and is left out"]


def test_a_mark_of_utf_8_before_the_names_hides_none(tmp_path: Path, clock: HandClock) -> None:
    (tmp_path / "SHOTS1126.DAT").write_bytes(b"\xef\xbb\xbfActCntCyc,DATE,TIME,ActTimFill[1],ActStrCsh[1]\r\n")
    os.utime(tmp_path / "SHOTS1126.DAT", (1000, 1000))
    collector = following(tmp_path, clock)
    put(tmp_path, "SHOTS1126.DAT", HEAD, "20261126,23:59:30,2,0.75,15.25")
    (tmp_path / "SHOTS1127.DAT").write_bytes(
        b"\xef\xbb\xbfActCntCyc,DATE,TIME,ActTimFill[1],ActStrCsh[1]\r\n3,20261127,00:00:30,0.75,15.25\r\n"
    )
    assert list(shots(polled(collector, clock, 10))) == [2, 3]


def test_a_count_of_a_later_day_is_not_taken_for_the_last_one_of_the_log(tmp_path: Path, clock: HandClock) -> None:
    for n, day in enumerate(("1126", "1127", "1128")):
        name = f"SHOTS{day}.DAT"
        put(tmp_path, name, HEAD, *(f"2026{day},12:{i:02d}:00,{i},0.75,{5 + n + i / 64}" for i in range(1, 31)))
        os.utime(tmp_path / name, (1000 + n, 1000 + n))
    logged = {"cushion": 5.0 + 17 / 64, "fill_time": 0.75}
    collector = begun(tmp_path, clock, Resume(1017, 17, logged, clock.now(), 60.0))
    assert len(shots(polled(collector, clock, 10))) == 13 + 30 + 30
