"""A day logged to a server is the one logged to a file, to the last digest; and it goes out and in again whole."""

import uuid
from collections.abc import Iterator
from datetime import timedelta
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy.engine import make_url

from shotlog.cli.main import main
from shotlog.clock import HandClock, iso_utc
from shotlog.recorder import Judge
from shotlog.records import ClockStep, Fault, Gap, Link, SetPoint, Shot, Weighing
from shotlog.store.inserts import entries
from shotlog.store.log import transaction
from shotlog.store.log.clock_steps import steady_seconds
from shotlog.store.log.log import Log, open_log
from shotlog.store.undo import take_back
from tests.made_shots import START, moulded, shots
from tests.postgres import Server

ODD_TEXT = "µ Ω — 50 % \\n 'quoted' \"twice\" \n\t İß 𝔘 \U0001f9ea"
ODD_NUMBERS = (0.1 + 0.2, 5e-324, 1.7976931348623157e308, -0.0, 1e22, 1 / 3, 123456789.123456789, 5.0)
CONFIG = """[log]
store = "{}"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
"""
ODD_SERVER = {
    "timezone": "'Asia/Kathmandu'", "extra_float_digits": "-3", "synchronous_commit": "off", "bytea_output": "escape",
    "default_transaction_isolation": "serializable", "datestyle": "'German, DMY'", "client_encoding": "LATIN1",
    "standard_conforming_strings": "on", "enable_seqscan": "off", "enable_sort": "off", "jit": "off",
}  # fmt: skip
"""What a database can be set to and may not matter: PostgreSQL manual, "Client Connection Defaults"."""


@pytest.fixture(scope="module", autouse=True)
def _a_day_that_comes_again() -> Iterator[None]:
    """A log's name is drawn by chance, at a time of day: here the same in each."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(transaction.uuid, "uuid4", lambda: uuid.UUID(int=7))
        patch.setattr(transaction, "SystemClock", HandClock)
        yield


def a_day(log: Log) -> None:
    """Log shots with all that comes with them, entries and judgements."""
    entries.mount(log, "P25", "B-11", START, half="moving", at_shot=0, design="cap-r2", initials="KB")
    judge, odd = Judge(log, "P25", {}, HandClock()), count()
    for n in range(1, 31):
        values = {"cushion": 5.0 - 0.03 * max(0, n - 18) + 0.01 * (n % 3), "peak_pressure": 521.5 + n % 4}
        if n % 3 == 0:
            values["fill_time"] = ODD_NUMBERS[next(odd) % len(ODD_NUMBERS)]
        set_points = {
            "hold": SetPoint(380.0 if n < 20 else 0.1 + 0.2, "bar"),
            "program": SetPoint(ODD_TEXT[:30].strip()),
        }
        log.append([Shot("P25", n, n % 65536, moulded(n), values, set_points=set_points)], origin=f"P25 {n}")
        judge.catch_up()
    log.append(
        [
            Fault("P25", moulded(41), "torn", ODD_TEXT, bytes(range(256))),
            Gap("P25", 41, 44, moulded(45), "counter went on", 2**40, 2**62),
            Link("P25", moulded(46), "lost", ""),
            ClockStep(moulded(46), -3600.000001, ODD_TEXT, True),
            Weighing("P25", "bench", 12.340000000000001, moulded(30) + timedelta(seconds=20), 40.0, b"\x0012.34"),
        ]
    )
    entries.note(log, "P25", "lot", ODD_TEXT.strip(), moulded(47), at_shot=20)
    take_back(log, "events", 1, moulded(48), "mistyped")
    judge.catch_up()


def told(log: Log) -> tuple[object, ...]:
    """Return all that is said of it, and its digest."""
    frames = [frame.to_csv() for frame in (log.shots(), log.verdicts(), log.signals(), log.inserts(), log.set_points())]
    with log.reading() as connection:
        made = steady_seconds(connection, "P25", [iso_utc(moulded(n)) for n in range(1, 31)], 1, 30).tolist()
    return *frames, made, log.verify()


@pytest.fixture(scope="module")
def in_file(tmp_path_factory: pytest.TempPathFactory) -> tuple[object, ...]:
    """What is said of the day where a file has it."""
    path = tmp_path_factory.mktemp("day") / "day.db"
    with open_log(f"sqlite:///{path.as_posix()}", read_only=False) as log:
        a_day(log)
        return told(log)


def test_a_day_on_a_server_that_is_set_up_oddly_is_the_one_in_a_file(
    server: Server, server_url: str, in_file: tuple[object, ...]
) -> None:
    name = make_url(server_url).database
    server.run(*(f'ALTER DATABASE "{name}" SET {setting} = {value}' for setting, value in ODD_SERVER.items()))
    with open_log(server_url, read_only=False) as log:
        a_day(log)
        assert told(log) == in_file
    with open_log(server_url) as log:
        assert told(log) == in_file


def test_a_log_goes_out_of_a_server_and_in_again_whole(
    server: Server, server_url: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The commands are those of the guide."""
    with open_log(server_url, read_only=False) as log:
        log.append(shots(1, 30))
        digest = log.verify()[1]
    config, name, out = tmp_path / "trial.toml", str(make_url(server_url).database), tmp_path / "trial.dump"
    config.write_text(CONFIG.format(server_url), encoding="utf-8")
    server.program("pg_dump", "--format=custom", f"--file={out}", name)
    server.drop(make_url(server_url))
    assert main(["verify", str(config), "--expect", digest]) == 1
    server.make_named(name, "template0", "ENCODING 'UTF8'")
    server.program("pg_restore", "--exit-on-error", f"--dbname={name}", str(out))
    assert main(["verify", str(config), "--expect", digest]) == 0, capsys.readouterr().err
    with open_log(server_url, read_only=False) as log:
        log.append(shots(31, 32))
        assert (log.verify()[0], log.last_shot("P25")) == (2, (32, 32))
