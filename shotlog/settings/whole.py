"""A whole configuration: its presses, balances, trial and places, and what may be wrong with them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from shotlog.errors import SettingsError
from shotlog.settings.dashboard import LoginSettings, WallSettings, login, walls
from shotlog.settings.designs import DesignSettings, designs
from shotlog.settings.messages import MessagesSettings, messages
from shotlog.settings.section import Section, fits_a_cell, path_beside
from shotlog.settings.shipping import ShipSettings, ship
from shotlog.settings.store_address import SQLITE, edge_named, is_server, store_url
from shotlog.settings.toml_text import tables_of, text_of
from shotlog.withheld import without_secrets

__all__ = [
    "BackupSettings",
    "BalanceSettings",
    "PressSettings",
    "Settings",
    "TrialSettings",
    "load",
    "read_from",
    "trial",
]


FALSE_CALLS = (0.5, 40.0)
"""Least and most false calls in 100 sound lives that may be asked for."""

RESERVE_MB = 8
"""Space kept in reserve for shots while the log cannot be written, in MB: about 20,000 shots of three channels. Someone
with many presses, or a server that may be away for weeks, would choose more."""

_TABLES = ("log", "press", "balance", "design", "trial", "dashboard", "call", "messages", "ship")
"""The tables of a file; one of another name is told before what it leaves missing."""


@dataclass(frozen=True, slots=True)
class TrialSettings:
    """The trial that shots are logged under."""

    name: str
    part: str = ""
    resin: str = ""


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
    `backup`: where backups go by themselves, None where nowhere. `messages`: who is told of what, None for nobody.
    `ship`: the centre that the log is shipped to, None for none. `sisters_elsewhere`: each press is told of the lives
    that ended on others.
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
    messages: MessagesSettings | None = None
    ship: ShipSettings | None = None
    sisters_elsewhere: bool = True

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
        return Path(self.store.removeprefix(SQLITE)) if self.store.startswith(SQLITE) else self.file

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
        telling = () if self.messages is None else self.messages.cautions
        return (
            weighing
            + self._line_cautions()
            + self._folder_cautions()
            + self._journal_cautions()
            + self._backup_cautions()
            + telling
        )

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

    def _folder_cautions(self) -> tuple[str, ...]:
        """Return which presses are asked in one folder under one session: each would end the report of the other."""
        first: dict[tuple[object, object], str] = {}
        found = []
        for press in self.presses:
            folder, session = press.collector.peek("folder"), press.collector.peek("session")
            if not isinstance(folder, str) or press.collector.peek("passive"):
                continue
            other = first.setdefault((folder, 1 if session is None else session), press.name)
            if other != press.name:
                found.append(
                    f"{press.name} and {other} are asked in one folder, {folder}, under one session; each press has a "
                    "folder of its own, and each program that asks in it a session"
                )
        return tuple(found)

    def _journal_cautions(self) -> tuple[str, ...]:
        if self.journal is None or self.journal.is_dir():
            return ()
        return (f"log.journal: there is no folder {self.journal}; until there is one, the journal lies beside the log",)

    def _backup_cautions(self) -> tuple[str, ...]:
        if self.backup is None or self.store.startswith(SQLITE):
            return ()
        return ("log.backup: a log on a server is backed up by the server's own means (pg_dump), and not there",)

    @property
    def edge(self) -> str:
        """The edge whose log at a centre this is about, empty of a log at its own place, and of a whole centre."""
        return edge_named(self.store)

    @property
    def is_centre(self) -> bool:
        """Whether it is about what a centre holds: the log of one edge, or of all of them. It has no press then."""
        return bool(self.edge) or (is_server(self.store) and not self.presses and not self.balances)

    def need_presses(self) -> None:
        """Refuse to go on without a press or a balance of its own.

        Raises
        ------
        SettingsError
            It has none: it is about a centre, or nobody wrote one down.
        """
        if self.is_centre:
            allowed = (
                "at least one [[press]]; what is read at presses is read beside them, and only looked at in a centre"
            )
            raise SettingsError(str(self.file), "press", "nothing", allowed)

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
    root = Section(str(file), "", tables_of(file, text_of(file)))
    root.only(_TABLES)
    if not root.has("log"):
        raise root.wrong("log", 'a table, in two lines: [log] and, below it, store = "sqlite:///trial.db"')
    log = root.section("log")
    store = store_url(log, file)
    anchor = path_beside(log, "anchor", file)
    journal = path_beside(log, "journal", file)
    reserve_mb = log.integer("reserve_mb", 0, 4096, RESERVE_MB)
    keep_text_mb = log.number("keep_text_mb", 0.0, 10_000.0, 10.0)
    backup = _backup(log, file)
    log.finish()
    dashboard = root.section("dashboard", optional=True)
    host = dashboard.text("host", "127.0.0.1")
    if not host.isprintable() or " " in host:
        raise dashboard.wrong("host", "the name or address of this machine, such as 127.0.0.1 or 0.0.0.0")
    port = dashboard.integer("port", 0, 65535, 8050)
    let_in = login(dashboard, file)
    kept_out = walls(dashboard, file)
    dashboard.finish()
    call = root.section("call", optional=True)
    false_calls = call.number("false_per_100_lives", *FALSE_CALLS) if call.has("false_per_100_lives") else None
    elsewhere = call.flag("sisters_elsewhere", True)
    call.finish()
    for name in ("press", "balance", "design", "trial") if edge_named(store) else ():
        if root.has(name):
            raise root.wrong(name, f"none here: those of {edge_named(store)} come from its own configuration")
    presses, balances, hints = read_from(root)
    if not presses and not balances and not is_server(store):
        raise root.wrong("press", "at least one [[press]]")
    return Settings(
        file,
        store,
        presses,
        balances,
        dict(designs(root.section("design", optional=True))),
        trial(root),
        host,
        port,
        false_calls,
        hints,
        keep_text_mb,
        root.understood,
        anchor,
        journal,
        reserve_mb,
        let_in,
        backup,
        kept_out,
        messages(root, file, [press.name for press in presses]),
        ship(root),
        elsewhere,
    )


def _backup(log: Section, file: Path) -> BackupSettings | None:
    folder = path_beside(log, "backup", file)
    every_h = log.number("backup_every_h", 1.0, 720.0, 24.0)
    keep = log.integer("backup_keep", 1, 10_000, 14)
    return None if folder is None else BackupSettings(folder, every_h, keep)


_OLD_BALANCE = "serial-balance"
"""How a balance was once written: a press with this kind of collector."""


def read_from(root: Section) -> tuple[tuple[PressSettings, ...], tuple[BalanceSettings, ...], tuple[str, ...]]:
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
    return tuple(presses), tuple(balances), tuple(hints)


def _own_name(section: Section, seen: set[str]) -> str:
    name = section.text("name")
    if name in seen:
        raise section.wrong("name", "each press and balance its own name")
    if not fits_a_cell(name, ",;:"):
        raise section.wrong("name", "a name without , ; : line breaks, or blanks at its ends")
    seen.add(name)
    return name


def trial(root: Section) -> TrialSettings | None:
    if not root.has("trial"):
        return None
    section = root.section("trial")
    found = TrialSettings(section.text("name"), section.text("part", ""), section.text("resin", ""))
    section.finish()
    return found
