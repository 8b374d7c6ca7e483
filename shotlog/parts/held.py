"""The parts of a press that are held now, in blocks of shots, and which of them tell most when they are looked at."""

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from shotlog.parts.part import Part
from shotlog.parts.standing import Decision, Ground

__all__ = ["HeldBlock", "HeldNow", "held_now"]


@dataclass(frozen=True, slots=True)
class HeldBlock:
    """Held parts of shots `first` to `last` without a shot between that has none."""

    first: int
    last: int
    n_parts: int


@dataclass(frozen=True, slots=True)
class HeldNow:
    """What is held: how many parts, in which blocks, in order, and which shots to look at first.

    `look_first` is empty where somebody has looked at all that are held.
    """

    n_parts: int
    blocks: tuple[HeldBlock, ...]
    look_first: tuple[int, ...]

    @property
    def first(self) -> int:
        """The first shot of all of which a part is held."""
        return self.blocks[0].first


def held_now(
    stands: Iterable[tuple[Part, Ground]],
    made_before: Callable[[int], int | None],
    looked_at: Container[int],
    decided: Sequence[Decision],
) -> HeldNow | None:
    """Return what is held of parts given in order of shot; None where nothing is.

    The last part before the newest run of held ones and the first in it tell most: whether what is feared began where
    it was thought to begin. Whom nobody has to look at any more is left out: what was inspected, released or scrapped,
    and the one before where it is known to be good.

    Parameters
    ----------
    made_before
        Gives the last shot before one that made a part; None for none. What was never made parts no run.
    looked_at
        The shots of which a part was inspected.
    decided
        What people decided of parts.
    """
    blocks: list[HeldBlock] = []
    known: set[int | None] = set()
    for part, ground in stands:
        if ground.state != "held":
            continue
        known.update(doubt.last_good for doubt in ground.against)
        if blocks and part.shot - blocks[-1].last <= 1:
            blocks[-1] = HeldBlock(blocks[-1].first, part.shot, blocks[-1].n_parts + 1)
        else:
            blocks.append(HeldBlock(part.shot, part.shot, 1))
    if not blocks:
        return None
    look: tuple[int, ...] = ()
    for first, shots in _runs(blocks, made_before):
        held = next((shot for shot in shots if shot not in looked_at), None)
        if held is None:
            continue
        before = made_before(first)
        if (
            before is None
            or before in known
            or before in looked_at
            or any(one.first <= before <= one.last for one in decided)
        ):
            look = (held,)
        else:
            look = before, held
        break
    return HeldNow(sum(one.n_parts for one in blocks), tuple(blocks), look)


def _runs(blocks: Sequence[HeldBlock], made_before: Callable[[int], int | None]) -> Iterator[tuple[int, Iterable[int]]]:
    """Yield the first shot and all of each run of held parts, the newest run first."""
    end = len(blocks)
    while end:
        start = end - 1
        while start and made_before(blocks[start].first) == blocks[start - 1].last:
            start -= 1
        yield blocks[start].first, chain.from_iterable(range(one.first, one.last + 1) for one in blocks[start:end])
        end = start
