"""Which message is due to a receiver: one for each change of state, and silence once somebody has seen it. Pure.

Everything is told from the rows of the log: what was noted, what the receiver took, who took note of it. So a receiver
that was away is told of each change once when it is back, of what began and was over meanwhile in one message; and a
logger that is started again repeats nothing.
"""

from collections.abc import Container, Iterable
from dataclasses import dataclass, field
from datetime import datetime

from shotlog.settings import ReceiverSettings
from shotlog.store.asked.told import NOTED, OVER, ToldRow

__all__ = ["Due", "Stories"]


@dataclass(slots=True)
class _Story:
    """What became of a spell: how it began, how it was over, and what each receiver took of it."""

    begins: ToldRow
    over: ToldRow | None = None
    took: dict[str, list[ToldRow]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Due:
    """A message to be sent: that a spell `began`, unless the receiver knows or wants only its end, and is `over`.

    `phase`: as in `ToldRow`.
    """

    phase: str
    spell: str
    press: str | None
    about: str
    began: ToldRow | None
    over: ToldRow | None = None


class Stories:
    """Every spell that there is to tell of, from the rows of the log as they come."""

    def __init__(self, rows: Iterable[ToldRow] = ()) -> None:
        self._stories: dict[str, _Story] = {}
        for row in rows:
            self.add(row)

    def add(self, row: ToldRow) -> None:
        """Take in a row, in the order of the log."""
        story = self._stories.get(row.spell)
        if row.receiver == NOTED and row.phase == "begins":
            self._stories.setdefault(row.spell, _Story(row))
        elif story is not None and row.receiver == NOTED:
            story.over = row if row.phase in OVER else story.over
        elif story is not None:
            story.took.setdefault(row.receiver, []).append(row)

    @property
    def known(self) -> list[tuple[str, bool]]:
        """Every spell by its name, and whether it is over."""
        return [(name, story.over is not None) for name, story in self._stories.items()]

    def began(self, spell: str) -> ToldRow | None:
        """Return how a spell began, None where it is none."""
        story = self._stories.get(spell)
        return None if story is None else story.begins

    def lasting(self, spell: str) -> ToldRow | None:
        """Return how a spell began, None where it is over."""
        story = self._stories.get(spell)
        return None if story is None or story.over is not None else story.begins

    def due(
        self, receiver: ReceiverSettings, seen: Container[str], since: int, own: Container[str], now: datetime
    ) -> list[Due]:
        """Return the messages that are due to a receiver, in the order of what they tell of.

        Parameters
        ----------
        seen
            The spells that somebody has taken note of.
        since
            Number of the newest row when the receiver was first in the configuration: of what began before that it is
            told only while it lasts.
        own
            The spells without a press that are of this site.
        """
        found = []
        for name, story in self._stories.items():
            begins = story.begins
            if begins.press is None and name not in own:
                continue
            old = story.over is not None and 0 < begins.number <= since and receiver.name not in story.took
            if not old and (one := _due(story, receiver, name in seen, now)) is not None:
                found.append(one)
        return found


def _due(story: _Story, receiver: ReceiverSettings, is_seen: bool, now: datetime) -> Due | None:
    begins, over, took = story.begins, story.over, story.took.get(receiver.name, [])
    what = (begins.spell, begins.press, begins.about)
    wants = receiver.is_told(begins.about, begins.press)
    if any(row.phase in OVER for row in took):
        return None
    if not took and over is None:
        return Due("begins", *what, begins) if wants and not is_seen else None
    if over is None:
        return Due("again", *what, begins) if wants and not is_seen and _is_due_again(took[-1], receiver, now) else None
    if over.phase == "becomes" and receiver.is_told("swap", begins.press):
        return None  # what it became is told, and nothing is over
    if took:
        return Due(over.phase, *what, None, over) if _wants_end(receiver, begins) else None
    if wants:
        return None if is_seen else Due(over.phase, *what, begins, over)
    return Due(over.phase, *what, None, over) if begins.about == "lost" and _wants_end(receiver, begins) else None


def _wants_end(receiver: ReceiverSettings, begins: ToldRow) -> bool:
    if begins.about == "lost":
        return receiver.is_told("back", begins.press)
    return receiver.ends


def _is_due_again(last: ToldRow, receiver: ReceiverSettings, now: datetime) -> bool:
    """Whether a message is to be repeated; a clock that was set back repeats it at once, and not hours late."""
    passed_s = (now - last.time).total_seconds()
    return receiver.repeat_min > 0 and not 0.0 <= passed_s < 60.0 * receiver.repeat_min
