"""The parts: one for each shot the press counted and each cavity, whether or not anybody said something of it."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from shotlog.errors import UsageError
from shotlog.records import InForce
from shotlog.settings import DesignSettings

__all__ = ["MadePart", "Part", "n_cavities", "parts_named", "spans_of"]

_NAMED = re.compile(r"(?P<first>[0-9]{1,18})(?:-(?P<last>[0-9]{1,18}))?(?:/(?P<cavity>[0-9]{1,3}))?")


@dataclass(frozen=True, slots=True, order=True)
class Part:
    """The part of one cavity of one shot of a press; cavities count from 1."""

    press: str
    shot: int
    cavity: int = 1

    def __str__(self) -> str:
        return f"{self.press}/{self.shot}/{self.cavity}"


@dataclass(frozen=True, slots=True)
class MadePart:
    """A part with what made it.

    `time` is None where nobody saw the shot; `lot` and `setup` are empty where none was noted.
    """

    part: Part
    time: datetime | None
    halves: Mapping[str, InForce]
    lot: str
    setup: str


def parts_named(press: str, text: str, cavities: int) -> list[Part]:
    """Return the parts that a person names: ``140``, ``140/2`` (cavity 2), ``140-168`` or ``140-168/2``.

    Raises
    ------
    UsageError
        The text names no parts, or a cavity the mould does not have.
    """
    found = _NAMED.fullmatch(text.strip())
    if found is None:
        raise UsageError(f"parts: given {text!r}, allowed: SHOT, SHOT-SHOT, SHOT/CAVITY or SHOT-SHOT/CAVITY")
    first = int(found["first"])
    last = int(found["last"] or first)
    if not first <= last <= first + 100_000:
        raise UsageError(f"parts: given {text!r}, allowed: a first shot and a later last one, 100000 at most")
    cavity = int(found["cavity"]) if found["cavity"] else None
    if cavity is not None and not 1 <= cavity <= cavities:
        raise UsageError(f"cavity: given {cavity}, allowed: 1 to {cavities} (design setting cavities)")
    chosen = range(1, cavities + 1) if cavity is None else [cavity]
    return [Part(press, shot, one) for shot in range(first, last + 1) for one in chosen]


def n_cavities(halves: Mapping[str, InForce], designs: Mapping[str, DesignSettings]) -> int:
    """Return how many parts a shot makes: the most cavities any design in the mould is set to."""
    return max((designs[held.design].cavities for held in halves.values() if held.design in designs), default=1)


def spans_of(parts: Iterable[Part]) -> list[tuple[Part, Part]]:
    """Return first and last part of each unbroken run of shots in one cavity."""
    spans: list[tuple[Part, Part]] = []
    for part in sorted(set(parts), key=lambda part: (part.press, part.cavity, part.shot)):
        if spans and spans[-1][1] == Part(part.press, part.shot - 1, part.cavity):
            spans[-1] = (spans[-1][0], part)
        else:
            spans.append((part, part))
    return spans
