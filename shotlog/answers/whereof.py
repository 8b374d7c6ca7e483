"""Where the held parts of a press are, and which of its parts are overdue: what has to be fetched or put aside."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from shotlog.parts.part import Part
from shotlog.parts.standing import Ground
from shotlog.parts.where import Whereabouts
from shotlog.store.parts.places import WhereIs
from shotlog.wording.where import bath_named

__all__ = ["NOWHERE", "Whereof", "whereof"]

NOWHERE = ""
"""Where parts are of which nobody has said where they are."""


@dataclass(frozen=True, slots=True)
class Whereof:
    """Where the held parts of a press are, by place, and how many of its parts are overdue somewhere.

    `loose`: those of which nobody has said where they are, and that nobody has set aside by a word of their own.
    """

    places: Mapping[str, int]
    loose: int
    overdue: int


def whereof(press: str, held: Sequence[tuple[Part, Ground]], where: WhereIs, now: datetime) -> Whereof:
    """Return where the held parts of a press are; `held`: each with how it stands."""
    found = [(ground, _named(where.of(part))) for part, ground in held]
    places = Counter(at for _, at in found)
    loose = sum(at == NOWHERE and not _set_aside(ground) for ground, at in found)
    due = [one.due for one in where.soaking if one.part.press == press]
    put = [place for place in where.places if place.press == press and place.due is not None and place.due < now]
    late = {part for place in put for part in where.still_at(place)}
    return Whereof(dict(places), loose, sum(one < now for one in due) + len(late))


def _named(at: Whereabouts | None) -> str:
    if at is None or at.how == "out of bath":
        return NOWHERE
    return bath_named(at.name) if at.how == "in bath" else at.name


def _set_aside(ground: Ground) -> bool:
    """Whether a person holds a part by a word of their own, and nothing newer does."""
    return ground.decision is not None and not ground.again
