"""A kind of input that is tried: how one is made from a seed, and what must hold of what becomes of it.

`run` tries many and keeps count; what does not hold is made as small as it can be while it fails in the same way.
"""

import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any

__all__ = ["Figures", "Finding", "Kind", "one_line", "run", "run_one"]

_MOST_FINDINGS = 20
_SHRINK_TRIES = 3000
_TOLD_S = 10.0
_SETTLED = 2000
"""Inputs after which what is loaded late and kept on purpose is in memory."""
_GROWTH_MB = 60.0
"""How much memory may have grown since, in MB (own)."""


class Kind:
    """One kind of input. An input is made of bytes, texts, numbers, lists and tuples, so that it can be shown.

    It may keep files in `folder`; what it holds open it lets go of in `close`.
    """

    name = ""
    most_s = 0.25
    """Processor time that one input may take."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def make(self, random: Random) -> Any:
        """Return one input."""
        raise NotImplementedError

    def judge(self, given: Any) -> str:
        """Try an input; return in a word what became of it. Whatever is raised is a finding."""
        raise NotImplementedError

    def close(self) -> None:
        """Let go of what is held open."""


@dataclass(frozen=True, slots=True)
class Finding:
    """An input that fails: which one it was, how it fails, and the smallest one that fails alike."""

    kind: str
    seed: int
    number: int
    said: str
    smallest: Any
    told: str


@dataclass(slots=True)
class Figures:
    """What came of the inputs of one kind."""

    kind: str
    n: int = 0
    became: Counter[str] = field(default_factory=Counter)
    slowest_s: float = 0.0
    slowest: int = 0
    cpu_s: float = 0.0
    grown_mb: float = 0.0
    stopped: bool = False
    findings: list[Finding] = field(default_factory=list)

    def __str__(self) -> str:
        became = ", ".join(f"{word} {n:,}" for word, n in self.became.most_common())
        each = 1e6 * self.cpu_s / max(self.n, 1)
        return (
            f"{self.kind}: {self.n:,} inputs{' (stopped)' if self.stopped else ''}; {became}; {each:.0f} us each, "
            f"slowest {1e3 * self.slowest_s:.0f} ms (number {self.slowest}); memory +{self.grown_mb:.0f} MB; "
            f"findings {len(self.findings)}"
        )


def one_line(text: str, longest: int = 1100) -> None:
    """Hold a message against what every message keeps to."""
    assert "\n" not in text, f"more than one line: {text!r}"
    assert "\r" not in text, f"more than one line: {text!r}"
    assert 0 < len(text) <= longest, f"a message of {len(text)} characters"


def run(kind: Kind, n: int, seed: int, tell: Callable[[str], None] = lambda _: None) -> Figures:
    """Try `n` inputs; Ctrl-C ends it with the figures so far."""
    figures = Figures(kind.name)
    known: set[str] = set()
    told_at, base_mb = time.monotonic(), 0.0
    try:
        for number in range(n):
            if number == min(_SETTLED, n // 2):
                base_mb = _memory_mb()
            found = run_one(kind, seed, number, figures)
            if found is not None and found[0] not in known:
                known.add(found[0])
                smallest = _smallest(kind, found[1], found[0])
                figures.findings.append(Finding(kind.name, seed, number, found[0], smallest, found[2]))
                if len(known) >= _MOST_FINDINGS:
                    break
            if time.monotonic() - told_at > _TOLD_S:
                told_at = time.monotonic()
                tell(f"{kind.name}: {number + 1:,} of {n:,}, findings {len(known)}")
    except KeyboardInterrupt:
        figures.stopped = True
    figures.grown_mb = max(0.0, _memory_mb() - base_mb)
    if figures.grown_mb > _GROWTH_MB and n > _SETTLED:
        figures.findings.append(Finding(kind.name, seed, -1, "memory", None, f"grew by {figures.grown_mb:.0f} MB"))
    return figures


def run_one(kind: Kind, seed: int, number: int, figures: Figures) -> tuple[str, Any, str] | None:
    """Try one input; return how it failed, the input and the whole story, or None."""
    given = kind.make(Random(f"{kind.name}/{seed}/{number}"))
    failed, took_s = _timed(kind, given, figures.became)
    if failed is None and took_s > kind.most_s:  # a machine that is busy otherwise may be slow once
        failed, took_s = _timed(kind, given, Counter())
    figures.n += 1
    figures.cpu_s += took_s
    if took_s > figures.slowest_s:
        figures.slowest_s, figures.slowest = took_s, number
    if failed is None and took_s > kind.most_s:
        return "too slow", given, f"{took_s:.2f} s of processor time, allowed: {kind.most_s} s"
    return None if failed is None else (failed[0], given, failed[1])


def _timed(kind: Kind, given: Any, became: Counter[str]) -> tuple[tuple[str, str] | None, float]:
    before = time.thread_time()
    return _failure(kind, given, became), time.thread_time() - before


def _failure(kind: Kind, given: Any, became: Counter[str]) -> tuple[str, str] | None:
    try:
        became[kind.judge(given)] += 1
    except Exception as error:  # noqa: BLE001  (whatever it is, it is what is looked for)
        last = traceback.extract_tb(error.__traceback__)[-1]
        became["failed"] += 1
        return f"{type(error).__name__} at {last.name}:{last.lineno}", traceback.format_exc()
    return None


def _smallest(kind: Kind, given: Any, failure: str) -> Any:
    """Return the smallest input found that still fails in the same way."""
    if failure == "too slow":
        return given
    tries = _SHRINK_TRIES
    smaller = True
    while smaller:
        smaller = False
        for candidate in _less(given):
            tries -= 1
            if tries < 0:
                return given
            failed = _failure(kind, candidate, Counter())
            if failed is not None and failed[0] == failure:
                given, smaller = candidate, True
                break
    return given


def _less(given: Any) -> Iterator[Any]:
    """Yield inputs that hold less than one: halves first, then single pieces, then less of a piece."""
    if isinstance(given, bytes | str | list | tuple):
        size = len(given)
        cut = size // 2
        while cut:
            for at in range(0, size, cut):
                yield given[:at] + given[at + cut :]
            cut //= 2
    if isinstance(given, list | tuple):
        for at, one in enumerate(given):
            for less in _less(one):
                made = [*given[:at], less, *given[at + 1 :]]
                yield made if isinstance(given, list) else tuple(made)
    elif isinstance(given, dict):
        for name, one in given.items():
            yield {other: value for other, value in given.items() if other != name}
            for less in _less(one):
                yield {**given, name: less}


def _memory_mb() -> float:
    """Return the most memory this process has held, in MB; 0 where the system does not tell."""
    try:
        import resource
    except ImportError:
        return 0.0
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
