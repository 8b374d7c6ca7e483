"""What became of each call: whether somebody acted on it, how soon, and what was found.

A call is an assertion that can be held against what came after: the swap it led to, and the parts that were looked at.
Until one of them speaks it is open, and it is counted as such.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shotlog.parts.inspection import Inspection
from shotlog.review.episodes import Episode
from shotlog.review.history import History
from shotlog.review.swaps import Swap

__all__ = ["ANSWERS", "Answer", "answers_of"]

ANSWERS = ("confirmed", "not this insert", "nothing found", "open")
"""Every answer. The first two say that there was a change; ``not this insert``: it was laid to the wrong one."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of the call that began at shot `first` on `insert`.

    `acted_at`: the shot before which an insert was swapped while the call stood, `lag` shots after the call; None where
    nobody did. `n_bad` of the `n_looked_at` parts made since its onset were bad. `ground`: in words.
    """

    insert: str
    first: int
    acted_at: int | None
    lag: int | None
    n_looked_at: int
    n_bad: int
    answer: str
    ground: str


def answers_of(history: History, results: Sequence[Inspection], first: int = 0) -> tuple[Answer, ...]:
    """Return what became of the calls of a press that reach to shot `first` or later, in order."""
    return tuple(_answer(history, one, results) for one in history.episodes if one.last >= first)


def _answer(history: History, call: Episode, results: Sequence[Inspection]) -> Answer:
    swap = next((one for one in history.swaps if one.called is not None and one.called == call), None)
    seen = {one.part: False for one in results if call.early_edge <= one.part.shot <= call.last}
    for one in results:
        if one.part in seen and one.bad:
            seen[one.part] = True
    bad = sum(seen.values())
    answer, ground = _said(call, swap, len(seen), bad)
    at = None if swap is None else swap.at_shot
    lag = None if at is None else at - (call.swap_at or call.first)
    return Answer(call.insert, call.first, at, lag, len(seen), bad, answer, ground)


def _said(call: Episode, swap: Swap | None, looked_at: int, bad: int) -> tuple[str, str]:
    """Return the answer and its ground: a bad part first, then the swap, then sound parts, then a withdrawal."""
    if bad:
        return "confirmed", f"{bad} of {looked_at} parts looked at were bad"
    if swap is not None and swap.outcome == "came back":
        return "confirmed", "the swap brought the level back"
    if swap is not None and swap.outcome == "stayed":
        return "not this insert", "the swap left the level where it was"
    if looked_at:
        return "nothing found", f"{looked_at} parts made since were looked at, none of them bad"
    if swap is not None and swap.outcome == "nothing had moved":
        return "nothing found", "no level had moved before the swap"
    if call.withdrawn:
        return "open", "withdrawn by itself; no part made meanwhile was looked at"
    return "open", "no part made since was looked at" + ("" if swap is None else f"; the swap: {swap.outcome}")
