"""Which shot a number is that somebody typed: the log's own, or what the press's display shows for it.

The log numbers shots on where the press's counter rolls over or starts again, so from then on the display and the log
differ. People type what they see. A number that only one shot can be meant by is taken for that one; one that two can
be meant by is refused, with both; and one that no shot is near is refused, with the last shot.
"""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from shotlog.errors import UsageError
from shotlog.store.log import schema

__all__ = ["Numbering", "TypedShot", "read_numbering", "shot_typed"]

_BEFORE = 1_000
"""How far before the first shot of the log a number may lie: an insert may have gone in before anybody logged, and no
printed half lives longer (records of lives, `trade/life.md`)."""

_OWN = "s"
"""A number with this before it is the log's own, whatever the display shows."""

_SHOWN = 3


@dataclass(frozen=True, slots=True)
class TypedShot:
    """A shot somebody typed; `display` is what was typed where that was the press's display, else None."""

    shot: int
    display: int | None = None


@dataclass(frozen=True, slots=True)
class _Run:
    """Stored shots `first` to `last`, at each of which the counter read `apart` less than the shot."""

    first: int
    last: int
    apart: int


class Numbering:
    """How the shots of one press are numbered: by the log, and on the display.

    `changes` holds, in order, each stored shot that lies otherwise apart from its counter than the stored shot before
    it: (shot, how far apart, the stored shot before); the first stored shot begins them. `last` is the last stored one.
    """

    def __init__(self, changes: Iterable[tuple[int, int, int | None]], last: int) -> None:
        found = list(changes)
        ends = [before or 0 for _, _, before in found[1:]] + [last]
        self._runs = [_Run(shot, end, apart) for (shot, apart, _), end in zip(found, ends, strict=True)]
        self.first, self.last = self._runs[0].first, last

    def reach(self, made: bool) -> tuple[int, int]:
        """Return the lowest and the highest shot that can be meant: what was made, else what is near it."""
        return (self.first, self.last) if made else (max(1, self.first - _BEFORE), self.last + 1)

    def display(self, shot: int) -> int:
        """Return what the display showed at a shot, or would have shown."""
        at = bisect_right([run.first for run in self._runs], shot) - 1
        return shot - self._runs[max(at, 0)].apart

    def meant(self, number: int, made: bool = False) -> list[int]:
        """Return the shots in reach that a number may mean, in order.

        Between two runs lie shots that nobody saw; they may have been counted like those before or like those after.
        A number from before the log began is meant only where the display never showed it since.
        """
        lowest, upto = self.reach(made)
        found = {number} if self.first <= number <= upto else set()
        for n, run in enumerate(self._runs):
            low = self._runs[n - 1].last + 1 if n else run.first
            high = self._runs[n + 1].first - 1 if n + 1 < len(self._runs) else upto
            if low <= number + run.apart <= high:
                found.add(number + run.apart)
        early = {number} if lowest <= number < self.first else set()
        return sorted(found or early)


def read_numbering(connection: Connection, press: str) -> Numbering | None:
    """Return how the shots of a press are numbered, None where it has none yet."""
    table = schema.shots
    stored = (
        select(
            table.c.shot,
            (table.c.shot - table.c.counter).label("apart"),
            func.lag(table.c.shot).over(order_by=table.c.shot).label("before"),
            func.lag(table.c.shot - table.c.counter).over(order_by=table.c.shot).label("was"),
        )
        .join(schema.presses)
        .where(schema.presses.c.name == press)
        .subquery()
    )
    differ = stored.c.before.is_(None) | (stored.c.apart != stored.c.was)
    query = select(stored.c.shot, stored.c.apart, stored.c.before).where(differ).order_by(stored.c.shot)
    last = select(func.max(table.c.shot)).join(schema.presses).where(schema.presses.c.name == press)
    changes = [(row.shot, row.apart, row.before) for row in connection.execute(query)]
    return Numbering(changes, connection.execute(last).scalar_one()) if changes else None


def shot_typed(
    connection: Connection, press: str, text: str, *, what: str = "at shot", made: bool = False
) -> TypedShot:
    """Return the shot that somebody typed, held against what the press has made.

    That is up to the next shot, or with `made` one of those made. Where the press has no shot yet, any number is taken.

    Raises
    ------
    UsageError
        It is no number, lies beyond that or far from every shot, or two shots may be meant.
    """
    given = text.strip()
    digits = given.removeprefix(_OWN)
    if not digits.isdecimal() or len(digits) > 18:
        raise UsageError(f"{what}: given {text!r}, allowed: a shot number")
    number = int(digits)
    numbering = read_numbering(connection, press)
    if numbering is None:
        return TypedShot(number)
    lowest, highest = numbering.reach(made)
    own = [number] if lowest <= number <= highest else []
    meant = numbering.meant(number, made) if digits == given else own
    if not meant:
        raise UsageError(f"{what}: given {number}; {_reach(numbering, press, lowest, highest)}")
    if len(meant) > 1:
        raise UsageError(_either(press, what, number, meant))
    return TypedShot(meant[0], None if meant[0] == number else number)


def _reach(numbering: Numbering, press: str, lowest: int, highest: int) -> str:
    last, shows = numbering.last, numbering.display(numbering.last)
    shown = "" if shows == last else f", where it showed {shows}"
    until = f"{highest}, the next shot" if highest > last else str(highest)
    return f"the last shot of {press} is {last}{shown}, allowed: {lowest} to {until}"


def _either(press: str, what: str, number: int, meant: list[int]) -> str:
    shown = [f"shot {shot}, at which {press} shows {number}" for shot in meant if shot != number]
    own = [f"shot {number} of the log"] if number in meant else []
    choices = [f"{_OWN}{number}"] if number in meant else []
    choices += [str(shot) for shot in meant if shot != number][-_SHOWN:]
    return f"{what}: given {number}, which may be {' or '.join(own + shown[-_SHOWN:])}; allowed: {' or '.join(choices)}"
