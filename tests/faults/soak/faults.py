"""What goes wrong, and when: drawn from a seed before anything runs, so that the same seed makes the same faults."""

import random
from collections.abc import Collection
from dataclasses import dataclass

__all__ = ["MACHINE", "WIRE", "Planned", "draw"]

WIRE = {
    "refused": ("TCP",),
    "silence": ("TCP", "RTU", "LINE"),
    "slow": ("TCP", "RTU"),
    "exception": ("TCP", "RTU"),
    "torn": ("TCP", "RTU"),
    "drop": ("TCP", "RTU", "LINE"),
    "noise": ("TCP", "RTU", "LINE"),
    "flood": ("TCP", "RTU", "LINE"),
    "unplugged": ("RTU", "LINE"),
    "twice": ("LINE",),
    "unreadable": ("LINE",),
    "reset": ("TCP", "RTU", "LINE"),
    "leap": ("TCP", "RTU", "LINE"),
}
"""What a wire or a press does, and which of the three presses may: *leap* is an outage in which the press goes on at
another pace, over a rollover where it comes so; *reset* a count that begins anew while the press is away.
"""

MACHINE = (
    "kill",
    "kill pages",
    "freeze",
    "restart",
    "lock",
    "disk full",
    "disk full, then killed",
    "clock back",
    "clock on",
    "terminal stands",
    "log moved",
    "log deleted",
    "older copy put over",
    "older copy copied over",
    "copy taken",
)
"""What happens to the logger, its file and its clock, one after the other."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A fault from `at_s` on for `for_s` (s from the start of the bench); `size` in its own unit (bytes, s, shots)."""

    at_s: float
    for_s: float
    kind: str
    press: str = ""
    size: float = 0.0

    def __str__(self) -> str:
        where = f" at {self.press}" if self.press else ""
        return f"{self.at_s:8.1f} s  {self.kind}{where} for {self.for_s:.1f} s" + (
            f" ({self.size:g})" if self.size else ""
        )


def draw(
    seed: int,
    whole_s: float,
    pause_s: float,
    longest_s: float,
    machine: Collection[str] = MACHINE,
    wire: Collection[str] = tuple(WIRE),
) -> list[Planned]:
    """Return the faults of a bench of `whole_s`, one every `pause_s` or so on each wire and for the machine, the last
    of them over early enough to recover from.
    """
    chance = random.Random(seed)
    plan: list[Planned] = []
    for press in ("TCP", "RTU", "LINE"):
        kinds: list[str] = []
        at_s = chance.uniform(0.3, 1.0) * pause_s
        while at_s < whole_s - longest_s:
            if not kinds:
                kinds = [kind for kind in wire if press in WIRE[kind]]
                chance.shuffle(kinds)
            kind = kinds.pop()
            for_s = chance.uniform(0.1, 1.0) * min(longest_s, 8.0)
            size = {"slow": chance.uniform(0.05, 1.2), "leap": chance.uniform(0.7, 1.5)}.get(kind, 0)
            plan.append(Planned(at_s, for_s, kind, press, size))
            at_s += for_s + chance.uniform(0.5, 1.5) * pause_s
    left: list[str] = []
    at_s = chance.uniform(0.5, 1.0) * pause_s
    while at_s < whole_s - longest_s:
        if not left:
            left = list(machine)
            chance.shuffle(left)
        kind = left.pop()
        for_s = chance.uniform(0.1, 1.0) * longest_s
        size = {"clock back": chance.uniform(60, 7200), "clock on": chance.uniform(60, 7200)}.get(kind, 0)
        plan.append(Planned(at_s, for_s, kind, "", size))
        at_s += for_s + chance.uniform(0.5, 1.5) * pause_s
    return sorted(plan, key=lambda planned: planned.at_s)
