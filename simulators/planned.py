"""What is planned at a press and who writes it down: mounts, stops, lots, set-points, remarks, tasks with parts."""

import re
from dataclasses import dataclass

__all__ = ["Edit", "Lot", "Mount", "PlannedStop", "Remark", "Task", "next_serial"]


@dataclass(frozen=True, slots=True)
class Mount:
    """A half put in before shot `at_shot`; it takes `minutes` (12 for moving or core, 14 for fixed; none at shot 1)."""

    at_shot: int = 1
    half: str = "moving"
    serial: str = ""
    design: str = ""
    single_use: bool = False
    print_batch: str = ""
    minutes: float = -1.0
    reason: str = "planned"
    logged: bool = True
    late: int = 0

    @property
    def stop_minutes(self) -> float:
        """Length of the stop it takes."""
        if self.minutes >= 0.0:
            return self.minutes
        return 0.0 if self.at_shot == 1 or self.single_use else {"fixed": 14.0}.get(self.half, 12.0)


@dataclass(frozen=True, slots=True)
class PlannedStop:
    """The press stood `minutes` before shot `at_shot`; `purge`: the melt that waited was shot out first."""

    at_shot: int = 1
    minutes: float = 10.0
    purge: bool = False
    logged: bool = True
    late: int = 0
    text: str = ""


@dataclass(frozen=True, slots=True)
class Lot:
    """Another lot from shot `at_shot`, reaching its full `stiffness` (relative viscosity - 1) with a constant of
    `smear` shots.
    """

    at_shot: int = 1
    name: str = ""
    stiffness: float = 0.0
    smear: float = 3.0
    logged: bool = True
    late: int = 0


@dataclass(frozen=True, slots=True)
class Edit:
    """A set-point gets a new value at shot `at_shot`."""

    at_shot: int = 1
    key: str = ""
    value: float = 0.0
    logged: bool = True
    late: int = 0


@dataclass(frozen=True, slots=True)
class Remark:
    """Something seen at shot `at_shot`, noted once it is made, or `late` shots after that.

    `kind` is finding, note or good (the last part known to be good); `half`, the one it shows on.
    """

    at_shot: int = 1
    kind: str = "finding"
    text: str = ""
    half: str = ""
    late: int = 0


@dataclass(frozen=True, slots=True)
class Task:
    """Something done with the parts of shots `first` to `last`, before shot `at_shot` is made.

    `do`: ``make-up`` or ``check`` of a `bath` (mol/l and degC; ranges as low and high), ``in`` or ``out`` of it,
    ``inspect`` (a `finding`, a `value` of a `quantity`, or neither: nothing found), ``hold``, ``release``, ``scrap``,
    ``place`` (into the box, bag or tray `place`).
    """

    at_shot: int = 1
    do: str = "inspect"
    first: int = 0
    last: int = 0
    bath: str = ""
    concentration: tuple[float, ...] = ()
    temperature: tuple[float, ...] = ()
    quantity: str = ""
    value: float = 0.0
    finding: str = ""
    half: str = ""
    reason: str = ""
    place: str = ""
    initials: str = ""


def next_serial(serial: str, step: int) -> str:
    """Return the serial `step` further on, keeping leading zeros; one without a number at its end stays."""
    match = re.fullmatch(r"(.*?)(\d+)", serial)
    if match is None:
        return serial
    return f"{match[1]}{int(match[2]) + step:0{len(match[2])}d}"
