"""The names of a press on OPC UA (OPC 40077, OPC 40083): namespaces, ids and BrowseNames, as far as the trade notes
and published declarations of the two standards have them. Not verified on a real press.

Of a type only its namespace, id and BrowseNames are served: no nodeset file is needed for a client to find its way.
"""

from collections.abc import Iterator
from dataclasses import dataclass

__all__ = [
    "CYCLE_EVENT",
    "DEVICES",
    "DRY_RUN",
    "GENERAL",
    "GOOD_CYCLE",
    "IMM2MES",
    "INTERFACE",
    "MAKER",
    "PRODUCTION",
    "SET_POINTS",
    "TEST_SAMPLE",
    "OpcField",
    "OpcSetPoint",
    "mould_object",
    "top_fields",
    "unit_fields",
    "unit_object",
]

DEVICES = "http://opcfoundation.org/UA/DI/"
GENERAL = "http://opcfoundation.org/UA/PlasticsRubber/GeneralTypes/"
IMM2MES = "http://opcfoundation.org/UA/PlasticsRubber/IMM2MES/"
MAKER = "urn:simulated-press:types"
"""The namespace in which the maker of a press derives its own types; this one is made up."""

CYCLE_EVENT = 1038
"""Id of CycleParametersEventType in GENERAL; abstract."""
INTERFACE = 1007
"""Id of IMM_MES_InterfaceType in IMM2MES."""

GOOD_CYCLE, TEST_SAMPLE = 0, 2
"""Of CycleQuality; 2 from the trade notes, 0 by the order in which the names of the standard stand."""
PRODUCTION, DRY_RUN = 3, 5
"""Of ProductionStatus; 5 from the trade notes, 3 our own choice of a number that is not 5."""


@dataclass(frozen=True, slots=True)
class OpcField:
    """One field of the event: its BrowseName and what it holds.

    `unit` is as a person writes it; "ms" is a Duration, which has no EngineeringUnits; "" a counter or a code.
    `channel`: what a simulated press reports in it, "" where it is worked out otherwise. `type` as the standard names
    built-in types.
    """

    name: str
    namespace: str
    unit: str = ""
    channel: str = ""
    mandatory: bool = True
    type: str = "Double"


_TOP = (
    OpcField("JobCycleCounter", GENERAL, type="UInt64"),
    OpcField("MachineCycleCounter", GENERAL, mandatory=False, type="UInt64"),
    OpcField("CycleTime", GENERAL, "ms", "cycle_time"),
    OpcField("CycleQuality", GENERAL, type="Int32"),
    OpcField("ProductionStatus", GENERAL, type="Int32"),
    OpcField("JobName", GENERAL, type="String"),
)

_UNIT = (
    OpcField("Index", IMM2MES, type="UInt32"),
    OpcField("InjectionTime", IMM2MES, "ms", "fill_time"),
    OpcField("DosingTime", IMM2MES, "ms", "recovery_time"),
    OpcField("SpecificPressureMaximum", IMM2MES, "bar", "peak_pressure"),
    OpcField("HydraulicPressureMaximum", IMM2MES, "bar", mandatory=False),
    OpcField("CushionVolume", IMM2MES, "cm3"),
    OpcField("CushionStroke", IMM2MES, "mm", "cushion", mandatory=False),
    OpcField("TransferStroke", IMM2MES, "mm", "switchover_position", mandatory=False),
    OpcField("TransferVolume", IMM2MES, "cm3", mandatory=False),
    OpcField("TransferSpecificPressure", IMM2MES, "bar", "switchover_pressure", mandatory=False),
    OpcField("TransferHydraulicPressure", IMM2MES, "bar", mandatory=False),
    OpcField("BackPressure", IMM2MES, "bar", "back_pressure", mandatory=False),
)


def unit_object(number: int) -> str:
    """Return the BrowseName of the object that holds what injection unit `number` (from 1) did."""
    return f"InjectionUnitCycleParameters_{number}"


def mould_object(number: int) -> str:
    """Return the same of a mould."""
    return f"MouldCycleParameters_{number}"


def top_fields(machine_counter: bool = True) -> Iterator[OpcField]:
    """Yield the fields that stand in the event itself."""
    return (field for field in _TOP if machine_counter or field.name != "MachineCycleCounter")


def unit_fields(stroke: bool = True, specific: bool = True, hydraulic: bool = True) -> Iterator[OpcField]:
    """Yield the fields of one injection unit; without `stroke` only volumes, without `specific` or `hydraulic` not
    those pressures. What is mandatory is declared even where the press never fills it.
    """
    for field in _UNIT:
        missing = (not stroke and "Stroke" in field.name) or (not hydraulic and "Hydraulic" in field.name)
        missing = missing or (not specific and "Specific" in field.name)
        if field.mandatory or not missing:
            yield field


@dataclass(frozen=True, slots=True)
class OpcSetPoint:
    """A set-point as a readable and, on the press, writable variable. The names are the maker's, made up."""

    name: str
    key: str
    unit: str = ""
    scale: float = 1.0


SET_POINTS = (
    OpcSetPoint("SetHoldPressure", "hold_bar", "bar"),
    OpcSetPoint("SetHoldTime", "hold_s", "s"),
    OpcSetPoint("SetDose", "dose_mm", "mm"),
    OpcSetPoint("SetSwitchoverPosition", "switchover_mm", "mm"),
    OpcSetPoint("SetInjectionSpeed", "speed_mm_s", "mm/s"),
    OpcSetPoint("SetCoolingTime", "cooling_s", "s"),
    OpcSetPoint("SetClampForce", "clamp_kn", "kN"),
    OpcSetPoint("SetSwitchover", "switchover"),
)
"""What is set, by the keys of `machine.SetPoints`; the last is a text."""
