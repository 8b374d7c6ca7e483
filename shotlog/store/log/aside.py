"""Setting files aside: what lies at the path of a log is renamed, never written over and never deleted."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from shotlog.clock import SystemClock
from shotlog.store.log.identity import write_ahead

__all__ = ["bring_back", "free_name", "set_aside"]


def free_name(path: Path, word: str) -> Path:
    """Return a name beside a path that nothing has yet: ``trial.db.damaged-20260105T060000Z``."""
    base = f"{path.name}.{word}-{SystemClock().now():%Y%m%dT%H%M%SZ}"
    names = (base if n == 1 else f"{base}-{n}" for n in range(1, 1_000_000))
    return next(at for at in map(path.with_name, names) if not at.exists() and not write_ahead(at).exists())


def set_aside(path: Path, word: str, close: Callable[[], None], with_ahead: bool = True) -> str:
    """Rename what lies at a path, if anything does; return its new name, empty where nothing lay there.

    Its write-ahead log goes along; without `with_ahead` that is of another file, which was copied, and is deleted.
    `close` closes our own connections. That comes after the renaming: closed before, the last of them would write its
    write-ahead log into what lies there. Only where what is open cannot be renamed (Windows) it comes first.

    Raises
    ------
    OSError
        It cannot be renamed: on Windows, while another program has it open.
    """
    to = free_name(path, word)
    there = path.exists()
    if there:
        try:
            path.rename(to)
        except PermissionError:
            close()
            path.rename(to)
    for end in ("-wal", "-shm"):
        beside = path.with_name(path.name + end)
        with suppress(FileNotFoundError):
            if with_ahead:
                beside.rename(to.with_name(to.name + end))
            else:
                beside.unlink()
    close()
    return to.name if there else ""


def bring_back(path: Path, aside: str) -> None:
    """Rename what was set aside to where it lay, as far as it can be; nothing where `aside` is empty."""
    if not aside or path.exists():
        return
    for end in ("-wal", "-shm", ""):
        with suppress(OSError):
            path.with_name(aside + end).rename(path.with_name(path.name + end))
