"""Taking shots from a press that shows its last shot in registers.

The press writes the registers in its own time, so what is read may be half old and half new ("torn"), and the counter
may move before the values do or after. A shot is therefore taken like this: the counter is polled; when it has
moved, the blocks and then the counter are read again and again until two readings in a row are equal with the counter
still. Between those two lies at least the time a press takes to write a shot, or both might fall into it and be equal
with half of it written. If the counter moves on, what was read belongs to no shot for sure and is thrown away. If the
values keep moving under a still counter, the last reading is stored and the moving channels are named. Set-points are
read along, in requests of their own: one that the press refuses is said once and absent, and costs no shot.

Registers go on showing the last shot for as long as nothing is moulded, so what they hold may be from before: at first
contact, when nobody knows what made it, and under a count that began anew while the values stayed as they were, or all
are zero. Such a shot is taken like any other, so that nothing is lost, and says that it made no part.
"""

import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from shotlog.channels import ALWAYS_CHARTED
from shotlog.clock import Clock
from shotlog.collectors.base import Reading, Resume
from shotlog.collectors.counter import ShotCounter, Step
from shotlog.collectors.modbus_client import ModbusClient
from shotlog.collectors.pace import Pace
from shotlog.collectors.register_map import Cell, RegisterMap, SetRegister
from shotlog.collectors.register_values import moving, reading, set_reading, set_values_of, values_of
from shotlog.collectors.registers import RegisterSpan, wire_bytes
from shotlog.collectors.set_points import ChosenSetPoint
from shotlog.collectors.set_registers import SetRegisters
from shotlog.collectors.stillness import Frozen, Stuck
from shotlog.errors import PressRefused
from shotlog.records import Fault, Gap, Shot

__all__ = ["ModbusShots", "apart_s"]

_FIRST_CONTACT = "stood there at first contact, made before anybody watched"
_ALL_ZERO = "a new count, and every value is zero"
_SAME_VALUES = "a new count, and the values of the shot before still stand"

_READ_AGAIN = 3
_IDLE_CHECK_S = 10.0

_APART_S = 0.02
"""How long a press may take to write its registers, in whatever order (own): a scan or two of its controller. On a fast
line two readings lie a ten-thousandth of a second apart by themselves."""
_NO_END = threading.Event()
"""Nobody is told to end within so short a pause."""

Words = dict[int, int]
Records = list[Shot | Gap | Fault]


@dataclass(frozen=True, slots=True)
class _Sight:
    """A counter reading and when it was first seen, in time of day and on the steady scale."""

    raw: int
    time: datetime
    at: float


@dataclass(frozen=True, slots=True)
class _Taken:
    """What an attempt brought: the counter, the words, the channels still moving, or that it was torn."""

    sight: _Sight
    words: Words
    moving: tuple[str, ...] = ()
    torn: bool = False


class ModbusShots:
    """A collector over Modbus registers, whatever the line beneath (see `collectors.base.Collector`).

    Parameters
    ----------
    settle_s
        Time between seeing the counter move and reading the values, for presses that write them late. Nothing
        sleeps: polls in between bring nothing.
    apart_s
        Time between two readings that are held against each other; the second one waits for what is left of it.
    """

    def __init__(
        self,
        press: str,
        clock: Clock,
        resume: Resume | None,
        registers: RegisterMap,
        client: ModbusClient,
        settle_s: float = 0.0,
        apart_s: float = 0.0,
    ) -> None:
        self._press, self._clock, self._map, self._client = press, clock, registers, client
        self._settle_s, self._apart_s = settle_s, apart_s
        self._sets = SetRegisters(registers)
        self._counter = ShotCounter(registers.counter.last_count, resume)
        self._pace = Pace(clock, resume)
        self._sight: _Sight | None = None
        self._stands: tuple[int, ...] | None = None
        self._told: set[str] = set()
        self._last_values = {} if resume is None else resume.values
        self._frozen, self._stuck = Frozen(), Stuck()
        self._checked_at = 0.0

    def open(self) -> None:
        self._client.open()
        self._counter.interrupt()
        self._stands = None
        self._checked_at = self._clock.monotonic()

    def close(self) -> Records:
        self._client.close()
        return [self._fault("bad answer", each.detail, each.raw) for each in self._client.rejected()]

    def poll(self) -> Records:
        records = self._poll()
        self._pace.took(records, self._counter.watched)
        return records

    def _poll(self) -> Records:
        shown = self._client.read(self._map.counter.span)
        if shown == self._stands:
            return self._idle()  # nearly every poll: what was worked out for these registers still holds
        self._stands = None
        count = _by_address(self._map.counter.span, shown)
        filler = self._filler(count)
        if filler is not None:
            return filler
        raw = self._count(count)
        self._counter.expected = self._pace.expected()
        step = self._counter.judge(raw)
        if step.new:
            return self._new_count(raw, step)
        self._sight = None
        if step.kind == "outside":
            detail = f"shot counter reads {raw}, allowed: 0 to {self._map.counter.last_count}"
            return self._once("counter range", detail, count)
        records = self._passed_glitch()
        self._told.discard("counter range")
        self._counter.take(raw, step)
        if step.kind == "same" and not self._map.counter.all_ones(count):
            self._stands = shown
        return records + self._idle()

    def probe(self) -> list[Reading]:
        cells = [self._map.counter, *self._map.cells]
        words: Words = {}
        refused: dict[str, str] = {}
        for span in (self._map.counter.span, *self._map.blocks, *self._map.set_blocks):
            try:
                words |= self._read([span])
            except PressRefused as error:
                inside = [cell for cell in cells if span.overlaps(cell.span)]
                refused |= {cell.name: str(error) for cell in inside}
                words |= self._one_by_one(inside) if len(inside) > 1 else {}
        if not words:
            raise PressRefused(next(iter(refused.values())))
        chosen = {each.place.name: each for each in self._map.set_points}
        return [self._row(cell, words, refused.get(cell.name, ""), chosen.get(cell.name)) for cell in cells]

    def _one_by_one(self, cells: Iterable[Cell]) -> Words:
        words: Words = {}
        for cell in cells:
            try:
                words |= self._read([cell.span])
            except PressRefused:
                continue
        return words

    def _row(self, cell: Cell, words: Words, refusal: str, set_point: ChosenSetPoint[SetRegister] | None) -> Reading:
        if cell.span.address not in words:
            return Reading(cell.name, f"{cell.span}, {cell.kind.name}", "", None, "", refusal)
        row = reading(cell, words) if set_point is None else set_reading(set_point, words)
        return replace(row, remark="; ".join(each for each in (row.remark, refusal) if each))

    def _read(self, spans: Iterable[RegisterSpan]) -> Words:
        words: Words = {}
        for span in spans:
            words |= _by_address(span, self._client.read(span))
        return words

    def _count(self, words: Words) -> int:
        return int(self._map.counter.raw(words))

    def _filler(self, count: Words) -> Records | None:
        if not self._map.counter.all_ones(count):
            self._told.discard("filler")
            return None
        words = count | self._read(self._map.blocks)
        wide = self._map.counter.kind.words > 1
        if not wide and not all(cell.all_ones(words) for cell in self._map.channels):
            return None  # a 16-bit counter does pass 65535
        return self._once("filler", "the registers hold FFFF, the shot counter too: no shot", words)

    def _new_count(self, raw: int, step: Step) -> Records:
        if self._sight is None or self._sight.raw != raw:
            self._sight = self._seen(raw)
        if self._clock.monotonic() - self._sight.at < self._settle_s:
            return []
        if step.doubtful and not self._counter.confirmed(raw):
            return []
        records = [] if step.doubtful else self._passed_glitch()
        taken = self._take(self._sight)
        if taken.torn:
            detail = f"the counter moved in each of {_READ_AGAIN + 1} readings of the block"
            return records + self._once("torn", detail, taken.words)
        self._told.discard("torn")
        self._told.discard("counter range")
        step = self._counter.judge(taken.sight.raw)
        if not step.new or (step.doubtful and taken.sight.raw != raw):
            return records  # the counter went somewhere odd while it was read; the next poll sees what comes of it
        return records + self._shot(taken, step)

    def _seen(self, raw: int) -> _Sight:
        return _Sight(raw, self._clock.now(), self._clock.monotonic())

    def _take(self, sight: _Sight) -> _Taken:
        n_moved = n_unequal = 0
        before: Words | None = None
        self._sets.begin()
        while True:
            words = self._read(self._map.blocks) | self._sets.read(self._client.read)
            read_at = self._clock.monotonic()
            raw = self._count(self._read([self._map.counter.span]))
            if raw != sight.raw:
                n_moved += 1
                sight, before = self._seen(raw), None
                if n_moved > _READ_AGAIN:
                    return _Taken(sight, words, torn=True)
                continue
            if before is not None:
                changed = moving(self._map.cells, before, words)
                n_unequal += 1
                if not changed or n_unequal > _READ_AGAIN:
                    return _Taken(sight, words, changed)
            before = words
            too_soon_s = read_at + self._apart_s - self._clock.monotonic()
            if too_soon_s > 0.0:
                self._clock.wait(_NO_END, too_soon_s)

    def _shot(self, taken: _Taken, step: Step) -> Records:
        raw, words, time = taken.sight.raw, taken.words, taken.sight.time
        known = self._counter.known
        values, doubts = values_of(self._map.channels, words)
        no_part = self._from_before(step, words, values)
        if no_part == _SAME_VALUES and known is not None:
            # nothing was made, whatever the count says now
            step = replace(step, shot=known.shot + 1, missed=0, least=None, most=None)
        records: Records = []
        unsaid = self._counter.unsaid(step)
        if known is not None and (step.kind in ("reset", "set") or unsaid):
            detail = f"counter went from {known.counter} to {raw}; numbering goes on at shot {step.shot}"
            detail += f"; {unsaid}" if unsaid else ""
            records.append(Fault(self._press, time, f"counter {step.kind}", detail, shot=step.shot))
        if step.missed and known is not None:
            reason = self._counter.explain(raw, step)
            first, last = step.shot - step.missed, step.shot - 1
            records.append(Gap(self._press, first, last, time, reason, step.least, step.most))
        came = " ".join(f"{address}:{word}" for address, word in sorted(words.items()))
        refused, new = self._sets.refused(), self._sets.newly_refused()
        set_points, untaken = set_values_of(self._map.set_points, words, taken.moving, refused)
        records.append(Shot(self._press, step.shot, raw, time, values, came, no_part, set_points))
        cells = {each.name: each.place for each in self._map.set_points}
        for each in untaken:
            cell = cells[each.name]
            if cell.name not in refused:
                records.append(each.fault(self._press, time, step.shot, wire_bytes(cell.words(words))))
            elif cell.name in new:
                records.append(each.fault(self._press, time, step.shot))
        for doubt in doubts:
            records.append(Fault(self._press, time, doubt.kind, doubt.detail, doubt.raw, step.shot))
        unsteady = [name for name in taken.moving if name not in {each.place.name for each in self._map.set_points}]
        if unsteady:
            detail = f"{', '.join(unsteady)} kept changing while the counter stood; the last reading was stored"
            records.append(Fault(self._press, time, "unsteady", detail, wire_bytes(words.values()), step.shot))
        if self._frozen.after_shot(self._settled(words)):
            detail = "five shots in a row were equal to the last digit: is a gateway serving an old copy?"
            records.append(Fault(self._press, time, "frozen", detail, wire_bytes(words.values()), step.shot))
        self._stuck.after_shot(self._charted(words))
        self._checked_at = self._clock.monotonic()
        self._counter.take(raw, step)
        self._sight, self._last_values = None, values
        return records

    def _from_before(self, step: Step, words: Words, values: Mapping[str, float]) -> str:
        """Return why what stands in the registers is no part of a shot made now, empty where it is one."""
        if step.kind == "first":
            return _FIRST_CONTACT
        if step.kind not in ("reset", "set", "uncertain"):
            return ""
        settled = [cell for cell in self._map.channels if not cell.live]
        if not any(any(cell.words(words)) for cell in settled):
            return _ALL_ZERO
        shown = {cell.name: values[cell.name] for cell in settled if cell.name in values}
        same = shown and all(self._last_values.get(name) == value for name, value in shown.items())
        return _SAME_VALUES if same else ""

    def _idle(self) -> Records:
        now = self._clock.monotonic()
        if now - self._checked_at < _IDLE_CHECK_S:
            return []
        self._checked_at = now
        words = self._read(self._map.blocks)
        if not self._stuck.while_idle(self._charted(words)):
            return []
        return [self._fault("counter stuck", "the values change and the counter stands", wire_bytes(words.values()))]

    def _settled(self, words: Words) -> tuple[tuple[int, ...], ...] | None:
        return tuple(cell.words(words) for cell in self._map.channels if not cell.live) or None

    def _charted(self, words: Words) -> tuple[tuple[int, ...], ...]:
        charted = [cell for cell in self._map.channels if cell.name in ALWAYS_CHARTED and not cell.live]
        return tuple(cell.words(words) for cell in charted)

    def _passed_glitch(self) -> Records:
        if self._counter.pending is None or self._counter.known is None:
            return []
        detail = f"counter read {self._counter.pending} in passing, after {self._counter.known.counter}: not taken"
        return [self._fault("counter glitch", detail)]

    def _once(self, kind: str, detail: str, words: Words) -> Records:
        if kind in self._told:
            return []
        self._told.add(kind)
        return [self._fault(kind, detail, wire_bytes(words.values()))]

    def _fault(self, kind: str, detail: str, raw: bytes = b"") -> Fault:
        return Fault(self._press, self._clock.now(), kind, detail, raw)


def apart_s(poll_s: float) -> float:
    """Return how far apart two readings have to be, in seconds, of a press that is polled so often: one that makes its
    shots faster than any real one is polled faster, and moves on before that.
    """
    return min(_APART_S, poll_s / 4.0)


def _by_address(span: RegisterSpan, registers: Iterable[int]) -> Words:
    return dict(zip(range(span.address, span.last + 1), registers, strict=True))
