"""What a person has to do to leave a logger running, and how to live with it, in plain words."""

import os
import shlex
import stat
from collections.abc import Iterable
from pathlib import Path, PurePath

from shotlog.service import apart
from shotlog.service.facts import PlacedFile, ServiceFacts
from shotlog.service.windows import USER

__all__ = ["cautions", "for_linux", "for_windows", "said"]

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


def said(chapters: Iterable[Chapter]) -> str:
    """Return chapters as text for a terminal."""
    return "\n\n".join("\n".join([f"{heading}:", *(f"  {line}" for line in lines)]) for heading, lines in chapters)


def for_linux(facts: ServiceFacts, files: list[PlacedFile], placed: bool) -> list[Chapter]:
    """Return the steps, and how to live with it; `placed`: the files are in their places."""
    name, config = facts.name, shlex.quote(str(facts.config))
    own = [path for path in facts.given if path in (facts.config.parent, facts.text_log.parent)]
    folders = shlex.join(map(str, own))
    elsewhere = shlex.join(str(path) for path in facts.given if path not in own)
    with_user = any(one.path.parent.name == "sysusers.d" for one in files)
    units = [f"{name}.service", *([f"{name}-backup.timer"] if facts.backup else [])]
    place = "" if placed else f"put the files where their headings say: sudo {_again(facts)} --install, or by hand"
    steps = [
        f"look at the configuration once more: shotlog check {config}",
        *filter(None, [place]),
        *(["make the user, who has no password and no home that anybody logs in to:", "    sudo systemd-sysusers"]
          if with_user else []),
        "let that user, and everybody of its group, write where the log lies:",
        f"    sudo find {folders} {apart.spared(facts, own)} -exec chgrp {facts.user} {{}} + -exec chmod g+rwX {{}} +",
        f"    sudo find {folders} -type d -exec chmod g+s {{}} +",
        *(["and into these; what others have in them stays as it is (a share has to be mounted for that user):",
           f"    sudo chgrp {facts.user} {elsewhere}",
           f"    sudo chmod g+rwx {elsewhere}"] if elsewhere else []),
        "who makes entries by commands on this computer belongs to that group (log out and in again after it); that is",
        "more than any account gives, for the log and the configuration, with its passwords, are then open to him:",
        f"    sudo usermod -aG {facts.user} $USER",
        *apart.for_linux(facts),
        "start it, now and with the computer:",
        "    sudo systemctl daemon-reload",
        f"    sudo systemctl enable --now {' '.join(units)}",
    ]  # fmt: skip
    return [
        ("What is in the unit", _LINUX_PARTS),
        ("Steps", steps),
        (
            "Does it run",
            [
                f"    systemctl status {name}",
                f"    shotlog status {config}",
                f"the pages: {facts.url}, and for machines {facts.url}healthz",
                *([f"    systemctl list-timers {name}-backup.timer"] if facts.backup else []),
            ],
        ),
        (
            "Stop it",
            [
                f"    sudo systemctl stop {name}          until the computer starts again",
                f"    sudo systemctl disable --now {name} for good; what was read is in the log",
            ],
        ),
        (
            "What it says",
            [
                f"in {facts.text_log}, which makes room by itself (log.keep_text_mb)",
                f"and in the system's journal, with what systemd says of it: journalctl -u {name}",
            ],
        ),
        ("Backups", _backups(facts, "the timer")),
        (
            "Update",
            [
                f"a backup first: shotlog backup {config}{'' if facts.backup else ' --out FILE.zip'}",
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
                "it runs as LOCAL SERVICE, without a password and with few rights; let it write where the log lies,",
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
                "every minute it is looked whether it runs; where it ended it is started again",
            ],
        ),
        (
            "Stop it",
            [
                f"    schtasks /change /tn {facts.name} /disable    else it is started again within a minute",
                f"    schtasks /end /tn {facts.name}",
                "it ends as in a power cut: what was told as stored is in the log; /enable and /run bring it back",
            ],
        ),
        ("What it says", [f"in {facts.text_log}, which makes room by itself (log.keep_text_mb)"]),
        ("Backups", _backups(facts, "a second task")),
        (
            "Update",
            [
                f'a backup first: shotlog backup "{facts.config}"{"" if facts.backup else " --out FILE.zip"}',
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


def cautions(facts: ServiceFacts) -> list[str]:
    """Return what would keep another user from running it on this computer, a line each; none where nobody can tell."""
    if os.name == "nt":
        return []
    shut: dict[Path, Path] = {}
    for path in facts.paths:
        for folder in reversed(Path(os.path.realpath(path)).parents):
            try:
                if not folder.stat().st_mode & stat.S_IXOTH:
                    shut.setdefault(folder, path)
                    break
            except OSError:
                break
    return (
        [
            f"{folder}, where {path} lies, lets only its owner and group in: user {facts.user} must reach it. Keep the "
            "program and the trial outside of home folders, such as in /opt and /srv"
            for folder, path in shut.items()
        ]
        + [
            f"user {facts.user} may not read {path}: sudo {_let_read(facts, path)}"
            for path in facts.reads
            if not _is_readable(path, facts.user)
        ]
        + [
            f"others than user {facts.user} may read {path}: sudo {_let_read(facts, path)}"
            for path in facts.closed
            if _is_open(path)
        ]
    )


def _let_read(facts: ServiceFacts, path: Path) -> str:
    """Return what lets the user of the service read a file; of one that is closed to others, nobody else."""
    place = shlex.quote(str(path))
    if path in facts.closed:
        return f"chown {facts.user} {place}, and chmod 0600"
    return f"chgrp {facts.user} {place}, and chmod g+r"


def _is_open(file: Path) -> bool:
    """Say whether a file gives anybody but its owner a right."""
    try:
        return bool(file.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO))
    except OSError:
        return False


def _is_readable(file: Path, user: str) -> bool:
    """Say whether a file gives a user of that name the right to read it; one that is not there, nobody."""
    try:
        mode = file.stat().st_mode
        mine, its_group = (file.owner() == user, file.group() == user) if not mode & stat.S_IROTH else (False, False)
    except (OSError, KeyError, NotImplementedError):
        return False
    return bool(mode & stat.S_IROTH or (mine and mode & stat.S_IRUSR) or (its_group and mode & stat.S_IRGRP))


def _again(facts: ServiceFacts) -> str:
    return shlex.join(facts.command("service", str(facts.config)))


def _backups(facts: ServiceFacts, what: str) -> list[str]:
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
