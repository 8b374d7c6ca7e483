"""Turns: runs of shots over which the tool said the same of the same insert."""

from dataclasses import dataclass, replace

from shotlog.records import Verdict

__all__ = ["Turn", "Turns"]


@dataclass(frozen=True, slots=True)
class Turn:
    """The verdict from shot `first` to `last` on one insert, with the sentence it ended on."""

    insert: str
    first: int
    last: int
    settling: bool
    verdict: str
    sentence: str


class Turns:
    """The turns of one press, from its verdicts taken one by one in order: a long log has too many to hold."""

    def __init__(self) -> None:
        self._found: list[Turn] = []

    def take(self, verdict: Verdict) -> None:
        """Take the next verdict."""
        before = self._found[-1] if self._found else None
        alike = (verdict.insert, verdict.settling, verdict.verdict)
        if before is not None and (before.insert, before.settling, before.verdict) == alike:
            self._found[-1] = replace(before, last=verdict.shot, sentence=verdict.sentence)
        else:
            self._found.append(Turn(verdict.insert, verdict.shot, verdict.shot, *alike[1:], verdict.sentence))

    @property
    def found(self) -> tuple[Turn, ...]:
        """The turns up to the last verdict taken."""
        return tuple(self._found)
