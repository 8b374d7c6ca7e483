"""A real `run` backed up while it writes, its head written down outside, and every way in which a log can be less."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.settings import load
from shotlog.store.log.log import open_log
from tests.end_to_end.running import Run, ServedPress, expected, write_config


def said(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    capsys.readouterr()
    status = main([str(word) for word in words])
    return status, *capsys.readouterr()


def cut_off(path: Path, n: int) -> None:
    """Take the last transactions out with all that they wrote: what is left is a chain in order."""
    with closing(sqlite3.connect(path)) as connection:
        for number, rows in connection.execute("SELECT id, rows FROM ledger ORDER BY id DESC LIMIT ?", (n,)).fetchall():
            for table, _, row in (word.partition(":") for word in rows.split()):
                connection.execute(f"DELETE FROM {table} WHERE id = ?", (row,))
            connection.execute("DELETE FROM ledger WHERE id = ?", (number,))
        connection.commit()


def test_a_log_is_backed_up_while_it_runs_and_a_lesser_one_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        text = config.read_text(encoding="utf-8").replace("[log]\n", '[log]\nanchor = "outside"\n')
        config.write_text(text, encoding="utf-8")
        with Run(config) as run:
            for number in range(1, 21):
                press.offer(number)
                run.wait_for(f"P25: shot {number} ")
            status, told, _ = said(capsys, "backup", config, "--out", tmp_path / "day.zip")
            assert status == 0
            digest = told.strip().rpartition(" ")[2]
            status, _, err = said(capsys, "restore", config, tmp_path / "day.zip", "--force")
            assert status == 1
            assert f"by process {run.process.pid} on " in err
            press.offer(21)
            run.wait_for("P25: shot 21 ")
            assert run.stop() == 0
    status, told, _ = said(capsys, "verify", config, "--expect", digest)
    assert status == 0
    n = int(told.splitlines()[-1].partition(" transactions")[0].rpartition(" ")[2])
    confirmed = re.search(f"confirmed from outside up to transaction ([0-9]+) of {n}", told)
    assert confirmed is not None
    known = int(confirmed[1])
    assert known <= n

    (tmp_path / "new").mkdir()
    again = tmp_path / "new" / "press.toml"
    assert said(capsys, "restore", again, tmp_path / "day.zip")[0] == 0
    assert said(capsys, "verify", again, "--expect", digest)[0] == 0
    with open_log(load(again).store) as log:
        assert {one.shot: one.values for one in log.logged("P25")} == {n: expected(n) for n in range(1, 21)}

    cut_off(tmp_path / "trial.db", n - known + 3)
    status, _, err = said(capsys, "verify", config)
    assert status == 1
    assert f"its end is missing: {known} transactions were written down on " in err
    assert len(err.splitlines()) == 1
