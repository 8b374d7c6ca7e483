"""The parts that are held: what speaks against parts by itself, with what people decided of them since.

What speaks against them is worked out from every verdict of a press, which takes long over years of shots; it is done
apart then. Decisions are few and are applied afresh each time, so that one made a moment ago shows.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from dashboard.shared.apart import apart
from dashboard.shared.latest import Latest
from dashboard.shared.source import Source
from shotlog.errors import StoreUnreachable
from shotlog.parts.doubt import Since
from shotlog.parts.held import HeldNow
from shotlog.parts.part import Part
from shotlog.parts.standing import Ground
from shotlog.review.still_held import NEAR, PressDoubts, doubts_of, still_held
from shotlog.settings import Settings
from shotlog.store.asked.tally import Counts, Tally
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.dispositions import decisions, held_among
from shotlog.wording.parts import decision_text, doubts_text

__all__ = ["NOTHING", "HeldOfPress", "HeldReader", "HeldRun", "held_runs", "work_out"]

AT_HAND = 2_000
"""Up to so many shots the page at the press waits for it; beyond, it shows what is known and what is new follows."""


_PATIENCE_S = 60.0


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


def work_out(settings: Settings, presses: Sequence[str]) -> tuple[PressDoubts, ...]:
    """Return what speaks against parts of presses of a log."""
    with open_log(settings.store) as log:
        return tuple(doubts_of(log, press, settings.designs) for press in presses)


@dataclass(frozen=True, slots=True)
class HeldOfPress:
    """What is held of a press: `now` as told at the press, None where nothing is; each part, and how it stands."""

    now: HeldNow | None
    parts: tuple[tuple[Part, Ground], ...]


NOTHING = HeldOfPress(None, ())


class HeldReader:
    """Reads the held parts of one configuration: of a press anew only when the log has gained something about it."""

    def __init__(self, source: Source, near: int = NEAR) -> None:
        self._source, self._near = source, near
        self._latest = Latest(self._work)
        self._entered = 0
        self._forget(None)

    def _forget(self, log: Log | None) -> None:
        """Begin anew with a log: another file may lie in the place of the one before."""
        self._log, self._tally = log, Tally()
        self._known: dict[str, tuple[int, PressDoubts]] = {}
        self._kept: dict[str, tuple[Hashable, HeldOfPress]] = {}

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
        return self._doubts(self._counts(), wait_s, self._near if near is None else near)

    def _doubts(self, counts: Mapping[str, Counts], wait_s: float, near: int) -> tuple[PressDoubts, ...] | None:
        # with the next minute what was refused is tried again: nothing else in the mark may ever move
        minute = self._source.clock.now().replace(second=0, microsecond=0)
        mark: Hashable = (tuple((press, one.changes) for press, one in counts.items()), self._entered, minute)
        small = sum(one.n_shots for one in counts.values()) <= near
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
        counts = self._counts()
        if press not in counts:
            return None
        against = next((one for one in self._doubts(counts, 0.2, AT_HAND) or () if one.press == press), None)
        return self._look(against, counts[press]).now

    def every(self, near: int = AT_HAND) -> dict[str, HeldOfPress]:
        """Return what is held of every press that the log has shots of, as `now` does of one.

        `near`: up to so many shots it is waited for.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        counts = self._counts()
        against = {one.press: one for one in self._doubts(counts, 0.2, near) or ()}
        return {press: self._look(against.get(press), one) for press, one in counts.items() if one.n_shots}

    def _look(self, against: PressDoubts | None, counts: Counts) -> HeldOfPress:
        if against is None:
            return NOTHING
        press, mark = against.press, (id(against), counts.changes, self._entered)
        kept = self._kept.get(press)
        if kept is None or kept[0] != mark:
            log = self._source.reading()
            decided = decisions(log, press)
            held = still_held(against, decided)
            now = held_among(log, press, held, decided, against.dry) if held else None
            kept = self._kept[press] = (mark, HeldOfPress(now, tuple(held)))
        return kept[1]

    def _counts(self) -> dict[str, Counts]:
        """Return what each press has in the log, all of one moment."""
        log = self._source.reading()
        if log is not self._log:
            self._forget(log)
        return self._tally.every(log)

    def _work(self) -> tuple[PressDoubts, ...]:
        counts, settings, known = self._counts(), self._source.settings, self._known
        moved = [press for press, one in counts.items() if press not in known or known[press][0] != one.changes]
        if sum(counts[press].n_shots for press in moved) <= self._near:
            log = self._source.reading()
            found = [doubts_of(log, press, settings.designs) for press in moved]
        else:
            found = list(apart(partial(work_out, presses=moved), settings))
        known.update({one.press: (counts[one.press].changes, one) for one in found})
        return tuple(known[press][1] for press in counts)


def held_runs(press: str, parts: Sequence[tuple[Part, Ground]]) -> list[HeldRun]:
    """Return the runs of the held parts of a press, which are given in order with how each stands, newest first."""
    runs: list[list[tuple[Part, Ground]]] = []
    for part, stands in parts:
        follows = runs and part.shot - runs[-1][-1][0].shot <= 1 and runs[-1][-1][1].alike == stands.alike
        runs[-1].append((part, stands)) if follows else runs.append([(part, stands)])
    return [_run(press, run) for run in reversed(runs)]


def _run(press: str, run: Sequence[tuple[Part, Ground]]) -> HeldRun:
    first, stands = run[0]
    known = [doubt.since[part.shot] for part, one in run for doubt in one.against]
    words = doubts_text(stands.against)
    if stands.decision is not None:
        words.append(decision_text(stands.decision))
        known += [] if stands.again else [Since(stands.decision.place, stands.decision.time)]
    serial = next((doubt.serial for doubt in stands.against if doubt.serial), "")
    last = run[-1][0].shot
    newest = max(known).time if known else None
    return HeldRun(press, first.shot, last, len(run), tuple(words), serial, newest, stands.again)
