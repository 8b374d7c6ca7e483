"""A balance in the configuration: a table of its own, beside the presses; once it was written as a press."""

import json
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.clock import SystemClock
from shotlog.errors import SettingsError
from shotlog.records import Link, Weighing
from shotlog.settings import load
from shotlog.store.log.log import open_log

PRESS = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\ncollector = { kind = "recording" }\n'
LINE = 'port = "loop://"\nweighs = "P25"\ntimeout_s = 0.1\n'
BALANCE = f'[[balance]]\nname = "bench"\n{LINE}'
OLD = f'[[press]]\nname = "bench"\n[press.collector]\nkind = "serial-balance"\n{LINE}'
HINT = 'press[2] "bench" is a balance and is still taken; write it as [[balance]]'


def write(folder: Path, text: str) -> Path:
    file = folder / "trial.toml"
    file.write_text(text, encoding="utf-8")
    return file


@pytest.mark.parametrize("spelling", [BALANCE, OLD])
def test_both_spellings_are_one_balance(tmp_path: Path, spelling: str) -> None:
    settings = load(write(tmp_path, PRESS + spelling))
    assert [press.name for press in settings.presses] == ["P25"]
    assert [(one.name, one.weighs) for one in settings.balances] == [("bench", "P25")]
    assert settings.cautions == ()
    assert len(settings.hints) == (spelling == OLD)


def test_check_names_the_balance_and_hints_at_the_old_spelling(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(write(tmp_path, PRESS + BALANCE))]) == 0
    said = capsys.readouterr()
    assert "balance bench: weighs for P25\n  balance on loop://" in said.out
    assert "WARNING" not in said.out
    assert main(["check", str(write(tmp_path, PRESS + OLD))]) == 0
    told = capsys.readouterr()
    assert f"WARNING: {tmp_path / 'trial.toml'}: {HINT}" in told.out
    assert told.err == ""
    kept = [line for line in told.out.splitlines() if not line.startswith("WARNING")]
    keys = kept.index("every key as it was understood:")
    assert kept[:keys] == said.out.splitlines()[:keys], "the keys are listed as the file has them"


def test_another_command_hints_once_on_stderr(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write(tmp_path, PRESS + OLD)
    open_log(load(file).store, read_only=False).close()
    assert main(["status", str(file), "--json"]) == 0
    said = capsys.readouterr()
    assert said.err.count(HINT) == 1
    assert [one["balance"] for one in json.loads(said.out)["balances"]] == ["bench"]


def test_status_tells_what_a_balance_weighed_last(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write(tmp_path, PRESS + BALANCE)
    now = SystemClock().now()
    with open_log(load(file).store, read_only=False) as log:
        assert main(["status", str(file)]) == 0
        assert "balance bench, weighs for P25\n  connection: never tried\n  no weight yet" in capsys.readouterr().out
        log.append([Link("bench", now, "lost", "unplugged"), Weighing("P25", "bench", 10.25, now, 60.0)])
    assert main(["status", str(file), "--press", "bench"]) == 0
    said = capsys.readouterr().out
    assert "press" not in said
    assert ": unplugged\n  last weight: 10.250 g, " in said
    assert said.endswith("  faults 0\n")


def test_probe_asks_a_balance(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for words in ((), ("--press", "bench")):
        assert main(["probe", str(write(tmp_path, PRESS + BALANCE)), *words]) == 0
        said = capsys.readouterr().out
        assert said.startswith("balance bench\n")
        assert "part_weight" in said


def test_nothing_is_mounted_on_a_balance(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write(tmp_path, PRESS + BALANCE)
    assert main(["mount", str(file), "bench", "B-11"]) == 2
    assert 'press: given "bench", allowed: P25' in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (BALANCE.replace("bench", "P25"), 'balance[1].name: given "P25", allowed: each press and balance its own name'),
        (BALANCE.replace('weighs = "P25"\n', ""), "balance[1].weighs: given nothing, allowed: text"),
        ('[[press]]\nname = "P26"\ncollector = { kind = "serial-balance" }\n', "collector.weighs: given nothing"),
    ],
)
def test_a_wrong_balance_is_refused(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(SettingsError) as caught:
        load(write(tmp_path, PRESS + text))
    assert said in str(caught.value)
