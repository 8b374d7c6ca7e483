"""Which parts to inspect first: those that tell most, of all that nobody has looked at yet.

On either side of each onset, where the change is there or is not; the first after each swap, which shows what the swap
mended; the farthest values and the last of a span, which show how bad it got. Of a span that is held for what people
found, the first and the one midway: wear goes one way, so each of them halves the search. Those that speak of most
parts come first, of equals the newest.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shotlog.parts.inspection import Inspection
from shotlog.review.held import HeldGroup
from shotlog.review.suspects import Suspects
from shotlog.review.swaps import Swap

__all__ = ["ToInspect", "inspect_first"]

_EITHER_SIDE, _AFTER_SWAP, _REST = range(3)
"""How soon a part is worth looking at."""


@dataclass(frozen=True, slots=True)
class ToInspect:
    """The part of a shot that is worth inspecting, why, and in which round: 0 tells most."""

    shot: int
    why: tuple[str, ...]
    round: int


def inspect_first(
    suspects: Sequence[Suspects],
    held: Sequence[HeldGroup],
    swaps: Sequence[Swap],
    results: Sequence[Inspection],
    seen: set[int],
) -> tuple[ToInspect, ...]:
    """Return the parts to inspect, those that tell most first, each once; of shots `seen` and not looked at yet."""
    looked_at = {one.part.shot for one in results}
    why: dict[int, list[str]] = {}
    rounds: dict[int, int] = {}
    for turn, shot, said in sorted(_wanted(suspects, held, swaps), key=lambda one: one[0]):
        if shot in seen and shot not in looked_at:
            rounds.setdefault(shot, turn)
            if said not in why.setdefault(shot, []):
                why[shot].append(said)
    return tuple(ToInspect(shot, tuple(said), rounds[shot]) for shot, said in why.items())


def _wanted(
    suspects: Sequence[Suspects], held: Sequence[HeldGroup], swaps: Sequence[Swap]
) -> Iterator[tuple[int, int, str]]:
    for group in sorted(held, key=lambda one: (-one.n, -one.last)):
        if group.by_people and group.first < group.last:
            serial = group.against[0].serial
            yield _EITHER_SIDE, group.first, f"{serial}: first of those held for what was found"
            yield _EITHER_SIDE, group.midway, f"{serial}: midway among those held for what was found"
    for one in sorted(suspects, key=lambda one: (-one.parts.held, -one.last)):
        if not one.parts.held:
            continue
        about = f"{one.insert}: " if one.insert else ""
        for n, look in enumerate(one.look_first):
            for why in look.why.split("; "):
                yield _EITHER_SIDE if n < 2 else _REST, look.shot, f"{about}{why}"
    for swap in reversed(swaps):
        yield (
            _AFTER_SWAP,
            swap.at_shot,
            f"first after the swap of {swap.out}" + (f" for {swap.into}" if swap.into else ""),
        )
