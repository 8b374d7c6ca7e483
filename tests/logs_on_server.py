"""With `--engine postgresql`: the log of every configuration that a test writes lies on the server, empty at first.

So it does for the programs that a test starts, and a log that is copied as a file is copied there. What tests
themselves do to a file of SQLite then finds none: such tests bear the mark `file`, or are told by their text and that
of what they call, and are left out.
"""

import inspect
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FunctionType
from typing import Any, TypeVar

import pytest
from sqlalchemy import URL
from sqlalchemy.engine import make_url

from shotlog.settings import whole
from shotlog.settings.section import Section
from shotlog.settings.store_address import SQLITE, store_url
from shotlog.store.log import log as log_module
from shotlog.store.log.log import Log, opened_as
from tests.postgres import Server

__all__ = ["LogsOnServer", "is_about_a_file"]

Opened = TypeVar("Opened", bound=Log)

_ADDRESS = re.compile(rf"""^(store *= *)"({SQLITE}[^"]+)"$""", re.MULTILINE)
_OF_A_FILE = re.compile(r"\bsqlite3\b|\.db\b")
_NO_FILE = re.compile(rf"{SQLITE}.*|shutil\.copy.*", re.MULTILINE)
"""What stands for the server here: an address, and a copy."""


def is_about_a_file(item: pytest.Item) -> bool:
    """Say whether a test, or a fixture or function of its module that it uses, looks into the file of its log."""
    if item.get_closest_marker("file") or not isinstance(item, pytest.Function):
        return bool(item.get_closest_marker("file"))
    if Path(__file__).with_name("conftest.py") == item.path:
        return False
    fixtures = [one.func for named in item._fixtureinfo.name2fixturedefs.values() for one in named]
    return any(_looks(one, item.module) for one in (item.function, *fixtures))


def _looks(function: Any, module: Any, seen: frozenset[str] = frozenset()) -> bool:
    """Say whether a function of a module, or one of it that it names, looks into a file."""
    function = inspect.unwrap(function)
    if not isinstance(function, FunctionType) or function.__module__ != module.__name__:
        return False
    if _OF_A_FILE.search(_NO_FILE.sub("", inspect.getsource(function))):
        return True
    named = {*function.__code__.co_names} - seen
    return any(_looks(getattr(module, name, None), module, seen | named) for name in named)


class LogsOnServer:
    """Logs on a server in place of files: one for each address of a file that is asked for."""

    def __init__(self, server: Server, fresh: URL) -> None:
        self._server, self._fresh = server, fresh
        self._made: dict[str, URL] = {}
        self._opened: list[Log] = []

    def at(self, address: str) -> str:
        """Return the address of the log that stands for the one in a file."""
        if address not in self._made:
            self._made[address] = self._server.make(template=self._fresh.database)
        return self._made[address].render_as_string(hide_password=False)

    @contextmanager
    def configured(self) -> Iterator[None]:
        """Let configurations that name a file name the log on the server, for the length of the block."""

        def on_server(log: Section, file: Path) -> str:
            given = store_url(log, file)
            return self.at(given) if given.startswith(SQLITE) else given

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(whole, "store_url", on_server)
            patch.setattr(log_module, "opened_as", self._opened_as)
            patch.setattr(subprocess, "Popen", self._starting(subprocess.Popen))
            for name in ("copy", "copyfile", "copytree"):
                patch.setattr(shutil, name, self._copying(getattr(shutil, name)))
            yield

    def _opened_as(self, kind: type[Opened], url: str, read_only: bool) -> Opened:
        """Open a log as it stands in a file, if it does: a backup, an archive; else the one on the server."""
        is_file = url.startswith(SQLITE) and Path(url.removeprefix(SQLITE)).exists()
        log = opened_as(kind, url if is_file or not url.startswith(SQLITE) else self.at(url), read_only)
        self._opened.append(log)
        return log

    def _starting(self, popen: type["subprocess.Popen[Any]"]) -> type["subprocess.Popen[Any]"]:
        """Let a program that is started with a configuration find the address on the server in it."""
        logs = self

        class Starting(popen):  # type: ignore[misc, valid-type]
            def __init__(self, args: Any, *more: Any, **named: Any) -> None:
                for word in [args] if isinstance(args, str) else args:
                    logs._name_the_server(Path(named.get("cwd") or ".", str(word)))
                super().__init__(args, *more, **named)

        return Starting

    def _name_the_server(self, config: Path) -> None:
        if config.suffix != ".toml" or not config.is_file():
            return
        said = config.read_text(encoding="utf-8")
        found = _ADDRESS.search(said)
        file = None if found is None else config.parent.resolve() / found[2].removeprefix(SQLITE)
        if found is not None and file is not None and not file.exists():
            url = self.at(SQLITE + file.as_posix())
            config.write_text(_ADDRESS.sub(lambda _: f'{found[1]}"{url}"', said), encoding="utf-8")

    def _copying(self, copied: Callable[..., Any]) -> Callable[..., Any]:
        """Let what copies a file, or a folder, copy the logs that stand for what lies there."""

        def copy(source: Any, to: Any, **named: Any) -> Any:
            given, made = Path(source), [*self._made]
            if SQLITE + given.as_posix() in made:
                self._copy(SQLITE + given.as_posix(), Path(to))
                return to
            done = copied(source, to, **named)
            for address in made:
                path = Path(address.removeprefix(SQLITE))
                if path.is_relative_to(given):
                    self._copy(address, Path(to, path.relative_to(given)))
            return done

        return copy

    def _copy(self, address: str, to: Path) -> None:
        name, like = make_url(self.at(SQLITE + to.resolve().as_posix())).database, self._made[address]
        self._server.run(f"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = '{like.database}'")
        self._server.drop(like.set(database=name))
        self._server.make_named(str(name), like.database)

    def drop_in(self, folder: Path | None = None) -> int:
        """Drop all that lie in a folder, or anywhere, and return how many; one that a test left open is closed."""

        dropped = {
            address: url
            for address, url in self._made.items()
            if folder is None or Path(address.removeprefix(SQLITE)).is_relative_to(folder)
        }
        named = {url.database for url in dropped.values()}
        for log in self._opened:
            if log._store is not None and log._store.database in named:
                log.close()
        self._opened = [log for log in self._opened if log._store is not None and log._store.database not in named]
        for address in dropped:
            self._server.drop(self._made.pop(address))
        return len(dropped)
