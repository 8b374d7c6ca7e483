"""How things stand with the logger and in the shop: states of no press. Each of them is seen by looking now.

They are of a site: two loggers with a log in common each tell of their own disk, and of baths with parts of their own
presses.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from shotlog.clock import iso_utc
from shotlog.settings import Settings
from shotlog.store.asked.backed_up import backed_up
from shotlog.store.asked.kept import KeptNow
from shotlog.store.log.journal_note import LOW_BYTES, Disk
from shotlog.store.log.log import Log
from shotlog.store.parts.places import where_is
from shotlog.store.parts.soaks import Soak
from shotlog.wording.backups import backup_trouble
from shotlog.wording.kept import space_said, waiting_said
from shotlog.wording.messages import backup_message, bath_message, disk_message, logger_message, unwritten_message

__all__ = ["Gone", "ShopState", "baths_overdue", "logger_states", "named_here", "shop_states", "soaking_now"]


@dataclass(frozen=True, slots=True)
class Gone:
    """The logger is dead, since when and as far as is known why; or only some `presses` are not read by it."""

    since: datetime
    why: str
    presses: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ShopState:
    """A state of the logger or the shop that holds now; `of`: which of several; `said`: the message of it."""

    about: str
    of: str
    began: datetime
    said: str


_UNWRITTEN_S = 15.0
"""A log that cannot be written for less is being copied or put right, and goes on by itself (own)."""
_ROOM = 1.2
"""There is room again above so many times the bound: free space goes up and down around it (as `recorder.space`)."""


def logger_states(
    settings: Settings, site: str, kept: KeptNow, gone: Gone | None, lasting: Sequence[str], now: datetime
) -> list[ShopState]:
    """Return what is wrong with the logger, its log and its disks; `lasting`: the names of the spells that last."""
    found = []
    if gone is not None:
        every = [one.name for one in settings.presses]
        said = logger_message(site, gone.since, gone.why, gone.presses or every, is_dead=not gone.presses)
        found.append(ShopState("logger", "", gone.since, said))
    if kept.alive and kept.since is not None and (now - kept.since).total_seconds() >= _UNWRITTEN_S:
        waits = waiting_said(kept.shots or 0, kept.place, unsafe=kept.unsafe)
        found.append(ShopState("log", "", kept.since, unwritten_message(site, kept.since, kept.why, waits)))
    return [*found, *(state for disk in kept.disks for state in _disk(site, disk, lasting, now))]


def _disk(site: str, disk: Disk, lasting: Sequence[str], now: datetime) -> Iterator[ShopState]:
    """Yield that a disk is low, and that it is nearly full, which is told again."""
    for low, (bound, of) in enumerate(zip(LOW_BYTES, (disk.what, f"{disk.what}, nearly full"), strict=True), 1):
        is_told = any(name.startswith(f"disk at {site}/{of}/") for name in lasting)
        if disk.free_bytes < bound * (_ROOM if is_told else 1.0):
            room = (disk.what, disk.folder, disk.free_bytes, disk.shots, disk.hours, max(disk.low, low), disk.reserve)
            yield ShopState("disk", of, now, disk_message(site, space_said(*room)))


def shop_states(log: Log, settings: Settings, site: str, soaking: Sequence[Soak], now: datetime) -> list[ShopState]:
    """Return what is overdue in the shop.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    found = list(baths_overdue(soaking, [one.name for one in settings.presses], now))
    if settings.backup is not None:
        state = backed_up(log)
        if state.is_due(settings.backup, now):
            said = backup_trouble(state.done, state.file, state.failed, state.why, True, settings.backup.every_h)
            found.append(ShopState("backup", "", state.done or now, backup_message(site, said)))
    return found


def baths_overdue(soaking: Iterable[Soak], presses: Sequence[str], now: datetime) -> Iterator[ShopState]:
    """Yield each bath in which parts of these presses are overdue; `soaking`: what is in the baths."""
    by_bath: dict[tuple[str, int], list[Soak]] = {}
    for one in soaking:
        if one.part.press in presses and one.overdue_h(now) > 0.0:
            by_bath.setdefault((one.bath, one.bath_id), []).append(one)
    for (bath, bath_id), late in by_bath.items():
        due, of = min(one.due for one in late), sorted({one.part.press for one in late})
        yield ShopState("bath", f"{bath_id}", due, bath_message(bath, len(late), of, due))


def soaking_now(log: Log) -> tuple[Soak, ...]:
    """Return the parts that are in a bath.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    return where_is(log).soaking


def named_here(site: str, states: Iterable[ShopState], lasting: Iterable[str]) -> Mapping[str, ShopState]:
    """Return states by the names of their spells: that of one that lasts already, else one by when it began.

    `lasting`: the names of the spells that the log knows and that are not over.

    Examples
    --------
    >>> from datetime import UTC
    >>> full = ShopState("disk", "the log", datetime(2026, 1, 5, tzinfo=UTC), "")
    >>> list(named_here("hall-2", [full], []))
    ['disk at hall-2/the log/2026-01-05T00:00:00.000000Z']
    """
    known = list(lasting)
    found = {}
    for one in states:
        of = f"{one.about} at {site}/{one.of}/"
        name = next((name for name in known if name.startswith(of)), f"{of}{iso_utc(one.began)}")
        found[name] = one
    return found
