"""The shots of a press that wait for their verdict: how many, from which on, since when, and what keeps them.

Every shot that is stored is judged, also one of no insert: only what judges can keep it waiting. They are counted up to
a bound, by index, so that a press of which nothing is judged costs no more than that.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from sqlalchemy import Connection, func, select

from shotlog.clock import parse_utc
from shotlog.records import COUNTED
from shotlog.store.asked.heartbeat import Beat
from shotlog.store.log import schema
from shotlog.store.log.clock_steps import Steady
from shotlog.store.log.prepared import of_press

__all__ = ["Unjudged", "as_told", "unjudged"]


@dataclass(frozen=True, slots=True)
class Unjudged:
    """Shots without a verdict in force: `n` of them, `COUNTED` where there may be more, from shot `first` on.

    `since`: when they began to wait, by the first shot, or by the entry after which they are judged anew.
    `set_since_s`: by how much the computer's clock was set since then, in s, forward where positive.
    `gets_ready_s`: for how many seconds what judges has been getting ready, None where it is. `waited_s`: for how many
    seconds they have waited while they could be judged; None where nobody told, so that only their age is known.
    """

    first: int
    n: int
    since: datetime
    set_since_s: float = 0.0
    gets_ready_s: float | None = None
    waited_s: float | None = None

    def age_s(self, now: datetime) -> float:
        """Return for how long the first of them has waited, in s."""
        if self.waited_s is not None:
            return self.waited_s
        return (now - self.since).total_seconds() - self.set_since_s


def unjudged(connection: Connection, press: str, through: int | None) -> Unjudged | None:
    """Return the shots of a press that wait for a verdict; `through`: the last that has one, None where none has."""
    shots, judgings = schema.shots, schema.judgings
    waiting = select(shots.c.id, shots.c.shot, shots.c.time).where(of_press(shots, press))
    if through is not None:
        waiting = waiting.where(shots.c.shot > through)
    first = connection.execute(waiting.order_by(shots.c.shot).limit(1)).first()
    if first is None:
        return None
    n = connection.execute(select(func.count()).select_from(waiting.order_by(shots.c.shot).limit(COUNTED).subquery()))
    newest = select(judgings.c.time).where(of_press(judgings, press)).order_by(judgings.c.id.desc()).limit(1)
    anew = connection.execute(newest).scalar()
    made = parse_utc(first.time)
    if anew is not None and parse_utc(anew) > made:
        return Unjudged(first.shot, n.scalar_one(), parse_utc(anew))
    return Unjudged(first.shot, n.scalar_one(), made, Steady(connection).set_since_shot(first.id))


def as_told(waits: Unjudged | None, press: str, sign: Beat | None) -> Unjudged | None:
    """Return the shots that wait, with what the logger's last sign of life tells of it: a shot of last week that came
    into the log or could be judged only now has not waited since then.
    """
    if waits is None or sign is None:
        return waits
    if sign.gets_ready_s is not None or sign.unjudged:
        ready_s = (sign.time - sign.since).total_seconds() if sign.gets_ready_s is None else sign.gets_ready_s
        return replace(waits, gets_ready_s=ready_s)
    if sign.waits_s is None:
        return replace(waits, since=sign.since, set_since_s=0.0) if sign.since > waits.since else waits
    waited_s = sign.waits_s.get(press, 0.0)
    return replace(waits, since=max(waits.since, sign.time - timedelta(seconds=waited_s)), waited_s=waited_s)
