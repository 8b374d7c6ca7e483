"""The press on OPC UA: what a client that is not ours finds there, and that what it does to the press is counted."""

import asyncio
import contextlib
from datetime import UTC, datetime

import pytest

from simulators.disturb import OPC_FAULTS, WireFault, WireFaults
from simulators.faces import FaceError
from simulators.opc_names import CYCLE_EVENT, GENERAL, IMM2MES, MAKER, unit_object
from simulators.opc_switches import SWITCHES, OpcSwitches, read_switches
from simulators.press import mould
from simulators.story import load

asyncua = pytest.importorskip("asyncua", reason="the extra opcua is not installed")

from asyncua import ua  # noqa: E402

from simulators.opc_face import OpcFace, cycle_values  # noqa: E402
from simulators.opc_press import Cycle, OpcPress  # noqa: E402

RUN = mould(load("set_point_edits").presses[0], 12, seed=4)
CUSHION = f"{unit_object(1)}/CushionStroke"


class Heard:
    """A subscription to the whole event, as the library of the client makes it."""

    def __init__(self):
        self.events = []

    def event_notification(self, event):
        self.events.append(vars(event))

    async def more(self, count):
        for _ in range(400):
            if len(self.events) >= count:
                return self.events
            await asyncio.sleep(0.01)
        raise AssertionError(f"{len(self.events)} of {count} events")


@contextlib.asynccontextmanager
async def listening(url, below=True):
    """Subscribe at the Server object: to the types below that of the standard, or to that itself."""
    async with asyncua.Client(url) as client:
        index = {uri: number for number, uri in enumerate(await client.get_namespace_array())}
        kind = client.get_node(ua.NodeId(CYCLE_EVENT, index[GENERAL]))
        kinds = [kind]
        while below and (found := await kinds[-1].get_children(refs=ua.ObjectIds.HasSubtype)):
            kinds += found
        heard = Heard()
        subscription = await client.create_subscription(10, heard)
        await subscription.subscribe_events(client.nodes.server, kinds[1:] or kinds, queuesize=0)
        yield heard, client, index


def test_what_a_client_reads_off_a_press_and_what_it_does_to_it():
    asyncio.run(_whole())


async def _whole():
    press = OpcPress(read_switches("deep+sessions=2"))
    await press.open()
    await press.screw(22.0)
    await press.set_point("SetHoldPressure", 380.0)
    async with listening(press.url) as (heard, client, index), listening(press.url, below=False) as (base, _, _):
        with pytest.raises(ua.UaStatusCodeError, match="session"):
            await asyncua.Client(press.url).connect()
        await press.tell("heating zone 2 below limit")
        values = cycle_values(RUN, 3, OpcSwitches(), 4, 4)
        await press.send(*[Cycle(values | {"JobCycleCounter": number}) for number in range(1, 51)])
        events = await heard.more(50)
        assert [event["JobCycleCounter"] for event in events] == list(range(1, 51))
        assert events[0][CUSHION] == pytest.approx(RUN.channels["cushion"][3], abs=0)
        assert events[0][f"{unit_object(1)}/InjectionTime"] == 1000.0 * RUN.channels["fill_time"][3]
        assert events[0][f"{CUSHION}/EngineeringUnits"].UnitId == 5066068  # MMT, as UN/CEFACT has it
        assert all(CUSHION not in event for event in await base.more(50))
        maker, imm = index[MAKER], index[IMM2MES]
        shown = await client.nodes.objects.get_child(f"{maker}:IMM_MES_Interface")
        unit = await shown.get_child([f"{imm}:InjectionUnits", f"{maker}:InjectionUnit_1"])
        assert await (await unit.get_child(f"{imm}:ScrewDiameter")).read_value() == 22.0
        hold = await shown.get_child([f"{maker}:SetPoints", f"{maker}:SetHoldPressure"])
        assert await hold.read_value() == 380.0
        assert press.done() == {"written": 0, "StopAtCycleEnd": 0, "FinishJob": 0}
        await hold.write_value(1.0)
        await shown.call_method(f"{maker}:FinishJob")
    await press.close()
    assert press.done() == {"written": 1, "StopAtCycleEnd": 0, "FinishJob": 1}


class Sent(OpcFace):
    """A face without a server: what it would send, shot after shot."""

    def __init__(self, *faults, switches=None):
        super().__init__(datetime(2026, 3, 2, tzinfo=UTC), switches, 100, WireFaults(faults, OPC_FAULTS))
        self.sent, self.press = [], self
        self.serving = True

    async def send(self, *cycles):
        self.sent.append([cycle.values for cycle in cycles])

    async def screw(self, diameter):
        self.diameter = diameter

    async def set_point(self, name, value):
        self.sent.append((name, value))

    def shots(self, last=8):
        async def show():
            for index in range(last):
                await self.show(RUN, index)
            return [batch for batch in self.sent if isinstance(batch, list)]

        return asyncio.run(show())


def test_faults_do_what_their_table_says():
    faults = [
        ("lost", 2, 2),
        ("burst", 3, 5),
        ("duplicate", 6, 6),
        ("null", 7, 7),
        ("counter-reset", 4, 0),
        ("dry", 8, 8),
    ]
    face = Sent(*[WireFault(kind, first, last) for kind, first, last in faults])
    batches = face.shots()
    assert [[values["MachineCycleCounter"] for values in batch] for batch in batches] == [
        [101], [103, 104, 105], [106, 106], [107], [108],
    ]  # fmt: skip
    assert [values["JobCycleCounter"] for batch in batches for values in batch] == [101, 103, 1, 2, 3, 3, 4, 5]
    assert batches[3][0][CUSHION] is None
    assert batches[4][0]["ProductionStatus"] == 5
    assert face.diameter == RUN.press.machine.screw_mm


def test_every_switch_is_read_and_a_wrong_one_is_told():
    for name in SWITCHES:
        assert read_switches(name if not SWITCHES[name].startswith("=") else f"{name}=3") != OpcSwitches()
    for wrong in ("no-unit", "sessions=many", "deep=2"):
        with pytest.raises(FaceError, match=f"given '{wrong}', allowed: no-units"):
            read_switches(wrong)


def test_the_configuration_fits_the_switches():
    """What reads a press that has only volumes and the pressure of the oil, and tells no unit and no screw."""
    face = OpcFace(None, read_switches("volume-only+no-screw+hydraulic-only+no-units+mpa"), machine=RUN.press.machine)
    table = face.config(0.2)
    assert f"screw_diameter_mm = {RUN.press.machine.screw_mm}" in table
    assert f"intensification_ratio = {RUN.press.machine.intensification}" in table
    assert 'cushion = { name = "CushionVolume", unit = "mm3" }' in table
    assert 'peak_pressure = { name = "HydraulicPressureMaximum", unit = "MPa" }' in table
    assert 'fill_time = { name = "InjectionTime" }' in table


def test_two_units_and_other_units_of_measure_are_the_same_shot():
    plain = cycle_values(RUN, 3, OpcSwitches(), 4, 4)
    other = cycle_values(RUN, 3, read_switches("two-units+mpa+hydraulic-only+set-points"), 4, 4)
    machine = RUN.press.machine
    assert plain[f"{unit_object(1)}/CushionVolume"] == pytest.approx(plain[CUSHION] * machine.screw_area_mm2 / 1000.0)
    assert other[f"{unit_object(1)}/CushionVolume"] == pytest.approx(plain[CUSHION] * machine.screw_area_mm2)
    peak = plain[f"{unit_object(1)}/SpecificPressureMaximum"]
    assert other[f"{unit_object(1)}/HydraulicPressureMaximum"] == pytest.approx(peak / machine.intensification / 10.0)
    assert other[f"{unit_object(1)}/SpecificPressureMaximum"] is None
    assert other[f"{unit_object(2)}/CushionStroke"] == pytest.approx(0.6 * plain[CUSHION])
    assert other["SetHoldPressure"] == machine.set.hold_bar
    assert other["SetSwitchover"] == "position"
