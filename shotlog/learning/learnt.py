"""What a sitting beside a press brought, whichever way it was read: rows to show, what to write, what to say."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from shotlog.learning.asking import Watched
from shotlog.learning.config_text import MapText
from shotlog.learning.screen import ScreenShot

__all__ = ["Learnt", "Row", "Wishes"]


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: channel, where, type and order, scale and unit, latest values, how sure, why."""

    channel: str
    where: str
    type: str
    scale: str
    latest: str
    sure: str
    why: str


@dataclass(frozen=True, slots=True)
class Learnt:
    """`map` is None where nothing is sure enough to be written. `notes`: what else there is to say, a line each.
    `document`: all of it as plain data.
    """

    rows: Sequence[Row]
    notes: Sequence[str]
    map: MapText | None
    document: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked for: how many shots, for how long at most in seconds, which registers, how gently, and figures that
    were read off the screen. `ask`, where a person can answer, asks for the screen, told which shots were watched.
    """

    n_shots: int
    most_s: float
    registers: str
    table: str | None
    pace: float
    seen: Sequence[ScreenShot]
    tell: Callable[[str], None]
    ask: Callable[[Watched], ScreenShot | None] | None = None
