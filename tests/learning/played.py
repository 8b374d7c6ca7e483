"""Presses that shoot by a clock moved by hand: what stands in their registers at any time, and what is no register."""

import random
import struct
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from shotlog.clock import HandClock
from shotlog.collectors.registers import Block
from shotlog.errors import PressRefused

__all__ = ["LEVELS", "PlayedPress", "Word", "made_shots", "packed"]

LEVELS = {
    "cushion": (5.1, 0.04),
    "peak_pressure": (815.0, 4.0),
    "fill_time": (0.84, 0.006),
    "switchover_pressure": (640.0, 4.0),
    "switchover_position": (9.0, 0.02),
    "recovery_time": (4.6, 0.05),
    "cycle_time": (20.0, 0.7),
    "back_pressure": (62.0, 0.8),
    "melt_temperature": (236.0, 0.5),
    "insert_temperature": (61.0, 0.7),
    "clamp_force": (204.0, 0.4),
    "part_weight": (9.87, 0.012),
}
"""Level and spread of each channel, in its unit."""


def made_shots(n: int, seed: int, levels: Mapping[str, tuple[float, float]] = LEVELS) -> list[dict[str, float]]:
    """Return shots as they were, before a press rounds them."""
    rng = random.Random(seed)
    return [{name: rng.gauss(level, spread) for name, (level, spread) in levels.items()} for _ in range(n)]


def packed(kind: str, number: float, word_order: str = "big", byte_order: str = "big") -> list[int]:
    """Return a number as registers, written without the code under test."""
    if kind.startswith("bcd"):
        digits = f"{round(number):0{int(kind[3:]) // 4}d}"
        raw = bytes.fromhex(digits)
    else:
        code = {"uint16": "H", "int16": "h", "uint32": "I", "int32": "i", "float32": "f", "float64": "d"}[kind]
        raw = struct.pack(f">{code}", number if code in "fd" else round(number))
    words = [int.from_bytes(raw[n : n + 2], "big") for n in range(0, len(raw), 2)]
    if byte_order == "little":
        words = [(word & 0xFF) << 8 | word >> 8 for word in words]
    return words if word_order == "big" else words[::-1]


@dataclass(frozen=True)
class Word:
    """One row of a map: where, what (a channel, or a function of time and shot), how written, how late."""

    address: int
    what: str | Callable[[float, int], float]
    kind: str = "uint16"
    scale: float = 1.0
    late_s: float = 0.0
    word_order: str = "big"
    byte_order: str = "big"
    factor: float = 1.0


@dataclass
class PlayedPress:
    """A source of registers (`learning.reading.Source`). Shot `first_count` stands at time 0, then one each cycle."""

    clock: HandClock
    rows: Sequence[Word]
    shots: Sequence[Mapping[str, float]]
    first_count: int = 1038
    illegal: frozenset[int] = frozenset()
    most: int = 125
    answer_s: float = 0.004
    asked: list[Block] = field(default_factory=list)

    def __post_init__(self) -> None:
        at, self.times = 0.0, [-1e9]
        for shot in self.shots[1:]:
            at += shot["cycle_time"]
            self.times.append(at)

    def open(self) -> None:
        pass

    def close(self) -> None:
        pass

    def index(self, at: float) -> int:
        """Return which shot is the last at a time."""
        return max(bisect_right(self.times, at) - 1, 0)

    def read(self, block: Block) -> tuple[int, ...]:
        self.asked.append(block)
        self.clock.advance(self.answer_s)
        wanted = range(block.address, block.last + 1)
        if block.words > self.most or any(address in self.illegal for address in wanted):
            raise PressRefused("the press answers with exception 2 (illegal data address)")
        words = self.words(self.clock.monotonic())
        return tuple(words.get(address, 0) for address in wanted)

    def words(self, now: float) -> dict[int, int]:
        """Return what stands in the registers at a time."""
        found: dict[int, int] = {}
        for row in self.rows:
            shot = self.index(now - row.late_s)
            if callable(row.what):
                value = row.what(now, shot)
            elif row.what == "counter":
                value = self.first_count + shot
            else:
                value = self.shots[shot][row.what] * row.factor
            for n, word in enumerate(packed(row.kind, value / row.scale, row.word_order, row.byte_order)):
                found[row.address + n] = word
        return found

    def on_screen(self, count: int) -> Mapping[str, float]:
        """Return the shot that the press counts so."""
        return self.shots[count - self.first_count]
