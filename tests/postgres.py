"""A PostgreSQL server of the tests' own, and logs on it made from one that is ready.

It is the one at SHOTLOG_TEST_POSTGRES (`postgresql+psycopg://USER@HOST:PORT/DB`, whose user may make databases), or one
that is started from the programs installed here (Debian keeps them beside its version) and ends with the tests; all
processes of a run share it. Where there is neither, the tests that need it are left out, and under CI they fail.
"""

import importlib.util
import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, nullcontext
from itertools import count
from pathlib import Path
from tempfile import mkdtemp

import pytest
from filelock import FileLock
from sqlalchemy import URL, create_engine
from sqlalchemy.engine import make_url

__all__ = ["Cluster", "Server", "server_for_tests", "start_server"]

GIVEN = "SHOTLOG_TEST_POSTGRES"
_UNSAFE = {
    "fsync": "off", "full_page_writes": "off", "synchronous_commit": "off", "autovacuum": "off",
    "max_wal_size": "128MB", "min_wal_size": "32MB",
}  # fmt: skip
"""Nothing of a test outlives the machine, and need not reach the disk; our own transactions ask for that anyhow."""
_MEMORY = Path("/dev/shm")  # noqa: S108
_SPACE = 2 << 30
"""Free bytes from which data lie in memory: a run takes some hundred megabytes."""
_START_S = 60.0


def _missing() -> str:
    """Return why no server can be started here, empty where one can."""
    if sys.platform == "win32":
        return "a server of the tests' own is started by means of POSIX"
    if importlib.util.find_spec("psycopg") is None:
        return "the extra postgres is not installed"
    return "" if _programs() else "PostgreSQL is not installed"


def _programs() -> Path | None:
    """Return the folder of the server's programs, of the newest version that is installed."""
    found = [one.parent for one in Path("/usr/lib/postgresql").glob("*/bin/initdb")]
    on_path = shutil.which("initdb")
    newest = sorted(found, key=lambda one: int(one.parent.name) if one.parent.name.isdigit() else 0)
    return newest[-1] if newest else (Path(on_path).parent if on_path else None)


def _place(settings: Mapping[str, str]) -> Path | None:
    """Return where data lie that need not reach a disk: in memory where there is space, a log is made in a tenth of the
    time there; None for the usual place.
    """
    if settings.get("fsync") != "off" or not os.access(_MEMORY, os.W_OK):
        return None
    return _MEMORY if shutil.disk_usage(_MEMORY).free >= _SPACE else None


class Cluster:
    """A server whose data lie in a folder of its own: started, stopped and killed as a test wants."""

    def __init__(self, settings: Mapping[str, str] = _UNSAFE, initdb: tuple[str, ...] = ()) -> None:
        programs = _programs()
        assert programs is not None
        self._programs, self._settings = programs, dict(settings)
        self._as = ["setpriv", "--reuid=nobody", "--regid=nogroup", "--clear-groups"] if os.getuid() == 0 else []
        # short: the name of a socket may have 107 bytes
        self.folder = Path(mkdtemp(prefix="shotlog-pg-", dir=_place(settings)))
        if self._as:
            shutil.chown(self.folder, "nobody", "nogroup")
        self._process: subprocess.Popen[bytes] | None = None
        options = ("--auth=trust", "--no-sync", "--username=shotlog", "--encoding=UTF8", "--locale=C.UTF-8", *initdb)
        self._run("initdb", "--pgdata", str(self.data), *options)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]

    @property
    def data(self) -> Path:
        """The folder of its data."""
        return self.folder / "data"

    @property
    def process(self) -> int:
        """The number of the process that starts all others of the server."""
        assert self._process is not None
        return self._process.pid

    def url(self, database: str = "postgres", **query: str) -> URL:
        """Return the address of a database on it."""
        return URL.create(
            "postgresql+psycopg", "shotlog", host="127.0.0.1", port=self.port, database=database, query=query
        )

    def start(self) -> None:
        """Start it, and wait until it answers; it ends with this process, however that ends."""
        ends = ["setpriv", "--pdeathsig", "QUIT"] if shutil.which("setpriv") else []
        settings = [word for name, value in self._settings.items() for word in ("-c", f"{name}={value}")]
        place = ["-p", str(self.port), "-k", str(self.folder), "-h", "127.0.0.1"]
        command = [*self._as, *ends, str(self._programs / "postgres"), "-D", str(self.data), *place, *settings]
        with (self.folder / "said").open("ab") as said:
            self._process = subprocess.Popen(command, cwd=self.folder, stdout=said, stderr=said)
        deadline = time.monotonic() + _START_S
        while not self._answers():
            assert time.monotonic() < deadline, "the server does not start"
            time.sleep(0.02)

    def _answers(self) -> bool:
        assert self._process is not None
        assert self._process.poll() is None, (self.folder / "said").read_text(encoding="utf-8", errors="replace")
        engine = create_engine(self.url())
        try:
            engine.connect().close()
        except Exception:  # noqa: BLE001  (not yet, for whatever reason)
            return False
        finally:
            engine.dispose()
        return True

    def stop(self, mode: str = "immediate") -> None:
        """Stop it as `pg_ctl` does, and wait until it is gone."""
        if self._process is not None and self._process.poll() is None:
            self._run("pg_ctl", "stop", "--wait", "--pgdata", str(self.data), "--mode", mode)
            self._process.wait()

    def kill(self) -> None:
        """Kill it, as a power cut would; its other processes see that and end."""
        assert self._process is not None
        self._process.kill()
        self._process.wait()

    def _run(self, name: str, *words: str) -> None:
        subprocess.run(
            [*self._as, str(self._programs / name), *words], check=True, capture_output=True, cwd=self.folder
        )

    def remove(self) -> None:
        """End it and take away all that it kept."""
        self.stop()
        shutil.rmtree(self.folder, ignore_errors=True)


@contextmanager
def start_server(settings: Mapping[str, str] = _UNSAFE, initdb: tuple[str, ...] = ()) -> Iterator[Cluster]:
    """Start a server for the length of the block; where none can be, the test is left out, or fails under CI."""
    why = _missing()
    if why:
        if "CI" in os.environ:
            pytest.fail(f"needs a PostgreSQL server: {why}")
        pytest.skip(f"needs a PostgreSQL server: {why}")
    cluster = Cluster(settings, initdb)
    try:
        cluster.start()
        yield cluster
    finally:
        cluster.remove()


class Server:
    """Databases on a server: each is made from one that was made before, which takes some tens of milliseconds."""

    def __init__(self, url: URL, ends: bool = False) -> None:
        """`ends`: with all its databases, once no process of the run uses it."""
        self.url, self._ends, self._kept = url, ends, list[URL]()
        self._admin = create_engine(url, isolation_level="AUTOCOMMIT")
        self._numbers = count(1)
        self._mark = f"shotlog_test_{os.getpid()}"

    def made_once(self, what: str, folder: Path, fill: Callable[[str], None]) -> URL:
        """Return a database that is made and filled once, to make others from.

        Once for all processes that share a folder, where the server ends with them; else once for each, which drops it.
        """
        named = folder / f"{what if self._ends else self._mark + what}.database"
        with FileLock(folder / f"{what}.lock"):
            if not named.exists():
                url = self.make()
                fill(url.render_as_string(hide_password=False))
                self._kept.append(url)
                named.write_text(str(url.database), encoding="utf-8")
        return self.url.set(database=named.read_text(encoding="utf-8"))

    def make(self, template: str | None = None, more: str = "") -> URL:
        """Make a database, empty or as another one is; return its address. `more`: what is said of it besides."""
        name = f"{self._mark}_{next(self._numbers)}"
        self.make_named(name, template, more)
        return self.url.set(database=name)

    def make_named(self, name: str, template: str | None = None, more: str = "") -> None:
        """Make a database of that name."""
        self.run(f'CREATE DATABASE "{name}"' + (f' TEMPLATE "{template}"' if template else "") + f" {more}")

    def drop(self, url: URL) -> None:
        """Drop a database, whoever is connected to it."""
        self.run(f'DROP DATABASE IF EXISTS "{url.database}" WITH (FORCE)')

    def run(self, *statements: str, url: URL | None = None) -> None:
        """Run SQL on a database, by default on the one that the server was given with, each statement by itself."""
        engine = self._admin if url is None else create_engine(url, isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            for statement in statements:
                connection.exec_driver_sql(statement.replace("%", "%%"))
        if url is not None:
            engine.dispose()

    def program(self, name: str, *words: str) -> str:
        """Run one of the programs that come with a server against this one, and return what it printed."""
        programs = _programs()
        assert programs is not None
        place = ("--host", str(self.url.host), "--port", str(self.url.port or 5432), "--username", self.url.username)
        command = [str(programs / name), *(str(word) for word in place), *words]
        return subprocess.run(command, check=True, capture_output=True, text=True, encoding="utf-8").stdout

    def close(self) -> None:
        """Leave the server."""
        for url in [] if self._ends else self._kept:
            self.drop(url)
        self._admin.dispose()


@contextmanager
def server_for_tests(folder: Path) -> Iterator[Server]:
    """Yield the server of this run of the tests, whose processes share a folder."""
    given = os.environ.get(GIVEN)
    with nullcontext(make_url(given)) if given else _shared(folder) as url:
        server = Server(url, ends=not given)
        try:
            yield server
        finally:
            server.close()


@contextmanager
def _shared(folder: Path) -> Iterator[URL]:
    """Yield the address of one server: the process that asks first starts it, and ends it when all others left it."""
    import fcntl  # not where no server can be started

    told = folder / "server.url"
    with (folder / "server.starts").open("a") as starts, (folder / "server.used").open("a") as used:
        fcntl.flock(starts, fcntl.LOCK_EX)
        fcntl.flock(used, fcntl.LOCK_SH)
        if told.exists():
            fcntl.flock(starts, fcntl.LOCK_UN)
            yield make_url(told.read_text(encoding="utf-8"))
            return
        with start_server() as cluster:
            told.write_text(cluster.url().render_as_string(hide_password=False), encoding="utf-8")
            fcntl.flock(starts, fcntl.LOCK_UN)
            try:
                yield cluster.url()
            finally:
                fcntl.flock(used, fcntl.LOCK_EX)
                for file in (told, *folder.glob("*.database")):
                    file.unlink()
