"""What became of each call: whether somebody acted on it, how soon, and what was found.

A call is an assertion that can be held against what came after: the swap it led to, and the parts that were looked at.
Until one of them speaks it is open, and it is counted as such.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shotlog.parts.inspection import Inspection
from shotlog.review.episodes import Episode
from shotlog.review.history import History
from shotlog.review.showed import swap_that_showed, was
from shotlog.review.swaps import Swap

__all__ = ["ANSWERS", "Answer", "answers_of"]

ANSWERS = ("confirmed", "not this insert", "the insert after all", "nothing found", "open")
"""Every answer. The first three say that there was a change. ``not this insert``: it was laid to the wrong one; ``the
insert after all``: it was laid to the material or the press, and went with an insert."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of the call that began at shot `first`; `insert`: whose change it was, as far as a swap has shown it,
    else the one that it was called on.

    `acted_at`: the shot before which that insert was swapped for it, `lag` shots after the call; None where nobody did,
    and where the call was laid to something else. `lag` is None where the call came after the swap. `n_bad` of the
    `n_looked_at` parts made since its onset were bad. `ground`: in words. `out_at`: the shot before which that insert
    came out since the onset, for whatever reason. `withdrawn`: the call was taken back while its insert was in.
    """

    insert: str
    first: int
    acted_at: int | None
    lag: int | None
    n_looked_at: int
    n_bad: int
    answer: str
    ground: str
    out_at: int | None = None
    withdrawn: bool = False


def answers_of(history: History, results: Sequence[Inspection], first: int = 0) -> tuple[Answer, ...]:
    """Return what became of the calls of a press that reach to shot `first` or later, in order."""
    return tuple(_answer(history, one, results) for one in history.episodes if one.last >= first)


def _answer(history: History, call: Episode, results: Sequence[Inspection]) -> Answer:
    swap = swap_that_showed(call, history.swaps)
    seen = {one.part: False for one in results if call.early_edge <= one.part.shot <= call.last}
    for one in results:
        if one.part in seen and one.bad:
            seen[one.part] = True
    bad = sum(seen.values())
    answer, ground = _said(call, swap, len(seen), bad)
    insert = was(call, swap)
    at = swap.at_shot if swap is not None and swap.out == insert and not _elsewhere(call) else None
    lag = None if at is None or at <= call.first else at - (call.swap_at or call.first)
    out = next((one.at_shot for one in history.swaps if one.out == insert and one.at_shot > call.early_edge), None)
    return Answer(insert, call.first, at, lag, len(seen), bad, answer, ground, out, call.withdrawn)


def _said(call: Episode, swap: Swap | None, looked_at: int, bad: int) -> tuple[str, str]:
    """Return the answer and its ground: a bad part first, then the swap, then sound parts, then a withdrawal."""
    if bad:
        return "confirmed", f"{bad} of {looked_at} parts looked at were bad"
    if swap is not None and swap.outcome in ("came back", "stayed"):
        told = _by_swap(call, swap)
        if told is not None:
            return told
    if looked_at:
        return "nothing found", f"{looked_at} parts made since were looked at, none of them bad"
    if swap is not None and swap.outcome == "nothing had moved":
        return "nothing found", "no level had moved before the swap"
    if call.withdrawn:
        return "open", "withdrawn by itself; no part made meanwhile was looked at"
    return "open", "no part made since was looked at" + ("" if swap is None else f"; the swap: {swap.outcome}")


def _elsewhere(call: Episode) -> bool:
    """Whether a call was laid to something that no swap mends."""
    return call.group not in ("", "insert")


def _by_swap(call: Episode, swap: Swap) -> tuple[str, str] | None:
    """Return what a swap that told something says of a call; None where it was another insert's, and told nothing."""
    own, back = swap.out == call.insert, swap.outcome == "came back"
    which = "the swap" if own else f"the swap of {swap.out}"
    if _elsewhere(call):
        if back:
            return "the insert after all", f"it was laid to the {call.group}, and {which} brought the level back"
        return "confirmed", f"it was laid to the {call.group}, and {which} left the level where it was"
    if back:
        if own or swap.out in call.pointed:
            return "confirmed", f"{which} brought the level back"
        return "not this insert", f"called on {call.insert or 'none on record'}; {which} brought the level back"
    return ("not this insert", f"{which} left the level where it was") if own else None
