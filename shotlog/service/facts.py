"""What a service has to be told of a configuration and of this computer."""

import os
import re
import sys
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from shotlog.access.reach import asks_login, pages_address
from shotlog.errors import UsageError
from shotlog.own_python import own_python
from shotlog.settings import BackupSettings, Settings

__all__ = ["PlacedFile", "ServiceFacts", "facts_of", "whole"]

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,80}")
_LINES = re.compile(r"[\0-\x1f\x7f]")


@dataclass(frozen=True, slots=True)
class PlacedFile:
    """A file of the system: where it goes, and its text."""

    path: Path
    text: str


@dataclass(frozen=True, slots=True)
class ServiceFacts:
    """What both kinds of service are made from.

    `name`: of the service. `user`: who it runs as. `config`: the configuration, from the root. `writes`: the folders
    that `run` has to write to. `given`: those of them, and of backups, that people who enter by commands write to as
    well. `accounts`: the file of accounts; `closed`: it, and what else nobody but that user may read. `serial`: whether
    anything is read at a serial port of this computer; `group`: whose members may open one. `text_log`: where what it
    says is kept. `url`: of the pages on this computer; `low_port`: their port wants a right of its own; `login`: who
    looks at them logs in. `server`: the log is on one, which has its own means of backup. `python`: the Python that has
    the program. `reads`: files elsewhere that it has to read. `pages_only`: it is about what a centre holds, so that
    nothing is logged, only shown. `ships`: the log goes to a centre while it is logged.
    """

    name: str
    user: str
    config: Path
    writes: tuple[Path, ...]
    given: tuple[Path, ...]
    accounts: Path
    closed: tuple[Path, ...]
    serial: bool
    group: str
    text_log: Path
    url: str
    low_port: bool
    login: bool
    server: bool
    backup: BackupSettings | None
    python: Path
    reads: tuple[Path, ...] = ()
    pages_only: bool = False
    ships: bool = False

    def command(self, *words: str) -> list[str]:
        """Return the command line of a command of this program, with nothing from the folder it is started in."""
        return [str(self.python), *own_python("-m", "shotlog", *words)[1:]]

    @property
    def start(self) -> list[str]:
        """Return what is left running, as words of a command of this program."""
        return ["dashboard" if self.pages_only else "run", str(self.config)]

    @property
    def paths(self) -> tuple[Path, ...]:
        """Every place that has to be reached."""
        return (self.python, Path(sys.prefix), self.config, *self.writes, *self.reads)


def facts_of(
    settings: Settings,
    name: str | None,
    user: str,
    serial: bool,
    group: str,
    written: Iterable[Path] = (),
    read: Iterable[Path] = (),
) -> ServiceFacts:
    """Return what is to be told of a configuration; `written` and `read`: folders that are shared with presses.

    Raises
    ------
    UsageError
        The name or the user is none that every system takes, a place has a line break in its name, or the configuration
        has no folder of its own: that is given to the service.
    """
    config = whole(settings.file)
    plain = re.sub(r"[^A-Za-z0-9_.-]+", "-", config.stem).strip("-.") or "trial"
    name = f"shotlog-{plain}"[:80] if name is None else name
    for option, given in (("--name", name), ("--user", user)):
        if not _NAME.fullmatch(given):
            raise UsageError(f"{option}: given {given!r}, allowed: letters, digits, and . _ - after the first")
    server = not settings.store.startswith("sqlite")
    backup = None if server else settings.backup
    here = settings.is_centre  # what is entered goes to the centre, and nothing is written here
    places = [] if here else [settings.text_log.parent, settings.file.parent, settings.anchor, settings.journal]
    shared = [whole(place) for place in places if place is not None]
    accounts = whole(settings.accounts)
    facts = ServiceFacts(
        name,
        user,
        config,
        _each_once([*shared, *([] if here and not asks_login(settings) else [accounts.parent]), *map(whole, written)]),
        _each_once([*shared, *([] if backup is None else [whole(backup.folder)])]),
        accounts,
        (accounts, *([] if settings.walls.key is None else [whole(settings.walls.key)])),
        serial,
        group,
        whole(settings.text_log),
        pages_address(settings.dashboard_host, settings.dashboard_port, settings.walls.certificate is not None),
        0 < settings.dashboard_port < 1024,
        asks_login(settings),
        server,
        backup,
        Path(own_python()[0]),
        tuple(
            whole(one)
            for one in (config if here else None, settings.walls.certificate, settings.walls.key, *read)
            if one is not None
        ),
        here,
        settings.ship is not None,
    )
    if config.parent in _shared():
        raise UsageError(f"CONFIG: given one in {config.parent}, allowed: one in a folder of its own, with its log")
    for path in facts.paths:
        if _LINES.search(str(path)):
            raise UsageError(f"CONFIG: {str(path)!r} has a line break or the like in its name, which no service takes")
    return facts


def _shared() -> set[Path]:
    """Return folders that more than a trial lies in."""
    found = {Path(one) for one in ("/", "/etc", "/home", "/opt", "/srv", "/tmp", "/usr", "/var")}  # noqa: S108  (compared with, nothing is written there)
    with suppress(RuntimeError):  # nobody knows a home of this user
        found |= {Path.home(), Path.home().parent}
    return found


def whole(path: Path) -> Path:
    """Return a path from the root, without a step upwards, which a unit does not take; a link stays as it is named."""
    return Path(os.path.realpath(path)) if ".." in path.parts else path.absolute()


def _each_once(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Return paths in order, each once, and none that lies in another one."""
    found = list(dict.fromkeys(paths))
    return tuple(one for one in found if not any(one != other and one.is_relative_to(other) for other in found))
