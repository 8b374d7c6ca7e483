"""The kinds of entries people note at a press: what each does to the call, and how it is shown. Adding one is one row.

A kind is known by its name in the table: `shotlog note` takes it, the log, a recording and a report hold it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = [
    "ANYONE",
    "CLOCK",
    "DRY",
    "FINDING",
    "GOOD",
    "KINDS",
    "LIFE",
    "LOT",
    "MAP",
    "NONE_GOOD",
    "NOTE",
    "OR_MORE",
    "PURGE",
    "REMOVED",
    "SETUP",
    "SOUND",
    "UNCHANGED",
    "UNDO_KINDS",
    "Effect",
    "EntryKind",
    "Mark",
    "clock_step",
    "clock_text",
]

LOT, SETUP, PURGE, FINDING, NOTE = "lot", "setup", "purge", "finding", "note"
"""The kinds that are named: which lot and set-up a part is of, when the barrel was emptied, what was seen wrong, and
what is only told."""

DRY = "dry"
"""The kind that says that its shot filled nothing: it made no part and took no single-use piece."""

SOUND = "sound"
"""The kind by which a person who has looked at the insert says that it is sound."""

GOOD, NONE_GOOD = "good", "unsure"
"""The kinds that answer which part was the last known to be good: that of its shot, or none (see `parts.found`)."""

REMOVED = "removed"
"""How a recording tells why an insert was taken out, at the first shot made without it; it is no kind of entry."""

UNCHANGED = "unchanged"
"""The kind that answers whether an insert was changed before its shot: none was, so that it is not asked again."""

CLOCK = "clock"
"""The kind by which the recorder says that the computer's clock was set before its shot; `clock_text` is its text."""

MAP = "map"
"""The kind by which the recorder says that a channel is read otherwise than before, such as in another scale."""

LIFE = "life"
"""The kind by which the program says how an insert lived and ended, here or elsewhere; `life_text` has its text."""

UNDO_KINDS = (
    "mounting", "removal", "event", "decision", "inspection", "place", "picture", "bath-in", "bath-out", "bath-check",
    "dimension", "acknowledgement",
)  # fmt: skip
"""What people enter and can take back, as they name it; `store.undo.UNDO` has the table of each."""

ANYONE = "anyone"


@dataclass(frozen=True, slots=True)
class Effect:
    """What an entry does to the call from its shot on. With none, it only says what was seen: nothing is judged again.

    `new_baseline`: the shots before it are done with, and the level is learnt anew. `stood`: the press stood before the
    shot, so that what follows settles again. `no_part`: the shot filled nothing: it is not judged and takes no piece.
    `moves`: the group of causes whose level it may move at once, so that one shot is enough for a call.
    `likelier`: by how much an onset near it gains as the work of a cause, by name of the cause. `sound`: the insert was
    looked at and is sound, so that open changes laid to it are closed, and the level after them is the level. `found`:
    something wrong was seen on the part or the insert, which stands against the insert until it is found sound.
    `new_scale`: what was measured before may have been in another scale: nothing learnt from values is held against
    those after it. `clock_set`: its text tells by how much the computer's clock was set (`clock_step`): the wait before
    the shot is told without that. `life_told`: its text tells of a life (`life_text`): one that ended on another press
    says how long a sister may live here.
    """

    new_baseline: bool = False
    stood: bool = False
    no_part: bool = False
    moves: str = ""
    likelier: Mapping[str, float] = field(default_factory=dict)
    sound: bool = False
    found: bool = False
    new_scale: bool = False
    clock_set: bool = False
    life_told: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """One shape, told apart without colour: as a sign in text, and by its names on the pages and in the report."""

    sign: str
    page: str
    report: str


@dataclass(frozen=True, slots=True)
class EntryKind:
    """One kind of entry.

    `word` names it on screens, `told` (by default the same) before the text of an entry. `role`: who may enter it.
    `seen`: it is about the shot just made, unless a shot is given; else it holds from the next shot on. `who`: its text
    begins with the one who looked, before a comma; asked in these words.

    On the panel at the press: each text of `at_once` is entered by a button of its own at one touch; `button` opens a
    panel that asks `prompt`, with the answers of `quick` at one touch; `place` orders them. In the strips of the report
    it is `lined`, with its text where that is a name (`named`).
    """

    word: str
    mark: Mark
    effect: Effect = field(default_factory=Effect)
    role: str = ANYONE
    seen: bool = False
    told: str = ""
    who: str = ""
    at_once: tuple[str, ...] = ()
    button: str = ""
    prompt: str = ""
    quick: tuple[str, ...] = ()
    place: int = 0
    lined: bool = True
    named: bool = False


_FINDINGS = (
    "flash", "short", "burn", "crack", "dimension out", "gate worn", "sink", "warped", "stuck", "residue left",
    "scratched", "piece missing",
)  # fmt: skip
"""What people see on parts and inserts of this trade, the commonest first."""

KINDS: dict[str, EntryKind] = {
    LOT: EntryKind(
        "lot",
        Mark("\N{WHITE SQUARE}", "square-open", "s"),
        Effect(moves="material", likelier={"lot change": 25.0, "moisture swing": 3.0}),
        button="Lot changed",
        prompt="Lot, typed or scanned",
        place=2,
        named=True,
    ),
    SETUP: EntryKind(
        "set-up",
        Mark("\N{LOZENGE}", "diamond-open", "D"),
        Effect(new_baseline=True, moves="press", likelier={"set-point or drive": 30.0}),
        button="Set-up changed",
        prompt="What was changed",
        place=3,
    ),
    "pause": EntryKind(
        "pause",
        Mark("|", "line-ns-open", "|"),
        Effect(stood=True, likelier={"heat build-up": 1.5, "melt lost at nozzle or sprue": 2.0}),
        at_once=("pause",),
        place=4,
    ),
    PURGE: EntryKind(
        "purge",
        Mark("\N{MULTIPLICATION SIGN}", "x-thin-open", "x"),
        Effect(stood=True, likelier={"lot change": 2.0, "melt lost at nozzle or sprue": 2.0}),
        at_once=("purge",),
        place=5,
    ),
    DRY: EntryKind(
        "dry",
        Mark("\N{EN DASH}", "line-ew-open", "_"),
        Effect(no_part=True),
        button="Dry shot",
        prompt="Why, if it is known",
        place=8,
    ),
    FINDING: EntryKind(
        "finding",
        Mark("\N{BLACK DOWN-POINTING TRIANGLE}", "triangle-down", "v"),
        Effect(found=True),
        seen=True,
        told="seen",
        button="Finding",
        prompt="Something else",
        quick=_FINDINGS,
        place=1,
    ),
    NOTE: EntryKind(
        "note",
        Mark("\N{BLACK CIRCLE}", "circle", "."),
        seen=True,
        at_once=("vents cleaned",),
        button="Note",
        prompt="Note",
        place=6,
        lined=False,
    ),
    SOUND: EntryKind(
        "sound",
        Mark("\N{WHITE UP-POINTING TRIANGLE}", "triangle-up-open", "^"),
        Effect(sound=True),
        seen=True,
        told="found sound",
        who="Who looked",
        button="Found sound",
        prompt="What was looked at",
        place=7,
    ),
    GOOD: EntryKind(
        "last known good", Mark("+", "cross-thin-open", "+"), seen=True, told="known to be good", lined=False
    ),
    NONE_GOOD: EntryKind(
        "none known good", Mark("?", "circle-x-open", "*"), seen=True, told="no part known to be good", lined=False
    ),
    MAP: EntryKind(
        "map",
        Mark("#", "hash-open", "h"),
        Effect(new_baseline=True, new_scale=True),
        told="channel map changed",
    ),
    CLOCK: EntryKind(
        "clock set",
        Mark("\N{WHITE CIRCLE}", "circle-open", "o"),
        Effect(clock_set=True),
        told="clock set by",
        lined=False,
    ),
    LIFE: EntryKind(
        "life",
        Mark("\N{WHITE DIAMOND}", "diamond-tall-open", "d"),
        Effect(life_told=True),
        told="life",
        lined=False,
    ),
    UNCHANGED: EntryKind("no swap", Mark("\N{MULTIPLICATION X}", "x-open", "X"), seen=True, told="note", lined=False),
}
"""Every kind by its name. A shot noted as dry is a dry cycle, or a purge that the press counted as a shot."""


OR_MORE = " or more"
"""Ends the text of an entry of the kind `CLOCK` where nobody was there to see by how much the clock was set."""

_CLOCK_STEP = re.compile(r"([+-]\d{1,12}(?:\.\d+)?) s")


def clock_text(step_s: float, at_least: bool = False) -> str:
    """Return the text of an entry of the kind `CLOCK`; `at_least`: the clock may have been set by more.

    Examples
    --------
    >>> clock_text(-7200.0), clock_text(-90.5, at_least=True)
    ('-7200.000 s', '-90.500 s or more')
    """
    return f"{step_s:+.3f} s{OR_MORE if at_least else ''}"


def clock_step(text: str) -> float | None:
    """Return by how many seconds the text of an entry says that the clock was set; None where it does not tell.

    Examples
    --------
    >>> clock_step("-7200.000 s"), clock_step("-90.500 s or more"), clock_step("by the electrician")
    (-7200.0, None, None)
    """
    told = _CLOCK_STEP.fullmatch(text)
    return None if told is None else float(told[1])
