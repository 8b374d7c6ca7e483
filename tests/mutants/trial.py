"""What the tests say of one mistake: the tests that reach the line, run in a copy of the tree that holds it.

Most of such a run would be the import of large packages. They are imported once, by a process that does nothing else,
and each run is forked from it (so this needs a system that forks; what the tests run is imported anew each time).
"""

import contextlib
import importlib.util
import multiprocessing
import os
import shutil
import signal
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.mutants.mutation import Mutation, mutated
from tests.mutants.reach import COMPILED

__all__ = ["HUNG", "NOTICED", "ORDER", "UNNOTICED", "UNTESTED", "control", "tried"]

ORDER = NOTICED, HUNG, UNNOTICED, UNTESTED = "noticed", "hung", "not noticed", "no test"

LARGE = (
    "alembic.command dash dash_ag_grid flask_compress hypothesis lifelines matplotlib.figure numba numpy pandas pint "
    "playwright.sync_api pyarrow pymodbus.client pytest scipy.stats sqlalchemy.dialects.sqlite waitress"
)
OPTIONS = "-x -q -p tests.mutants.pytest_chosen -p no:randomly -p no:xdist -p no:cacheprovider"
IMPORTED_BEFORE = "ignore::pytest.PytestAssertRewriteWarning"

_forks = multiprocessing.get_context("forkserver")
_forks.set_forkserver_preload(LARGE.split())


def tried(tree: Path, change: Mutation, tests: Sequence[str]) -> str:
    """Make the mistake, run the tests until one fails, and leave the tree as it was; one of `ORDER`."""
    source = (tree / change.path).read_bytes()
    return _tried(tree, change.path, source, mutated(source, change) or source, tests)


def control(tree: Path, path: str, tests: Sequence[str]) -> None:
    """Run tests with nothing wrong, as with something wrong: were they to fail, every mistake would seem noticed."""
    source = (tree / path).read_bytes()
    if _tried(tree, path, source, source, tests) != UNNOTICED:
        raise SystemExit(f"tests fail where nothing is wrong:\n{(tree / '.said').read_text(encoding='utf-8')[-3000:]}")


def _tried(tree: Path, path: str, source: bytes, wrong: bytes, tests: Sequence[str]) -> str:
    if not tests:
        return UNTESTED
    file, said = tree / path, tree / ".said"
    stale = Path(importlib.util.cache_from_source(str(file)))
    (tree / ".chosen").write_text("\n".join(tests), encoding="utf-8")
    shutil.rmtree(tree / ".compiled", ignore_errors=True)
    try:
        file.write_bytes(wrong)
        stale.unlink(missing_ok=True)  # a file of the same second and length would pass for the one that was compiled
        files = list(dict.fromkeys(test.split("::")[0] for test in tests))
        running = _forks.Process(target=_run, args=(tree, files, path.startswith(COMPILED)))
        running.start()
        running.join()
        with contextlib.suppress(ProcessLookupError):  # a browser or a recorder that a broken program left behind
            os.killpg(running.pid or 0, signal.SIGKILL)
    finally:
        file.write_bytes(source)
        stale.unlink(missing_ok=True)
    if running.exitcode == 0:
        return UNNOTICED
    return HUNG if running.exitcode == 1 and b"Timeout (" in said.read_bytes()[-20_000:] else NOTICED


def _run(tree: Path, files: list[str], compiled: bool) -> None:
    os.setsid()
    os.chdir(tree)
    with (tree / ".said").open("wb") as out:
        os.dup2(out.fileno(), 1)
        os.dup2(out.fileno(), 2)
    os.environ |= {"PYTHONPATH": str(tree), "SHOTLOG_CHOSEN": str(tree / ".chosen")}
    if compiled:  # what was compiled without the mistake must not stand in
        import numba

        numba.config.CACHE_DIR = str(tree / ".compiled")
    sys.path.insert(0, str(tree))
    for name in [name for name in sys.modules if name.partition(".")[0] in ("tests", "shotlog", "dashboard")]:
        del sys.modules[name]
    import pytest

    code = pytest.main([*OPTIONS.split(), "-W", IMPORTED_BEFORE, *files])
    sys.stdout.flush()
    sys.exit(int(code))
