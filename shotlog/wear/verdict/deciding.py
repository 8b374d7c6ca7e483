"""Which of the verdicts on the halves in the mould is the one that counts."""

from collections.abc import Mapping

from shotlog.records import VERDICTS, Verdict

__all__ = ["deciding"]


def deciding(said: Mapping[str, Verdict], newest: str) -> Verdict:
    """Return the worst verdict by half; among equals that on the half changed last (`newest`)."""
    return max(said.items(), key=lambda one: (VERDICTS.index(one[1].verdict), one[0] == newest))[1]
