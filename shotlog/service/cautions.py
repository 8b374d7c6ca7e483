"""What would keep the user of the service from running it on this computer, and what others could read of it."""

import os
import shlex
import stat
from pathlib import Path

from shotlog.service.facts import ServiceFacts

__all__ = ["cautions"]


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
