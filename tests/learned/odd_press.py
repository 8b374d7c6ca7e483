"""An odd press as data: what stands in its registers, when it is written, and how its server behaves."""

import random
import struct
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.learned.shots import in_unit, made

__all__ = ["Moment", "OddPress", "Place", "constant", "count", "encoded", "noise", "wander"]


@dataclass(frozen=True, slots=True)
class Moment:
    """What a press knows at an instant: cycles since the start (`shot`, `dry`), seconds (`at`, `since` the last shot),
    the values of its last shot and of the one under way.
    """

    shot: int
    dry: int
    at: float
    since: float
    last: Mapping[str, float]
    coming: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Place:
    """Where one number stands. `of`: a channel, another value of the simulators, or what works it out of a moment.

    `moves`: with the `count`, with the values of the `shot`, or `live`, all the time. `order` and `bytes` of its own
    where they are not the press's. Value = number on the wire x `scale`, in `unit`.
    """

    address: int
    of: str | Callable[[Moment], float]
    type: str = "uint16"
    scale: float = 1.0
    unit: str = ""
    moves: str = "shot"
    order: str = ""
    factor: float = 1.0

    def value(self, moment: Moment) -> float:
        """Return the value, in the unit of the place."""
        if callable(self.of):
            return self.of(moment)
        return in_unit(moment.last[self.of] * self.factor, self.unit)


@dataclass(frozen=True, slots=True)
class OddPress:
    """One press. `values_s`: how much later than the count the values of a shot are written, before it if negative.

    `screen`: what its screen shows, with decimals; `seen`: of which shots after the start it is read, 0 being the one
    that stands there. `unreadable`: channels that it has and that no configuration reads. `free`: channels that may be
    found or not. `countable`: it has a counter that a configuration can follow. `true_cycle`: its cycle time is what
    passes between its shots; else it is that of a slower press.
    """

    name: str
    peer: str
    places: tuple[Place, ...]
    legal: str
    registers: str = "0-199"
    table: str = "holding"
    word_order: str = "big"
    byte_order: str = "big"
    cycle_s: float = 0.5
    values_s: float = 0.0
    first: int = 1041
    dry_after: tuple[int, ...] = ()
    policy: Mapping[str, int] = field(default_factory=dict)
    scenario: tuple[str, str] = ("demo", "P25")
    screen: Mapping[str, int] = field(default_factory=lambda: {"cushion": 2, "peak_pressure": 0, "fill_time": 2})
    unreadable: tuple[str, ...] = ()
    free: tuple[str, ...] = ("cycle_time",)
    countable: bool = True
    hydraulic: float = 1.0
    true_cycle: bool = False
    seen: tuple[int, int] = (5, 9)
    stand_s: float = 10.0

    def shots(self) -> tuple[Mapping[str, float], ...]:
        """Return the values of its shots, by channel and unit of the channels."""
        plain = made(*self.scenario, seed=sum(self.name.encode()))
        pressures = ("peak_pressure", "switchover_pressure", "hold_pressure")
        return tuple({**one, **{name: one[name] / self.hydraulic for name in pressures}} for one in plain)

    def channels(self) -> dict[str, tuple[Place, ...]]:
        """Return each channel that stands in its registers, with its places."""
        from shotlog.channels import CHANNELS

        named = [place for place in self.places if isinstance(place.of, str) and place.of in CHANNELS]
        return {name: tuple(place for place in named if place.of == name) for name in {str(p.of) for p in named}}

    def arguments(self) -> list[str]:
        """Return the arguments of the server (`peer.py`, `peer.c`)."""
        return [f"legal={self.legal}", f"table={self.table}", *(f"{key}={value}" for key, value in self.policy.items())]


_CODES = {"uint16": "H", "int16": "h", "uint32": "I", "int32": "i", "float32": "f", "float64": "d"}


def encoded(place: Place, value: float, press: OddPress) -> list[int]:
    """Return the words of a value at its place, in the order of the press."""
    if place.type == "bcd16":
        return [int(f"{round(value / place.scale) % 10000:04d}", 16)]
    code = _CODES[place.type]
    raw = struct.pack(f">{code}", value if code in "fd" else _within(code, round(value / place.scale)))
    words = list(struct.unpack(f">{len(raw) // 2}H", raw))
    if (place.order or press.word_order) == "little":
        words.reverse()
    return [(word & 0xFF) << 8 | word >> 8 for word in words] if press.byte_order == "little" else words


def _within(code: str, number: int) -> int:
    bits = 8 * struct.calcsize(f">{code}")
    if code.isupper():
        return number % 2**bits
    return max(-(2 ** (bits - 1)), min(number, 2 ** (bits - 1) - 1))


def count(first: int, step: int = 1, dry: bool = False, last: int = 0) -> Callable[[Moment], float]:
    """Count from `first` by `step` a shot, dry cycles too where told so, starting again at 0 after `last`."""

    def counted(moment: Moment) -> float:
        at = first + step * (moment.shot + (moment.dry if dry else 0))
        return at % (last + 1) if last else at

    return counted


def constant(value: float) -> Callable[[Moment], float]:
    """A set-point."""
    return lambda _: value


def noise(low: float, high: float, seed: int = 1) -> Callable[[Moment], float]:
    """Anything between two bounds, another at each look."""
    rng: Any = random.Random(seed)
    return lambda _: rng.uniform(low, high)


def wander(level: float, step: float, seed: int = 1) -> Callable[[Moment], float]:
    """A temperature that wanders about its level."""
    rng: Any = random.Random(seed)
    state = [0.0]

    def wandered(_: Moment) -> float:
        state[0] = 0.95 * state[0] + rng.gauss(0.0, step)
        return level + state[0]

    return wandered
