"""What people said of the parts of a press and of what made them, each at its place in the order of the log."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from shotlog.parts.inspection import Inspection
from shotlog.records import Stay

__all__ = ["FINDING", "INSPECTION", "NOTE", "TAKEN_OUT", "Released", "Sound", "Told", "Wrong"]

FINDING, INSPECTION, NOTE, TAKEN_OUT = "finding", "inspection", "note", "taken out"
"""How people came to say that something is wrong."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """Something a person found wrong with the part of `shot`, or with what made it.

    `basis`: one of the four above. `half`: the half that is to blame, empty where nobody said; of an insert taken out,
    the half it came out of, after `shot`. `bad`: the result, of an inspection. `place`: where it stands in the log.
    """

    place: int
    basis: str
    shot: int
    half: str
    text: str
    initials: str
    time: datetime
    bad: Inspection | None = None


@dataclass(frozen=True, slots=True)
class Sound:
    """A person looked at the insert in a half, or at all where none is named, after `shot` and found it sound."""

    place: int
    shot: int
    half: str = ""


@dataclass(frozen=True, slots=True)
class Released:
    """What a person decided of shots `first` to `last` (`cavity` None: all), released or not."""

    place: int
    first: int
    last: int
    cavity: int | None
    released: bool


def _one_cavity(_shot: int) -> int:
    return 1


@dataclass(frozen=True, slots=True)
class Told:
    """All that people said of the parts of one press and of what made them.

    `good`: (place, shot) of each part said to be known good; `none_good`: of each answer that none is, with the shot it
    is about. `mounted`: (place, half) of each mounting. `results`: every result of an inspection in force. `first`,
    `newest`: the first shot and the newest. `cavities` of a shot.
    """

    wrong: Sequence[Wrong]
    stays: Sequence[Stay]
    newest: int
    good: Sequence[tuple[int, int]] = ()
    none_good: Sequence[tuple[int, int]] = ()
    sound: Sequence[Sound] = ()
    decided: Sequence[Released] = ()
    results: Sequence[Inspection] = ()
    first: int = 1
    cavities: Callable[[int], int] = _one_cavity
    mounted: Sequence[tuple[int, str]] = ()
