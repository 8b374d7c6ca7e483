"""Places for what libraries keep, for a user without a home on packages that may not be written to."""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import pytest

from shotlog import writable_folders as places
from shotlog.cli.main import COMMANDS
from shotlog.wear.compiled import compiler

NEVER = Path(os.devnull) / "none"
"""A folder that not even the administrator can make."""


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """No home, packages that may not be written to, nothing set."""
    monkeypatch.setattr(places, "_BESIDE_CODE", NEVER)
    places._own_temporary.cache_clear()
    for name in ("NUMBA_CACHE_DIR", "MPLCONFIGDIR"):
        monkeypatch.setenv(name, "")  # so that it is put back afterwards
        monkeypatch.delenv(name)
    for name in ("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA", "USERPROFILE"):
        monkeypatch.setenv(name, str(NEVER))
    return monkeypatch


def chosen() -> tuple[str | None, str | None]:
    return os.environ.get("NUMBA_CACHE_DIR"), os.environ.get("MPLCONFIGDIR")


def test_where_nothing_else_may_be_written_it_lies_beside_the_log(bare: pytest.MonkeyPatch, tmp_path: Path) -> None:
    places.find_places(tmp_path)
    cache = tmp_path / "shotlog-cache"
    assert chosen() == (str(cache / "compiled"), str(cache / "fonts"))
    assert places.compiles_anew() == ""


def test_the_cache_folder_of_the_user_goes_before_that(bare: pytest.MonkeyPatch, tmp_path: Path) -> None:
    bare.setattr(places, "_cache_folder", lambda: tmp_path / "cache")
    places.find_places(tmp_path)
    assert chosen() == (str(tmp_path / "cache" / "compiled"), None)


def test_what_is_set_and_may_be_written_goes_before_all(bare: pytest.MonkeyPatch, tmp_path: Path) -> None:
    bare.setenv("NUMBA_CACHE_DIR", str(tmp_path / "set"))
    bare.setenv("MPLCONFIGDIR", str(tmp_path / "fonts"))
    places.find_places(tmp_path)
    assert chosen() == (str(tmp_path / "set"), str(tmp_path / "fonts"))


def test_what_is_set_and_may_not_be_written_is_passed_over(bare: pytest.MonkeyPatch, tmp_path: Path) -> None:
    bare.setenv("NUMBA_CACHE_DIR", str(NEVER))
    places.find_places(tmp_path)
    assert chosen()[0] == str(tmp_path / "shotlog-cache" / "compiled")


@pytest.mark.skipif(os.name == "nt", reason="folders there have no such owner")
def test_nothing_is_executed_that_others_could_have_put_there(bare: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "shotlog-cache").mkdir()
    (tmp_path / "shotlog-cache").chmod(0o777)
    places.find_places(tmp_path)
    taken = Path(chosen()[0] or "").parent
    assert taken.name.startswith("shotlog-")
    assert taken.parent == Path(tempfile.gettempdir())
    assert taken.stat().st_mode & 0o077 == 0
    assert "judging gets ready anew at each start" in places.compiles_anew()


def test_without_any_place_it_is_said_and_compiled_in_memory(bare: pytest.MonkeyPatch) -> None:
    bare.setattr(tempfile, "mkdtemp", lambda **_: (_ for _ in ()).throw(PermissionError(13, "Permission denied")))
    places.find_places(NEVER)
    assert chosen() == (None, None)
    assert "NUMBA_CACHE_DIR" in places.compiles_anew()


def test_an_inner_loop_that_can_be_kept_nowhere_is_compiled_for_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    made = []

    class Compiler:
        def njit(self, *given: Any, **how: Any) -> Any:
            if how.get("cache"):
                return lambda kernel: (_ for _ in ()).throw(RuntimeError("cannot cache function: no locator"))
            made.append(given)
            return given[0]

    monkeypatch.setattr(compiler, "numba", Compiler())
    monkeypatch.setattr(compiler, "KERNELS", [])
    assert compiler.compiled(len) is len
    assert made == [(len,)]


def test_a_command_loads_the_compiler_after_a_place_was_found(tmp_path: Path) -> None:
    """By running each as far as that: the configuration is read first, and finds it."""
    given = {"run": [], "mount": ["P", "B-1"], "explain": ["P", "1"], "replay": ["x.csv"]}
    assert {*given} <= {module.__name__.rpartition(".")[2] for module in COMMANDS}
    config = tmp_path / "c.toml"
    config.write_text('[log]\nstore = "sqlite:///c.db"\n[[press]]\nname = "P"\n[press.collector]\nkind = "recording"\n')
    script = (
        "import sys, shotlog.cli.opening as opening\n"
        "from contextlib import suppress\n"
        "def find(beside): print('numba' in sys.modules); raise SystemExit(0)\n"
        "opening.find_places = find\n"
        "from shotlog.cli.main import main\n"
        f"for command, more in {given}.items():\n"
        f"    with suppress(SystemExit): main([command, {str(config)!r}, *more])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60)
    assert done.stdout == "False\n" * len(given), done.stderr
