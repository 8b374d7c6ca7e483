"""The parts of a press that are held now, in blocks of shots, and which of them tell most when they are looked at."""

from collections.abc import Iterable
from dataclasses import dataclass

from shotlog.parts.part import Part
from shotlog.parts.standing import Ground

__all__ = ["HeldBlock", "HeldNow", "held_now"]


@dataclass(frozen=True, slots=True)
class HeldBlock:
    """Held parts of shots `first` to `last` without a shot between that has none; `good_before`: the shot before the
    first is known to be good.
    """

    first: int
    last: int
    n_parts: int
    good_before: bool = False


@dataclass(frozen=True, slots=True)
class HeldNow:
    """What is held: how many parts, in which blocks, in order, and which shots to look at first."""

    n_parts: int
    blocks: tuple[HeldBlock, ...]
    look_first: tuple[int, ...]

    @property
    def first(self) -> int:
        """The first shot of all of which a part is held."""
        return self.blocks[0].first


def held_now(stands: Iterable[tuple[Part, Ground]], first_shot: int) -> HeldNow | None:
    """Return what is held of parts given in order of shot; None where nothing is. `first_shot`: the first ever made.

    The last part before the newest block and the first in it tell most: whether what is feared began where it was
    thought to begin. The one before is left out where it is known to be good, or was never made.
    """
    blocks: list[HeldBlock] = []
    for part, ground in stands:
        if ground.state != "held":
            continue
        if blocks and part.shot - blocks[-1].last <= 1:
            blocks[-1] = HeldBlock(blocks[-1].first, part.shot, blocks[-1].n_parts + 1, blocks[-1].good_before)
        else:
            good = any(doubt.last_good == part.shot - 1 for doubt in ground.against)
            blocks.append(HeldBlock(part.shot, part.shot, 1, good))
    if not blocks:
        return None
    newest = blocks[-1]
    before = () if newest.good_before or newest.first <= first_shot else (newest.first - 1,)
    return HeldNow(sum(one.n_parts for one in blocks), tuple(blocks), (*before, newest.first))
