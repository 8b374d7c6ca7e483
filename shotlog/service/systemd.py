"""A service of systemd: the unit, the timer of its backups, and its user. Pure: texts from facts.

A path may hold blanks, quotes, ``%`` (which systemd takes for a specifier) and ``$`` (for a variable of a command);
see systemd.unit(5), systemd.service(5), systemd.exec(5).
"""

from pathlib import Path, PurePath

from shotlog.errors import UsageError
from shotlog.service.facts import PlacedFile, ServiceFacts, whole

__all__ = ["MARK", "STOP_S", "WATCHDOG_S", "files", "quoted", "state_folder"]

MARK = "# Written by `shotlog service` for"
"""How each file begins that is ours, followed by the configuration."""
WATCHDOG_S = 90
"""Longest time without a sign of life. `run` stops giving one when nothing is read or stored for a minute or two, and
ends by itself where that is the storing; this is for a process that cannot even look."""
STOP_S = 15
"""`run` ends within 5 s, its pages 1 s later; three times that, for a disk that is slow."""

_UNITS = Path("/etc/systemd/system")
_USERS = Path("/etc/sysusers.d")
_HOMES = ("/home", "/root", "/run/user")
_TEMPORARY = ("/tmp", "/var/tmp")  # noqa: S108  (compared with, nothing is written there)


_LOGGED = (
    "# ready is when the first press is asked; a sign of life comes while any press is read and stored",
    "Type=notify",
    "NotifyAccess=main",
    f"WatchdogSec={WATCHDOG_S}",
    "# asked to end first, so that what was read is stored",
    "WatchdogSignal=SIGTERM",
)
_SHOWN = ("Type=exec",)


def files(facts: ServiceFacts, with_user: bool) -> list[PlacedFile]:
    """Return the files of a service; `with_user`: its user is not there yet.

    Raises
    ------
    UsageError
        The program lies where systemd starts none from.
    """
    if set(str(facts.python)) & set("\"'\\"):
        raise UsageError(f"systemd starts no program with quotes or a backslash in its place: {facts.python}; move it")
    found = [PlacedFile(_UNITS / f"{facts.name}.service", _unit(facts))]
    if facts.backup is not None:
        found.append(PlacedFile(_UNITS / f"{facts.name}-backup.service", _backup(facts)))
        found.append(PlacedFile(_UNITS / f"{facts.name}-backup.timer", _timer(facts)))
    if with_user:
        user = f'u {facts.user} - "shotlog, logs presses" {state_folder(facts)}\n'
        found.append(PlacedFile(_USERS / f"{facts.name}.conf", f"{_mark(facts)}\n{user}"))
    return found


def state_folder(facts: ServiceFacts) -> Path:
    """Return the folder of the service alone: nobody else looks into it."""
    return Path("/var/lib", facts.name)


def quoted(word: str, is_command: bool = False) -> str:
    """Return a word as it stands in a unit; `is_command`: as an argument of a command, where ``$`` is a variable.

    Examples
    --------
    >>> quoted("/srv/trial"), quoted("/srv/50 % trial"), quoted('a"b', True), quoted("/srv/$1", True)
    ('/srv/trial', '"/srv/50 %% trial"', '"a\\\\"b"', '/srv/$$1')
    """
    plain = word.replace("%", "%%")
    plain = plain.replace("$", "$$") if is_command else plain
    if word and not set(word) & set(" \t\"'\\;"):
        return plain
    escaped = plain.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _unit(facts: ServiceFacts) -> str:
    serial = facts.serial
    return "\n".join(
        [
            _mark(facts),
            "# Change it with `systemctl edit`, which keeps your lines when this is written anew.",
            "[Unit]",
            f"Description=shotlog, {_does(facts)} the presses of {_words(facts.config.name)}",
            "# not before the disks are there that it lives on",
            f"RequiresMountsFor={' '.join(quoted(str(path)) for path in _lives_on(facts))}",
            "Wants=network-online.target",
            "After=network-online.target time-sync.target",
            "# tried again for ever: presses go on making shots",
            "StartLimitIntervalSec=0",
            "",
            "[Service]",
            *(_SHOWN if facts.pages_only else _LOGGED),
            f"ExecStart={_command(facts, *facts.start)}",
            "# also after it was killed; not after exit status 2, a wrong configuration, which a start does not mend",
            "Restart=on-failure",
            "RestartSec=5",
            "RestartPreventExitStatus=2",
            "# a large log of an earlier release is brought up to date first",
            "TimeoutStartSec=15min",
            "# it ends within 5 s by itself",
            f"TimeoutStopSec={STOP_S}",
            "KillMode=mixed",
            "",
            "# who it is, and where it keeps what it compiles",
            *_who(facts),
            *([f"# may open serial ports\nSupplementaryGroups={facts.group}"] if serial else []),
            *(["# the pages are on a port below 1024"] if facts.low_port else []),
            "",
            *_walls(facts, facts.writes, serial),
            "",
            "[Install]",
            "WantedBy=multi-user.target",
            "",
        ]
    )


def _does(facts: ServiceFacts) -> str:
    return "shows" if facts.pages_only else "logs"


def _lives_on(facts: ServiceFacts) -> list[Path]:
    return [facts.config] if facts.pages_only else [facts.config, facts.text_log.parent]


def _backup(facts: ServiceFacts) -> str:
    writes = facts.writes if facts.backup is None else (*facts.writes, whole(facts.backup.folder))
    return "\n".join(
        [
            _mark(facts),
            "[Unit]",
            f"Description=shotlog, backup of the log of {_words(facts.config.name)}",
            "",
            "[Service]",
            "Type=oneshot",
            f"ExecStart={_command(facts, 'backup', str(facts.config))}",
            "# after everything else on this computer: logging goes on beside it",
            "Nice=10",
            "IOSchedulingClass=idle",
            "TimeoutStartSec=6h",
            "",
            *_who(facts),
            "",
            *_walls(facts, writes, False),
            "",
        ]
    )


def _timer(facts: ServiceFacts) -> str:
    every_h = 24.0 if facts.backup is None else facts.backup.every_h
    return "\n".join(
        [
            _mark(facts),
            "[Unit]",
            f"Description=shotlog, backups of the log of {_words(facts.config.name)}",
            "",
            "[Timer]",
            "# a while after the computer is up, then so long after the one before",
            "OnBootSec=15min",
            f"OnUnitActiveSec={round(every_h * 60)}min",
            "",
            "[Install]",
            "WantedBy=timers.target",
            "",
        ]
    )


def _mark(facts: ServiceFacts) -> str:
    return f"{MARK} {facts.config}"


def _who(facts: ServiceFacts) -> list[str]:
    return [
        f"User={facts.user}",
        f"Group={facts.user}",
        "UMask=0007",
        f"StateDirectory={facts.name}",
        "StateDirectoryMode=0700",
        f"CacheDirectory={facts.name}",
        f"Environment=XDG_CACHE_HOME=/var/cache/{facts.name}",
    ]


def _walls(facts: ServiceFacts, writes: tuple[Path, ...], serial: bool) -> list[str]:
    """Return what keeps the process from anything but its folders, its presses and its pages.

    Memory that is written and executed is not forbidden: the inner loops of the call are compiled as they are needed.
    """
    paths = [str(path) for path in facts.paths]
    home = any(_below(path, _HOMES) for path in paths)
    temporary = any(_below(path, _TEMPORARY) for path in paths)
    capability = "CAP_NET_BIND_SERVICE" if facts.low_port else ""
    return [
        "# may write to these folders, if they are there, and read the rest; other programs are not its business",
        "ProtectSystem=strict",
        *([f"ReadWritePaths={' '.join(quoted(f'-{path}') for path in writes)}"] if writes else []),
        f"ProtectHome={'read-only' if home else 'yes'}",
        f"PrivateTmp={'no' if temporary else 'yes'}",
        *(
            ["# serial ports are devices: their permissions say which of them it may open"]
            if serial
            else ["PrivateDevices=yes", "ProtectClock=yes"]
        ),
        "NoNewPrivileges=yes",
        f"CapabilityBoundingSet={capability}",
        f"AmbientCapabilities={capability}",
        "ProtectKernelTunables=yes",
        "ProtectKernelModules=yes",
        "ProtectKernelLogs=yes",
        "ProtectControlGroups=yes",
        "ProtectHostname=yes",
        "ProtectProc=invisible",
        "RestrictAddressFamilies=AF_UNIX AF_INET AF_INET6",
        "RestrictNamespaces=yes",
        "RestrictRealtime=yes",
        "RestrictSUIDSGID=yes",
        "LockPersonality=yes",
        "RemoveIPC=yes",
        "SystemCallArchitectures=native",
        "SystemCallFilter=@system-service",
        "SystemCallFilter=~@privileged",
        "SystemCallErrorNumber=EPERM",
    ]


def _command(facts: ServiceFacts, *words: str) -> str:
    program, *rest = facts.command(*words)
    # the program itself is no place for a variable, and its $ stands as it is
    return " ".join([quoted(program), *(quoted(word, True) for word in rest)])


def _words(text: str) -> str:
    """Return free text of a unit."""
    return text.replace("%", "%%")


def _below(path: str, places: tuple[str, ...]) -> bool:
    return any(PurePath(path).is_relative_to(place) for place in places)
