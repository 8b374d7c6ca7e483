"""What a person has to do to leave a logger running, and how to live with it, in plain words."""

import os
import shlex
from collections.abc import Iterable
from pathlib import Path, PurePath

from shotlog.service import apart
from shotlog.service.facts import PlacedFile, ServiceFacts
from shotlog.service.systemd import state_folder
from shotlog.service.windows import USER

__all__ = ["for_linux", "for_windows", "said"]

Chapter = tuple[str, list[str]]
"""A heading, and lines below it; a command stands in a line of its own, indented."""


_LINUX_PARTS = [
    "[Unit]: begun when the disks of the log and the network are there, and tried again for ever",
    "Type, WatchdogSec: it says itself when it is ready and at work; where it falls silent it is started anew",
    "Restart, TimeoutStopSec: started again whenever it failed, not where the configuration is wrong; ended in seconds",
    "User, SupplementaryGroups: a user of its own, in the group that opens serial ports where one is read",
    "StateDirectory, CacheDirectory: its folders in /var/lib and /var/cache, made and owned for it",
    "ReadWritePaths: the only other folders it may write to",
    "Protect..., Private..., Restrict..., System...: what it has no business with, and cannot do if it is broken into",
    "[Install]: begun with the computer, once it is enabled",
]


_LINUX_PARTS_SHOWN = [
    "Type: the pages of a centre, and nothing else: presses are logged beside them, by `run` on each edge",
    *(one for one in _LINUX_PARTS if not one.startswith(("Type", "[Unit]"))),
]


def said(chapters: Iterable[Chapter]) -> str:
    """Return chapters as text for a terminal."""
    return "\n\n".join("\n".join([f"{heading}:", *(f"  {line}" for line in lines)]) for heading, lines in chapters)


def for_linux(facts: ServiceFacts, files: list[PlacedFile], placed: bool) -> list[Chapter]:
    """Return the steps, and how to live with it; `placed`: the files are in their places."""
    name, config = facts.name, shlex.quote(str(facts.config))
    own = (
        []
        if facts.pages_only
        else [path for path in facts.given if path in (facts.config.parent, facts.text_log.parent)]
    )
    elsewhere = shlex.join(str(path) for path in facts.given if path not in own)
    with_user = any(one.path.parent.name == "sysusers.d" for one in files)
    units = [f"{name}.service", *([f"{name}-backup.timer"] if facts.backup else [])]
    place = "" if placed else f"put the files where their headings say: sudo {_again(facts)} --install, or by hand"
    steps = [
        f"look at the configuration once more: shotlog check {config}",
        *filter(None, [place]),
        *(["make the user, who has no password and no home that anybody logs in to:", "    sudo systemd-sysusers"]
          if with_user else []),
        *(_reading(facts) if facts.pages_only else _writing(facts, own)),
        *(["and into these; what others have in them stays as it is (a share has to be mounted for that user):",
           f"    sudo chgrp {facts.user} {elsewhere}",
           f"    sudo chmod g+rwx {elsewhere}"] if elsewhere else []),
        *([] if facts.pages_only else _entering(facts)),
        *apart.for_linux(facts),
        "start it, now and with the computer:",
        "    sudo systemctl daemon-reload",
        f"    sudo systemctl enable --now {' '.join(units)}",
    ]  # fmt: skip
    return [
        ("What is in the unit", _LINUX_PARTS_SHOWN if facts.pages_only else _LINUX_PARTS),
        ("Steps", steps),
        (
            "Does it run",
            [
                f"    systemctl status {name}",
                f"    shotlog status {config}",
                f"the pages: {facts.url}, and for machines {facts.url}healthz",
                *_shipped(facts),
                *([f"    systemctl list-timers {name}-backup.timer"] if facts.backup else []),
            ],
        ),
        (
            "Stop it",
            [
                f"    sudo systemctl stop {name}          until the computer starts again",
                f"    sudo systemctl disable --now {name} for good; {_stays(facts)}",
            ],
        ),
        (
            "What it says",
            [
                *_kept_text(facts),
                f"in the system's journal, with what systemd says of it: journalctl -u {name}",
            ],
        ),
        ("Backups", _backups(facts, "the timer")),
        (
            "Update",
            [
                *_backup_first(facts, config),
                "install the new release in the same place, then",
                f"    sudo systemctl restart {name}",
                f"and where its files are to be written anew: sudo {_again(facts)} --install",
            ],
        ),
        (
            "Remove",
            [
                f"    sudo systemctl disable --now {' '.join(units)}",
                f"    sudo rm {' '.join(shlex.quote(str(one.path)) for one in files)}",
                "    sudo systemctl daemon-reload",
                "the log stays where it is",
            ],
        ),
    ]


def for_windows(facts: ServiceFacts, files: list[PlacedFile], placed: bool) -> list[Chapter]:
    """Return the steps, and how to live with it; `placed`: the files are in their places."""
    tasks = [(facts.name if n == 0 else f"{facts.name}-backup", one.path) for n, one in enumerate(files)]
    folders = map(str, facts.given)
    place = "" if placed else "make the files, beside the configuration: the same command with --install"
    reads = PurePath(os.path.commonpath([facts.python, facts.python.parent.parent]))
    return [
        (
            "What is in the task",
            [
                "Triggers: begun with the computer, and looked for every minute",
                "Settings: no second one beside it, no time limit, on batteries too",
                "Principals: as LOCAL SERVICE, which needs no log-in; Actions: the command itself",
            ],
        ),
        (
            "Steps, in a terminal of an administrator",
            [
                *filter(None, [place]),
                "it runs as LOCAL SERVICE, without a password and with few rights; let it "
                + ("read the configuration," if facts.pages_only else "write where the log lies,"),
                *([f'    icacls "{facts.config}" /grant "*{USER}:R"'] if facts.pages_only else []),
                *(f'    icacls "{folder}" /grant "*{USER}:(OI)(CI)M"' for folder in folders),
                "and read the program:",
                f'    icacls "{reads}" /grant "*{USER}:(OI)(CI)RX"',
                *apart.for_windows(facts),
                "make the tasks; they start with the computer and, after a minute, now:",
                *(f'    schtasks /create /tn {name} /xml "{path}"' for name, path in tasks),
            ],
        ),
        (
            "Does it run",
            [
                f"    schtasks /query /tn {facts.name} /v /fo list",
                f'    shotlog status "{facts.config}"',
                f"the pages: {facts.url}, and for machines {facts.url}healthz",
                *_shipped(facts),
                "every minute it is looked whether it runs; where it ended it is started again",
            ],
        ),
        (
            "Stop it",
            [
                f"    schtasks /change /tn {facts.name} /disable    else it is started again within a minute",
                f"    schtasks /end /tn {facts.name}",
                f"it ends as in a power cut: {_stays(facts)}; /enable and /run bring it back",
            ],
        ),
        ("What it says", _kept_text(facts) or ["nothing is kept; by hand, in a terminal: shotlog dashboard CONFIG"]),
        ("Backups", _backups(facts, "a second task")),
        (
            "Update",
            [
                *_backup_first(facts, f'"{facts.config}"'),
                "stop it as above, install the new release in the same place, then",
                f"    schtasks /change /tn {facts.name} /enable",
                f"    schtasks /run /tn {facts.name}",
            ],
        ),
        (
            "Remove",
            [
                *(f"    schtasks /delete /tn {name} /f" for name, _ in tasks),
                *(f'    del "{path}"' for _, path in tasks),
                "the log stays where it is",
            ],
        ),
    ]


def _again(facts: ServiceFacts) -> str:
    return shlex.join(facts.command("service", str(facts.config)))


def _writing(facts: ServiceFacts, own: list[Path]) -> list[str]:
    folders = shlex.join(map(str, own))
    return [
        "let that user, and everybody of its group, write where the log lies:",
        f"    sudo find {folders} {apart.spared(facts, own)} -exec chgrp {facts.user} {{}} + -exec chmod g+rwX {{}} +",
        f"    sudo find {folders} -type d -exec chmod g+s {{}} +",
    ]


def _entering(facts: ServiceFacts) -> list[str]:
    return [
        "who makes entries by commands on this computer belongs to that group (log out and in again after it); that is",
        "more than any account gives, for the log and the configuration, with its passwords, are then open to him:",
        f"    sudo usermod -aG {facts.user} $USER",
    ]


def _reading(facts: ServiceFacts) -> list[str]:
    """Return what lets the pages of a centre come to what they show."""
    return [
        "let that user read the configuration, and log in to the server (a role that reads is enough to look):",
        f"    sudo chgrp {facts.user} {shlex.quote(str(facts.config))}",
        f"    sudo chmod g+r {shlex.quote(str(facts.config))}",
        f"    sudo install -d -o {facts.user} -g {facts.user} -m 0700 {state_folder(facts)}",
        f"    sudo install -o {facts.user} -g {facts.user} -m 0600 PGPASS {state_folder(facts)}/.pgpass",
        "where PGPASS is a file with one line: SERVER:5432:DATABASE:ROLE:PASSWORD",
    ]


def _shipped(facts: ServiceFacts) -> list[str]:
    return ["what [ship] names is brought to the centre by it as well: nothing else is started"] if facts.ships else []


def _stays(facts: ServiceFacts) -> str:
    return "what the edges log goes on to the centre" if facts.pages_only else "what was told as stored is in the log"


def _kept_text(facts: ServiceFacts) -> list[str]:
    return [] if facts.pages_only else [f"in {facts.text_log}, which makes room by itself (log.keep_text_mb)"]


def _backup_first(facts: ServiceFacts, config: str) -> list[str]:
    if facts.pages_only:
        return []
    if facts.server:
        return ["a backup first, by pg_dump"]
    return [f"a backup first: shotlog backup {config}{'' if facts.backup else ' --out FILE.zip'}"]


def _backups(facts: ServiceFacts, what: str) -> list[str]:
    if facts.pages_only:
        return [
            "the centre is backed up by the server's own means (pg_dump); each edge keeps its own log, and backs it up"
        ]
    if facts.server:
        return [
            "a log on PostgreSQL is backed up by the server's own means (pg_dump)",
            "copy the folder of pictures and the configuration beside it by hand",
        ]
    if facts.backup is None:
        return [
            'none is made by itself. Put a folder on another machine into the configuration, [log] backup = "FOLDER",',
            f"and call this again: {what} then makes one every backup_every_h hours and keeps the newest backup_keep",
        ]
    return [
        f"{what} makes one every {facts.backup.every_h:g} h in {facts.backup.folder}",
        f"it is read back, and the newest {facts.backup.keep} are kept",
        "one that fails, or is long due, is said by shotlog status and on the pages",
        "to bring one back: stop it, shotlog restore CONFIG FILE.zip --force, and start it again",
    ]
