"""What a verdict rests on, as data: `shotlog.wording` makes its sentence from it, and nothing has to read a sentence.

Frozen. None, or nothing, where there is nothing to say. Channel values are in the channel's unit, shots in the press's
own numbers.
"""

from dataclasses import dataclass

__all__ = [
    "NOT_JUDGED",
    "Ageing",
    "ChannelChange",
    "Facts",
    "Found",
    "FrozenChannel",
    "Noted",
    "PassedLimit",
    "Rhythm",
    "Seated",
    "SwapAsked",
    "SwapFinding",
    "VisibleStep",
]


@dataclass(frozen=True, slots=True)
class ChannelChange:
    """How far a channel has moved: `size` with its sign, and `least`, the smallest change of practical size."""

    channel: str
    size: float
    least: float


@dataclass(frozen=True, slots=True)
class PassedLimit:
    """An action limit that a channel is beyond; `derived` from the baseline rather than given.

    `value`: what the channel stands at; it tells the side. None where only the limit was kept. `running`: for how many
    shots it has been reported beyond, up to this one. `level`: the fitted level lies beyond as well, or alone.
    """

    channel: str
    limit: float
    derived: bool
    value: float | None = None
    running: int = 0
    level: bool = False


@dataclass(frozen=True, slots=True)
class Ageing:
    """What a channel moves by `per_shot` on every insert of the design: `sisters` of them have shown it.

    `left`: shots until the limit is reached at this pace; None where there is no limit, or it lies out of reach.
    """

    channel: str
    per_shot: float
    sisters: int
    left: float | None = None


@dataclass(frozen=True, slots=True)
class VisibleStep:
    """The least `size` that a step of a channel must have to be seen by now."""

    channel: str
    size: float


@dataclass(frozen=True, slots=True)
class Rhythm:
    """The cycle changed at a shot: the time from shot to shot was `before_s` and is `now_s`."""

    shot: int
    before_s: float
    now_s: float


@dataclass(frozen=True, slots=True)
class FrozenChannel:
    """A channel whose reading stands still since a shot; it is left out of the call."""

    channel: str
    since: int


@dataclass(frozen=True, slots=True)
class SwapFinding:
    """What a swap said of the change seen before it, on `insert`, which came out at `at_shot`.

    `outcome`: ``confirmed`` (it reset: the insert) or ``refuted`` (it stayed: not the insert). Natural logs of odds
    that it has stayed: `log_ratio` is what the shots since the swap say by themselves, a likelihood ratio; `log_prior`
    what the weights of the causes made expect before. The finding goes by their sum.
    """

    press: str
    insert: str
    at_shot: int
    outcome: str
    log_ratio: float
    log_prior: float


@dataclass(frozen=True, slots=True)
class Seated:
    """A reused insert in the mould: its `half`, its `serial`, and the press's shot it came in at."""

    half: str
    serial: str
    since: int


@dataclass(frozen=True, slots=True)
class SwapAsked:
    """A swap that has yet to show whether an open change went with `insert`, which came out at `at_shot`."""

    insert: str
    at_shot: int


@dataclass(frozen=True, slots=True)
class Noted:
    """An entry that explains a change, made near its onset or since: its kind, its text, and its shot."""

    kind: str
    text: str
    shot: int


@dataclass(frozen=True, slots=True)
class Found:
    """What a person saw, in `text`, at `shot` of the press; `half`: the one that was named, empty where none was.

    `piece`: the single-use piece that it is about, which has left with its part; where no half was named, nobody said
    whether it is about the piece or the reused insert.
    """

    shot: int
    text: str
    half: str = ""
    piece: str = ""


NOT_JUDGED = frozenset({"settling", "waited", "learning"})
"""The stages at which no change is called, whatever the shot was like."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known after one shot beside the verdict's own columns.

    `stage`: ``settling`` (judged from shot `judged_from` on), ``waited`` (after the wait before shot `waited_at`, whose
    effect is not known well enough to judge by until `judged_from` at the latest), ``learning`` (the insert's own level
    is not known yet, at `judged_from` at the earliest), ``quiet`` (no change since shot `quiet_since`, judged beside
    `n_sisters` sisters) or ``called`` (a change). `lives_here`, `lives_elsewhere`: ended lives on this press and on
    others that the shots left rest on; None where none elsewhere count.

    `odd_shot`: a shot held back as odd; `odd_channel` is where it lies farthest from what was expected, `odd_by` how
    many spreads off, with its sign. `asked_shot`: an insert may have been changed before it without an entry.

    Of a call: `changes` by channel; `grown_spread`, the channel whose shot-to-shot spread has grown instead; `rival`, a
    cause it cannot be told apart from, with its weight and the called cause's own; what the next shot and a swap, a
    part, are expected to cost; the swap it outlived, and whether another half stayed in the mould then.

    `elsewhere`: how far off its sisters the insert started, where that is too far to be one of them: it is judged from
    its own level. `limits`: the technician's action limits that are passed at this shot, whatever the stage. `ageing`:
    what every sister does too, and is no fault of this insert. `visible`: with few sisters or none, what could be seen
    by now. `rhythm`: a change of the cycle that the channels follow. `frozen`: channels that stand still and are left
    out. `swap`: what became clear at this shot of the change before the last swap. `bad_chance`:
    of a change laid to the insert, the chance that the next shot gives a bad part because of it. `found`: what a person
    saw on the part or the insert, which stands against it until it is found sound.

    Where two reused halves are mounted: `half`, which one is judged, and `halves_alike`, the serial of the other, where
    the change may as well be laid to that. `mould`: every reused insert in it, by half. `asked`: a swap of another half
    that has not shown yet with which of the two the change goes. `noted`: entries that explain the change. `followed`:
    False where its figures are those of when it was last followed.
    """

    stage: str
    judged_from: int | None = None
    waited_at: int | None = None
    quiet_since: int | None = None
    n_sisters: int | None = None
    odd_shot: int | None = None
    asked_shot: int | None = None
    changes: tuple[ChannelChange, ...] = ()
    grown_spread: str | None = None
    cause_weight: float | None = None
    rival: str | None = None
    rival_weight: float | None = None
    next_shot_cost: float | None = None
    swap_cost: float | None = None
    outlived_swap: int | None = None
    other_half: bool | None = None
    passed: PassedLimit | None = None
    elsewhere: tuple[ChannelChange, ...] = ()
    limits: tuple[PassedLimit, ...] = ()
    ageing: tuple[Ageing, ...] = ()
    visible: tuple[VisibleStep, ...] = ()
    rhythm: Rhythm | None = None
    frozen: tuple[FrozenChannel, ...] = ()
    half: str | None = None
    halves_alike: str | None = None
    swap: SwapFinding | None = None
    bad_chance: float | None = None
    found: Found | None = None
    mould: tuple[Seated, ...] = ()
    asked: SwapAsked | None = None
    noted: tuple[Noted, ...] = ()
    followed: bool | None = None
    odd_channel: str | None = None
    odd_by: float | None = None
    lives_here: int | None = None
    lives_elsewhere: int | None = None
