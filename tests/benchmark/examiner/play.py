"""The call as it is examined: one evaluator for the whole history of a press, fed shot by shot through its door."""

import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from shotlog.evaluator import Evaluator
from shotlog.records import Signal, Verdict
from tests.benchmark.examiner.best import BestLife
from tests.benchmark.examiner.histories import DESIGN, History, Life

__all__ = ["Played", "Said", "play", "stands"]


@dataclass(frozen=True, slots=True)
class Said:
    """What was said on one examined life: a verdict a shot, and the shots at which a chart signalled."""

    life: Life
    verdicts: tuple[Verdict, ...]
    signalled: tuple[int, ...]

    def called(self, since: int = 0) -> int | None:
        """Return the age (from 0) of the first shot at or after age `since` at which a change stands, or None."""
        return next((age for age in range(since, len(self.verdicts)) if self.verdicts[age].cause), None)


@dataclass(frozen=True, slots=True)
class Played:
    """The lives of a history that are examined: what was said on each, and what the best detector saw, where it ran.

    `known`: sizes that a score needs, by name. `per_s`: shots judged in a second of the processor's time.
    """

    said: tuple[Said, ...]
    per_s: float = 0.0
    best: tuple[BestLife, ...] = ()
    known: Mapping[str, float] = field(default_factory=dict)


def play(history: History) -> Played:
    """Judge a whole history."""
    evaluator = Evaluator(history.shots[0].press, {DESIGN: history.design}, history.false_calls)
    verdicts: list[Verdict] = []
    signalled: set[int] = set()
    began = time.process_time()
    for shot in history.shots:
        *earlier, verdict = evaluator.step(shot)
        assert isinstance(verdict, Verdict)
        verdicts.append(verdict)
        if any(isinstance(one, Signal) for one in earlier):
            signalled.add(shot.shot)
    per_s = len(history.shots) / (time.process_time() - began)
    first = history.shots[0].shot
    said = []
    for life in history.lives:
        if life.examined:
            own = tuple(verdicts[life.first - first : life.first - first + life.n_shots])
            said.append(Said(life, own, tuple(sorted(s for s in signalled if 0 <= s - life.first < life.n_shots))))
    return Played(tuple(said), per_s, known=history.known)


def stands(verdict: Verdict) -> Iterator[tuple[str, str, int]]:
    """Return group, cause and onset of every change that stands open: the deciding one first, then the others."""
    if verdict.cause and verdict.onset is not None:
        yield verdict.group, verdict.cause, verdict.onset
    for other in getattr(verdict, "others", ()):
        if isinstance(other, str):
            group, cause, onset = other.rsplit(":", 2)
            yield group, cause, int(onset)
        else:
            yield other.group, other.cause, other.onset
