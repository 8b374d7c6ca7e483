"""What a collector is: the only code that touches the wire to a press.

A collector says what the press said and nothing more: it fills no gap, filters nothing and derives nothing. It has no
loop, sleeps for no back-off and never retries a lost connection: that is the recorder's work.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from importlib import import_module
from typing import Protocol

from shotlog.clock import Clock
from shotlog.records import Fault, Gap, SetPointChange, Shot, Weighing
from shotlog.settings import Section

__all__ = ["Collector", "CollectorKind", "Options", "Reading", "Resume"]


@dataclass(frozen=True, slots=True)
class Resume:
    """Where the log stands for a press: its last stored shot, unwrapped, and the counter reading that came with it.

    `values`: those of that shot, where they are known; what stands unchanged under a new count is no new shot.
    `time`: when it was made, by the wall clock; `cycle_s`: what a shot usually took before it.
    """

    shot: int
    counter: int
    values: Mapping[str, float] = field(default_factory=dict, compare=False)
    time: datetime | None = field(default=None, compare=False)
    cycle_s: float | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Reading:
    """One quantity as `probe` shows it: where it was read, what came, and what it was taken to mean."""

    name: str
    where: str
    raw: str
    value: float | None
    unit: str
    remark: str = ""


class Collector(Protocol):
    """The connection to one press. Built from its options, it connects only when opened.

    Errors: `PressUnreachable` when the line is lost (the caller closes, waits and opens again), `PressRefused` when the
    press answers that the question is wrong. Values that cannot be taken come back as `Fault` records.
    """

    def open(self) -> None:
        """Connect. Opening a second time after `close` is allowed and keeps the counter's state."""

    def poll(self) -> Sequence[Shot | Gap | Fault | Weighing | SetPointChange]:
        """Ask once and return what is new, in order; empty when nothing is. Returns within the time-out."""

    def probe(self) -> list[Reading]:
        """Read everything once, whatever the counter says, and show raw beside scaled values."""

    def close(self) -> Sequence[Shot | Gap | Fault | Weighing | SetPointChange]:
        """Disconnect and hand over what was still held back; closing twice is fine."""


class Options(Protocol):
    """The checked options of one collector."""

    @property
    def poll_s(self) -> float:
        """The pause between polls, in seconds."""

    def describe(self) -> list[str]:
        """Say, a line each, what would be read from where: for `shotlog check`."""

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        """Make the collector; nothing is opened yet."""


@dataclass(frozen=True, slots=True)
class CollectorKind:
    """One row of `COLLECTORS`: the module beside this one that reads and checks its own keys of the configuration."""

    module: str

    def options(self, section: Section) -> Options:
        """Read and check the keys of one press, or balance.

        Raises
        ------
        SettingsError
            A key is missing or wrong.
        """
        read: Callable[[Section], Options] = import_module(f"shotlog.collectors.{self.module}").options
        return read(section)
