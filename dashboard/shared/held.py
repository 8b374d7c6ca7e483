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
from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.held import HeldNow, held_now
from shotlog.parts.part import Part, n_cavities
from shotlog.parts.standing import Decision, Ground, by_shot, ground
from shotlog.settings import Settings
from shotlog.store.asked import state
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.shots import first_come
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions
from shotlog.store.parts.doubts import said_of_parts
from shotlog.wording.parts import decision_text, doubts_text

__all__ = ["Doubted", "HeldReader", "HeldRun", "PressDoubts", "doubts_of", "held_parts", "held_runs", "work_out"]

NEAR = 20_000
"""Up to so many shots, what speaks against parts is worked out within the answer; beyond, apart."""

AT_HAND = 2_000
"""Up to so many shots the page at the press waits for it; beyond, it shows what is known and what is new follows."""

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

    `lifted`: what calls once named and none names any more. `first_shot`: the first in the log.
    """

    press: str
    first_shot: int
    doubted: tuple[Doubted, ...]
    lifted: tuple[Lifted, ...]
    n_older: int


@dataclass(frozen=True, slots=True)
class HeldRun:
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
    timeline = log.timeline(press)
    speaking, lifted = said_of_parts(log, press, timeline=timeline, designs=settings.designs)
    found = sorted(speaking, key=lambda doubt: (doubt.last, doubt.first))
    shown = found[-SHOWN:]
    with log.reading() as connection:
        first_shot = first_come(connection, press)
    return PressDoubts(
        press,
        first_shot,
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
        self._kept: dict[str, tuple[Hashable, HeldNow | None]] = {}

    def entered(self) -> None:
        """Say that an entry was made here that may hold parts, so that the next answer counts it."""
        self._entered += 1

    def doubts(self, wait_s: float = 0.2, near: int | None = None) -> tuple[PressDoubts, ...] | None:
        """Return what speaks against parts, as newly as it is known; None while it is worked out for the first time.

        `near`: up to so many shots it is waited for; by default those that are worked out within the answer.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        log = self._source.reading()
        minute = self._source.clock.now().replace(second=0, microsecond=0)
        mark: Hashable = (state.change_mark(log), self._entered, minute)
        small = self._small(log, self._near if near is None else near)
        result = self._latest.ask(mark, _PATIENCE_S if small else wait_s, now=small)
        if result is not None and result.refused:
            raise StoreUnreachable(result.refused)
        return None if result is None else result.found

    def now(self, press: str) -> HeldNow | None:
        """Return what is held of a press, as newly as it is known; None where nothing is, or it is not known yet.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        against = next((one for one in self.doubts(near=AT_HAND) or () if one.press == press), None)
        if against is None:
            return None
        log = self._source.reading()
        mark = id(against), state.change_mark(log)
        kept = self._kept.get(press)
        if kept is None or kept[0] != mark:
            held = held_now(held_parts(against, decisions(log, press)), against.first_shot)
            kept = self._kept[press] = (mark, held)
        return kept[1]

    def _small(self, log: Log, near: int) -> bool:
        return sum(newest[0] for press in log.presses() if (newest := log.last_shot(press))) <= near

    def _work(self) -> tuple[PressDoubts, ...]:
        log = self._source.reading()
        if self._small(log, self._near):
            return tuple(doubts_of(log, press, self._source.settings) for press in log.presses())
        return apart(work_out, self._source.settings)


def held_runs(against: PressDoubts, decided: Sequence[Decision]) -> list[HeldRun]:
    """Return the runs of held parts of a press, the newest first, by the rule of `shotlog.parts.standing`."""
    runs: list[list[tuple[Part, Ground]]] = []
    for part, stands in held_parts(against, decided):
        follows = runs and part.shot - runs[-1][-1][0].shot <= 1 and runs[-1][-1][1].alike == stands.alike
        runs[-1].append((part, stands)) if follows else runs.append([(part, stands)])
    return [_run(against.press, run) for run in reversed(runs)]


def held_parts(against: PressDoubts, decided: Sequence[Decision]) -> list[tuple[Part, Ground]]:
    """Return the held parts of a press, in order, with how each stands."""
    doubts: dict[Part, list[Doubt]] = {}
    for doubted in against.doubted:
        for part in doubted.parts:
            doubts.setdefault(part, []).append(doubted.doubt)
    for one in decided:
        if one.decision == "held":
            for shot in range(one.first, one.last + 1):
                doubts.setdefault(Part(against.press, shot, one.cavity or 1), [])
    said = by_shot(decided, {part.shot for part in doubts})
    stands = ((part, ground(part, doubts[part], said.get(part.shot, ()))) for part in sorted(doubts))
    return [(part, one) for part, one in stands if one.state == "held"]


def _run(press: str, run: Sequence[tuple[Part, Ground]]) -> HeldRun:
    first, stands = run[0]
    times = [doubt.since[part.shot].time for part, one in run for doubt in one.against]
    words = doubts_text(stands.against)
    if stands.decision is not None:
        words.append(decision_text(stands.decision))
        times += [] if stands.again else [stands.decision.time]
    serial = next((doubt.serial for doubt in stands.against if doubt.serial), "")
    last = run[-1][0].shot
    return HeldRun(press, first.shot, last, len(run), tuple(words), serial, max(times, default=None), stands.again)
