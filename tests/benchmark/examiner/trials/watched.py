"""A trial fed to the call shot by shot, and what it said, in the sheet's shot numbers."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from shotlog.evaluator import Evaluator
from shotlog.parts.doubt import Naming, by_call
from shotlog.records import Verdict
from tests.benchmark.examiner.play import stands
from tests.benchmark.examiner.trials.trial import PRESS, Trial

__all__ = ["Watched", "told", "watch"]


@dataclass(frozen=True, slots=True)
class Watched:
    """What was said on a trial. Shots are those of the sheet, from 1; `of_day` holds the verdict of each, in order.

    `held`: shots whose parts are held at the end. `entered`: kinds of what the operator noted on the day.
    """

    of_day: tuple[Verdict, ...]
    before: int
    held: frozenset[int]
    entered: frozenset[str]

    def at(self, shot: int) -> Verdict:
        """Return the verdict said at a shot."""
        return self.of_day[shot - 1]

    def span(self, first: int, last: int) -> tuple[Verdict, ...]:
        """Return the verdicts of shots `first` to `last`."""
        return self.of_day[first - 1 : last]

    def onset(self, verdict: Verdict) -> int | None:
        """Return the onset of the change that decides a verdict, in the sheet's numbers."""
        return None if verdict.onset is None else verdict.onset - self.before

    def open_at(self, shot: int) -> list[tuple[str, str, int]]:
        """Return group, cause and onset of every change that stands open at a shot, the deciding one first."""
        return [(group, cause, onset - self.before) for group, cause, onset in stands(self.at(shot))]

    def first_open(self, first: int, last: int, group: str = "", since: int = -10_000) -> int | None:
        """Return the first shot of a span at which a change of a group (of any, if none) stands, dated `since` on.

        A print batch of the single-use half is a group of its own, ``batch``: it speaks against no reused half.
        """
        for shot in range(first, last + 1):
            for of, cause, onset in self.open_at(shot):
                if onset >= since and group in ("", "batch" if "batch" in cause else of):
                    return shot
        return None


def watch(trial: Trial) -> Watched:
    """Judge a trial, one shot after the other."""
    evaluator = Evaluator(PRESS, trial.designs)
    verdicts = []
    for shot in trial.shots:
        verdict = evaluator.step(shot)[-1]
        assert isinstance(verdict, Verdict)
        verdicts.append(verdict)
    entered = frozenset(kind for shot in trial.shots[trial.before :] for kind, _ in shot.events)
    return Watched(tuple(verdicts[trial.before :]), trial.before, frozenset(_held(trial, verdicts)), entered)


def _held(trial: Trial, verdicts: list[Verdict]) -> Iterator[int]:
    """Return the shots of the day whose parts are held at its end by what was called live."""
    namings = [
        Naming(one.shot, one.insert, one.verdict, one.cause, one.onset, one.onset_low, one.onset_high, 1, shot.time,
               shot.time, shot.shot - 1, stands=True)
        for shot, one in zip(trial.shots, verdicts, strict=True)
        if one.verdict != "keep"
    ]  # fmt: skip
    for doubt in by_call(PRESS, namings):
        yield from range(max(1, doubt.first - trial.before), doubt.last - trial.before + 1)


def told(watched: Watched, first: int, last: int) -> str:
    """Return what was said over a span, equal verdicts in a row told once: shots, verdict, insert, open changes."""
    parts = []
    shots = range(first, last + 1)
    for key, run in groupby(shots, key=lambda shot: _key(watched, shot)):
        same = list(run)
        verdict, insert, causes = key
        ends = watched.open_at(same[-1])
        since = ", ".join(f"{group}/{cause} since {onset}" for group, cause, onset in ends) if causes else "-"
        where = f"{same[0]}" if len(same) == 1 else f"{same[0]}-{same[-1]}"
        parts.append(f"{where} {verdict} {insert} [{since}]")
    return "; ".join(parts)


def _key(watched: Watched, shot: int) -> tuple[str, str, tuple[tuple[str, str], ...]]:
    verdict = watched.at(shot)
    return verdict.verdict, verdict.insert, tuple((group, cause) for group, cause, _ in watched.open_at(shot))
