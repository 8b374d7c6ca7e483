"""The collector kind ``opcua-40077``: a press that sends each cycle as an OPC UA event (OPC 40077, EUROMAP 77).

Events are subscribed to, and nothing else is asked but set-points and a screw's diameter that are variables. The values
of a cycle are in its event and nowhere else, so what was missed is a gap.
"""

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from time import monotonic

from shotlog.clock import Clock
from shotlog.collectors.base import Collector, Reading, Resume
from shotlog.collectors.opcua_fields import (
    FieldDoubt,
    Parts,
    Reader,
    count_in,
    find,
    readers_of,
    units_told,
    whole_in,
    with_units,
)
from shotlog.collectors.opcua_names import DRY_RUN, TEST_SAMPLE
from shotlog.collectors.opcua_options import Options40077, read_options
from shotlog.collectors.opcua_probe import probe_rows, proposed_counter
from shotlog.collectors.opcua_said import CycleEvent, Given, Offer
from shotlog.collectors.opcua_screw import SCREW, diameter_in, screw_path
from shotlog.collectors.opcua_set_points import SetPointFields
from shotlog.collectors.opcua_shots import Cycle, EventShots
from shotlog.collectors.opcua_times import EventTimes
from shotlog.collectors.opcua_wire import Wire
from shotlog.collectors.pace import Pace
from shotlog.errors import CollectorError, PressRefused
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Section

__all__ = ["OpcUa40077", "OpcUa40077Options", "options"]

Records = list[Shot | Gap | Fault]

_QUALITY, _STATUS = "CycleQuality", "ProductionStatus"
_PROBE_PAUSE_S = 0.1
_NEVER = threading.Event()
_NOTHING_YET_S = 600.0
"""After so long without an event the first time, what may be wrong is said; a longer cycle would want more."""


@dataclass(frozen=True, slots=True)
class OpcUa40077Options:
    """The checked keys of an ``opcua-40077`` collector; `wire` makes the connection, by default over the wire."""

    chosen: Options40077
    wire: Callable[[Options40077], Wire] | None = None

    @property
    def poll_s(self) -> float:
        """The pause between looks at what came, in seconds."""
        return self.chosen.poll_s

    def describe(self) -> list[str]:
        return self.chosen.describe()

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        return OpcUa40077(press, clock, resume, self.chosen, (self.wire or _over_the_wire)(self.chosen))


def _over_the_wire(chosen: Options40077) -> Wire:
    from shotlog.collectors.opcua_client import OpcClient

    return OpcClient(chosen.server)


class OpcUa40077:
    """A collector over events (see `collectors.base.Collector`)."""

    def __init__(self, press: str, clock: Clock, resume: Resume | None, chosen: Options40077, wire: Wire) -> None:
        self._press, self._clock, self._chosen, self._wire = press, clock, chosen, wire
        self._shots = EventShots(press, chosen.last_count, resume)
        self._pace = Pace(clock, resume)
        self._times = EventTimes()
        self._offer = Offer((), {})
        self._geometry, self._screw = chosen.geometry, ""
        self._readers: list[Reader] = []
        self._counter = self._quality = self._status = ""
        self._set_points = SetPointFields(chosen.set_points)
        self._variables: Mapping[str, Given] = {}
        self._heard: datetime | None = None
        self._waits_since: float | None = None
        self._told: set[str] = set()
        self._to_tell: list[str] = []

    def open(self) -> None:
        if self._wire.is_open:
            return
        chosen = self._chosen
        wanted = [SCREW] if self._wants_screw() else []
        self._offer = offer = self._wire.open([*wanted, *self._set_points.names])
        try:
            self._counter, why = find(chosen.counter, offer.fields, Parts())
            if not self._counter:
                usual = proposed_counter(offer)
                raise PressRefused(f"shot_counter: {why}" + (f'; try name = "{usual}"' if usual else ""))
            self._quality, self._status = (find(name, offer.fields, Parts())[0] for name in (_QUALITY, _STATUS))
            self._screw = screw_path(offer.read, chosen.parts.unit or 1) if wanted else ""
            self._take_screw(offer.read)
            self._readers = readers_of(chosen.channels, offer, chosen.parts, self._geometry)
            self._set_points.found(offer, chosen.parts)
            self._wire.subscribe(self._paths())
        except BaseException:
            self._wire.close()
            raise
        self._shots.connected()
        self._heard, self._variables = None, {}
        if self._waits_since is None and "event" not in self._told:
            self._waits_since = self._clock.monotonic()
        self._tell(
            offer.remarks,
            [one.remark for one in self._readers if one.remark and not one.waits_for_unit],
            self._set_points.remarks,
        )

    def poll(self) -> Records:
        now = self._clock.now()
        events = self._wire.turn()
        records = self._said(now, bool(events))
        self._shots.expect(self._pace.expected())
        now_read = self._read_along() if events else {}
        # of those before the last is known what was read before them and is so still
        unchanged = {name: came for name, came in now_read.items() if self._variables.get(name) == came}
        self._variables = now_read if events else self._variables
        cycles: list[Cycle] = []
        for n, event in enumerate(events, 1):
            taken = self._cycle(event, now, now_read if n == len(events) else unchanged)
            if isinstance(taken, Cycle):
                cycles.append(taken)
            else:
                records.append(taken)
        records += self._shots.take(cycles)
        off = self._times.off_said() if events else ""
        if off:
            records.append(Fault(self._press, now, "press clock", off))
        self._heard = now - timedelta(seconds=self._wire.heard_ago_s)
        self._pace.took(records, self._shots.watched)
        return records

    def close(self) -> Records:
        records: Records = []
        if self._wire.is_open:
            try:
                records = self.poll()
            except CollectorError:
                records = []  # the line is lost, and what came before was handed over
        self._wire.close()
        return records + self._shots.flush()

    def probe(self) -> list[Reading]:
        """Wait for one event, with all of its fields, and show it beside what is taken of it."""
        chosen, until = self._chosen, monotonic() + self._chosen.wait_s
        events = self._wire.turn()
        event = events[-1] if events else None
        if event is None or not event.fields.keys() >= self._offer.fields.keys():
            self._wire.subscribe(with_units(self._offer, self._offer.fields))
            events = []
        while not events and monotonic() < until:
            events = self._wire.turn()
            self._clock.wait(_NEVER, 0.0 if events else _PROBE_PAUSE_S)
        event = events[-1] if events else event
        if event is not None:
            self._take_units(event)
        variables = self._read_along()
        how = (self._counter, self._readers, chosen.parts, self._geometry, chosen.wait_s, self._set_points.paths)
        rows = probe_rows(self._offer, event, *how)
        return [*rows, *self._set_points.rows(event, variables)]

    def _wants_screw(self) -> bool:
        return self._chosen.geometry.screw_mm is None and any(one.channel.unit == "mm" for one in self._chosen.channels)

    def _paths(self) -> list[str]:
        paths = [self._counter, self._quality, self._status, *(one.path for one in self._readers)]
        used = [path for path in dict.fromkeys([*paths, *self._set_points.paths]) if path in self._offer.fields]
        return with_units(self._offer, used)

    def _read_along(self) -> Mapping[str, Given]:
        """Return what set-points hold that are variables; the screw is looked at again where it is used."""
        if self._screw and any("Volume" in one.path for one in self._readers):
            try:
                self._take_screw(self._wire.read([self._screw]))
            except CollectorError:
                return {}  # the events are at hand; the next look at the press says that the line is lost
        return self._set_points.read(self._wire)

    def _take_screw(self, came: Mapping[str, Given]) -> None:
        if not self._screw:
            return
        unit = self._offer.read.get(f"{self._screw}/EngineeringUnits")
        found = diameter_in(came.get(self._screw), "" if unit is None or unit.value is None else str(unit.value))
        before = self._geometry.screw_mm
        if found is None or found == before:
            return
        self._geometry = replace(self._geometry, screw_mm=found)
        self._readers = readers_of(self._chosen.channels, self._offer, self._chosen.parts, self._geometry)
        if before is not None:
            self._tell(
                [f"the press's screw is {found:g} mm now, {before:g} mm before: volumes become mm by the new one"]
            )

    def _take_units(self, event: CycleEvent) -> None:
        """Take the units that an event brought along, where they are others than before."""
        before, self._offer = self._offer, units_told(self._offer, event)
        if self._offer is before:
            return
        old = {one.path: one.unit for one in before.fields.values()}
        self._readers = readers_of(self._chosen.channels, self._offer, self._chosen.parts, self._geometry)
        self._set_points.found(self._offer, self._chosen.parts)
        used = {one.path for one in self._readers if one.field.unit is None}
        changed = [
            one for one in self._offer.fields.values() if one.path in used and old[one.path] not in ("", one.unit)
        ]
        self._tell([f"the press gives {one.path} in {one.unit} now, {old[one.path]} before" for one in changed])

    def _tell(self, *sentences: Sequence[str]) -> None:
        """Have each sentence said once, with the next look at the press."""
        new = [one for some in sentences for one in some if one not in self._told]
        self._told.update(new)
        self._to_tell += new

    def _said(self, now: datetime, came: bool) -> Records:
        if came:
            self._waits_since = None
            self._told.add("event")
        elif self._waits_since is not None and self._clock.monotonic() - self._waits_since >= _NOTHING_YET_S:
            self._waits_since = None
            self._tell(
                [
                    f"connected for {_NOTHING_YET_S / 60:g} min, and no cycle event came yet: is the press in "
                    "automatic, and may this user see its events? shotlog probe shows what it offers"
                ]
            )
        n_lost = self._wire.overflowed()
        if n_lost:
            self._to_tell.append("the press's queue of events ran over: those it dropped show as a gap of the counter")
        told, self._to_tell = self._to_tell, []
        return [Fault(self._press, now, "press offers", one) for one in told]

    def _cycle(self, event: CycleEvent, now: datetime, variables: Mapping[str, Given]) -> Cycle | Fault:
        """Return what an event says, or the fault that it is: one without a count belongs to no shot."""
        count = count_in(event.fields.get(self._counter))
        if count is None:
            came = event.fields.get(self._counter, Given(None))
            detail = f"an event whose {self._counter} is {came.text}: it belongs to no shot"
            return Fault(self._press, now, "no counter", detail, event.text.encode())
        self._take_units(event)
        values: dict[str, float] = {}
        doubts: list[FieldDoubt] = []
        for reader in self._readers:
            taken = reader.value(event.fields.get(reader.path))
            if isinstance(taken, FieldDoubt):
                doubts.append(taken)
            else:
                values[reader.field.channel.name] = taken
        set_points, untaken = self._set_points.of(event, variables)
        doubts += [FieldDoubt(f"{one.subject} not taken", f"{one.subject}: {one.why}") for one in untaken]
        return Cycle(
            event.id,
            count,
            values,
            doubts,
            self._times.made_at(event.time, now, self._heard),
            event.text,
            "dry run (ProductionStatus 5)" if whole_in(event.fields.get(self._status)) == DRY_RUN else "",
            _quality_said(whole_in(event.fields.get(self._quality))),
            set_points,
            event.time,
        )


def _quality_said(quality: int | None) -> str:
    """Return what is said of a cycle that is a sample; nothing of one that a press calls good, bad or failed."""
    return (
        "the press calls this cycle a test sample (CycleQuality 2); its part is one as any other"
        if quality == TEST_SAMPLE
        else ""
    )


def options(section: Section) -> OpcUa40077Options:
    """Read and check the keys.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    UsageError
        The extra is not installed.
    """
    return OpcUa40077Options(read_options(section))
