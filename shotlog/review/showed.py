"""Which swap showed whose change it was that a call spoke of: the one answer that every list of calls gives."""

from collections.abc import Sequence

from shotlog.review.episodes import Episode
from shotlog.review.swaps import Swap

__all__ = ["swap_that_showed", "was"]


def swap_that_showed(call: Episode, swaps: Sequence[Swap]) -> Swap | None:
    """Return the swap that told of a call, None where none did.

    The one made while it stood, that of its own insert first. A call that was withdrawn soon after a swap, and whose
    change began before it, was answered by that swap as well where the level came back: it takes some shots to see.
    """
    stood = [one for one in swaps if one.called is not None and one.called == call]
    own = next((one for one in stood if one.out == call.insert), None)
    if stood:
        return own or stood[0]
    began = call.first if call.onset is None else call.onset
    back = [one for one in swaps if one.outcome == "came back" and began < one.at_shot <= call.last + 1]
    return back[-1] if back and call.withdrawn else None


def was(call: Episode, swap: Swap | None) -> str:
    """Return the insert whose change it was, as far as a swap told; else the one it was called on."""
    return swap.out if swap is not None and swap.outcome == "came back" else call.insert
