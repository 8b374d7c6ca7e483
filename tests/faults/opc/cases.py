"""Variants of a press on OPC UA, and values broken in each way: what is sent, and what has to stand in the log.

A case says what comes of each cycle it sends: values by channel, None for one that is missing (never zero), or nothing
at all; and what the faults have to hold of it, as the press gave it.
"""

import math
import re
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass, field
from math import pi
from pathlib import Path
from typing import Any

from simulators.opc_names import DRY_RUN, TEST_SAMPLE, unit_object
from tests.faults.opc.played import UNIT, cycle
from tests.faults.opc.press import SCREW_MM
from tests.faults.soak.truth import Made

__all__ = ["CASES", "Case", "config", "judge"]

AREA_MM2 = pi / 4.0 * SCREW_MM**2
PLAIN = """
    cushion = { name = "CushionStroke" }
    peak_pressure = { name = "SpecificPressureMaximum" }
    fill_time = { name = "InjectionTime" }
    recovery_time = { name = "DosingTime" }
"""
TRUE = {"cushion": 4.97, "peak_pressure": 534.0, "fill_time": 0.721, "recovery_time": 4.57}
SENT = {
    f"{UNIT}/CushionStroke": 4.97,
    f"{UNIT}/SpecificPressureMaximum": 534.0,
    f"{UNIT}/InjectionTime": 721.0,
    f"{UNIT}/DosingTime": 4570.0,
}


@dataclass(frozen=True)
class Case:
    """One press. `sound` is what it sends beside `SENT`; `sent` are changes to a sound cycle, in order; `come` is what
    the log has to hold of each, as changes to the sound values, None where it may hold no shot of it; `raw` patterns
    that the faults have to show; `said` patterns of what the logger says.
    """

    name: str
    sent: tuple[Mapping[str, Any], ...]
    come: tuple[Mapping[str, float | None] | None, ...]
    switches: str = ""
    channels: str = PLAIN
    more: str = ""
    counter: str = "MachineCycleCounter"
    raw: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    sound: Mapping[str, Any] = field(default_factory=dict)

    def cycles(self) -> list[dict[str, Any]]:
        """Return the cycles to send: those of the case between two sound ones."""
        out = []
        for number, changes in enumerate(({}, *self.sent, {}), 1):
            one = cycle(Made(number, number, 0.0), job=number) | SENT | self.sound
            out.append(one | changes)
        return out


def config(cases: Mapping[str, int]) -> str:
    """Return the tables of the presses of these cases, by name, on these ports."""
    out = ""
    for case in CASES:
        if case.name in cases:
            out += f"""
[[press]]
name = "{case.name}"
  [press.collector]
  kind = "opcua-40077"
  url = "opc.tcp://127.0.0.1:{cases[case.name]}"
  shot_counter = {{ name = "{case.counter}" }}
{case.more}
    [press.collector.channels]
{case.channels}
"""
    return out


def _broken(name: str, *values: Any) -> tuple[Mapping[str, Any], ...]:
    return tuple({name: value} for value in values)


CASES = (
    Case(
        "broken",
        (
            {f"{UNIT}/CushionStroke": None, f"{UNIT}/SpecificPressureMaximum": {"bad": "BadSensorFailure"}},
            {f"{UNIT}/InjectionTime": math.nan, f"{UNIT}/DosingTime": math.inf},
            {f"{UNIT}/CushionStroke": "----", f"{UNIT}/SpecificPressureMaximum": [1.0, 2.0]},
            {f"{UNIT}/InjectionTime": True, f"{UNIT}/DosingTime": "0,72 s"},
            {f"{UNIT}/CushionStroke": 1e9, f"{UNIT}/InjectionTime": -5.0},
            *({"MachineCycleCounter": counter} for counter in (None, {"bad": "BadOutOfService"}, "12x")),
        ),
        (
            {"cushion": None, "peak_pressure": None},
            {"fill_time": None, "recovery_time": None},
            {"cushion": None, "peak_pressure": None},
            {"fill_time": None, "recovery_time": None},
            {"cushion": None, "fill_time": None},
            *(None, None, None),
        ),
        raw=("BadOutOfService", "12x", "BadSensorFailure",
             "nan", "inf", "----", r"1\.0, 2\.0", "(?i)true", "0,72 s", r"1000000000", "-5"),
    ),
    Case(
        "other-units",
        ({f"{UNIT}/CushionStroke": 5.25},),
        ({"cushion": 5.25},),
        "mpa",
        sound={f"{UNIT}/SpecificPressureMaximum": 53.4},
    ),
    Case(
        "bare",
        ({f"{UNIT}/SpecificPressureMaximum": None}, {f"{UNIT}/CushionVolume": 2.0}),
        ({"peak_pressure": None}, {"cushion": 2000.0 / AREA_MM2}),
        "no-units+deep+job-counter+volume-only",
        """
    cushion = { name = "CushionVolume", unit = "cm3" }
    peak_pressure = { name = "SpecificPressureMaximum", unit = "MPa" }
    fill_time = { name = "InjectionTime" }
    recovery_time = { name = "DosingTime" }
""",
        counter="JobCycleCounter",
        sound={f"{UNIT}/SpecificPressureMaximum": 53.4, f"{UNIT}/CushionVolume": 4.97 * AREA_MM2 / 1000.0},
    ),
    Case(
        "volume",
        ({f"{UNIT}/CushionVolume": 2.0}, {f"{UNIT}/CushionVolume": None}),
        ({"cushion": 2000.0 / AREA_MM2}, {"cushion": None}),
        "volume-only",
        PLAIN.replace("CushionStroke", "CushionVolume"),
        sound={f"{UNIT}/CushionVolume": 4.97 * AREA_MM2 / 1000.0},
    ),
    Case(
        "states",
        ({"ProductionStatus": DRY_RUN}, {"CycleQuality": TEST_SAMPLE}, {"CycleQuality": {"bad": "BadNoData"}}),
        ({}, {}, {}),
    ),
    Case(
        "hydraulic",
        ({f"{UNIT}/HydraulicPressureMaximum": 50.0},),
        ({"peak_pressure": 560.0},),
        "hydraulic-only",
        PLAIN.replace("SpecificPressureMaximum", "HydraulicPressureMaximum"),
        "  intensification_ratio = 11.2",
        sound={f"{UNIT}/SpecificPressureMaximum": None, f"{UNIT}/HydraulicPressureMaximum": 534.0 / 11.2},
    ),
    Case(
        "volume-no-screw",
        ({f"{UNIT}/CushionVolume": 2.0},),
        ({"cushion": 2000.0 / (pi * 100.0)},),
        "volume-only+no-screw",
        PLAIN.replace("CushionStroke", "CushionVolume"),
        "  screw_diameter_mm = 20.0",
        sound={f"{UNIT}/CushionVolume": 4.97 * pi / 10.0},
    ),
    Case(
        "second-unit",
        ({f"{unit_object(2)}/CushionStroke": 3.25},),
        ({"cushion": 3.25},),
        "two-units",
        f"""
    cushion = {{ name = "{unit_object(2)}/CushionStroke" }}
    peak_pressure = {{ name = "{UNIT}/SpecificPressureMaximum" }}
    fill_time = {{ name = "{UNIT}/InjectionTime" }}
    recovery_time = {{ name = "{UNIT}/DosingTime" }}
""",
        sound={f"{unit_object(2)}/CushionStroke": 4.97},
    ),
)  # fmt: skip
"""All of them."""


def judge(case: Case, log: Path, said: str) -> list[str]:
    """Return what is wrong with what the log holds of a case."""
    with closing(sqlite3.connect(f"file:{log.as_posix()}?mode=ro", uri=True)) as base:
        (press,) = base.execute("SELECT id FROM presses WHERE name = ?", (case.name,)).fetchone() or (0,)
        wanted_columns = ", ".join(("counter", *TRUE))
        rows = base.execute(f"SELECT {wanted_columns} FROM shots WHERE press_id = ? ORDER BY id", (press,)).fetchall()
        faults = base.execute("SELECT kind, detail, raw FROM faults WHERE press_id = ?", (press,)).fetchall()
    held = {row[0]: dict(zip(TRUE, row[1:], strict=True)) for row in rows}
    out = []
    expected: list[Mapping[str, float | None] | None] = [{}, *case.come, {}]
    for number, changes in enumerate(expected, 1):
        if changes is None:
            if number in held:
                out.append(f"{case.name}: cycle {number} is stored as {held[number]}")
        elif number not in held:
            out.append(f"{case.name}: cycle {number} is not stored")
        else:
            wanted = {**TRUE, **changes}
            if not all(_same(held[number][channel], value) for channel, value in wanted.items()):
                out.append(f"{case.name}: cycle {number} is stored as {held[number]}, wanted {wanted}")
    out += [f"{case.name}: a shot with counter {counter}" for counter in held if not 1 <= counter <= len(expected)]
    texts = [f"{kind} {detail} {raw.decode('utf-8', 'replace')}" for kind, detail, raw in faults]
    out += [
        f"{case.name}: no fault shows {pattern!r}: {texts}"
        for pattern in case.raw
        if not any(re.search(pattern, text) for text in texts)
    ]
    out += [f"{case.name}: a fault without raw text: {detail}" for kind, detail, raw in faults if not raw]
    out += [f"{case.name}: never said {pattern!r}" for pattern in case.said if not re.search(pattern, said)]
    return out


def _same(value: float | None, wanted: float | None) -> bool:
    if value is None or wanted is None:
        return value is wanted
    return math.isclose(value, wanted, rel_tol=1e-12)
