"""A damaged page among old rows: every command says so in one line, the pages in their place, and none comes blank."""

import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from dashboard import Source, build
from dashboard.press.page import look
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.errors import StoreDamaged
from shotlog.recorder.judge import Judge
from shotlog.records import Insert, Mounting, Shot
from shotlog.settings import load
from shotlog.store.log.log import open_log
from shotlog.store.log.shots import columns
from tests.spoiled import spoil_older

N = 200


@pytest.fixture(scope="module")
def judged(fresh: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with some pages of shots and of verdicts, made once."""
    path, clock = tmp_path_factory.mktemp("judged") / "trial.db", HandClock()
    shutil.copy(fresh, path)
    with open_log(f"sqlite:///{path.as_posix()}", read_only=False) as log:
        log.append([Mounting("P25", "moving", Insert("B-11", "cap-r2"), 1, clock.now())])
        log.append([Shot("P25", n, n, clock.now() + timedelta(seconds=n), {"cushion": 5.0}) for n in range(1, N + 1)])
        Judge(log, "P25", {}, clock).catch_up()
    return path


@pytest.fixture
def config(judged: Path, tmp_path: Path) -> Path:
    shutil.copy(judged, tmp_path / "trial.db")
    file = tmp_path / "trial.toml"
    file.write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n',
        encoding="utf-8",
    )
    return file


def test_what_is_read_on_the_drivers_own_cursor_is_told_as_ours(config: Path) -> None:
    """The driver's error came through as it was, and ended whoever read with a traceback."""
    spoil_older(config.with_name("trial.db"), "shots")
    with open_log(load(config).store) as log:
        with pytest.raises(StoreDamaged, match="is malformed"), log.reading() as connection:
            columns(connection, "P25", ("cushion",))
        assert isinstance(log.trouble, StoreDamaged)


@pytest.mark.parametrize("table", ["shots", "verdicts"])
def test_every_command_says_it_in_one_line(config: Path, table: str, capsys: pytest.CaptureFixture[str]) -> None:
    spoil_older(config.with_name("trial.db"), table)
    refused = set()
    for words in ("status", "review", "explain P25 100", "parts P25", "inserts"):
        name, *more = words.split()
        status = main([name, str(config), *more])
        err = capsys.readouterr().err.splitlines()
        if status == 0 or err[0].startswith("shotlog status: STALE"):
            continue  # it had no use for that page
        refused.add(name)
        (line,) = err
        assert line.startswith(f"shotlog {name}: log sqlite:///")
        assert "is malformed (a page of its file is damaged: look with `shotlog verify`; `shotlog run` sets" in line
    assert refused >= {"review", "parts" if table == "shots" else "inserts"}


def test_the_press_page_says_that_the_log_is_damaged(config: Path) -> None:
    """It stayed an empty box, and ``/healthz`` said that all was well."""
    clock = HandClock()
    source = Source(load(config), clock)
    client = build(source).server.test_client()
    context = Context(source, PressReader(source), HeldReader(source), [])
    assert look(context, clock.now())["P25"][1].headline != "The log is damaged"
    spoil_older(config.with_name("trial.db"), "shots")
    source.reading().close()  # what it read before it need not read again
    context = Context(source, PressReader(source), HeldReader(source), [])
    fresh, said = look(context, clock.now())["P25"]
    assert fresh is None
    assert (said.sign, said.headline, said.current) == ("cut", "The log is damaged", False)
    assert "is malformed (a page of its file is damaged: look with `shotlog verify`" in said.sentence
    assert "Start `shotlog run` again" in said.check
    answer = client.get("/healthz")
    assert (answer.status_code, answer.get_json()["state"]) == (503, "log damaged")
    clock.advance(61)  # nobody met it since
    assert client.get("/healthz").get_json()["state"] != "log damaged"
    source.close()
