"""The recorder writes the head of the log down outside: when it moved on, and never at the cost of a shot."""

import logging
import threading
from pathlib import Path

import pytest

from shotlog.clock import HandClock, SystemClock
from shotlog.recorder import anchoring as anchoring_of_a_run
from shotlog.recorder.anchoring import Anchoring
from shotlog.store.keeping.anchors import anchors_named, compare
from shotlog.store.keeping.head import head_of, uid_of
from shotlog.store.log.log import Log, open_log
from tests.made_shots import shots


def lines(folder: Path) -> list[str]:
    return next(folder.glob("*.anchors")).read_text(encoding="utf-8").splitlines()[1:]


def test_a_head_is_written_down_when_the_log_moved_on_and_the_log_says_where(log: Log, tmp_path: Path) -> None:
    folder = tmp_path / "outside"
    anchoring = Anchoring(log, folder, HandClock())
    log.append(shots(1, 3))
    heads = [head_of(log)]
    for _ in range(3):
        anchoring.turn()
    log.append(shots(4, 4))
    heads.append(head_of(log))
    anchoring.turn()
    assert [line.split()[1:] for line in lines(folder)] == [[str(one.links), one.digest, "run"] for one in heads]
    assert anchors_named(log) == [str(folder / f"{uid_of(log)}.anchors")]
    log.verify()
    assert compare(log, folder).n == 2


def test_a_start_with_nothing_new_adds_no_line_after_its_own(log: Log, tmp_path: Path) -> None:
    for _ in range(3):
        log.append(shots(1, 1))
        Anchoring(log, tmp_path / "outside", HandClock()).turn()
    assert len(lines(tmp_path / "outside")) <= 3


def test_a_folder_out_of_reach_is_said_once_and_tried_again(
    log: Log, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    folder = tmp_path / "away" / "outside"
    anchoring = Anchoring(log, folder, HandClock())
    log.append(shots(1, 1))
    with caplog.at_level(logging.ERROR):
        for _ in range(3):
            anchoring.turn()
    assert len(caplog.records) == 1
    assert "the head of the log is not written down outside" in caplog.text
    assert "logging goes on" in caplog.text
    folder.parent.mkdir()
    anchoring.turn()
    assert len(lines(folder)) == 1


def test_a_folder_that_is_misspelt_is_said_before_there_is_a_log_to_write_down(
    url: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """It was said at the end, or after a quarter of an hour; and one misspelt in its last word was made in silence."""
    with open_log(url, read_only=False) as log:
        assert not Anchoring(log, tmp_path / "mispelt" / "outside", HandClock()).turn()
        assert "outside: neither it nor the folder it lies in is there; logging goes on" in caplog.text
        caplog.clear()
        log.append(shots(1, 1))
        assert Anchoring(log, tmp_path / "mispelt", HandClock()).turn()
        assert Anchoring(log, tmp_path / "mispelt", HandClock()).turn()
    assert caplog.messages == [
        f"{tmp_path / 'mispelt'} was not there and is made: the head of the log is written down in it"
    ]


def test_without_a_folder_it_does_nothing(log: Log) -> None:
    before = head_of(log)
    anchoring = Anchoring(log, None, HandClock())
    anchoring.start()
    anchoring.turn()
    anchoring.finish()
    assert head_of(log) == before


def test_a_folder_that_hangs_holds_up_no_end(log: Log, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked, answer = threading.Event(), threading.Event()

    def hang(*_: object) -> None:
        asked.set()
        answer.wait()

    monkeypatch.setattr(anchoring_of_a_run, "write_anchor", hang)
    monkeypatch.setattr(anchoring_of_a_run, "_LAST_S", 0.01)
    log.append(shots(1, 1))
    anchoring = Anchoring(log, tmp_path / "outside", SystemClock())
    anchoring.start()
    assert asked.wait(30)
    anchoring.finish()
    log.append(shots(2, 2))
    assert log.last_shot("P25") == (2, 2)
    answer.set()
    anchoring.finish()


def test_a_log_that_is_just_begun_is_written_down_as_soon_as_it_has_a_name(
    url: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """It was said that an earlier release wrote it, and the first anchor stood there after a quarter of an hour."""
    folder = tmp_path / "outside"
    folder.mkdir()

    class Clock(HandClock):
        def wait(self, stop: threading.Event, seconds: float) -> bool:
            waited.append(seconds)
            if len(waited) == 1:
                log.append(shots(1, 1))
            return len(waited) > 1

    waited: list[float] = []
    with open_log(url, read_only=False) as log:
        Anchoring(log, folder, Clock())._go_on()
        assert head_of(log).links > 1
    assert waited[0] < 10.0 < waited[1]
    assert lines(folder)
    assert not caplog.text
