"""What screens show of a press, as plain data: no words of ours but labels, no figures."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from shotlog.parts.found import FoundWrong
from shotlog.parts.picture import Picture
from shotlog.records import ClockStep, Gap, Link, Verdict, Who
from shotlog.settings import Bound
from shotlog.store.asked.unjudged import Unjudged

__all__ = ["DrawnLevel", "DrawnMark", "EntryLine", "EventLine", "Forecast", "Mounted", "PressView", "Strip", "Strips"]


@dataclass(frozen=True, slots=True)
class Mounted:
    """An insert in a half, for the shot to come; `n_shots` were made on it, gaps counted, and `earlier` ones before it
    was taken out and came back.

    Of a single-use half, `piece` is the one that the shot to come takes, empty where none is left, and `waiting` holds
    those left in order, that one first; None where they are numbered on and never run out. `print_batch` is the
    piece's. `at_last`: what was in that half at the newest shot, the piece where it is single-use; empty for nothing.
    """

    half: str
    serial: str
    design: str
    since: int
    n_shots: int
    single_use: bool
    earlier: int = 0
    print_batch: str = ""
    piece: str = ""
    waiting: tuple[str, ...] | None = None
    at_last: str = ""


@dataclass(frozen=True, slots=True)
class DrawnLevel:
    """A baseline as drawn: in force over shots `first` to `last`. `per_100`: as in `Baseline`."""

    first: int
    last: int
    centre: float
    lower: float
    upper: float
    n_shots: int
    per_100: int | None = None


@dataclass(frozen=True, slots=True)
class DrawnMark:
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
class Forecast:
    """The shots at which the shots left run out, as the verdict of shot `made_at` has it.

    `channel` and `end` (``low`` or ``high``) name the action limit that is run up to; empty where no limit set for the
    design is. `last` is None where it lies beyond what is looked ahead.
    """

    made_at: int
    first: int
    likely: int
    last: int | None
    channel: str
    end: str


@dataclass(frozen=True, slots=True)
class Strip:
    """One channel over the shots shown; a value is None where the press gave none."""

    channel: str
    values: tuple[float | None, ...]
    levels: tuple[DrawnLevel, ...]
    action: Bound
    marks: tuple[DrawnMark, ...]


@dataclass(frozen=True, slots=True)
class Strips:
    """The strips of an insert. `start` is its first shot since it was mounted, `earlier` how many it had made before;
    `shots` may begin later where it lived very long.

    `settling`: those that are not judged, for the insert settles or their verdict is not worked out yet.
    `onset`: early edge, shot and late edge of the change called; `held_from`: the first shot whose parts are held for
    it, which is earlier where the change was dated earlier and that date still stands, or for what people found.
    `chart_limits`: how the configuration has limits set for the design.
    """

    insert: str
    start: int
    shots: tuple[int, ...]
    settling: frozenset[int]
    gaps: tuple[tuple[int, int], ...]
    events: tuple[EventLine, ...]
    onset: tuple[int, int, int] | None
    strips: tuple[Strip, ...]
    forecast: Forecast | None = None
    held_from: int | None = None
    earlier: int = 0
    chart_limits: str = ""


@dataclass(frozen=True, slots=True)
class EntryLine:
    """What somebody entered about a press; `name` is its table and number in the log, ``events:17``.

    `who` entered it, `who_back` took it back. `finding`: its number where it is a finding, which a picture may go with;
    `pictures`: those that do.
    """

    name: str
    shot: int
    text: str
    time: datetime
    taken_back: bool
    who: Who
    who_back: Who
    finding: int | None = None
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class PressView:
    """A press at the press. `judged` is the insert that is looked at: the one a change is laid to, else the one changed
    last; None where none is mounted.

    `question` is the shot before which an insert may have been changed without an entry; None where nothing is asked,
    or it has been answered. `faults` counts them by kind. `found`: what people found wrong that stands, or is asked
    about. `set_since_s`: by how much the computer's clock was set since the last shot was made;
    `clock_step`: what the clock did last. `map_changed`: the shot since which channels are read otherwise, and how.
    `unjudged`: the shots that wait for their verdict.
    """

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
    faults: Mapping[str, int]
    last_fault: str
    cycle_s: float | None
    strips: Strips
    recent: tuple[EntryLine, ...]
    question: int | None = None
    found: tuple[FoundWrong, ...] = ()
    set_since_s: float = 0.0
    clock_step: ClockStep | None = None
    uncertain: tuple[Gap, ...] = ()
    map_changed: tuple[int, str] | None = None
    unjudged: Unjudged | None = None

    @property
    def n_faults(self) -> int:
        """How many faults there are, of all kinds."""
        return sum(self.faults.values())
