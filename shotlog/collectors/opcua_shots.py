"""Which cycle events are shots. Pure: events with their times in, records out.

An event is one finished cycle, and there is nothing else to read it from: one that was missed is a gap, which only the
counter shows. Events come twice, come late, and come in a burst after a stop of the line. So each is known again by its
id; of those at hand the one that goes on from the count is taken first; and one that would leave a gap waits for one
more look at the press, as the one before it may only be late. A count far from the last one that is not the start of a
job waits for the next event: if that goes on from it, both are taken; if not, the first becomes a fault with its text.
"""

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from shotlog.collectors.base import Resume
from shotlog.collectors.counter import ShotCounter, Step
from shotlog.collectors.opcua_fields import FieldDoubt
from shotlog.collectors.stillness import Frozen
from shotlog.records import Fault, Gap, SetPoint, Shot

__all__ = ["Cycle", "EventShots"]

Records = list[Shot | Gap | Fault]

_NEAR = 50
_BACK = 20
"""How far back a late or repeated event is looked for by its count."""
_IDS = 1000


@dataclass(frozen=True, slots=True)
class Cycle:
    """One event as it was understood. `no_part`: why it made none; `remark`: what else the press says of it, which is
    no measurement; `said`: its time by the press's own clock, None where it says none."""

    id: bytes
    counter: int
    values: Mapping[str, float]
    doubts: Sequence[FieldDoubt]
    time: datetime
    text: str
    no_part: str = ""
    remark: str = ""
    set_points: Mapping[str, SetPoint] = field(default_factory=dict)
    said: datetime | None = None

    def same_as(self, other: "Cycle") -> bool:
        """Say whether both tell of the same cycle under the same count; a new job may bring count and values again,
        and only the press's time tells then.
        """
        times = {self.said, other.said} - {None}
        return self.counter == other.counter and self.values == other.values and len(times) < 2


@dataclass(slots=True)
class _Waiting:
    cycle: Cycle
    looks: int = 0


class EventShots:
    """The shots of one press from its events.

    State: the counter, the events that wait, ids and counts of the last ones.
    """

    def __init__(self, press: str, last_count: int, resume: Resume | None) -> None:
        self._press = press
        self._counter = ShotCounter(last_count, resume, zero_is_shot=True)
        self._waiting: list[_Waiting] = []
        self._ids: deque[bytes] = deque(maxlen=_IDS)
        self._recent: deque[Cycle] = deque(maxlen=_BACK)
        self._missed: deque[int] = deque(maxlen=_BACK)
        self._frozen = Frozen()

    def connected(self) -> None:
        """Note a new connection: any number of cycles may have been made meanwhile."""
        self._counter.interrupt()

    def expect(self, shots: float | None) -> None:
        """Take how many shots fit in the time since the press was last watched; see `ShotCounter.expected`."""
        self._counter.expected = shots

    @property
    def watched(self) -> bool:
        """Whether an event was taken since the connection was made."""
        return self._counter.watched

    def take(self, cycles: Sequence[Cycle]) -> Records:
        """Return what one look at the press brings, in order."""
        records: Records = []
        for waiting in self._waiting:
            waiting.looks += 1
        for cycle in cycles:
            if cycle.id and cycle.id in self._ids:
                detail = f"the event of shot counter {cycle.counter} came again; it is taken once"
                records.append(self._fault(cycle, "repeat", detail))
                continue
            self._ids.append(cycle.id)
            self._waiting.append(_Waiting(cycle))
        return records + self._settle()

    def flush(self) -> Records:
        """Hand back what still waits: gaps are left as they are, and what nothing went on from is a fault."""
        for waiting in self._waiting:
            waiting.looks += 1
        records = self._settle()
        records += [self._given_up(one.cycle, "no event followed") for one in self._waiting]
        self._waiting.clear()
        return records

    def _settle(self) -> Records:
        records: Records = []
        while self._waiting:
            one = self._first()
            step = self._counter.judge(one.cycle.counter)
            if self._wants_another(one.cycle, step):
                others = [each.cycle.counter for each in self._waiting if each is not one]
                if not any(0 < other - one.cycle.counter <= _NEAR for other in others):
                    if not others:
                        break
                    self._waiting.remove(one)
                    records.append(self._given_up(one.cycle, "the next event does not go on from it"))
                    continue
            elif step.missed and step.kind == "next" and self._counter.watched and not one.looks:
                break
            self._waiting.remove(one)
            records += self._judged(one.cycle, step)
        return records

    def _first(self) -> _Waiting:
        """Return the event that goes on from the count, else the one that came first; one again goes before both."""
        known, first = self._counter.known, self._waiting[0]
        if known is None or first.cycle.counter == known.counter:
            return first
        return next((each for each in self._waiting if each.cycle.counter == known.counter + 1), first)

    def _wants_another(self, cycle: Cycle, step: Step) -> bool:
        """Say whether a count is so odd that the next event is to go on from it; a new job may begin anywhere low, but
        not just below the last count, where a stray old event would look the same.
        """
        if cycle.counter in self._missed or any(one.same_as(cycle) for one in self._recent):
            return False
        known = self._counter.known
        is_near = known is not None and 0 < known.counter - cycle.counter <= _BACK
        return step.doubtful and (step.kind in ("set", "next") or (step.kind == "reset" and is_near))

    def _judged(self, cycle: Cycle, step: Step) -> Records:
        count = cycle.counter
        same = next((each for each in reversed(self._recent) if each.counter == count), None)
        if same is not None and same.same_as(cycle):
            detail = f"an event with shot counter {count} came again, values equal"
            return [self._fault(cycle, "repeat", detail)]
        if step.kind == "same":
            return [self._uncounted(cycle, same)]
        if count in self._missed:
            detail = f"the event of shot counter {count} came after later ones; it stays in the gap"
            return [self._fault(cycle, "late event", detail)]
        if step.kind == "outside":
            detail = f"shot counter reads {count}, allowed: 0 to {self._counter.last_count}"
            return [self._fault(cycle, "counter range", detail)]
        return self._accept(cycle, step)

    def _uncounted(self, cycle: Cycle, same: Cycle | None) -> Fault:
        count = cycle.counter
        if cycle.no_part:
            detail = f"{cycle.no_part}, which the press did not count: shot counter still {count}"
            return self._fault(cycle, "dry cycle not counted", detail)
        if same is None:
            return self._fault(cycle, "repeat", f"shot counter {count} was logged before this start")
        if same.values == cycle.values:
            detail = f"an event with shot counter {count} came again, values equal, at another time of the press"
            return self._fault(cycle, "repeat", detail)
        detail = f"an event with shot counter {count} again, other values: the first is kept"
        return self._fault(cycle, "conflict", detail)

    def _accept(self, cycle: Cycle, step: Step) -> Records:
        records: Records = []
        known, time = self._counter.known, cycle.time
        unsaid = self._counter.unsaid(step)
        if known is not None and (step.kind in ("reset", "set") or unsaid):
            detail = f"counter went from {known.counter} to {cycle.counter}; numbering goes on at shot {step.shot}"
            detail += f"; {unsaid}" if unsaid else ""
            records.append(self._fault(cycle, f"counter {step.kind}", detail, step.shot))
        if step.kind in ("reset", "set", "uncertain"):
            self._recent.clear()
            self._missed.clear()
        if step.missed:
            reason = self._counter.explain(cycle.counter, step)
            first, last = step.shot - step.missed, step.shot - 1
            records.append(Gap(self._press, first, last, time, reason, step.least, step.most))
            self._missed.extend(range(max(0, cycle.counter - min(step.missed, _BACK)), cycle.counter))
        made = (time, cycle.values, cycle.text, cycle.no_part, cycle.set_points)
        records.append(Shot(self._press, step.shot, cycle.counter, *made))
        records += [Fault(self._press, time, each.kind, each.detail, each.raw, step.shot) for each in cycle.doubts]
        if cycle.remark:
            records.append(self._fault(cycle, "press says", cycle.remark, step.shot))
        if len(cycle.values) > 1 and self._frozen.after_shot(tuple(sorted(cycle.values.items()))):
            detail = "five shots in a row were equal to the last digit: is a gateway serving an old copy?"
            records.append(self._fault(cycle, "frozen", detail, step.shot))
        self._recent.append(cycle)
        self._counter.take(cycle.counter, step)
        return records

    def _given_up(self, cycle: Cycle, why: str) -> Fault:
        return self._fault(cycle, "counter glitch", f"shot counter {cycle.counter} is far from the last one, and {why}")

    def _fault(self, cycle: Cycle, kind: str, detail: str, shot: int | None = None) -> Fault:
        return Fault(self._press, cycle.time, kind, detail, cycle.text.encode(), shot)
