"""One logger a configuration and a log; the second is told who the first is."""

import json
import os
import platform
import subprocess
import sys
from pathlib import Path

import pytest

from shotlog.errors import StoreHeld
from shotlog.store.holding import Holder, held


@pytest.fixture
def store(tmp_path: Path) -> str:
    return f"sqlite:///{(tmp_path / 'trial.db').as_posix()}"


@pytest.fixture
def config(tmp_path: Path) -> Path:
    path = tmp_path / "press.toml"
    path.touch()
    return path


def test_a_second_logger_of_a_configuration_is_told_who_the_first_is(config: Path, store: str) -> None:
    with held(config, store, ["P25"]), pytest.raises(StoreHeld) as caught, held(config, store, ["P25"]):
        pass
    said = str(caught.value)
    assert said.startswith(
        f"configuration {config} is logged already, by process {os.getpid()} on {platform.node()}, since 20"
    )
    assert said.endswith(f"with {config}; end that one first")
    assert "\n" not in said


def test_a_log_of_two_configurations_has_one_holder(config: Path, store: str, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere" / "press.toml"
    other.parent.mkdir()
    other.touch()
    said = f"log {tmp_path / 'trial.db'} is logged already, by process .* with {config}"
    with held(config, store, ["P25"]), pytest.raises(StoreHeld, match=said), held(other, store, ["P15"]):
        pass
    with held(other, store, ["P15"]):
        pass


def test_what_is_ended_is_free(config: Path, store: str, tmp_path: Path) -> None:
    for _ in range(2):
        with held(config, store, ["P25"]):
            assert json.loads((tmp_path / "trial.db.holder").read_text())["process"] == os.getpid()
    assert not (tmp_path / "trial.db.holder").exists()


HOLD_AND_DIE = """
import os, sys
from pathlib import Path
from shotlog.store.holding import Holder
holder = Holder(Path(sys.argv[1]), sys.argv[2], ["P25"])
holder.hold()
print("held", flush=True)
sys.stdin.readline()
os._exit(9)
"""


def test_a_logger_that_was_killed_holds_nothing(config: Path, store: str) -> None:
    command = [sys.executable, "-c", HOLD_AND_DIE, str(config), store]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as first:
        assert first.stdout is not None
        assert first.stdin is not None
        assert first.stdout.readline() == "held\n"
        with pytest.raises(StoreHeld, match=f"by process {first.pid} on "), held(config, store, ["P25"]):
            pass
        first.stdin.write("\n")
        first.stdin.flush()
        assert first.wait(timeout=60) == 9
    with held(config, store, ["P25"]):
        pass


def test_a_lock_that_is_deleted_with_the_log_is_taken_anew(config: Path, store: str, tmp_path: Path) -> None:
    with held(config, store, ["P25"]) as first:
        for one in tmp_path.glob("trial.db*"):
            one.unlink()
        first.hold()
        with pytest.raises(StoreHeld), held(tmp_path / "other.toml", store, ["P25"]):
            pass


def test_a_folder_that_is_away_at_the_start_is_held_once_it_is_there(config: Path, tmp_path: Path) -> None:
    folder = tmp_path / "share"
    store = f"sqlite:///{(folder / 'trial.db').as_posix()}"
    with held(config, store, ["P25"]) as holder:
        assert not folder.exists()
        folder.mkdir()
        holder.hold()
        with pytest.raises(StoreHeld):
            Holder(tmp_path / "other.toml", store, ["P25"]).hold()


def test_holder_that_cannot_be_read_is_another_program(config: Path, store: str, tmp_path: Path) -> None:
    with held(config, store, ["P25"]):
        (tmp_path / "press.toml.holder").write_text("{")
        with pytest.raises(StoreHeld, match="already, by another program; end that one first"), held(config, store, []):
            pass
