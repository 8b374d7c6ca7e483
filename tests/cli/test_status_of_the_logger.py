"""A logger that hangs is a failure for `status` and for ``/healthz``; one that ended when asked is none."""

import json
import re
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from dash import Dash
from flask.testing import FlaskClient

from dashboard import Source, build
from shotlog.cli.main import main
from shotlog.clock import SystemClock, parse_utc
from shotlog.recorder.noting import Noting
from shotlog.recorder.outbox import Outbox
from shotlog.records import Link, Shot
from shotlog.settings import load
from shotlog.store.asked.heartbeat import Beat, beat, this_host, written
from shotlog.store.log.journal import Batch, Journal
from shotlog.store.log.journal_note import Note
from shotlog.store.log.journal_place import journal_place, spare_note
from shotlog.store.log.log import Log

Say = Callable[..., tuple[int, str, str]]


@pytest.fixture
def config(log: Log, tmp_path: Path) -> Path:
    file = tmp_path / "c.toml"
    file.write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
        '[[press]]\nname = "P15"\n[press.collector]\nkind = "recording"\n',
        encoding="utf-8",
    )
    return file


@pytest.fixture
def status(config: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    def say(*options: str) -> tuple[int, str, str]:
        code = main(["status", str(config), *options])
        return (code, *capsys.readouterr())

    return say


def sign(age_s: float, **more: object) -> Beat:
    now = datetime.now(UTC) - timedelta(seconds=age_s)
    given = {"silent": {}, "unjudged": 0, "ended": False, **more}
    return Beat(9, now, now - timedelta(hours=1), time.monotonic() - age_s, this_host(), 4711, **given)  # type: ignore[arg-type]


def test_a_logger_at_work_is_fine(log: Log, status: Say) -> None:
    beat(log, sign(3.0, unjudged=4, gets_ready_s=9.0))
    code, out, err = status()
    assert (code, err) == (0, "")
    assert "logging: at work since " in out
    assert "judging gets ready; 4 shots are logged and wait to be judged" in out
    now = datetime.now(UTC)
    log.append([Shot("P25", n, n, now - timedelta(seconds=age), {"cushion": 4.9}) for n, age in ((1, 70), (2, 5))])
    log.append([Shot("P15", 1, 1, now, {"cushion": 4.9})])
    assert [one["needs"] for one in json.loads(status("--json")[1])["presses"]] == [[], []], "it only gets ready"
    beat(log, sign(3.0, waits_s={"P25": 65.0, "P15": 0.0}))
    late, fresh = json.loads(status("--json")[1])["presses"]
    assert (late["needs"], late["unjudged"]["shots"], late["unjudged"]["first"]) == (["unjudged"], 2, 1)
    assert (fresh["needs"], fresh["unjudged"]["shots"]) == ([], 1), "a verdict follows within a second"
    said = status()[1]
    assert "press P25" in said.split("press P15")[0], "first who needs a person"
    assert re.search(r"NOT JUDGED: 2 shots have waited for a verdict since [\d: +-]+, from shot 1 on", said)


@pytest.mark.parametrize(
    "told",
    [
        {"gets_ready_s": 9.0},  # started again after a weekend, the last shot of before unjudged
        {"waits_s": {"P25": 4.0}},  # drained out of the journal a moment ago
        {"waits_s": {}},  # taken in from a file a moment ago
        {"since": 2.0},  # of an earlier release, which tells only when it began
    ],
)
def test_old_shots_need_nobody_where_they_could_only_just_be_judged(
    log: Log, status: Say, told: dict[str, Any]
) -> None:
    began, now = told.pop("since", 3600.0), datetime.now(UTC)
    beat(log, replace(sign(1.0, **told), since=now - timedelta(seconds=began)))
    old = now - timedelta(days=3)
    log.append([Shot("P25", n, n, old + timedelta(minutes=n), {"cushion": 4.9}) for n in (1, 2)])
    code, out, err = status()
    assert (code, err, "NOT JUDGED" in out) == (0, "", False)
    (press,) = json.loads(status("--json", "--press", "P25")[1])["presses"]
    assert (press["needs"], press["unjudged"]["shots"]) == (["quiet"], 2)


def test_a_logger_that_hangs_is_a_failure_in_one_line(log: Log, status: Say) -> None:
    beat(log, sign(31.0))
    code, out, err = status()
    assert code == 1
    assert "logging: STALE, no sign of life since " in out
    (line,) = err.splitlines()
    assert line.startswith(
        f"shotlog status: STALE: no sign of life of the logger (process 4711 on {this_host()}) since "
    )
    assert "no shots wait in its journal. The end of " in line
    assert "trial.db.c.log says whether it is at work and cannot reach the log" in line
    assert line.endswith("start shotlog run again")
    code, out, _ = status("--json")
    assert code == 1
    assert json.loads(out)["logging"]["state"] == "stale"


def test_a_press_whose_thread_hangs_is_a_failure(log: Log, status: Say) -> None:
    beat(log, sign(1.0, silent={"P25": 250.0}))
    code, _, err = status()
    assert code == 1
    assert re.search(r"NOT READ: P25 since [^,]+, for 4 min, by a logger that is at work", err)
    logging = json.loads(status("--json")[1])["logging"]
    since = parse_utc(logging["silent_since"]["P25"])
    assert (parse_utc(logging["last_beat"]) - since).total_seconds() == logging["silent"]["P25"] == 250.0


def test_one_that_ended_when_asked_is_none_however_long_ago_nor_one_that_never_was(log: Log, status: Say) -> None:
    code, out, err = status()
    assert (code, err) == (0, "")
    assert "logging: never seen" in out
    beat(log, sign(1e5, ended=True))
    code, out, err = status()
    assert (code, err) == (0, "")
    assert "logging: ended at " in out


def test_a_press_that_is_lost_is_said_and_is_no_failure_of_the_logger(log: Log, status: Say) -> None:
    log.append([Link("P15", datetime(2026, 1, 5, 6, tzinfo=UTC), "lost", "no answer")])
    beat(log, sign(1.0))
    code, out, _ = status("--json")
    assert code == 0
    assert json.loads(out)["logging"]["presses_lost"] == {"P15": "2026-01-05T06:00:00.000000Z"}


def test_shots_that_wait_in_the_journal_are_counted_and_nothing_is_made(log: Log, status: Say, config: Path) -> None:
    before = sorted(config.parent.iterdir())
    assert json.loads(status("--json")[1])["logging"]["shots_waiting"] == 0
    assert sorted(config.parent.iterdir()) == before
    journal = Journal(journal_place(load(config)))
    journal.open()
    journal.append(Batch("o", (Shot("P25", 1, 1, datetime(2026, 1, 5, 6, tzinfo=UTC), {}),)))
    assert json.loads(status("--json")[1])["logging"]["shots_waiting"] == 1
    assert "1 shot waits in the journal" in status()[1]


@pytest.fixture
def client(config: Path, log: Log) -> FlaskClient:
    app: Dash = build(Source(load(config)))
    return app.server.test_client()


def test_healthz_says_the_same_by_its_status(log: Log, client: FlaskClient) -> None:
    for one, code, ok, state in (
        (sign(2.0), 200, True, "running"),
        (sign(31.0), 503, False, "stale"),
        (sign(2.0, silent={"P25": 250.0}), 503, False, "silent press"),
        (sign(2.0, ended=True), 503, False, "ended"),
    ):
        beat(log, one)
        answer = client.get("/healthz")
        assert answer.status_code == code
        assert answer.headers["Cache-Control"] == "no-store"
        said = answer.get_json()
        assert (said["ok"], said["state"]) == (ok, state)
    assert set(said) == {
        "ok", "state", "since", "last_beat", "stale_after_s", "host", "process", "silent", "silent_since",
        "presses_lost", "unjudged",
        "shots_waiting", "shots_in_memory", "waiting_since", "disks", "disk_free_mb", "backup",
    }  # fmt: skip


def test_healthz_without_a_log_tells_no_places(tmp_path: Path, config: Path) -> None:
    config.write_text(config.read_text(encoding="utf-8").replace("trial.db", "none.db"), encoding="utf-8")
    answer = build(Source(load(config))).server.test_client().get("/healthz")
    assert answer.status_code == 503
    assert answer.get_json() == {"ok": False, "state": "log cannot be read"}


def locked(config: Path, one: Beat, unsafe: int = 0, waits: bool = True) -> None:
    """Note in the journal what a logger notes while the log is locked."""
    journal = Journal(journal_place(load(config)))
    journal.open()
    since = one.time - timedelta(minutes=5) if waits else None
    journal.note(Note(one.time, "a log", {}, 58, unsafe, since, "database is locked", (), written(one)))


def test_a_sound_logger_whose_log_is_locked_is_not_called_stale(
    log: Log, status: Say, client: FlaskClient, config: Path
) -> None:
    """It was, after 30 s, and whoever watches would have started it anew."""
    beat(log, sign(300.0))
    locked(config, replace(sign(2.0), since=sign(300.0).since, count=70))
    code, out, err = status()
    assert code == 1
    assert "STALE" not in out + err
    assert "but the log is not written" in out
    (line,) = err.splitlines()
    assert line.startswith("shotlog status: log not written since ")
    assert f": logging goes on (process 4711 on {this_host()}); 58 shots wait in the journal " in line
    assert "(database is locked)" in line
    answer = client.get("/healthz")
    assert answer.status_code == 200
    said = answer.get_json()
    assert (said["ok"], said["state"], said["shots_waiting"]) == (True, "log not written", 58)


def test_healthz_fails_where_shots_are_in_memory_only_or_it_is_stale_after_all(
    log: Log, client: FlaskClient, config: Path
) -> None:
    beat(log, sign(300.0))
    for one, unsafe, code, state in (
        (sign(2.0), 3, 503, "log not written"),
        (sign(31.0), 0, 503, "stale"),
        (sign(2.0, silent={"P25": 250.0}), 0, 503, "silent press"),
        (sign(2.0, ended=True), 0, 503, "ended"),
        (sign(2.0), 0, 200, "log not written"),
    ):
        locked(config, replace(one, count=70), unsafe)
        answer = client.get("/healthz")
        assert (answer.status_code, answer.get_json()["state"]) == (code, state)


def test_shots_in_memory_only_are_told_where_the_journal_can_not_even_be_made(
    log: Log, status: Say, client: FlaskClient, config: Path
) -> None:
    """Only the terminal said it; `status` said that no shots wait, and to end it."""
    settings, one = load(config), replace(sign(2.0), count=70)
    beat(log, sign(300.0))
    place = journal_place(settings)
    held = SimpleNamespace(
        n_waiting=0,
        n_unsafe=22,
        since=one.time,
        why="database is locked",
        seen=None,
        kind="locked",
        by_press={"P25": 22},
    )
    outbox = cast("Outbox", held)
    noting = Noting(Journal(place), outbox, SystemClock(), "a log", lambda: one, spare_note(settings))
    noting.turn(at_once=True)
    code, _, err = status()
    assert code == 1
    assert "logging goes on" in err
    assert "22 shots are IN MEMORY ONLY and not safe yet: make room, do not switch off" in err
    answer = client.get("/healthz")
    assert (answer.status_code, answer.get_json()["shots_in_memory"]) == (503, 22)
    Journal(place).open()
    noting.turn(at_once=True)
    assert not spare_note(settings).exists()


def test_what_the_log_says_counts_once_it_is_written_again(log: Log, status: Say, config: Path) -> None:
    locked(config, sign(20.0))
    beat(log, replace(sign(1.0), count=71))
    assert status()[0] == 0
    locked(config, replace(sign(0.5), count=72), waits=False)
    assert status()[0] == 0


def test_healthz_without_a_log_hears_a_logger_that_goes_on(tmp_path: Path, config: Path) -> None:
    config.write_text(config.read_text(encoding="utf-8").replace("trial.db", "none.db"), encoding="utf-8")
    locked(config, sign(2.0))
    answer = build(Source(load(config))).server.test_client().get("/healthz")
    said = answer.get_json()
    assert (answer.status_code, said["state"], said["shots_waiting"]) == (200, "log not written", 58)
    assert "none.db" not in answer.text
