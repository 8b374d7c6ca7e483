"""A reading that stands still: a channel that repeats one value far longer than chance, or its rounding, would have it.

A sensor or its line that has died often goes on reporting its last value, which lies within every limit. How often a
channel repeats itself differs by press and rounding (one that never moves says nothing by not moving), so it is told
from the channel's own shots: repeated so long by chance only once in a million, were repeats independent, and several
times longer than ever before, because they are not. A channel that repeats itself more often than not is rounding,
which goes by where its level lies between two steps: its past tells nothing of its future.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shotlog.wear.constants import STILL_CAUTION, STILL_CHANCE, STILL_LEAST, STILL_LONGER, STILL_OFTEN, STILL_PAIRS

__all__ = ["StillWatch"]


@dataclass
class StillWatch:
    """Watches the channels of a press, over all its inserts.

    By channel: the `last` value, the shot `since` which it stands, for how many shots (`run`), the `longest` run
    before, how many `pairs` of shots were seen and how many were the `same`. `frozen`: since which shot of the press a
    channel stands still.
    """

    last: dict[str, float] = field(default_factory=dict)
    since: dict[str, int] = field(default_factory=dict)
    run: dict[str, int] = field(default_factory=dict)
    longest: dict[str, int] = field(default_factory=dict)
    pairs: dict[str, int] = field(default_factory=dict)
    same: dict[str, int] = field(default_factory=dict)
    frozen: dict[str, int] = field(default_factory=dict)

    def take(self, shot: int, values: Mapping[str, float]) -> dict[str, int]:
        """Take in the values of a shot of the press; return what is known from it on to stand still, and since when."""
        before = set(self.frozen)
        for name, value in values.items():
            if self.last.get(name) != value:
                self._moved(name, shot, value)
                continue
            self.run[name] += 1
            if name not in self.frozen and self._too_long(name):
                self.frozen[name] = self.since[name] + 1
        return {name: since for name, since in self.frozen.items() if name not in before}

    def _moved(self, name: str, shot: int, value: float) -> None:
        if name in self.frozen:
            del self.frozen[name]
        elif name in self.last:
            self.longest[name] = max(self.longest.get(name, 1), self.run[name])
            self.pairs[name] = self.pairs.get(name, 0) + self.run[name]
            self.same[name] = self.same.get(name, 0) + self.run[name] - 1
        self.last[name], self.since[name], self.run[name] = value, shot, 1

    def _too_long(self, name: str) -> bool:
        pairs, run = self.pairs.get(name, 0), self.run[name]
        if pairs < STILL_PAIRS or run < max(STILL_LEAST, STILL_LONGER * self.longest[name]):
            return False
        share = (self.same[name] + 1.0) / (pairs + 2.0)
        chance: float = share + STILL_CAUTION * (share * (1.0 - share) / pairs) ** 0.5
        return bool(chance <= STILL_OFTEN and chance ** (run - 1) < STILL_CHANCE)
