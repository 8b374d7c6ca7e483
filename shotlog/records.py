"""The records: what the log keeps. Frozen, and checked when made: an invalid one cannot exist.

Missing is absent from a mapping, never zero. Times are aware, in UTC. `shot` is the press's own counter,
unwrapped: it goes on where the counter rolls over or starts again.
"""

import re
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from math import isfinite
from types import MappingProxyType

from shotlog.channels import CHANNELS
from shotlog.cut_short import cut_bytes, cut_text
from shotlog.entries import KINDS
from shotlog.errors import UsageError
from shotlog.facts import Facts

__all__ = [
    "COUNTED",
    "EVER",
    "HALVES",
    "JUDGED_FIRST",
    "LOG_AWAY",
    "NOBODY",
    "VERDICTS",
    "AccountChange",
    "Baseline",
    "ClockStep",
    "Event",
    "Fault",
    "Gap",
    "InForce",
    "Insert",
    "Judged",
    "Link",
    "LoggedShot",
    "MadeEntry",
    "Mounting",
    "OtherChange",
    "Proposal",
    "Removal",
    "SetPoint",
    "SetPointChange",
    "Shot",
    "Signal",
    "Signature",
    "Start",
    "Stay",
    "Verdict",
    "Weighing",
    "Who",
    "half_judged",
    "initials_of",
]

HALVES = ("fixed", "moving", "core")
"""The places of a mould that take an insert."""

VERDICTS = ("keep", "watch", "swap")

COUNTED = 1000
"""So many shots are counted at most of those that wait for a verdict: of as many there may be more."""

EVER = 2**62
"""A shot past every other: where a window has no end. An SQL integer holds it, and its negative."""

_LAST_SHOT = 2**63 - 1
"""The highest number a database column holds."""


def _aware(moment: datetime) -> None:
    if moment.tzinfo is None:
        raise UsageError(f"a time needs its offset from UTC: given {moment.isoformat()}")


JUDGED_FIRST = ("moving", "core", "fixed")
"""Which half goes before which where nothing else tells: the moving one is mostly the complex one."""


def half_judged(since: Mapping[str, int]) -> str:
    """Return the half whose insert is judged: the one changed last, at a tie the moving one, then core, then fixed.

    `since` holds the shot each insert came in at, by half; those of reused inserts, where there are any.
    Empty for none.
    """
    return max((half for half in JUDGED_FIRST if half in since), key=since.__getitem__, default="")


def _counted(what: str, shot: int) -> None:
    if not 0 <= shot <= _LAST_SHOT:
        raise UsageError(f"{what}: given {shot}, allowed: 0 to {_LAST_SHOT}")


_NO_TEXT = re.compile("[\0\ud800-\udfff]")


def _text(what: str, text: str) -> None:
    """Refuse what no database and no file takes: NUL, and bytes that are no text (a mistyped argument)."""
    if _NO_TEXT.search(text):
        raise UsageError(f"{what}: given {text!r}, allowed: text without NUL and in a known encoding")


def _word(what: str, text: str, also: str = "") -> None:
    """Refuse a name that could not stand in a cell of a recording."""
    if text != text.strip() or not text.isprintable() or any(c in text for c in ";" + also):
        allowed = f"printable text without blanks at its ends and without {' '.join(';' + also)}"
        raise UsageError(f"{what}: given {text!r}, allowed: {allowed}")


def _press(name: str) -> None:
    if not name:
        raise UsageError("press: given nothing, allowed: its name")
    _text("press", name)


def _one_of(what: str, given: str, allowed: tuple[str, ...]) -> None:
    if given not in allowed:
        raise UsageError(f"{what}: given {given!r}, allowed: {', '.join(allowed)}")


@dataclass(frozen=True, slots=True)
class SetPoint:
    """What one thing of a press is set to, in the unit it is given in; a text where it is no number."""

    value: float | str
    unit: str = ""

    def __post_init__(self) -> None:
        if isinstance(self.value, str):
            _text("set-point", self.value)
            object.__setattr__(self, "value", cut_text(self.value))
        elif not isfinite(self.value):
            raise UsageError(f"set-point: given {self.value}, allowed: a finite number, a text, or no entry")
        _text("unit of a set-point", self.unit)

    @property
    def text(self) -> str:
        """Its value as a person reads it, exact.

        Examples
        --------
        >>> SetPoint(350.0, "bar").text, SetPoint(0.1).text, SetPoint("pawl 7").text
        ('350', '0.1', 'pawl 7')
        """
        return self.value if isinstance(self.value, str) else repr(float(self.value) + 0.0).removesuffix(".0")


@dataclass(frozen=True, slots=True)
class SetPointChange:
    """A press said by itself that something was set otherwise, from `shot` on; `by`: who did it, as the press says.

    `old` is None where it does not tell what it was before.
    """

    press: str
    shot: int
    time: datetime
    name: str
    old: float | str | None
    new: float | str
    unit: str = ""
    by: str = ""

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("shot", self.shot)
        for name in ("name", "unit", "by"):
            _text(name, getattr(self, name))
        for value in (self.old, self.new):
            if value is not None:
                SetPoint(value)


@dataclass(frozen=True, slots=True)
class Shot:
    """One moulding cycle as a press reported it.

    `counter` is the raw reading of the press's counter; `values` holds each channel present, in its unit, finite; it
    is copied and cannot be changed. Minus zero becomes zero: a database does not keep the difference. `came` tells the
    registers or the line it was taken from, as they came; it is for showing and no part of the record. `no_part`: why
    it made none, of what stood in the press from before; the log keeps that as an entry that a person can take back.
    `set_points`: what the press was set to when it was made, by name; the log keeps what is not as before.
    """

    press: str
    shot: int
    counter: int
    time: datetime
    values: Mapping[str, float] = field(default_factory=dict)
    came: str = field(default="", compare=False, repr=False)
    no_part: str = field(default="", compare=False)
    set_points: Mapping[str, SetPoint] = field(default_factory=dict, compare=False)

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("shot", self.shot)
        _counted("shot counter", self.counter)
        object.__setattr__(self, "came", cut_text(self.came))
        for name, value in self.values.items():
            if name not in CHANNELS:
                raise UsageError(f"channel: given {name!r}, allowed: {', '.join(CHANNELS)}")
            if not isfinite(value):
                raise UsageError(f"{name} of shot {self.shot}: given {value}, allowed: a finite number, or no entry")
        kept = MappingProxyType({name: float(value) + 0.0 for name, value in self.values.items()})
        object.__setattr__(self, "values", kept)
        object.__setattr__(self, "set_points", MappingProxyType(dict(self.set_points)))


@dataclass(frozen=True, slots=True)
class Gap:
    """Shots the press counted and nobody saw: `first` to `last`, both included. `reason` says how it was noticed.

    `least` and `most`: how many they may have been, where the counter alone does not tell; None where it does.
    """

    press: str
    first: int
    last: int
    time: datetime
    reason: str
    least: int | None = None
    most: int | None = None

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("first shot of a gap", self.first)
        _counted("last shot of a gap", self.last)
        if self.last < self.first:
            raise UsageError(f"gap: given shots {self.first} to {self.last}, allowed: at least one shot")
        for end in (self.least, self.most):
            if end is not None:
                _counted("shots of a gap", end)

    @property
    def n_shots(self) -> int:
        """How many shots are counted as missed: where that is not certain, what numbering went on by."""
        return self.last - self.first + 1

    @property
    def n_more(self) -> int:
        """How many more it may have been."""
        return 0 if self.most is None else max(0, self.most - self.n_shots)

    @property
    def n_fewer(self) -> int:
        """How many fewer it may have been."""
        return 0 if self.least is None else max(0, self.n_shots - self.least)


LOG_AWAY = "log"
"""The kind of a fault that tells that the log could not be written for a while."""


@dataclass(frozen=True, slots=True)
class Fault:
    """Something a press sent that could not be taken as it was; `raw` holds its bytes, untouched, the first of many.

    `kind` is one short word for counting; `shot` is given where the fault belongs to a shot that was stored. `more`:
    how many others of the kind this one stands for besides itself, which were counted and not kept.
    """

    press: str
    time: datetime
    kind: str
    detail: str
    raw: bytes = b""
    shot: int | None = None
    more: int = 0

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("more of a fault", self.more)
        raw, detail = cut_bytes(self.raw, self.detail)
        object.__setattr__(self, "raw", raw)
        object.__setattr__(self, "detail", cut_text(detail))
        if self.shot is not None:
            _counted("shot", self.shot)


@dataclass(frozen=True, slots=True)
class Weighing:
    """One stable weight a balance showed, in g, of something moulded on `press`; tare taken off by the balance.

    `after_s`: a shot's weight is looked for at most so long after it. `g_per_mm` and `dose_mm`: mass of melt per mm of
    screw travel and the dose position, where they are known, for the mass balance of the shot.
    """

    press: str
    balance: str
    grams: float
    time: datetime
    after_s: float
    raw: bytes = b""
    g_per_mm: float | None = None
    dose_mm: float | None = None

    def __post_init__(self) -> None:
        _aware(self.time)
        if not isfinite(self.grams):
            raise UsageError(f"weight: given {self.grams}, allowed: a finite number of g")
        object.__setattr__(self, "raw", cut_bytes(self.raw, "")[0])


@dataclass(frozen=True, slots=True)
class Proposal:
    """The shot a weighing is taken for by itself, None where none fits, and what else is known of the choice.

    `others`: further shots without a weight that it could be of, newest first. `before`: the shot of the weighing
    before it, None where there is none. `after_s`: see `Weighing`.
    """

    shot: int | None
    others: tuple[int, ...]
    before: int | None
    after_s: float


@dataclass(frozen=True, slots=True)
class Link:
    """The connection to a press changed: `state` is ``connected``, ``lost`` or ``stopped``."""

    press: str
    time: datetime
    state: str
    detail: str

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _one_of("state of a connection", self.state, ("connected", "lost", "stopped"))
        object.__setattr__(self, "detail", cut_text(self.detail))


@dataclass(frozen=True, slots=True)
class ClockStep:
    """The computer's clock was set: by `step_s` seconds, forward where positive; `time` is what it showed after it.

    `at_least`: it may have been set by more, for nobody was there to see it. `detail`: what was said of it. A step of 0
    tells that the clock is right and the computer stood still meanwhile.
    """

    time: datetime
    step_s: float
    detail: str
    at_least: bool = False

    def __post_init__(self) -> None:
        _aware(self.time)
        if not isfinite(self.step_s):
            raise UsageError(f"step of the clock: given {self.step_s}, allowed: a number of seconds")


@dataclass(frozen=True, slots=True)
class Start:
    """A start of the recorder: the configuration in force, as text with its passwords taken out, and what judges.

    `digest`: SHA-256 of that text, in hex. `maps`: as JSON, how each channel of each press is read. `basis`: digest of
    all that decides a verdict besides the shots. `process`: its number, and after a comma what else a record that is no
    start of it stands for.
    """

    time: datetime
    release: str
    basis: str
    config: str
    digest: str
    maps: str
    host: str
    process: str

    def __post_init__(self) -> None:
        _aware(self.time)
        for name in ("config", "maps", "host", "process"):
            _text(name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class Signature:
    """How it is known who made an entry: the account that was logged in and its role, empty where nobody was.

    `via`: by what it came, one of ``page``, ``command``, ``import``, ``python``, ``centre`` (it was made there),
    ``program`` (the logger by itself) and ``demo``; `address`: of the browser, or login name and computer. `initials`:
    of who made the entry, empty where nobody said. They stand in the entry as well, but for one that was imported: that
    keeps whose it was.
    """

    account: str
    role: str
    via: str
    address: str
    initials: str = ""

    def __post_init__(self) -> None:
        for name in ("account", "role", "via", "address", "initials"):
            _text(name, getattr(self, name))


_MOST_INITIALS = 20
"""Characters that initials may have: more is no name in short, and would stand behind every entry (own)."""


def initials_of(typed: str) -> str:
    """Return initials as they are stored, from what somebody typed.

    Raises
    ------
    UsageError
        They are too long.

    Examples
    --------
    >>> initials_of("  R.  K. ")
    'R. K.'
    """
    initials = " ".join(typed.split())
    if len(initials) > _MOST_INITIALS:
        raise UsageError(f"initials: given {len(initials)} characters, allowed: up to {_MOST_INITIALS}")
    return initials


@dataclass(frozen=True, slots=True)
class AccountChange:
    """What became of an account, by whom and when, with its initials and role from then on. Never a password."""

    account: str
    initials: str
    role: str
    change: str
    by: str
    time: datetime

    def __post_init__(self) -> None:
        for name in ("account", "initials", "role", "change", "by"):
            _text(name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class Who:
    """Whose an entry is by its initials, empty where nobody said; `signature`: how it is known who made it."""

    initials: str
    signature: Signature | None = None

    @property
    def is_program(self) -> bool:
        """Whether the logger entered it by itself."""
        return self.signature is not None and self.signature.via == "program"


NOBODY = Who("")
"""Who, where nobody said and no signature was kept."""


@dataclass(frozen=True, slots=True)
class Insert:
    """One printed half. A `single_use` one names the first of a series: each shot takes the next serial."""

    serial: str
    design: str = ""
    print_batch: str = ""

    def __post_init__(self) -> None:
        if not self.serial:
            raise UsageError("serial: given nothing, allowed: the number or name written on the insert")
        _word("serial", self.serial, ",:")
        _word("design", self.design)
        _word("print batch", self.print_batch)


@dataclass(frozen=True, slots=True)
class Mounting:
    """An insert put in a press, in force from shot `at_shot` on; `number`: that of its entry, 0 where it has none."""

    press: str
    half: str
    insert: Insert
    at_shot: int
    time: datetime
    single_use: bool = False
    initials: str = ""
    number: int = field(default=0, compare=False)

    @property
    def came(self) -> tuple[int, datetime]:
        """In which order mountings came into the log; by time only such as are of no log."""
        return self.number, self.time

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("at shot", self.at_shot)
        _one_of("half", self.half, HALVES)
        if self.single_use and self.insert.serial[-1] not in "0123456789":
            raise UsageError(
                f"serial of a single-use half: given {self.insert.serial!r}, "
                "allowed: one that ends in a number, so that each shot can take the next"
            )


@dataclass(frozen=True, slots=True)
class Removal:
    """An insert taken out of a press: `at_shot` is the first shot made without it.

    `newest_mounting`: number of the newest entry of a mounting when it was entered; None where that was not kept.
    """

    press: str
    serial: str
    at_shot: int
    time: datetime
    reason: str
    initials: str = ""
    newest_mounting: int | None = field(default=None, compare=False)

    def came_after(self, mounting: Mounting) -> bool:
        """Say whether it was entered after a mounting: by the order of the log, and by time where that was not kept."""
        if self.newest_mounting is None or not mounting.number:
            return self.time >= mounting.time
        return mounting.number <= self.newest_mounting

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("at shot", self.at_shot)
        _text("reason", self.reason)


@dataclass(frozen=True, slots=True)
class Stay:
    """One insert's stay in one half: from shot `first` up to, not including, shot `end` (inf while mounted).

    `reason`: why it came out in a person's words, empty where nobody said. `replaced_by`: serial of the insert whose
    mounting ended the stay, empty where none did.
    """

    mounting: Mounting
    first: int
    end: float
    reason: str = ""
    replaced_by: str = ""

    def n_taken(self, shot: int, dry: Sequence[int]) -> int:
        """Return how many pieces its shots before `shot` took; `dry` ones, the press's in order, take none."""
        return shot - self.first - (bisect_left(dry, shot) - bisect_left(dry, self.first))


@dataclass(frozen=True, slots=True)
class Event:
    """Something a person noted, of a kind in `entries.KINDS`, in force from shot `at_shot` on; entered at `time`.

    `half`: the one it is about, `initials`: who noted it; both empty where that was not said.
    """

    press: str
    at_shot: int
    kind: str
    text: str
    time: datetime
    half: str = ""
    initials: str = ""

    def __post_init__(self) -> None:
        _press(self.press)
        _aware(self.time)
        _counted("at shot", self.at_shot)
        _text("text", self.text)
        _one_of("kind of event", self.kind, tuple(KINDS))
        _one_of("half", self.half, ("", *HALVES))
        if KINDS[self.kind].who and not all(part.strip() for part in self.text.partition(",")):
            allowed = "who looked, a comma, and what was looked at, such as 'R. K., gate and parting line'"
            given = repr(self.text) if self.text.strip(" ,") else "nothing"
            raise UsageError(f"text of {self.kind}: given {given}, allowed: {allowed}")


@dataclass(frozen=True, slots=True)
class MadeEntry:
    """One entry: `kind` and `number` are what `undo` takes.

    `press` is empty where it is about none, `first` and `last` are None where it is about no shot. `about` names what
    it is about (serial, kind of note, quantity, bath, decision, place) and `text` is what was said. `taken_back` is
    when it was put out of force, None while it is in force; `why` and `by` say for what reason and by whom. `signature`
    and `back`: how it is known who entered it, and who took it back; None where that was not kept. `at_press`: who made
    the change at the press, where the press said so only after the logger had made an entry of it.
    """

    kind: str
    number: int
    press: str
    first: int | None
    last: int | None
    cavity: int | None
    about: str
    text: str
    half: str
    initials: str
    time: datetime
    taken_back: datetime | None = None
    why: str = ""
    by: str = ""
    signature: Signature | None = None
    back: Signature | None = None
    at_press: str = ""

    @property
    def who(self) -> Who:
        """Who entered it."""
        return Who(self.initials, self.signature)

    @property
    def who_back(self) -> Who:
        """Who took it back."""
        return Who(self.by, self.back)


@dataclass(frozen=True, slots=True)
class InForce:
    """The insert in one half at one shot."""

    serial: str
    design: str = ""
    print_batch: str = ""
    single_use: bool = False


@dataclass(frozen=True, slots=True)
class LoggedShot:
    """A shot with what was in force when it was made: the one thing the evaluator is fed, live and replayed alike.

    The text of an event is one line without ``;``, as a recording keeps it. `removed`: serial and reason of each reused
    insert that people took out since the shot before, where they said why, the reason as such a text. `about`: the half
    that each event is about, in their order, empty where nobody said; none at all where nobody said of any.
    """

    press: str
    shot: int
    time: datetime
    values: Mapping[str, float]
    halves: Mapping[str, InForce] = field(default_factory=dict)
    events: tuple[tuple[str, str], ...] = ()
    removed: tuple[tuple[str, str], ...] = ()
    about: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        _aware(self.time)

    @property
    def noted(self) -> list[tuple[str, str, str]]:
        """The events as (kind, text, half), the half empty where nobody said."""
        about = self.about or ("",) * len(self.events)
        return [(kind, text, half) for (kind, text), half in zip(self.events, about, strict=True)]


@dataclass(frozen=True, slots=True)
class Baseline:
    """The level one channel is held against on one insert, frozen at shot `last` from `n_shots` shots since `first`.

    `spread`: what the limits are multiples of. `per_100`: sound lives, of 100, that show a signal on any chart by such
    limits, about; None where an earlier release froze them.
    """

    press: str
    insert: str
    channel: str
    first: int
    last: int
    n_shots: int
    centre: float
    spread: float
    lower: float
    upper: float
    per_100: int | None = None


@dataclass(frozen=True, slots=True)
class Signal:
    """A chart's rule fired at a shot."""

    press: str
    shot: int
    chart: str
    channel: str
    rule: str
    value: float
    centre: float
    lower: float
    upper: float

    @property
    def name(self) -> str:
        """The form the verdict CSV uses, ``chart:channel:rule``."""
        return f"{self.chart}:{self.channel}:{self.rule}"


@dataclass(frozen=True, slots=True)
class OtherChange:
    """A change that stands open beside the one that decides a verdict: since shot `onset`, most likely `cause`."""

    group: str
    cause: str
    onset: int

    def __post_init__(self) -> None:
        _word("group", self.group, ":")
        _word("cause", self.cause, ":")
        _counted("onset", self.onset)

    @property
    def name(self) -> str:
        """The form the verdict CSV uses, ``group:cause:onset``."""
        return f"{self.group}:{self.cause}:{self.onset}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the tool says after one shot; the columns of the verdict CSV. None where there is nothing to say.

    `facts`: what its sentence is made from; None in a log of before they were kept. `sentence`: what was said on the
    day, as the log keeps it; empty until then. Cause, group, weight and onset are those of the change that decides;
    `others` stand open beside it. `limits`: channels beyond an action limit that the technician gave.
    """

    press: str
    shot: int
    insert: str
    shots_on_insert: int
    settling: bool
    verdict: str
    sentence: str = ""
    signals: tuple[str, ...] = ()
    cause: str = ""
    group: str = ""
    weight: float | None = None
    onset: int | None = None
    onset_low: int | None = None
    onset_high: int | None = None
    left_median: float | None = None
    left_low: float | None = None
    left_high: float | None = None
    statistic: float | None = None
    threshold: float | None = None
    facts: Facts | None = None
    others: tuple[OtherChange, ...] = ()
    limits: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        _one_of("verdict", self.verdict, VERDICTS)


Judged = Baseline | Signal | Verdict
"""What may be said of a shot."""
