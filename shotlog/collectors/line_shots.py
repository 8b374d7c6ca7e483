"""Which printed lines are shots. Pure: lines and their times of arrival in, records out.

A line is one shot, but lines are also printed twice, printed late, cut at the front because the port was opened in the
middle of one, or damaged in the counter without a checksum to show it. What is in doubt is held back until the next
line: if that goes on from it, both are taken; if not, the held line becomes a fault with its bytes.
"""

from collections import deque
from dataclasses import dataclass
from datetime import datetime

from shotlog.collectors.base import Resume
from shotlog.collectors.counter import ShotCounter, Step
from shotlog.collectors.lines import Line
from shotlog.records import Fault, Gap, Shot

__all__ = ["LineShots"]

Records = list[Shot | Gap | Fault]

_SMALL_GAP = 50
# How far back a late or repeated line is looked for; a printer with a longer memory would need more.
_BACK = 20


@dataclass(frozen=True, slots=True)
class _Held:
    """A line that waits for the next; `cut`: it may lack its front."""

    line: Line
    time: datetime
    cut: bool

    def confirmed_by(self, line: Line) -> bool:
        ahead = line.counter - self.line.counter
        return ahead == 1 if self.cut else 0 < ahead <= _SMALL_GAP


class LineShots:
    """The shots of one press from its lines.

    State: the counter, the last lines and missed numbers, and at most one line held back. `came`: what a press does
    with its lines.
    """

    def __init__(self, press: str, last_count: int, resume: Resume | None, came: str = "printed") -> None:
        self._press, self._came = press, came
        self._counter = ShotCounter(last_count, resume, zero_is_shot=True)
        self._recent: deque[Line] = deque(maxlen=_BACK)
        self._missed: deque[int] = deque(maxlen=_BACK)
        self._held: _Held | None = None
        self.may_be_cut = False
        """Whether the next line may lack its front."""

    def connected(self, in_mid_line: bool) -> None:
        """Note a new connection; `in_mid_line`: bytes were flowing already, so the first line may lack its front."""
        self._counter.interrupt()
        self.may_be_cut = in_mid_line

    def begins_anew(self) -> None:
        """Note that lines are counted from their first again: none of those to come is one of before."""
        self._recent.clear()
        self._missed.clear()

    def expect(self, shots: float | None) -> None:
        """Take how many shots fit in the time since lines were last read; see `ShotCounter.expected`."""
        self._counter.expected = shots

    @property
    def known(self) -> Resume | None:
        """The last shot that was taken, None where there is none yet."""
        return self._counter.known

    @property
    def watched(self) -> bool:
        """Whether a line was taken since the port was opened."""
        return self._counter.watched

    def passed(self) -> bool:
        """Note a line that is no shot, and say whether it may have lacked its front."""
        cut, self.may_be_cut = self.may_be_cut, False
        return cut

    def take(self, line: Line, time: datetime) -> Records:
        """Return what a line brings, in order."""
        records: Records = []
        held, self._held = self._held, None
        if held is not None:
            if held.confirmed_by(line) and (held.cut or not self._goes_on(line)):
                records += self._accept(held.line, held.time, self._counter.judge(held.line.counter))
            else:
                records.append(self._given_up(held, "the next line does not go on from it"))
        if self.passed() and not self._goes_on(line) and not self._is_last(line):
            self._held = _Held(line, time, cut=True)
            return records
        return records + self._judge(line, time)

    def flush(self, time: datetime) -> Records:
        """Hand back the line that still waits."""
        held, self._held = self._held, None
        return [self._given_up(held, "no line followed")] if held is not None else []

    def _is_last(self, line: Line) -> bool:
        return self._counter.known is not None and line.counter == self._counter.known.counter

    def _goes_on(self, line: Line) -> bool:
        step = self._counter.judge(line.counter)
        return step.kind in ("next", "rollover") and step.missed <= _SMALL_GAP

    def _judge(self, line: Line, time: datetime) -> Records:
        same = next((each for each in reversed(self._recent) if each.counter == line.counter), None)
        if self._is_last(line):
            if same is None:
                return [self._fault(time, "repeat", f"shot counter {line.counter} was logged before this start", line)]
            if same.values == line.values:
                return [
                    self._fault(time, "repeat", f"shot counter {line.counter} {self._came} again, values equal", line)
                ]
            return [self._fault(time, "conflict", f"shot counter {line.counter} again, other values: first kept", line)]
        if line.counter in self._missed:
            detail = f"shot counter {line.counter} came after later ones; it stays in the gap"
            return [self._fault(time, "late line", detail, line)]
        if same is not None and same.values == line.values:
            return [self._fault(time, "repeat", f"shot counter {line.counter} {self._came} again, values equal", line)]
        step = self._counter.judge(line.counter)
        if step.kind == "outside":
            detail = f"shot counter reads {line.counter}, allowed: 0 to {self._counter.last_count}"
            return [self._fault(time, "counter range", detail, line)]
        if step.doubtful:
            self._held = _Held(line, time, cut=False)
            return []
        return self._accept(line, time, step)

    def _accept(self, line: Line, time: datetime, step: Step) -> Records:
        records: Records = []
        known = self._counter.known
        unsaid = self._counter.unsaid(step)
        if known is not None and (step.kind in ("reset", "set") or unsaid):
            detail = f"counter went from {known.counter} to {line.counter}; numbering goes on at shot {step.shot}"
            detail += f"; {unsaid}" if unsaid else ""
            records.append(self._fault(time, f"counter {step.kind}", detail, line, step.shot))
        if step.kind in ("reset", "set", "uncertain"):
            self._recent.clear()
            self._missed.clear()
        if step.missed:
            reason = self._counter.explain(line.counter, step)
            gap = Gap(self._press, step.shot - step.missed, step.shot - 1, time, reason, step.least, step.most)
            records.append(gap)
            self._missed.extend(range(line.counter - min(step.missed, _BACK), line.counter))
        came = "".join(c if c.isprintable() else " " for c in line.raw.decode("latin-1")).strip()
        records.append(Shot(self._press, step.shot, line.counter, time, line.values, came, set_points=line.set_points))
        records += [self._fault(time, doubt.kind, doubt.detail, line, step.shot) for doubt in line.doubts]
        records += [each.fault(self._press, time, step.shot, line.raw) for each in line.untaken]
        self._recent.append(line)
        self._counter.take(line.counter, step)
        return records

    def _given_up(self, held: _Held, why: str) -> Fault:
        kind, what = ("cut line", "may lack its front") if held.cut else ("counter glitch", "is far from the last one")
        return self._fault(held.time, kind, f"shot counter {held.line.counter} {what}, and {why}", held.line)

    def _fault(self, time: datetime, kind: str, detail: str, line: Line, shot: int | None = None) -> Fault:
        return Fault(self._press, time, kind, detail, line.raw, shot)
