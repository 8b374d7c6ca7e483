"""What a press really made: its shots, what its counter showed, and for how long each could be read."""

import threading
import time
from dataclasses import dataclass, field

__all__ = ["CHANNELS", "Made", "TruePress", "true_values"]

CHANNELS = ("cushion", "peak_pressure", "fill_time", "recovery_time")


def true_values(n: int) -> dict[str, float]:
    """Return the values of the n-th shot (mm, bar, s, s); no two of a million shots are alike, and they look like
    scatter.
    """
    code = (n * 618_033 + 271_828) % 1_000_000
    return {
        "cushion": 4.5 + (code % 100) / 100,
        "peak_pressure": 500.0 + (code // 100 % 100) / 2,
        "fill_time": 0.7 + (code // 10_000) / 1000,
        "recovery_time": 4.0 + (n % 20) / 10,
    }


@dataclass(slots=True)
class Made:
    """One shot on display. `answers`: complete, right answers given while it stood there; `spoilt`: something was
    wrong with the wire meanwhile; `unreadable`: channels that were shown as text without a number.
    """

    n: int
    counter: int
    shown: float
    gone: float = 0.0
    answers: int = 0
    spoilt: bool = False
    unreadable: tuple[str, ...] = ()


@dataclass
class TruePress:
    """A press that counts from `first` up to `last_count` and then begins again at 0; its ledger is the truth."""

    name: str
    first: int
    last_count: int
    ledger: list[Made] = field(default_factory=list)
    resets: list[int] = field(default_factory=list)
    """Shots at which the counter began anew at 1."""
    leaps: list[tuple[int, int]] = field(default_factory=list)
    """Shots, first and last, made in an instant while nobody could read them."""
    guard: threading.RLock = field(default_factory=threading.RLock)
    _n: int = 0
    _counter: int = -1

    def __post_init__(self) -> None:
        self._counter = self.first - 1
        self.make()

    @property
    def now(self) -> Made:
        """The shot on display."""
        return self.ledger[-1]

    def make(self, unreadable: tuple[str, ...] = ()) -> Made:
        """Make one shot; the one before it is gone."""
        with self.guard:
            at = time.monotonic()
            if self.ledger:
                self.now.gone = at
            self._n += 1
            self._counter = 0 if self._counter >= self.last_count else self._counter + 1
            self.ledger.append(Made(self._n, self._counter, at, unreadable=unreadable))
            return self.now

    def leap(self, shots: int) -> None:
        """Make many shots that nobody sees: an outage of hours in an instant."""
        with self.guard:
            self.leaps.append((self._n + 1, self._n + shots))
            self._n += shots
            self._counter = (self._counter + shots) % (self.last_count + 1)

    def reset(self) -> None:
        """Begin the count anew, as a job does: the next shot is number 1."""
        with self.guard:
            self._counter = 0
            self.resets.append(self._n + 1)
