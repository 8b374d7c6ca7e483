"""A simulated press on OPC UA: the shots of a story as events, and what may go wrong with them.

Volumes follow from strokes by the screw's area, hydraulic pressures from specific ones by the press's intensification.
A second injection unit fills another cavity: less, at lower pressure. A new job is a counter fault of the story
("counter-reset"); the machine's own counter goes on.
"""

import math
from datetime import UTC, datetime, timedelta
from typing import Any

from simulators.disturb import OPC_FAULTS, WireFaults
from simulators.faces import collector_table
from simulators.machine import Machine
from simulators.opc_event import BadField
from simulators.opc_names import (
    DRY_RUN,
    GOOD_CYCLE,
    PRODUCTION,
    SET_POINTS,
    TEST_SAMPLE,
    mould_object,
    top_fields,
    unit_fields,
    unit_object,
)
from simulators.opc_press import Cycle, OpcPress
from simulators.opc_switches import OpcSwitches, sent_unit
from simulators.press import PressRun

__all__ = ["OpcFace", "cycle_values"]

_SECOND_UNIT = {"mm": 0.6, "cm3": 0.6, "bar": 0.7, "ms": 0.8}
_BROKEN = {"null": None, "bad-status": BadField(), "nan": math.nan, "infinite": math.inf, "text": "----"}


def cycle_values(
    run: PressRun, index: int, switches: OpcSwitches, counter: int, machine_counter: int
) -> dict[str, Any]:
    """Return the fields of shot `index` (from 0) in the units in which they go out; `counter` is the job's."""
    values: dict[str, Any] = {
        "JobCycleCounter": counter,
        "MachineCycleCounter": machine_counter,
        "CycleTime": 1000.0 * float(run.channels["cycle_time"][index]),
        "CycleQuality": GOOD_CYCLE,
        "ProductionStatus": PRODUCTION,
        "JobName": f"job {machine_counter - counter + 1}",
        f"{mould_object(1)}/Index": 1,
    }
    for number in range(1, switches.injection_units + 1):
        unit = _unit(run, index)
        for entry in unit_fields():
            value = unit.get(entry.name, number)
            if number > 1:
                value *= _SECOND_UNIT.get(entry.unit, 1)
            if switches.mpa:
                value *= {"bar": 0.1, "cm3": 1000.0}.get(entry.unit, 1)
            values[f"{unit_object(number)}/{entry.name}"] = value
        if not switches.specific:
            values[f"{unit_object(number)}/SpecificPressureMaximum"] = None
    if switches.set_points_in_event:
        values |= set_points(run, index)
    return values


def _unit(run: PressRun, index: int) -> dict[str, float]:
    """Return what the first injection unit did: ms, bar, mm, cm3."""
    machine = run.press.machine
    told = {entry.channel: entry for entry in unit_fields() if entry.channel}
    out = {}
    for channel, entry in told.items():
        out[entry.name] = float(run.channels[channel][index]) * (1000.0 if entry.unit == "ms" else 1.0)
    area_cm2 = machine.screw_area_mm2 / 100.0
    out["CushionVolume"] = out["CushionStroke"] / 10.0 * area_cm2
    out["TransferVolume"] = out["TransferStroke"] / 10.0 * area_cm2
    out["HydraulicPressureMaximum"] = out["SpecificPressureMaximum"] / machine.intensification
    out["TransferHydraulicPressure"] = out["TransferSpecificPressure"] / machine.intensification
    return out


def set_points(run: PressRun, index: int) -> dict[str, float | str]:
    """Return what is set at shot `index`."""
    out: dict[str, float | str] = {}
    for point in SET_POINTS:
        edited = run.line.set.get(point.key)
        value = getattr(run.press.machine.set, point.key) if edited is None else float(edited[index])
        out[point.name] = value
    return out


class OpcFace:
    """The press on a free port of the loopback address (or the port given)."""

    kind = "opcua-40077"

    def __init__(
        self,
        clock: datetime | None = None,
        switches: OpcSwitches | None = None,
        first_count: int = 0,
        faults: WireFaults | None = None,
        port: int = 0,
        machine: Machine | None = None,
    ) -> None:
        self.shown = 0
        self._machine = machine or Machine()
        self.switches = switches or OpcSwitches()
        self.faults = faults or WireFaults((), OPC_FAULTS)
        self.press = OpcPress(self.switches, port)
        self._clock, self._first = clock, first_count
        self._held: list[Cycle] = []
        self._set: dict[str, float | str] = {}

    async def open(self) -> None:
        """Start serving."""
        await self.press.open()

    async def show(self, run: PressRun, index: int) -> None:
        """Send shot `index` (from 0), as the faults let it through; first what somebody set for it."""
        self.shown += 1
        faults = self.faults
        faults.shot = index + 1
        if faults.active("refused") and self.press.serving:
            await self.press.close()
        elif not faults.active("refused") and not self.press.serving:
            await self.press.open()
            self._set = {}
        await self._set_up(run, index)
        if faults.active("alarm"):
            await self.press.tell("heating zone 2 below limit")
        if faults.active("lost"):
            return
        cycle = self._cycle(run, index)
        self._held += [cycle, cycle] if faults.active("duplicate") else [cycle]
        burst = faults.active("burst")
        if burst is None or index + 1 >= burst.until:
            held, self._held = self._held, []
            await self.press.send(*held)

    def _cycle(self, run: PressRun, index: int) -> Cycle:
        faults = self.faults
        count = self._first + index + 1
        values = cycle_values(run, index, self.switches, faults.counter(count), count)
        for kind, broken in _BROKEN.items():
            if faults.active(kind):
                values[f"{unit_object(1)}/CushionStroke"] = values[f"{unit_object(1)}/CushionVolume"] = broken
        if faults.active("no-counter"):
            values["JobCycleCounter"] = values["MachineCycleCounter"] = None
        if faults.active("dry"):
            values["ProductionStatus"] = DRY_RUN
        if faults.active("test-sample"):
            values["CycleQuality"] = TEST_SAMPLE
        wrong = faults.active("clock")
        clock = self._clock + timedelta(seconds=float(run.seconds[index])) if self._clock else datetime.now(UTC)
        return Cycle(values, clock if wrong is None else clock + timedelta(seconds=wrong.seconds))

    async def _set_up(self, run: PressRun, index: int) -> None:
        if not self._set:
            await self.press.screw(run.press.machine.screw_mm)
        for name, value in set_points(run, index).items():
            if self._set.get(name) != value:
                self._set[name] = value
                await self.press.set_point(name, value)

    def asked(self) -> dict[str, int]:
        """Return how often somebody wrote, and called each method: nobody should."""
        return self.press.done()

    async def close(self) -> None:
        """Stop serving."""
        await self.press.close()

    def place(self) -> dict[str, object]:
        """Return kind and address."""
        return {"kind": self.kind, "url": self.press.url}

    def config(self, poll_s: float) -> str:
        """Return the `[press.collector]` table that reads it, as TOML; a unit only where the press tells none."""
        switches, machine = self.switches, self._machine
        counter = next(e.name for e in reversed([*top_fields(switches.machine_counter)]) if "Counter" in e.name)
        fields = {entry.name: entry for entry in (*top_fields(), *unit_fields())}
        channels = {}
        for entry in [field for field in fields.values() if field.channel]:
            name = entry.name
            if not switches.stroke:
                name = name.replace("Stroke", "Volume")
            if not switches.specific:
                name = name.replace("Specific", "Hydraulic")
            unit = sent_unit(switches, fields[name].unit)
            told = switches.units or unit == "ms"
            channels[entry.channel] = f'{{ name = "{name}" }}' if told else f'{{ name = "{name}", unit = "{unit}" }}'
        keys = self.place()
        if not switches.stroke and not switches.screw:
            keys["screw_diameter_mm"] = machine.screw_mm
        if not switches.specific:
            keys["intensification_ratio"] = machine.intensification
        return collector_table(keys, f'{{ name = "{counter}" }}', channels)
