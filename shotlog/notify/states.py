"""How things stand that people are told of, as spells: a state for as long as it lasts. Pure: facts in, spells out.

Two rules make one message out of one change. A state begins at once, and is over only when it has stayed away: a call
and a limit after `QUIET_SHOTS` judged shots without it, a lost connection once it is back for good (`shotlog.lost`).
A shot that settles is shown and not judged: after a set-up, a lot or a wait a call stands until shots are judged again.
And a spell keeps its name: `named` gives one that is known to the log the name it has there, also where shots were
judged again meanwhile and it began a few shots earlier or later by now.

A swap is an answer to a call. What is said of the press once another reused half is in the mould is a spell of its
own, for whoever has seen the one before has swapped because of it. A call that gets worse, from watch to swap, is
another state; one that gets better is not, until nothing is called.

Parts held for calls that touch are one spell: it grows with every shot that joins it, and is over when people have
decided on every part of it. Parts made before those that were told, which a call holds by a date further back, are a
spell of their own, for they may have left the press by then. So are those that a person holds that nothing held.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import inf

from shotlog.lost import is_brief
from shotlog.parts.doubt import Doubt
from shotlog.parts.standing import Decision

__all__ = [
    "QUIET_SHOTS",
    "HeldPart",
    "JudgedShot",
    "Known",
    "LinkRow",
    "Spell",
    "call_spells",
    "hold_spells",
    "limit_spells",
    "lost_spells",
    "named",
    "withdrawn",
]

QUIET_SHOTS = 5
"""Judged shots without a call after which it is over (own): a verdict may waver over a few shots while evidence comes
in. Who wants to know at once that a call was withdrawn would take fewer."""

_QUIET_OF_LIMIT = 10
"""The same of a value beyond an action limit: where single shots fly far, as by a ring that leaks now and then, that is
one state, and not a message a shot (own)."""

_QUIET_OF = {"watch": QUIET_SHOTS, "swap": QUIET_SHOTS, "limit": _QUIET_OF_LIMIT}


@dataclass(frozen=True, slots=True)
class JudgedShot:
    """A shot with its verdict in force; `mould`: the shot at which the newest reused half in the mould came in.

    `settling`: nothing is called of it, as after a set-up or a wait, so that it says nothing of a call before it.
    """

    shot: int
    time: datetime
    verdict: str
    limits: tuple[str, ...] = ()
    mould: int = 0
    settling: bool = False


@dataclass(frozen=True, slots=True)
class LinkRow:
    """A change of the connection to a press, by the number of its row."""

    number: int
    time: datetime
    state: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class HeldPart:
    """A part that somebody or something speaks against, and whether it is held now.

    `decided`: when people last did; `made`: when it was moulded, None where nobody saw. `by`: the decision by which a
    person holds it that nothing held before, None where there is none.
    """

    shot: int
    is_held: bool
    decided: datetime | None = None
    made: datetime | None = None
    by: Decision | None = None


@dataclass(frozen=True, slots=True)
class Known:
    """A spell that the log knows by `name`, which says what it is of and where it began: a shot, or a row's number."""

    name: str
    is_over: bool

    @property
    def of(self) -> str:
        return self.name.rstrip("'").rpartition(" ")[0]

    @property
    def anchor(self) -> int:
        last = self.name.rstrip("'").rpartition(" ")[2]
        return int(last) if last.isdecimal() else -1


@dataclass(frozen=True, slots=True)
class Spell:
    """A state of a press, or of the logger or the shop where `press` is None, for as long as it lasts.

    `of`: which of several of its kind, such as a channel or a bath. `first` and `last`: the shots, or rows, in which it
    was seen. `began`: when. `ended`: when it was over, None while it lasts; `became`: the state that took its place;
    `swapped`: another insert came in; `unjudged`: shots since `last` that settle.
    `held`: shots of which parts are held, for `doubts`, or by a person (`by`). `detail`: what was said of it where it
    comes from. `name`: empty until it is known by one.
    """

    press: str | None
    about: str
    first: int
    last: int
    began: datetime
    of: str = ""
    ended: datetime | None = None
    became: str = ""
    swapped: bool = False
    unjudged: int = 0
    held: tuple[int, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    by: Decision | None = None
    detail: str = ""
    name: str = ""

    @property
    def key(self) -> str:
        """What it is of, as its name begins."""
        return " ".join(filter(None, (self.about, self.press, self.of)))

    def holds(self, known: Known) -> bool:
        """Say whether a spell that the log knows began within this one, and is the same by that."""
        return known.of == self.key and (self.by is not None or self.first <= known.anchor <= self.last)


def call_spells(press: str, judged: Sequence[JudgedShot]) -> list[Spell]:
    """Return the spells of ``watch`` and ``swap`` in the shots judged, in order of shot."""
    found: list[Spell] = []
    for run, quiet in _runs(judged, [one.verdict != "keep" for one in judged], QUIET_SHOTS):
        unjudged = _unjudged(judged, run)
        worst = next((n for n, one in enumerate(run) if one.verdict == "swap"), len(run))
        if worst:
            found.append(_seen(press, "watch", run[:worst]))
        if worst < len(run):
            if worst:
                found[-1] = replace(found[-1], ended=run[worst].time, became="swap")
            found.append(_seen(press, "swap", run[worst:]))
        found[-1] = replace(found[-1], unjudged=unjudged)
        if quiet is not None:
            found[-1] = replace(found[-1], ended=quiet.time, swapped=quiet.mould > run[-1].mould)
    return found


def limit_spells(press: str, judged: Sequence[JudgedShot]) -> list[Spell]:
    """Return the spells of each channel beyond an action limit in the shots judged."""
    found = []
    for channel in sorted({name for one in judged for name in one.limits}):
        beyond = [channel in one.limits for one in judged]
        for run, quiet in _runs(judged, beyond, _QUIET_OF_LIMIT):
            one = replace(_seen(press, "limit", run), of=channel, unjudged=_unjudged(judged, run))
            if quiet is not None:
                one = replace(one, ended=quiet.time, swapped=quiet.mould > run[-1].mould)
            found.append(one)
    return found


def withdrawn(known: Known, judged: Sequence[JudgedShot]) -> bool:
    """Say whether a call that is found no more is over by that: shots were judged anew, and nobody calls it now.

    It is not where the shots since it began settle by now, as where somebody entered a set-up or a wait in the past.
    """
    since = [one for one in judged if one.shot >= known.anchor]
    n_judged = sum(not one.settling for one in since)
    return n_judged == len(since) or n_judged >= _QUIET_OF.get(known.name.partition(" ")[0], 0)


def _unjudged(judged: Sequence[JudgedShot], run: Sequence[JudgedShot]) -> int:
    return sum(one.settling for one in judged if one.shot > run[-1].shot)


def _seen(press: str, about: str, run: Sequence[JudgedShot]) -> Spell:
    return Spell(press, about, run[0].shot, run[-1].shot, run[0].time)


def _runs(
    judged: Sequence[JudgedShot], holds: Sequence[bool], enough: int
) -> list[tuple[list[JudgedShot], JudgedShot | None]]:
    """Return the runs of shots for which something holds, each with the first shot without it where it is over.

    `enough`: how many shots without it end a run.
    """
    found: list[tuple[list[JudgedShot], JudgedShot | None]] = []
    run: list[JudgedShot] = []
    quiet: list[JudgedShot] = []
    for one, it_holds in zip(judged, holds, strict=True):
        if run and one.mould > run[-1].mould:  # it was answered by a swap, whatever is said next
            found.append((run, one))
            run, quiet = [], []
        if it_holds:
            run.append(one)
            quiet = []
        elif run and not one.settling:
            quiet.append(one)
            if len(quiet) >= enough:
                found.append((run, quiet[0]))
                run, quiet = [], []
    return [*found, (run, None)] if run else found


def lost_spells(press: str, rows: Sequence[LinkRow], now: datetime) -> list[Spell]:
    """Return the spells without a connection, of changes in the order of the log.

    That the logger stopped says nothing of the press: what was lost before stays so until it is connected again.
    """
    found: list[Spell] = []
    lost: Spell | None = None
    for row in rows:
        if row.state == "lost":
            if lost is None or (lost.ended is not None and not is_brief(lost.ended, row.time)):
                found += [] if lost is None else [lost]
                lost = Spell(press, "lost", row.number, row.number, row.time, detail=row.detail)
            lost = replace(lost, last=row.number, ended=None)
        elif row.state == "connected" and lost is not None and lost.ended is None:
            lost = replace(lost, last=row.number, ended=row.time)
    if lost is not None:
        found.append(replace(lost, ended=None) if lost.ended is not None and is_brief(lost.ended, now) else lost)
    return found


def hold_spells(
    press: str, doubts: Sequence[Doubt], parts: Sequence[HeldPart], moulds: Sequence[int], known: Sequence[Known] = ()
) -> list[Spell]:
    """Return the spells in which parts are held: doubts that touch, or that nothing but a few shots parts, are one.

    Parameters
    ----------
    parts
        Those spoken against or held, in order of shot.
    moulds
        The shots at which reused halves came in: a few shots across one of them part two spells.
    known
        The spells that the log knows: they tell from which shot on parts were told.
    """
    rest = [one for one in parts if one.by is None]
    made = {one.shot: one.made for one in parts if one.made is not None}
    spans: list[tuple[int, int, list[Doubt]]] = []
    for one in sorted((one for one in doubts if one.since), key=lambda one: (one.first, one.last)):
        if spans and _touches(spans[-1][1], one.first, moulds):
            spans[-1] = spans[-1][0], max(spans[-1][1], one.last), [*spans[-1][2], one]
        else:
            spans.append((one.first, one.last, [one]))
    found = _by_hand(press, parts)
    for first, last, spoken in spans:
        spell = _held_for(press, first, last, spoken, rest, made)
        found += [] if spell is None else [spell, *_further_back(spell, rest, known)]
    return found


def _held_for(
    press: str,
    first: int,
    last: int,
    doubts: Sequence[Doubt],
    parts: Sequence[HeldPart],
    made: Mapping[int, datetime],
) -> Spell | None:
    inside = [one for one in parts if first <= one.shot <= last]
    if not inside:
        return None
    held = tuple(dict.fromkeys(one.shot for one in inside if one.is_held))
    start = min(_known_since(one, made) for one in doubts)
    over = None if held else max((one.decided for one in inside if one.decided is not None), default=start)
    return Spell(press, "hold", first, last, start, ended=over, held=held, doubts=tuple(doubts))


def _further_back(spell: Spell, parts: Sequence[HeldPart], known: Sequence[Known]) -> list[Spell]:
    """Return what a spell holds before the shot that it was told from, a spell for each date further back."""
    found = []
    upto = max((one.anchor for one in known if not one.is_over and spell.holds(one)), default=spell.first)
    while spell.first < upto:
        of = f"before {upto}"
        told = next((one.anchor for one in known if one.of == f"{spell.key} {of}" and one.anchor < upto), None)
        first = spell.first if told is None else told
        inside = [one for one in parts if first <= one.shot < upto]
        held = tuple(dict.fromkeys(one.shot for one in inside if one.is_held))
        since = [one.since[shot].time for one in spell.doubts for shot in range(first, upto) if shot in one.since]
        began = min(since, default=spell.began)
        over = None if held else max((one.decided for one in inside if one.decided is not None), default=began)
        if inside:
            one = replace(spell, of=of, first=first, last=upto - 1, began=began, ended=over, held=held)
            found.append(one)
        upto = first
    return found


def _by_hand(press: str, parts: Sequence[HeldPart]) -> list[Spell]:
    """Return the parts that people hold which nothing held before, those of one entry as one; it has that time."""
    entries: dict[str, list[HeldPart]] = {}
    for one in parts:
        if one.by is not None and one.is_held:
            entries.setdefault(f"by hand {one.by.time.isoformat()}", []).append(one)
    return [
        Spell(
            press,
            "hold",
            held[0].shot,
            held[-1].shot,
            held[0].by.time,
            of,
            held=tuple(dict.fromkeys(one.shot for one in held)),
            by=held[0].by,
        )
        for of, held in entries.items()
        if held[0].by is not None
    ]


def _known_since(doubt: Doubt, made: Mapping[int, datetime]) -> datetime:
    """Return when something first spoke against parts; that a shot lay far out, not before it was made."""
    since = min(one.time for one in doubt.since.values())
    return max(since, made.get(doubt.first, since))


def _touches(last: int, first: int, moulds: Sequence[int]) -> bool:
    if first <= last + 1:
        return first <= last or first not in moulds
    return first - last <= QUIET_SHOTS and not any(last < one <= first for one in moulds)


def named(spells: Iterable[Spell], known: Iterable[Known], passed: int = -1) -> list[Spell]:
    """Return the spells of one press by the names that the log knows them by, in order; new ones get one.

    A spell that is over and that nobody knew of is left out where it was seen up to `passed` at the latest: that far
    was looked before. A spell that is known as over, and goes on, is a new one of the same place. A call that was quiet
    for long enough by `passed` is over, also where an archive has left too few of the shots without it to count.
    """
    known = list(known)
    taken = {one.name for one in known}
    open_names = {one.name for one in known if not one.is_over}
    used: set[str] = set()
    found = []
    spells = list(spells)
    within = {one.name for one in known for spell in spells if spell.holds(one)}
    for spell in spells:
        alike = [one for one in known if one.of == spell.key and one.name not in used]
        inside = [one for one in alike if spell.holds(one)]
        near = [
            one
            for one in alike
            if one.name not in within and spell.first - QUIET_SHOTS <= one.anchor <= spell.last + QUIET_SHOTS
        ]
        match = next((one for one in inside or near if one.name in open_names), None)
        is_over = spell.ended is not None or spell.last + spell.unjudged + _QUIET_OF.get(spell.about, inf) <= passed
        if match is None and is_over and (inside or spell.last <= passed):
            used.update(one.name for one in inside)
            continue
        name = f"{spell.key} {spell.first}" if match is None else match.name
        while match is None and name in taken:
            name += "'"
        taken.add(name)
        used.add(name)
        found.append(replace(spell, name=name))
    return found
