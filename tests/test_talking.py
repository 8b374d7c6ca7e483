"""What is said goes to a screen and a text log, and waits for neither."""

import io
import logging
import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TextIO

import pytest

from shotlog import talking as module
from shotlog.own_python import own_environment, own_python
from shotlog.talking import Said, keep_text, talking

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


class Pipe:
    """A pipe as a screen: `screen` is the end that is written to, `read` takes what arrived at the other."""

    def __init__(self) -> None:
        self._out, into = os.pipe()
        self.screen: TextIO = os.fdopen(into, "w", encoding="utf-8")

    def close_reader(self) -> None:
        os.close(self._out)
        self._out = -1

    def lines(self, last: str) -> list[str]:
        """Read until a line `last`."""
        found: list[str] = []
        with open(self._out, encoding="utf-8", closefd=False) as reading:
            for line in reading:
                found.append(line.rstrip("\n"))
                if found[-1] == last:
                    return found
        raise AssertionError(f"no {last!r}: {found[-3:]}")

    def close(self) -> None:
        if self._out >= 0:
            os.close(self._out)
        self.screen.close()


@pytest.fixture
def pipe() -> Iterator[Pipe]:
    made = Pipe()
    yield made
    made.close()


def said(pipe: Pipe) -> Said:
    return Said(pipe.screen, lambda: NOW)


def kept(file: Path) -> list[str]:
    return [line.partition(" ")[2] for line in file.read_text(encoding="utf-8").splitlines()]


def test_a_screen_that_nobody_reads_holds_up_nobody_and_what_it_misses_is_counted(pipe: Pipe, tmp_path: Path) -> None:
    talk = said(pipe)
    talk.keep(tmp_path / "trial.log", 10.0)
    spoken = [f"{n} {'x' * 100}" for n in range(5000)]
    for line in spoken[:-1]:
        print(line, file=talk)  # 500 kB: a pipe takes 64
        while len(talk._kept._lines) > 900:  # type: ignore[union-attr]  # a disk that is slower than this loop
            pass
    shown = []
    reader = threading.Thread(target=lambda: shown.extend(pipe.lines(spoken[-1])))
    reader.start()
    assert talk._shown is not None
    assert talk._shown.settle(module.time.monotonic() + 60)
    print(spoken[-1], file=talk)
    reader.join(60)
    assert talk.last_words()
    notices = [line for line in shown if "not shown" in line]
    assert [line for line in shown if line not in notices] == [*spoken[: len(shown) - 2], spoken[-1]]
    assert notices == [
        f"{len(spoken) - len(shown) + 1} lines not shown here, because nobody read them; "
        f"they are in {tmp_path / 'trial.log'}"
    ]
    assert kept(tmp_path / "trial.log") == spoken


def test_the_end_does_not_wait_long_for_a_screen_that_nobody_reads(pipe: Pipe, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", pipe.screen)
    monkeypatch.setattr(module, "_LAST_WORDS_S", 0.0)
    with talking():
        print("x" * 4000 * 30, file=sys.stderr)
        for _ in range(30):
            print("x" * 4000, file=sys.stderr)
    assert isinstance(sys.stderr, Said), "who still speaks must not wait for that screen either"


def test_a_closed_screen_and_none_at_all_are_nothing_to_stop_for(pipe: Pipe, tmp_path: Path) -> None:
    pipe.close_reader()
    for name, talk in (("closed", said(pipe)), ("none", Said(None, lambda: NOW))):
        talk.keep(tmp_path / name, 1.0)
        print("one\ntwo", file=talk)
        assert talk.last_words()
        assert kept(tmp_path / name) == ["one", "two"]
    assert Said(None).isatty() is False
    with pytest.raises(OSError, match="no screen"):
        Said(None).fileno()


@pytest.mark.skipif(os.name == "nt", reason="there is no such number of a file there")
def test_no_file_is_opened_where_a_library_may_write() -> None:
    """As a service starts it: all three standard places closed."""
    script = (
        "import os\nfor place in (0, 1, 2): os.close(place)\n"
        "from shotlog.talking import talking\n"
        "with talking(): taken = os.open(os.devnull, os.O_RDONLY)\n"
        "os._exit(taken)"
    )
    assert subprocess.run(own_python("-c", script), env=own_environment(), timeout=60).returncode > 2


def test_the_text_log_has_the_same_lines_with_date_and_zone(pipe: Pipe, tmp_path: Path) -> None:
    talk = said(pipe)
    talk.keep(tmp_path / "trial.log", 1.0)
    print("07:00:01 P25: shot 3  cushion 5.00 mm\nµ and ♥", file=talk)
    assert talk.last_words()
    stamp = NOW.astimezone().isoformat(timespec="seconds")
    text = (tmp_path / "trial.log").read_text(encoding="utf-8")
    assert text == f"{stamp} P25: shot 3  cushion 5.00 mm\n{stamp} µ and ♥\n"
    assert pipe.lines("µ and ♥") == ["07:00:01 P25: shot 3  cushion 5.00 mm", "µ and ♥"]


def test_a_password_is_neither_shown_nor_kept(pipe: Pipe, tmp_path: Path) -> None:
    talk = said(pipe)
    talk.keep(tmp_path / "trial.log", 1.0)
    print("no answer from postgresql://ann:hush@db/log", file=talk)
    assert talk.last_words()
    line = "no answer from postgresql://ann:***@db/log"
    assert pipe.lines(line) == [line]
    assert kept(tmp_path / "trial.log") == [line]


def test_the_text_log_does_not_grow_beyond_what_is_asked_for(pipe: Pipe, tmp_path: Path) -> None:
    talk = said(pipe)
    talk.keep(tmp_path / "trial.log", 0.02)
    for n in range(900):
        print(f"{n:03} {'x' * 60}", file=talk)
    assert talk.last_words()
    files = sorted(tmp_path.iterdir())
    assert [one.name for one in files] == ["trial.log", *(f"trial.log.{n}" for n in range(1, 5))]
    assert sum(one.stat().st_size for one in files) <= 20_000
    assert kept(files[0])[-1].startswith("899 ")


def test_a_text_log_that_cannot_be_written_is_said_once_and_tried_on(pipe: Pipe, tmp_path: Path) -> None:
    file = tmp_path / "away" / "trial.log"
    talk = said(pipe)
    talk.keep(file, 1.0)
    for line in ("one", "two", "three"):
        print(line, file=talk)
    assert talk._kept is not None
    assert talk._kept.settle(module.time.monotonic() + 60)
    file.parent.mkdir()
    print("four", file=talk)
    assert talk._kept.settle(module.time.monotonic() + 60)
    assert talk.last_words()
    shown = pipe.lines(f"{file} can be written again")
    said_once = [line for line in shown if "cannot be written: No such file" in line]
    assert len(said_once) == 1
    assert said_once[0].endswith("; what is said is not kept there")  # it may be the last word of one that ends
    assert {"one", "two", "three", "four"} <= set(shown)
    assert kept(file)[-2:] == ["3 lines not kept", "four"]


def test_everything_the_process_says_goes_that_way(pipe: Pipe, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", pipe.screen)
    logger = logging.getLogger("of this test")
    with talking():
        keep_text(tmp_path / "trial.log", 1.0)
        handler = logging.StreamHandler()
        logger.addHandler(handler)
        print("a print", file=sys.stderr)
        logger.error("a complaint")
        try:
            raise ValueError("of a thread")
        except ValueError as error:
            sys.excepthook(type(error), error, None)
        sys.stderr.write("an unfinished ")
        sys.stderr.write("line")
    logger.removeHandler(handler)
    assert sys.stderr is pipe.screen
    lines = kept(tmp_path / "trial.log")
    assert lines[:2] == ["a print", "a complaint"]
    assert "ValueError: of a thread" in lines
    assert lines[-1] == "an unfinished line"
    assert pipe.lines("a print") == ["a print"]


def test_lines_of_two_threads_do_not_mix() -> None:
    screen = io.StringIO()
    talk = Said(screen)
    half = threading.Barrier(2)

    def speak(word: str) -> None:
        talk.write(word)
        half.wait(60)
        talk.write(f"{word}\n")

    others = [threading.Thread(target=speak, args=(word,)) for word in ("ab", "cd")]
    for one in others:
        one.start()
    for one in others:
        one.join()
    assert talk.last_words()
    assert sorted(screen.getvalue().splitlines()) == ["abab", "cdcd"]
