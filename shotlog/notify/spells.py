"""A spell: a state that people are told of, for as long as it lasts, and the name it keeps. Pure.

`named` gives a spell that is known to the log the name it has there, also where shots were judged again meanwhile and
it began a few shots earlier or later by now.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from math import inf

from shotlog.parts.doubt import Doubt
from shotlog.parts.standing import Decision

__all__ = ["QUIET_OF", "QUIET_SHOTS", "Known", "Spell", "named"]

QUIET_SHOTS = 5
"""Judged shots without a call after which it is over (own): a verdict may waver over a few shots while evidence comes
in. Who wants to know at once that a call was withdrawn would take fewer."""

_QUIET_OF_LIMIT = 10
"""The same of a value beyond an action limit: where single shots fly far, as by a ring that leaks now and then, that is
one state, and not a message a shot (own)."""

QUIET_OF = {"watch": QUIET_SHOTS, "swap": QUIET_SHOTS, "limit": _QUIET_OF_LIMIT}


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
        is_over = spell.ended is not None or spell.last + spell.unjudged + QUIET_OF.get(spell.about, inf) <= passed
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
