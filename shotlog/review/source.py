"""What the log knows of one press over a window of shots: the one reading of history.

Report, pages and command line all read it here. A window costs what it holds, however long the log: what it needs from
before it (the stays that reach into it) is looked up.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from math import inf

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.facts import SwapFinding
from shotlog.records import EVER, Baseline, Gap, Signal, Stay, Verdict
from shotlog.review.accepted import AcceptedLevels
from shotlog.review.episodes import Call, Episode, Episodes
from shotlog.review.turns import Turn, Turns
from shotlog.store.asked import state
from shotlog.store.asked.missed import filled, unseen
from shotlog.store.asked.state import EntryRow
from shotlog.store.log.clock_steps import steady_seconds
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.store.log.timeline import Timeline

__all__ = ["MountedStretch", "PressRecord", "Said", "Seen", "read_press", "silent", "stretches_of"]

_TOLD_EVERY = 1000


def silent(_text: str) -> None:
    """Tell nobody how far something is."""


@dataclass(frozen=True, slots=True)
class MountedStretch:
    """Shots made with the same reused inserts: `halves` names them, `last` is included."""

    first: int
    last: int
    halves: Mapping[str, str]


class Said:
    """What the verdicts of a press come to, taken one by one in order; `stays`: who was mounted."""

    def __init__(self, verdicts: Iterable[Verdict] = (), stays: Sequence[Stay] = ()) -> None:
        self._episodes, self._turns, self._accepted = Episodes(stays), Turns(), AcceptedLevels()
        self._settling: set[int] = set()
        self._unjudged: set[int] = set()
        self._found: list[SwapFinding] = []
        for verdict in verdicts:
            self._episodes.take(verdict)
            self._turns.take(verdict)
            self._accepted.take(verdict)
            if verdict.settling:
                self._settling.add(verdict.shot)
                if verdict.facts is None or verdict.facts.stage not in ("quiet", "called"):
                    self._unjudged.add(verdict.shot)
            if verdict.facts is not None and verdict.facts.swap is not None:
                self._found.append(verdict.facts.swap)

    @property
    def episodes(self) -> tuple[Episode, ...]:
        """The changes that were called."""
        return self._episodes.found

    @property
    def turns(self) -> tuple[Turn, ...]:
        """The runs of shots of which the same was said."""
        return self._turns.found

    @property
    def accepted(self) -> tuple[tuple[int, int], ...]:
        """The levels taken as normal in place of earlier ones: since which shot, and said at which."""
        return self._accepted.found

    @property
    def found(self) -> tuple[SwapFinding, ...]:
        """What the call found of the changes before swaps."""
        return tuple(self._found)

    @property
    def settling(self) -> frozenset[int]:
        """The shots at the start and after a stop: not charted, and judged only beside sisters."""
        return frozenset(self._settling)

    @property
    def unjudged(self) -> frozenset[int]:
        """The settling shots that were not judged either."""
        return frozenset(self._unjudged)


class Seen:
    """Shots of a press that were read, as far as swaps and lives are told from them; see `PressRecord`."""

    __slots__ = ()
    press: str
    shots: NDArray[np.int64]
    channels: tuple[str, ...]
    values: NDArray[np.float64]
    timeline: Timeline
    stretches: tuple[MountedStretch, ...]
    episodes: Sequence[Call]
    settling: frozenset[int]
    entries: tuple[EntryRow, ...]
    gaps: tuple[Gap, ...]
    found: tuple[SwapFinding, ...]

    @property
    def last_shot(self) -> int:
        """The newest shot, 0 before the first."""
        return int(self.shots[-1]) if len(self.shots) else 0

    def rows(self, first: float, last: float) -> slice:
        """Return where shots `first` to `last`, both included, stand in `shots`."""
        # Not searchsorted: given a float, it would make one of every shot first.
        return slice(bisect_left(self.shots, first), bisect_right(self.shots, last))

    def column(self, channel: str, first: float, last: float) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return shots and values of a channel over shots `first` to `last`, missing values left out."""
        where = self.rows(first, last)
        values = self.values[where, self.channels.index(channel)]
        seen = np.isfinite(values)
        return self.shots[where][seen], values[seen]

    def settled(self, channel: str, first: float, last: float) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return shots and values of a channel, settling shots and missing values left out."""
        shots, values = self.column(channel, first, last)
        kept = np.array([int(shot) not in self.settling for shot in shots], dtype=bool)
        return shots[kept], values[kept]

    def stretch_at(self, shot: int) -> MountedStretch | None:
        """Return the stretch a shot belongs to."""
        at = bisect_right(self.stretches, shot, key=lambda one: one.first) - 1
        return self.stretches[at] if at >= 0 and shot <= self.stretches[at].last else None

    def judged(self, first: int, last: int) -> str:
        """Return the insert that the first judged shot of `first` to `last` was judged on, empty where none was."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class PressRecord(Seen):
    """A press over a window of shots. `values` has shape (n_shots, n_channels), NaN where missing; `shots` in order.

    `timeline`: the stays that made a shot of the window, and what was noted since the first of them. `gaps`: shots
    still missing; `filled`: spans that were missed and taken in later. `settling`: shots that were not charted,
    of which `unjudged` were not judged either. `found`: what the call found, on the day, of the changes before swaps.
    """

    press: str
    shots: NDArray[np.int64]
    times: tuple[datetime, ...]
    channels: tuple[str, ...]
    values: NDArray[np.float64]
    timeline: Timeline
    stretches: tuple[MountedStretch, ...]
    episodes: tuple[Episode, ...]
    turns: tuple[Turn, ...]
    accepted: tuple[tuple[int, int], ...]
    settling: frozenset[int]
    signals: tuple[Signal, ...]
    baselines: tuple[Baseline, ...]
    entries: tuple[EntryRow, ...]
    gaps: tuple[Gap, ...]
    filled: tuple[tuple[int, int], ...]
    found: tuple[SwapFinding, ...] = ()
    unjudged: frozenset[int] = frozenset()
    steady_s: NDArray[np.float64] = field(default_factory=lambda: np.zeros(0))

    @property
    def seconds(self) -> NDArray[np.float64]:
        """When each shot was made as if nobody had ever set the clock, (n_shots,): what lies between two shots is told
        by this, and by no time of day.
        """
        if len(self.steady_s) == len(self.times):
            return self.steady_s
        return np.array([moment.timestamp() for moment in self.times])

    def time_of(self, shot: int) -> datetime | None:
        """Return when a shot was made, or None if it was not seen."""
        where = self.rows(shot, shot)
        return self.times[where.start] if where.stop > where.start else None

    def judged(self, first: int, last: int) -> str:
        """Return the insert that the first judged shot of `first` to `last` was judged on, empty where none was."""
        at = bisect_left(self.turns, first, key=lambda one: one.last)
        return self.turns[at].insert if at < len(self.turns) and self.turns[at].first <= last else ""


def read_press(
    log: Log,
    press: str,
    first: int = 0,
    last: int = EVER,
    *,
    timeline: Timeline | None = None,
    channels: Collection[str] = CHANNELS,
    tell: Callable[[str], None] = silent,
) -> PressRecord:
    """Read what the log knows of shots `first` to `last` of a press.

    Parameters
    ----------
    timeline
        The press's timeline, where the caller has it: in a long log it is slow to read.
    channels
        Those to read; of them the record has those with a value in the window.
    tell
        Told how far it is: a long log takes a while.
    """
    names = tuple(name for name in CHANNELS if name in channels)
    with log.reading() as connection:
        shots, times, values = columns(connection, press, names, first, last)
        steady = steady_seconds(connection, press, times, first, last)
    present = [n for n in range(len(names)) if np.isfinite(values[:, n]).any()]
    begin, end = (int(shots[0]), int(shots[-1])) if len(shots) else (1, 0)
    within = (log.timeline(press) if timeline is None else timeline).within(first, last)
    said = Said(_watched(state.each_verdict(log, press, first, last), end, tell), within.stays)
    return PressRecord(
        press=press,
        shots=shots,
        times=tuple(parse_utc(time) for time in times),
        channels=tuple(names[n] for n in present),
        values=values[:, present],
        timeline=within,
        stretches=stretches_of(within.stays, begin, end),
        episodes=said.episodes,
        turns=said.turns,
        accepted=said.accepted,
        settling=said.settling,
        signals=tuple(state.signals(log, press, first, last)),
        baselines=tuple(state.baselines(log, press, first, last)),
        entries=tuple(state.entries(log, press, first, last)),
        gaps=tuple(unseen(log, press, first, last)),
        filled=tuple(filled(log, press, first, last)),
        found=said.found,
        unjudged=said.unjudged,
        steady_s=steady,
    )


def _watched(verdicts: Iterable[Verdict], last: int, tell: Callable[[str], None]) -> Iterator[Verdict]:
    for n, verdict in enumerate(verdicts):
        if n % _TOLD_EVERY == 0:
            tell(f"{verdict.press}: verdicts, shot {verdict.shot} of {last}")
        yield verdict


def stretches_of(stays: Sequence[Stay], first: int, last: int) -> tuple[MountedStretch, ...]:
    """Split shots `first` to `last` where a reused insert came or went; single-use halves make no stretch."""
    reused = [stay for stay in stays if not stay.mounting.single_use]
    cuts = {first}
    for stay in reused:
        cuts.update(int(at) for at in (stay.first, stay.end) if at != inf and first < at <= last)
    starts = sorted(cuts)
    found, come, mounted = [], 0, list[Stay]()
    ordered = sorted(reused, key=lambda stay: stay.first)
    for start, following in zip(starts, [*starts[1:], last + 1], strict=True):
        if following > start:
            while come < len(ordered) and ordered[come].first <= start:
                mounted.append(ordered[come])
                come += 1
            mounted = [stay for stay in mounted if start < stay.end]
            found.append(
                MountedStretch(start, following - 1, {s.mounting.half: s.mounting.insert.serial for s in mounted})
            )
    return tuple(found)
