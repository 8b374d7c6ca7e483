"""The parts that are held: what speaks against parts by itself, with what people decided of them since.

What speaks against them is worked out from every verdict of a press, which takes long over years of shots; it is done
apart then. Decisions are few and are applied afresh each time, so that one made a moment ago shows.
"""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from dashboard.shared.apart import apart
from dashboard.shared.latest import Latest
from dashboard.shared.source import Source
from shotlog.errors import StoreUnreachable
from shotlog.settings import Settings
from shotlog.store.asked import state
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import Decision
from shotlog.store.parts.doubts import Doubt, Lifted, said_of_parts
from shotlog.store.parts.parts import Part, n_cavities

__all__ = ["Doubted", "Held", "HeldReader", "PressDoubts", "doubts_of", "held_runs", "work_out"]

NEAR = 20_000
"""Up to so many shots, what speaks against parts is worked out within the answer; beyond, apart."""

SHOWN = 60
"""Changes and findings of a press that are shown, the newest ones: nobody decides on more in one sitting."""


_PATIENCE_S = 60.0


@dataclass(frozen=True, slots=True)
class Doubted:
    """A doubt with the parts it is about, dry shots left out."""

    doubt: Doubt
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class PressDoubts:
    """What speaks against parts of a press, the newest last; `n_older` more are not looked at.

    `lifted`: what calls once named and none names any more.
    """

    press: str
    doubted: tuple[Doubted, ...]
    lifted: tuple[Lifted, ...]
    n_older: int


@dataclass(frozen=True, slots=True)
class Held:
    """A run of parts that are held for the same reason.

    `since`: when the newest of it was known; `again`: they had been released, and newer evidence holds them again.
    """

    press: str
    first: int
    last: int
    n_parts: int
    why: tuple[str, ...]
    serial: str
    since: datetime | None
    again: bool


def work_out(settings: Settings) -> tuple[PressDoubts, ...]:
    """Return what speaks against parts, for every press of a log."""
    with open_log(settings.store) as log:
        return tuple(doubts_of(log, press, settings) for press in log.presses())


def doubts_of(log: Log, press: str, settings: Settings) -> PressDoubts:
    """Return what speaks against the parts of one press."""
    speaking, lifted = said_of_parts(log, press)
    found = sorted(speaking, key=lambda doubt: (doubt.last, doubt.first))
    timeline = log.timeline(press)
    shown = found[-SHOWN:]
    return PressDoubts(
        press,
        tuple(Doubted(doubt, tuple(_parts(timeline, press, sorted(doubt.since), settings))) for doubt in shown),
        tuple(lifted[-SHOWN:]),
        len(found) - len(shown),
    )


def _parts(timeline: Timeline, press: str, shots: Iterable[int], settings: Settings) -> Iterable[Part]:
    dry = set(timeline.dry_shots)
    for shot in shots:
        if shot not in dry:
            cavities = n_cavities(timeline.halves(shot), settings.designs)
            yield from (Part(press, shot, cavity) for cavity in range(1, cavities + 1))


class HeldReader:
    """Reads the held parts of one configuration."""

    def __init__(self, source: Source, near: int = NEAR) -> None:
        self._source, self._near = source, near
        self._latest = Latest(self._work)
        self._entered = 0

    def entered(self) -> None:
        """Say that an entry was made here that may hold parts, so that the next answer counts it."""
        self._entered += 1

    def doubts(self, wait_s: float = 0.2) -> tuple[PressDoubts, ...] | None:
        """Return what speaks against parts, as newly as it is known; None while it is worked out for the first time.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        log = self._source.reading()
        minute = self._source.clock.now().replace(second=0, microsecond=0)
        mark: Hashable = (state.change_mark(log), self._entered, minute)
        small = self._small(log)
        result = self._latest.ask(mark, _PATIENCE_S if small else wait_s, now=small)
        if result is not None and result.refused:
            raise StoreUnreachable(result.refused)
        return None if result is None else result.found

    def _small(self, log: Log) -> bool:
        return sum(newest[0] for press in log.presses() if (newest := log.last_shot(press))) <= self._near

    def _work(self) -> tuple[PressDoubts, ...]:
        log = self._source.reading()
        if self._small(log):
            return tuple(doubts_of(log, press, self._source.settings) for press in log.presses())
        return apart(work_out, self._source.settings)


def held_runs(against: PressDoubts, decided: Sequence[Decision]) -> list[Held]:
    """Return the runs of held parts of a press, the newest first.

    By the rule of the log: what a person said last of a part stands, unless they released it and newer evidence speaks
    against it; of what nobody decided, everything in doubt is held.
    """
    doubts: dict[Part, list[Doubt]] = {}
    for doubted in against.doubted:
        for part in doubted.parts:
            doubts.setdefault(part, []).append(doubted.doubt)
    for one in decided:
        if one.decision == "held":
            for shot in range(one.first, one.last + 1):
                doubts.setdefault(Part(against.press, shot, one.cavity or 1), [])
    runs: list[list[tuple[Part, _Ground]]] = []
    for part in sorted(doubts):
        ground = _ground(part, doubts[part], decided)
        if ground is None:
            continue
        follows = runs and part.shot - runs[-1][-1][0].shot <= 1 and runs[-1][-1][1].words == ground.words
        runs[-1].append((part, ground)) if follows else runs.append([(part, ground)])
    return [_run(against.press, run) for run in reversed(runs)]


@dataclass(frozen=True, slots=True)
class _Ground:
    """Why one part is held."""

    against: tuple[Doubt, ...]
    said: Decision | None
    again: bool

    @property
    def words(self) -> tuple[str, ...]:
        said = [] if self.said is None else [f"{self.said.decision}: {self.said.reason}".rstrip(": ")]
        return (*(doubt.text for doubt in self.against), *said)


def _ground(part: Part, against: Sequence[Doubt], decided: Sequence[Decision]) -> _Ground | None:
    """Return why a part is held, None where it is not."""
    said = next((one for one in reversed(decided) if one.is_about(part)), None)
    if said is None:
        return _Ground(tuple(against), None, False) if against else None
    again = said.decision == "released" and any(doubt.since[part.shot] > said.time for doubt in against)
    return _Ground(tuple(against), said, again) if again or said.decision == "held" else None


def _run(press: str, run: Sequence[tuple[Part, _Ground]]) -> Held:
    first, ground = run[0]
    times = [doubt.since[part.shot] for part, one in run for doubt in one.against]
    if ground.said is not None and not ground.again:
        times.append(ground.said.time)
    serial = next((doubt.serial for doubt in ground.against if doubt.serial), "")
    last = run[-1][0].shot
    return Held(press, first.shot, last, len(run), ground.words, serial, max(times, default=None), ground.again)
