"""A scenario as read from its file: which presses, what is mounted when, what stops, changes and goes wrong, what
gets logged.

A scenario is a TOML file. One `[[press]]` has `name`, `preset` (a table of `presets.toml`), its own changes to it
(`set`, `level`, `response`, `noise`, `resin`), and lists: `mount`, `stop`, `lot`, `edit`, `remark`, `task`, `cause`,
`fault` (of the wire); `operator` has the initials of who makes the entries. Anything the operator should log but does
not has `logged = false`; `late = 3` logs it three shots afterwards. Shot numbers count from 1; the counter of the press
starts after `first_count`.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path
from typing import Any

from simulators.causes import CAUSES, SimulatedCause
from simulators.causes.material import NewLot
from simulators.causes.press import SetPointEdit
from simulators.disturb import WireFault
from simulators.machine import Machine, ScenarioError, fill_in
from simulators.planned import Edit, Lot, Mount, PlannedStop, Remark, Task, next_serial

__all__ = ["Press", "Scenario", "load", "read", "scenario_names"]


@dataclass(frozen=True, slots=True)
class Press:
    """One press of a scenario. `replace`: shots after which each half is changed once the listed mounts are used up."""

    name: str
    machine: Machine
    face: str = "modbus-tcp"
    dialect: str = "semicolon"
    first_count: int = 0
    shots: int = 0
    replace_after: Mapping[str, int] = field(default_factory=dict)
    mounts: tuple[Mount, ...] = ()
    stops: tuple[PlannedStop, ...] = ()
    lots: tuple[Lot, ...] = ()
    edits: tuple[Edit, ...] = ()
    remarks: tuple[Remark, ...] = ()
    tasks: tuple[Task, ...] = ()
    causes: tuple[SimulatedCause, ...] = ()
    faults: tuple[WireFault, ...] = ()
    operator: str = ""

    def mounts_until(self, shots: int) -> tuple[Mount, ...]:
        """Return the mounts up to shot `shots`: those listed, then the planned replacements, serials counting on."""
        mounts = list(self.mounts)
        for half, life in self.replace_after.items():
            listed = [mount for mount in self.mounts if mount.half == half]
            if not listed:
                raise ScenarioError(f"{self.name}: replace.{half}: given {life}, allowed: a half that is mounted")
            last = max(listed, key=lambda mount: mount.at_shot)
            while last.at_shot + life <= shots:
                step = life if last.single_use else 1
                why = "plate used up" if last.single_use else "planned life"
                last = replace(last, at_shot=last.at_shot + life, serial=next_serial(last.serial, step), reason=why)
                last = replace(last, print_batch=next_serial(last.print_batch, 1), logged=True, late=0)
                mounts.append(last)
        return tuple(sorted((m for m in mounts if m.at_shot <= shots), key=lambda mount: mount.at_shot))


@dataclass(frozen=True, slots=True)
class Scenario:
    """A whole scenario: `shots` is how long its own story takes on the longest press."""

    name: str
    title: str
    shots: int
    seed: int
    start: datetime
    presses: tuple[Press, ...]


def scenario_names() -> list[str]:
    """Return the names of the scenarios that come with the simulator."""
    folder = resources.files("simulators") / "scenarios"
    return sorted(entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))


def load(name: str) -> Scenario:
    """Read a scenario: the name of one that comes along, or the path of a TOML file.

    Raises
    ------
    ScenarioError
        There is no such scenario, or the file is wrong.
    """
    if name in scenario_names():
        text = (resources.files("simulators") / "scenarios" / f"{name}.toml").read_text("utf-8")
    else:
        try:
            text = Path(name).read_text("utf-8")
        except OSError as error:
            allowed = ", ".join(scenario_names())
            raise ScenarioError(f"scenario: given {name!r}, allowed: a TOML file or one of {allowed}") from error
    return read(text, Path(name).stem)


def read(text: str, name: str) -> Scenario:
    """Read a scenario from TOML text."""
    try:
        root = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ScenarioError(f"{name}: given {error}, allowed: TOML") from error
    _only(root, {"title", "shots", "seed", "start", "press"}, name)
    start = root.get("start", datetime(2026, 3, 2, 6, 0, tzinfo=UTC))
    if not isinstance(start, datetime) or start.tzinfo is None:
        raise ScenarioError(f"{name}: start: given {start!r}, allowed: a date and time with its offset from UTC")
    presses = tuple(_press(table, name) for table in root.get("press", []))
    if not presses:
        raise ScenarioError(f"{name}: press: given nothing, allowed: at least one [[press]]")
    names = [press.name for press in presses]
    if len(set(names)) != len(names):
        raise ScenarioError(f"{name}: press: given {', '.join(names)}, allowed: each name once")
    return Scenario(
        name, str(root.get("title", "")), int(root.get("shots", 300)), int(root.get("seed", 1)), start, presses
    )


def presets() -> dict[str, Any]:
    """Return the tables of `presets.toml`."""
    return tomllib.loads((resources.files("simulators") / "presets.toml").read_text("utf-8"))


def _press(table: dict[str, Any], where: str) -> Press:
    name = str(table.get("name", ""))
    if not name:
        raise ScenarioError(f"{where}: press: given no name, allowed: a name")
    where = f"{where}: {name}"
    own = {"screw_mm", "intensification", "resin", "set", "level", "response", "noise"}
    lists = {
        "mount": Mount, "stop": PlannedStop, "lot": Lot, "edit": Edit, "remark": Remark, "task": Task,
        "fault": WireFault,
    }  # fmt: skip
    _only(
        table,
        own
        | set(lists)
        | {"name", "preset", "face", "dialect", "first_count", "shots", "replace", "cause", "operator"},
        where,
    )
    known = presets()
    preset = table.get("preset", "pa66-gf30")
    if preset not in known:
        raise ScenarioError(f"{where}: preset: given {preset!r}, allowed: {', '.join(known)}")
    machine = fill_in(Machine(), known[preset], f"presets.toml: {preset}")
    machine = fill_in(machine, {key: table[key] for key in own & set(table)}, where)
    rows = {key: tuple(_rows(table, key, kind, where)) for key, kind in lists.items()}
    press = Press(
        name,
        machine,
        str(table.get("face", "modbus-tcp")),
        str(table.get("dialect", "semicolon")),
        int(table.get("first_count", 0)),
        int(table.get("shots", 0)),
        dict(table.get("replace", {})),
        rows["mount"],
        rows["stop"],
        rows["lot"],
        rows["edit"],
        rows["remark"],
        rows["task"],
        (*_causes(table.get("cause", []), where), *_lot_changes(rows["lot"]), *_edits(rows["edit"])),
        rows["fault"],
        str(table.get("operator", "")),
    )
    for edit in press.edits:
        if not isinstance(getattr(machine.set, edit.key, None), float):
            numbers = [key for key in machine.set.__dataclass_fields__ if isinstance(getattr(machine.set, key), float)]
            raise ScenarioError(f"{where}: edit: given {edit.key!r}, allowed: {', '.join(numbers)}")
    return press


def _rows(table: dict[str, Any], key: str, kind: Any, where: str) -> Iterator[Any]:
    for number, row in enumerate(table.get(key, []), 1):
        made = fill_in(kind(), row, f"{where}: {key} {number}")
        if made.at_shot < 1:
            raise ScenarioError(f"{where}: {key} {number}: at_shot: given {made.at_shot}, allowed: 1 or more")
        yield made


def _causes(rows: list[dict[str, Any]], where: str) -> Iterator[SimulatedCause]:
    for number, row in enumerate(rows, 1):
        kind = row.get("kind", "")
        if kind not in CAUSES:
            raise ScenarioError(f"{where}: cause {number}: kind: given {kind!r}, allowed: {', '.join(CAUSES)}")
        rest = {key: value for key, value in row.items() if key != "kind"}
        yield fill_in(CAUSES[kind](), rest, f"{where}: cause {number} ({kind})")


def _lot_changes(lots: tuple[Lot, ...]) -> Iterator[NewLot]:
    before = 0.0
    for lot in sorted(lots, key=lambda lot: lot.at_shot):
        yield NewLot(onset=lot.at_shot, stiffness=lot.stiffness - before, smear=lot.smear)
        before = lot.stiffness


def _edits(edits: tuple[Edit, ...]) -> Iterator[SetPointEdit]:
    for edit in sorted(edits, key=lambda edit: edit.at_shot):
        yield SetPointEdit(onset=edit.at_shot, key=edit.key, value=edit.value)


def _only(table: dict[str, Any], allowed: set[str], where: str) -> None:
    for key in table:
        if key not in allowed:
            raise ScenarioError(f"{where}: given {key!r}, allowed: {', '.join(sorted(allowed))}")
