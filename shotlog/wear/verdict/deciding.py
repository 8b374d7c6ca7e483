"""Which of the verdicts on the halves in the mould is the one that counts, and what stands beside it."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from shotlog.records import VERDICTS, OtherChange, Verdict

__all__ = ["deciding"]


def deciding(said: Mapping[str, Verdict], newest: str) -> Verdict:
    """Return the worst verdict by half, with what is open on the others beside it.

    What is the insert's comes before what is not, and what began first before what came later; while nothing is called
    counts the half changed last (`newest`).
    """
    if len(said) == 1:
        return next(iter(said.values()))

    def badness(half: str) -> tuple[int, bool, int, bool]:
        one = said[half]
        return VERDICTS.index(one.verdict), one.group == "insert", -(one.onset or 0), half == newest

    worst = max(said, key=badness)
    verdict = said[worst]
    beside = [change for half, other in said.items() if half != worst for change in _open(other)]
    asked = next((shot for one in said.values() if one.facts is not None and (shot := one.facts.asked_shot)), None)
    facts = None if verdict.facts is None else replace(verdict.facts, half=worst, asked_shot=asked)
    return replace(verdict, others=(*verdict.others, *beside), facts=facts)


def _open(verdict: Verdict) -> Iterator[OtherChange]:
    if verdict.cause and verdict.onset is not None:
        yield OtherChange(verdict.group, verdict.cause, verdict.onset)
    yield from verdict.others
