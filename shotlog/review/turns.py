"""Turns: runs of shots over which the tool said the same of the same insert."""

from dataclasses import dataclass

from shotlog.records import Verdict
from shotlog.wording.verdicts import told

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
        self._runs: list[tuple[int, Verdict]] = []

    def take(self, verdict: Verdict) -> None:
        """Take the next verdict."""
        first, before = self._runs[-1] if self._runs else (verdict.shot, None)
        if before is not None and _said(before) == _said(verdict):
            self._runs[-1] = (first, verdict)
        else:
            self._runs.append((verdict.shot, verdict))

    @property
    def found(self) -> tuple[Turn, ...]:
        """The turns up to the last verdict taken."""
        return tuple(Turn(v.insert, first, v.shot, v.settling, v.verdict, told(v)) for first, v in self._runs)


def _said(verdict: Verdict) -> tuple[str, bool, str]:
    return verdict.insert, verdict.settling, verdict.verdict
