"""What screens show, as plain data: read by `data`, worded by `standing`, drawn by `figures`."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from shotlog.records import Link, Verdict
from shotlog.settings import Bound

__all__ = ["Entry", "EventLine", "Level", "Mark", "Mounted", "PressView", "Strip", "Strips"]


@dataclass(frozen=True, slots=True)
class Mounted:
    """An insert in a half, for the shot to come; `n_shots` were made on it, gaps counted."""

    half: str
    serial: str
    design: str
    since: int
    n_shots: int
    single_use: bool


@dataclass(frozen=True, slots=True)
class Level:
    """A baseline as drawn: in force over shots `first` to `last`."""

    first: int
    last: int
    centre: float
    lower: float
    upper: float
    n_shots: int


@dataclass(frozen=True, slots=True)
class Mark:
    """A signal as drawn, at the value of its shot; `side` is ``above``, ``below`` or ``other``."""

    shot: int
    value: float
    side: str
    text: str


@dataclass(frozen=True, slots=True)
class EventLine:
    """Something that happened from a shot on: a short label for the strip, the whole text beside it."""

    shot: int
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Strip:
    """One channel over the shots shown; a value is None where the press gave none."""

    channel: str
    values: tuple[float | None, ...]
    levels: tuple[Level, ...]
    action: Bound
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Strips:
    """The strips of an insert. `start` is its first shot; `shots` may begin later where it lived very long."""

    insert: str
    start: int
    shots: tuple[int, ...]
    settling: frozenset[int]
    gaps: tuple[tuple[int, int], ...]
    events: tuple[EventLine, ...]
    onset: tuple[int, int, int] | None
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """An event or a mounting somebody entered; `name` is its table and number in the log, ``events:17``."""

    name: str
    shot: int
    text: str
    time: datetime
    taken_back: bool


@dataclass(frozen=True, slots=True)
class PressView:
    """A press at the press. `judged` is the insert that the next shot will be judged on; None where none is mounted."""

    press: str
    shot: int | None
    time: datetime | None
    values: Mapping[str, float]
    verdict: Verdict | None
    judged: Mounted | None
    mounted: tuple[Mounted, ...]
    link: Link | None
    n_shots: int
    n_missed: int
    n_faults: int
    last_fault: str
    cycle_s: float | None
    strips: Strips
    recent: tuple[Entry, ...]
