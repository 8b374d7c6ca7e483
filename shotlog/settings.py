"""The configuration file (TOML) as typed, checked settings.

A wrong key, type, unit, address or duplicate name gives one line that names file, key, what was given and what is
allowed. A collector reads its own keys: this module hands it the table.
"""

import difflib
import ipaddress
import json
import os
import re
import tomllib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shotlog.channels import CHANNELS
from shotlog.errors import SettingsError
from shotlog.withheld import without_secrets

__all__ = [
    "BackupSettings",
    "BalanceSettings",
    "DesignSettings",
    "LoginSettings",
    "PressSettings",
    "Section",
    "Settings",
    "TrialSettings",
    "WallSettings",
    "load",
]


FALSE_CALLS = (0.5, 40.0)
"""Least and most false calls in 100 sound lives that may be asked for."""

RESERVE_MB = 8
"""Space kept in reserve for shots while the log cannot be written, in MB: about 20,000 shots of three channels. Someone
with many presses, or a server that may be away for weeks, would choose more."""


class Section:
    """A table of the configuration that remembers which of its keys were asked for.

    Every reader checks type and range and reports file, key, given and allowed. `finish()` rejects the keys
    nobody asked for, naming the nearest known one. `understood` is shared by all tables of a file: every key that was
    asked for, by its whole name, with the value that holds and whether the file gives it.
    """

    def __init__(
        self, file: str, path: str, table: Mapping[str, Any], understood: dict[str, tuple[object, bool]] | None = None
    ) -> None:
        self.file, self.path = file, path
        self.understood = {} if understood is None else understood
        self._table = dict(table)
        self._asked: set[str] = set()

    def wrong(self, key: str, allowed: str) -> SettingsError:
        """Return the error for `key` of this table."""
        given = shown(key, self._table[key]) if key in self._table else "nothing"
        return SettingsError(self.file, self._full(key), given, allowed)

    def has(self, key: str) -> bool:
        """Say whether the file gives `key`."""
        self._asked.add(key)
        if key not in self._table:
            self.understood.setdefault(self._full(key), (None, False))
        return key in self._table

    def peek(self, key: str) -> object:
        """Return what the file gives under `key`, unchecked; None where nothing. A reader still has to ask for it."""
        return self._table.get(key)

    def unknown(self, key: str, known: Collection[str]) -> SettingsError:
        """Return the error for a key that is none of `known`, with the nearest of them."""
        near = difflib.get_close_matches(key, known, n=1)
        hint = f" (did you mean {near[0]}?)" if near else ""
        return SettingsError(self.file, self._full(key), "an unknown key", f"{', '.join(known) or 'no key here'}{hint}")

    def only(self, known: Collection[str]) -> None:
        """Reject the keys that are none of `known`."""
        for key in self._table:
            if key not in known:
                raise self.unknown(key, known)

    def text(self, key: str, default: str | None = None) -> str:
        """Return a non-empty text."""
        value = self._get(key, default, "text")
        if not isinstance(value, str) or (not value and default != ""):
            raise self.wrong(key, "text")
        if "\0" in value:
            raise self.wrong(key, "text without NUL")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts; none where the file gives none."""
        value = self._get(key, [], "a list of texts")
        if not isinstance(value, list) or not all(isinstance(item, str) and item for item in value):
            raise self.wrong(key, "a list of texts")
        self.understood[self._full(key)] = (tuple(value), key in self._table)
        return tuple(value)

    def choice(self, key: str, allowed: tuple[str, ...], default: str | None = None) -> str:
        """Return one of the words in `allowed`."""
        value = self._get(key, default, " | ".join(allowed))
        if value not in allowed:
            raise self.wrong(key, " | ".join(allowed))
        return str(value)

    def flag(self, key: str, default: bool) -> bool:
        """Return true or false."""
        value = self._get(key, default, "true | false")
        if not isinstance(value, bool):
            raise self.wrong(key, "true | false")
        return value

    def integer(self, key: str, low: int, high: int, default: int | None = None) -> int:
        """Return a whole number from `low` to `high`."""
        allowed = f"whole number {low} to {high}"
        value = self._get(key, default, allowed)
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise self.wrong(key, allowed)
        return value

    def number(self, key: str, low: float, high: float, default: float | None = None, nonzero: bool = False) -> float:
        """Return a number from `low` to `high`; with `nonzero`, zero is refused."""
        allowed = f"number {low:g} to {high:g}{', not 0' if nonzero else ''}"
        value = self._get(key, default, allowed)
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise self.wrong(key, allowed)
        if nonzero and value == 0:
            raise self.wrong(key, allowed)
        return float(value)

    def section(self, key: str, optional: bool = False) -> "Section":
        """Return the table under `key`; an empty one where it is optional and absent."""
        value = self._get(key, {} if optional else None, "a table")
        if not isinstance(value, Mapping):
            raise self.wrong(key, "a table")
        return self._below(self._full(key), value)

    def sections(self, key: str) -> list["Section"]:
        """Return the list of tables written ``[[key]]``."""
        value = self._get(key, [], f"tables written [[{self._full(key)}]]")
        if not isinstance(value, list) or not all(isinstance(item, Mapping) for item in value):
            raise self.wrong(key, f"tables written [[{self._full(key)}]]")
        return [self._below(f"{self._full(key)}[{n}]", item) for n, item in enumerate(value, 1)]

    def items(self) -> Iterator[tuple[str, "Section"]]:
        """Return every entry of this table, each itself a table."""
        for key in self._table:
            yield key, self.section(key)

    def keys(self) -> tuple[str, ...]:
        """Return the keys the file gives, in its order."""
        return tuple(self._table)

    def finish(self) -> None:
        """Reject the keys that nobody asked for."""
        self.only(sorted(self._asked))

    def _full(self, key: str) -> str:
        return f"{self.path}.{key}" if self.path else key

    def _below(self, path: str, table: Mapping[str, Any]) -> "Section":
        self.understood.pop(path, None)
        return Section(self.file, path, table, self.understood)

    def _get(self, key: str, default: object, allowed: str) -> Any:
        self._asked.add(key)
        if key not in self._table and default is None:
            raise self.wrong(key, allowed)
        value = self._table.get(key, default)
        if not isinstance(value, Mapping | list):
            self.understood[self._full(key)] = (value, key in self._table)
        return value


def shown(key: str, value: object) -> str:
    """Return the value of a key as it may be shown: in 60 characters, and without what is secret."""
    text = json.dumps(without_secrets(value), ensure_ascii=False) if isinstance(value, str) else repr(value)
    text = without_secrets(f"{key} = {text}").removeprefix(f"{key} = ")
    return text if len(text) <= 60 else text[:57] + "..."


@dataclass(frozen=True, slots=True)
class Bound:
    """Action limits of one channel, in its unit; None where there is none."""

    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class DesignSettings:
    """What is known of an insert design.

    `settling_shots`: shots after a mount or a stop that are shown and not judged. `baseline_shots`: shots the own
    level is taken from. `limits` are the technician's action limits, `least_change` the smallest change that matters,
    both by channel in its unit. `cost` is free of currency. `cavities`: parts a shot makes. `dissolve_h`: hours a part
    stays in the bath until its single-use half is gone; None where the part must not go into one. `tolerance`: of what
    is measured on parts, `part_weight` in g and all else in mm. `switchover`: what ends the fill, ``position``,
    ``pressure`` or ``time``; `pressure_limited`: the fill runs at the pressure limit of the press. `chart_limits`: of
    the charts, ``per-life``, by which few sound lives show any signal, or plain ``3-sigma``.
    """

    name: str = ""
    resin_family: str = ""
    settling_shots: int = 10
    baseline_shots: int = 12
    limits: Mapping[str, Bound] = field(default_factory=dict)
    least_change: Mapping[str, float] = field(default_factory=dict)
    cost: Mapping[str, float] = field(default_factory=dict)
    cavities: int = 1
    dissolve_h: float | None = 24.0
    tolerance: Mapping[str, Bound] = field(default_factory=dict)
    switchover: str = "position"
    pressure_limited: bool = False
    chart_limits: str = "per-life"


@dataclass(frozen=True, slots=True)
class TrialSettings:
    """The trial that shots are logged under."""

    name: str
    part: str = ""
    resin: str = ""


@dataclass(frozen=True, slots=True)
class LoginSettings:
    """Who is let in to the pages. `wanted`: everybody logs in, also where the pages are bound to this machine alone.

    `accounts`: the file of accounts, None for the usual place. A log-in ends once nobody touched the page for
    `idle_min` minutes, and `hours` after it began, whatever was touched.
    """

    wanted: bool = False
    accounts: Path | None = None
    idle_min: float = 120.0
    hours: float = 12.0


@dataclass(frozen=True, slots=True)
class WallSettings:
    """What the pages answer to from outside. `hosts`: further names that browsers know this machine by.

    `certificate` and `key`: files in PEM by which the pages are served over TLS, None for plain HTTP. `proxy`: the
    address of a reverse proxy in front, empty for none: what it says of who asks is believed, and nobody else's word.
    """

    hosts: tuple[str, ...] = ()
    certificate: Path | None = None
    key: Path | None = None
    proxy: str = ""


@dataclass(frozen=True, slots=True)
class PressSettings:
    """One press; `collector` is its own table, checked by the collector named in `kind`."""

    name: str
    kind: str
    collector: Section


@dataclass(frozen=True, slots=True)
class BalanceSettings:
    """A bench balance; `weighs`: the press whose parts it weighs; `line`: its own keys, checked by its collector."""

    name: str
    weighs: str
    line: Section


@dataclass(frozen=True, slots=True)
class BackupSettings:
    """Where backups go, how often one is wanted, in hours, and how many are kept."""

    folder: Path
    every_h: float
    keep: int


@dataclass(frozen=True, slots=True)
class Settings:
    """A whole configuration file.

    `store` is an SQLAlchemy URL; a relative SQLite path is taken from the file's folder. `false_calls`: of 100 sound
    insert lives, on whichever press, those with a false call that are put up with; None where it is not stated.
    `anchor`: the folder where the head of the log is written down outside of it. `journal`: the folder that shots wait
    in while the log cannot be written, None for beside the log; `reserve_mb`: the space kept for them there, in MB.
    `backup`: where backups go by themselves, None where nowhere.
    `hints`: what is still taken and would better be written otherwise, a line each. `keep_text_mb`: how large what
    `run` says may grow as a text log, in megabytes; 0 keeps none. `understood`: see `Section`; it
    grows as collectors read their tables.
    """

    file: Path
    store: str = field(repr=False)
    presses: tuple[PressSettings, ...]
    balances: tuple[BalanceSettings, ...]
    designs: Mapping[str, DesignSettings]
    trial: TrialSettings | None
    dashboard_host: str
    dashboard_port: int
    false_calls: float | None = None
    hints: tuple[str, ...] = ()
    keep_text_mb: float = 10.0
    understood: Mapping[str, tuple[object, bool]] = field(default_factory=dict, repr=False, compare=False)
    anchor: Path | None = None
    journal: Path | None = None
    reserve_mb: int = RESERVE_MB
    login: LoginSettings = field(default_factory=LoginSettings)
    backup: BackupSettings | None = None
    walls: WallSettings = field(default_factory=WallSettings)

    @property
    def store_shown(self) -> str:
        """The store as it may be shown: without a password."""
        return without_secrets(self.store)

    @property
    def text_log(self) -> Path:
        """Where what `run` says is kept as text: beside an SQLite log, else beside the configuration."""
        beside = self._beside
        return beside.with_name(f"{beside.name}.{self.file.stem}.log")

    @property
    def accounts(self) -> Path:
        """The file of accounts: as configured, else beside an SQLite log, else beside the configuration."""
        beside = self._beside
        return self.login.accounts or beside.with_name(f"{beside.name}.accounts")

    @property
    def _beside(self) -> Path:
        return Path(self.store.removeprefix(_SQLITE)) if self.store.startswith(_SQLITE) else self.file

    @property
    def cautions(self) -> tuple[str, ...]:
        """What may be wrong, a line each: a balance for a press of another configuration, one serial line named twice,
        a folder not there.
        """
        names = [press.name for press in self.presses]
        weighing = tuple(
            f"balance {one.name} weighs for {one.weighs!r}, and no press here has that name (presses: "
            f"{', '.join(names) or 'none'}); its weights will meet no shot unless that press logs to the same log"
            for one in self.balances
            if one.weighs not in names
        )
        return weighing + self._line_cautions() + self._journal_cautions() + self._backup_cautions()

    def _line_cautions(self) -> tuple[str, ...]:
        """Return which name a serial port that another reads already: a port is held by one at a time."""
        read = [(press.name, press.collector) for press in self.presses]
        read += [(balance.name, balance.line) for balance in self.balances]
        lines = [(name, line.peek("port") or line.peek("hwid")) for name, line in read]
        first: dict[str, str] = {}
        found = []
        for name, port in lines:
            if isinstance(port, str) and port in first:
                found.append(f"{name} and {first[port]} name one port, {port}; only one of them can be read over it")
            elif isinstance(port, str):
                first[port] = name
        return tuple(found)

    def _journal_cautions(self) -> tuple[str, ...]:
        if self.journal is None or self.journal.is_dir():
            return ()
        return (f"log.journal: there is no folder {self.journal}; until there is one, the journal lies beside the log",)

    def _backup_cautions(self) -> tuple[str, ...]:
        if self.backup is None or self.store.startswith(_SQLITE):
            return ()
        return ("log.backup: a log on a server is backed up by the server's own means (pg_dump), and not there",)

    def press(self, name: str) -> PressSettings:
        """Return the press called `name`.

        Raises
        ------
        SettingsError
            No press has that name.
        """
        for press in self.presses:
            if press.name == name:
                return press
        known = ", ".join(press.name for press in self.presses)
        raise SettingsError(str(self.file), "press", f'"{name}"', known)


def load(path: str | Path) -> Settings:
    """Read and check a configuration file.

    Raises
    ------
    SettingsError
        The file cannot be read, is not TOML, or holds something wrong.
    """
    file = Path(path)
    root = Section(str(file), "", _tables(file, _text_of(file)))
    root.only(_TABLES)
    log = root.section("log")
    store = _store_url(log, file)
    anchor = _folder(log, "anchor", file)
    journal = _folder(log, "journal", file)
    reserve_mb = log.integer("reserve_mb", 0, 4096, RESERVE_MB)
    keep_text_mb = log.number("keep_text_mb", 0.0, 10_000.0, 10.0)
    backup = _backup(log, file)
    log.finish()
    dashboard = root.section("dashboard", optional=True)
    host = dashboard.text("host", "127.0.0.1")
    if not host.isprintable() or " " in host:
        raise dashboard.wrong("host", "the name or address of this machine, such as 127.0.0.1 or 0.0.0.0")
    port = dashboard.integer("port", 0, 65535, 8050)
    login = _login(dashboard, file)
    walls = _walls(dashboard, file)
    dashboard.finish()
    call = root.section("call", optional=True)
    false_calls = call.number("false_per_100_lives", *FALSE_CALLS) if call.has("false_per_100_lives") else None
    call.finish()
    presses, balances, hints = _read_from(root)
    return Settings(
        file,
        store,
        presses,
        balances,
        dict(_designs(root.section("design", optional=True))),
        _trial(root),
        host,
        port,
        false_calls,
        hints,
        keep_text_mb,
        root.understood,
        anchor,
        journal,
        reserve_mb,
        login,
        backup,
        walls,
    )


def _backup(log: Section, file: Path) -> BackupSettings | None:
    folder = _folder(log, "backup", file)
    every_h = log.number("backup_every_h", 1.0, 720.0, 24.0)
    keep = log.integer("backup_keep", 1, 10_000, 14)
    return None if folder is None else BackupSettings(folder, every_h, keep)


def _login(dashboard: Section, file: Path) -> LoginSettings:
    accounts = _folder(dashboard, "accounts", file)
    if accounts is not None and accounts.is_dir():
        raise dashboard.wrong("accounts", "the name of a file, and not of a folder")
    return LoginSettings(
        dashboard.flag("login", False),
        accounts,
        dashboard.number("idle_min", 1.0, 1440.0, LoginSettings().idle_min),
        dashboard.number("session_h", 0.1, 720.0, LoginSettings().hours),
    )


def _walls(dashboard: Section, file: Path) -> WallSettings:
    hosts = dashboard.texts("hosts")
    if not all(_NAME.fullmatch(one) for one in hosts):
        raise dashboard.wrong("hosts", 'names without a port, such as ["press-pc.example", "192.168.1.20"]')
    certificate, key = _folder(dashboard, "certificate", file), _folder(dashboard, "key", file)
    if (certificate is None) != (key is None):
        missing = "certificate" if certificate is None else "key"
        raise dashboard.wrong(missing, "a file in PEM: certificate and key are given together")
    proxy = dashboard.text("proxy", "")
    if proxy and not _is_address(proxy):
        raise dashboard.wrong("proxy", 'the address that the proxy asks from, such as "127.0.0.1"')
    return WallSettings(tuple(one.lower() for one in hosts), certificate, key, proxy)


_NAME = re.compile(r"[A-Za-z0-9]([A-Za-z0-9._-]{0,252})|[0-9A-Fa-f:.]{2,45}")
"""The name of a machine, or its address of either kind, without a port."""


def _is_address(text: str) -> bool:
    try:
        ipaddress.ip_address(text)
    except ValueError:
        return False
    return True


def _text_of(file: Path) -> str:
    allowed = f"a readable configuration file of {_MOST_BYTES // 1000} kB at most"
    try:
        # what is no ordinary file may never end, or never begin
        if file.exists() and not file.is_file():
            given = "a folder" if file.is_dir() else "no ordinary file"
            raise SettingsError(str(file), "the file", given, allowed)
        with file.open("rb") as opened:
            read = opened.read(_MOST_BYTES + 1)
    except OSError as error:
        raise SettingsError(str(file), "the file", error.strerror or str(error), allowed) from error
    if len(read) > _MOST_BYTES:
        raise SettingsError(str(file), "the file", "a larger one", allowed)
    try:
        return read.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        raise SettingsError(str(file), "the file", f"byte {error.start} is not UTF-8", "text in UTF-8") from error


def _tables(file: Path, text: str) -> Mapping[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SettingsError(str(file), *_no_toml(text, str(error))) from error
    except RecursionError as error:
        raise SettingsError(str(file), "the file", "brackets within brackets without end", "TOML") from error
    except ValueError as error:  # of a whole number with thousands of digits, which Python does not read
        raise SettingsError(str(file), "the file", "a number without end", "TOML") from error


_MOST_BYTES = 500_000
"""Bytes of a configuration at most: hundreds of presses, and nothing that takes long to read."""

_TABLES = ("log", "press", "balance", "design", "trial", "dashboard", "call")
"""The tables of a file; one of another name is told before what it leaves missing."""

_SQLITE = "sqlite:///"

_COMMA = re.compile(r"=\s*([+-]?\d+),(\d+)(?!\s*=)")
"""A number written with a comma; in TOML it ends there, and what follows is no key."""

_BARE = re.compile(r"=\s*([^\s\"'\[{#][^\"',#\[\]{}]*?)\s*(#|$)")
"""What is written to the right of a key, where no quotes, brackets or commas are in it."""

_STORE = re.compile(r"\s*[\"']?store[\"']?\s*=\s*[^\"'\s]")
"""The address of the store without quotes; it may hold a password, in whatever shape."""

_NUMBER_LIKE = re.compile(r"[-+.\d_]*")


def _no_toml(text: str, error: str) -> tuple[str, str, str]:
    """Return key, given and allowed for a text that is no TOML: a decimal comma, or a text without quotes, by its name,
    else what was found.
    """
    found = re.search(r"line (\d+)", error)
    line = text.split("\n")[int(found[1]) - 1 : int(found[1])] if found is not None else []
    line = [without_secrets(one.rstrip("\r")) for one in line]
    comma = _COMMA.search(line[0]) if line else None
    bare = _BARE.search(line[0]) if line else None
    if found is not None and comma is not None:
        whole, part = comma.groups()
        return f"line {found[1]}", f"{whole},{part}", f"a decimal point, not a comma: {whole}.{part}"
    if found is not None and line and _STORE.match(line[0]):
        return f"line {found[1]}", "an address that is no text", 'a text in quotes: store = "sqlite:///trial.db"'
    if found is not None and bare is not None and not _holds(bare[1]):
        return f"line {found[1]}", bare[1], _instead_of(bare[1])
    return "the file", error, "TOML"


def _holds(value: str) -> bool:
    """Say whether a value may stand as it is: what is wrong with its line is then something else."""
    try:
        tomllib.loads(f"key = {value}")
    except ValueError:
        return False
    return True


def _instead_of(value: str) -> str:
    """Return how a value is written that holds neither quotes nor brackets, and is none of TOML."""
    if value.lower() in ("true", "false"):
        return f"small letters: {value.lower()}"
    if _NUMBER_LIKE.fullmatch(value) and value.count(".") < 2:
        return "a number, such as 5 or 0.5"
    return f"a text in quotes: {json.dumps(value, ensure_ascii=False)}"


_PORT = r"(?:6553[0-5]|655[0-2]\d|65[0-4]\d\d|6[0-4]\d{3}|[1-5]\d{4}|[1-9]\d{0,3})"
_SERVER = re.compile(
    rf"""postgresql(\+\w+)?://([^:/@\s"']*(:[^@]*)?@)?(\[[^/?@\[\]]+\]|[^:/@?\[\]]*)(:{_PORT}?)?(/[^@?]*)?(\?.*)?"""
)
"""The address of a server, taken apart as the library does, and refused where a mark stands where it would part a
password: what then became the name of a host or of a database would be told to whoever asks why there is none."""


_NO_PASSWORD = re.compile(r"[^:@]*|[\w+]*:[\w/\\. -]*")
"""An address with room for none: one colon, behind its first word, and no @."""


def _no_address(log: Section, url: str, allowed: str) -> SettingsError:
    """Return the error for an address of the store that is none: nobody can say where a password in it ends."""
    kept = url if _NO_PASSWORD.fullmatch(url) else f"{url.partition(':')[0]}:***"
    return SettingsError(log.file, "log.store", shown("store", kept), allowed)


def _store_url(log: Section, file: Path) -> str:
    url = log.text("store")
    if re.match(r"postgresql(\+\w+)?://", url):
        if not _SERVER.fullmatch(url) or not url.isprintable() or "%00" in url:
            raise _no_address(
                log,
                url,
                '"postgresql+psycopg://USER@HOST/DB", in which @ / : within a name or a password are written '
                "%40 %2F %3A, and a port is 1 to 65535",
            )
        return url
    if not url.startswith(_SQLITE):
        allowed = '"sqlite:///FILE", such as "sqlite:///trial.db", or "postgresql+psycopg://USER@HOST/DB"'
        raise _no_address(log, url, allowed)
    name = url.removeprefix(_SQLITE)
    if name in ("", ":memory:"):
        raise log.wrong("store", "a file: a log in memory would be lost")
    if not name.isprintable():
        raise log.wrong("store", "the name of a file, in characters that are seen")
    path = (file.parent / name).resolve().as_posix()
    if name.endswith("/") or os.path.isdir(path):  # noqa: PTH112  (the other fails where one may not look)
        raise log.wrong("store", "the name of a file, and not of a folder")
    if path == file.resolve().as_posix():
        raise log.wrong("store", "a file of its own, and not this configuration")
    if "?" in path:
        raise log.wrong("store", f"a file and folder without ? in their names, not {path}")
    return _SQLITE + path


def _folder(section: Section, key: str, file: Path) -> Path | None:
    """Read the name of a folder or file; a relative one lies beside the configuration."""
    if not section.has(key):
        return None
    name = section.text(key)
    if not name or "\0" in name:
        raise section.wrong(key, "the name of a folder")
    return file.parent / name


_OLD_BALANCE = "serial-balance"
"""How a balance was once written: a press with this kind of collector."""


def _read_from(root: Section) -> tuple[tuple[PressSettings, ...], tuple[BalanceSettings, ...], tuple[str, ...]]:
    """Read what shots and weights come from, each under a name of its own, and hints at an old spelling."""
    seen: set[str] = set()
    presses, balances, hints = [], [], []
    for section in root.sections("press"):
        name = _own_name(section, seen)
        collector = section.section("collector")
        kind = collector.text("kind")
        section.finish()
        if kind == _OLD_BALANCE:
            balances.append(BalanceSettings(name, collector.text("weighs"), collector))
            hints.append(
                f'{root.file}: {section.path} "{name}" is a balance and is still taken; write it as [[balance]], with '
                "the keys of its collector beside its name and without kind"
            )
        else:
            presses.append(PressSettings(name, kind, collector))
    for section in root.sections("balance"):
        balances.append(BalanceSettings(_own_name(section, seen), section.text("weighs"), section))
    if not presses and not balances:
        raise root.wrong("press", "at least one [[press]]")
    return tuple(presses), tuple(balances), tuple(hints)


def _own_name(section: Section, seen: set[str]) -> str:
    name = section.text("name")
    if name in seen:
        raise section.wrong("name", "each press and balance its own name")
    if not _fits_a_cell(name, ",;:"):
        raise section.wrong("name", "a name without , ; : line breaks, or blanks at its ends")
    seen.add(name)
    return name


def _fits_a_cell(name: str, marks: str) -> bool:
    """Say whether a name can stand in a recording, where such marks separate."""
    return bool(name) and name == name.strip() and name.isprintable() and not any(mark in name for mark in marks)


def _trial(root: Section) -> TrialSettings | None:
    if not root.has("trial"):
        return None
    section = root.section("trial")
    trial = TrialSettings(section.text("name"), section.text("part", ""), section.text("resin", ""))
    section.finish()
    return trial


def _designs(root: Section) -> Iterator[tuple[str, DesignSettings]]:
    for name, section in root.items():
        if not _fits_a_cell(name, ";"):
            raise root.wrong(name, "a design named without ; line breaks, or blanks at its ends")
        known = DesignSettings()
        design = DesignSettings(
            name=name,
            resin_family=section.text("resin_family", ""),
            settling_shots=section.integer("settling_shots", 0, 1000, known.settling_shots),
            baseline_shots=section.integer("baseline_shots", 5, 1000, known.baseline_shots),
            limits=dict(_bounds(section.section("limits", optional=True))),
            least_change=dict(_per_channel(section.section("least_change", optional=True), 0.0)),
            cost=dict(_costs(section.section("cost", optional=True))),
            cavities=section.integer("cavities", 1, 512, known.cavities),
            dissolve_h=_dissolve_h(section),
            tolerance=dict(_ends(section.section("tolerance", optional=True))),
            switchover=section.choice("switchover", ("position", "pressure", "time"), known.switchover),
            pressure_limited=section.flag("pressure_limited", known.pressure_limited),
            chart_limits=section.choice("chart_limits", ("per-life", "3-sigma"), known.chart_limits),
        )
        section.finish()
        yield name, design


def _dissolve_h(section: Section) -> float | None:
    """Read how long a part of this design stays in the bath, and whether it may go into one."""
    allowed = section.choice("dissolve", ("allowed", "not allowed"), "allowed") == "allowed"
    hours = section.number("dissolve_h", 0.001, 1000.0, 24.0)
    return hours if allowed else None


def _bounds(root: Section) -> Iterator[tuple[str, Bound]]:
    for name in root.keys():  # noqa: SIM118  (a Section is no dict)
        if name not in CHANNELS:
            raise root.unknown(name, CHANNELS)
    return _ends(root)


def _ends(root: Section) -> Iterator[tuple[str, Bound]]:
    for name, section in root.items():
        ends = {end: section.number(end, -1e9, 1e9) if section.has(end) else None for end in ("low", "high")}
        if ends["low"] is None and ends["high"] is None:
            raise root.wrong(name, "low, high or both")
        if ends["low"] is not None and ends["high"] is not None and ends["low"] >= ends["high"]:
            raise root.wrong(name, "low below high")
        section.finish()
        yield name, Bound(**ends)


def _per_channel(section: Section, low: float) -> Iterator[tuple[str, float]]:
    for name in section.keys():  # noqa: SIM118  (a Section is no dict)
        if name not in CHANNELS:
            raise section.unknown(name, CHANNELS)
        yield name, section.number(name, low, 1e9)


def _costs(section: Section) -> Iterator[tuple[str, float]]:
    for name in ("part", "insert", "changeover", "late_find"):
        if section.has(name):
            yield name, section.number(name, 0.0, 1e9)
    section.finish()
