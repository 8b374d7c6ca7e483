"""The BrowseNames by which OPC 40077 (EUROMAP 77) and OPC 40083 call what we know as channels. Pure; tables.

Names, mandatory or optional, and the numbers of enumerations are those of the published nodesets (IMM2MES 1.01,
GeneralTypes 1.03); not verified on a real press.
"""

from collections.abc import Mapping

__all__ = [
    "COUNTERS",
    "CYCLE_EVENT_ID",
    "CYCLE_EVENT_NAME",
    "DRY_RUN",
    "DURATIONS",
    "GENERAL_TYPES",
    "NAMES",
    "TEST_SAMPLE",
    "is_hydraulic",
    "is_volume",
]

GENERAL_TYPES = "http://opcfoundation.org/UA/PlasticsRubber/GeneralTypes/"
"""The namespace of the event type that those of presses are derived from."""
CYCLE_EVENT_ID = 1038
CYCLE_EVENT_NAME = "CycleParametersEventType"

COUNTERS = ("MachineCycleCounter", "JobCycleCounter")
"""Cycles over the life of the press (optional), and of the job (mandatory; it begins again with each)."""

TEST_SAMPLE = 2
"""CycleQuality of a cycle whose part is taken as a sample; it is one as any other. Other numbers are not read: whether
a part is good or bad is not the press's to say here."""
DRY_RUN = 5
"""ProductionStatus of a cycle without material."""

NAMES: Mapping[str, tuple[str, ...]] = {
    "cushion": ("CushionStroke", "CushionVolume"),
    "peak_pressure": ("SpecificPressureMaximum", "HydraulicPressureMaximum"),
    "fill_time": ("InjectionTime",),
    "switchover_pressure": ("TransferSpecificPressure", "TransferHydraulicPressure"),
    "switchover_position": ("TransferStroke", "VPChangeOverPosition", "TransferVolume"),
    "recovery_time": ("DosingTime",),
    "cycle_time": ("CycleTime",),
    "back_pressure": ("BackPressure",),
}
"""By channel, what a press may have for it, the best first: a length before a volume, a specific pressure before a
hydraulic one."""

DURATIONS = ("CycleTime", "InjectionTime", "DosingTime")
"""Times that the standard declares as Duration, in milliseconds, whatever data type a press gives them."""


def is_volume(name: str) -> bool:
    """Say whether a field is a volume by its name."""
    return name.endswith("Volume")


def is_hydraulic(name: str) -> bool:
    """Say whether a field is the pressure of the oil, not of the melt, by its name."""
    return "Hydraulic" in name and "Pressure" in name
