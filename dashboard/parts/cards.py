"""The held parts as the page of parts lists them: one entry, with one set of buttons, for each main reason.

They are grouped as the report groups its decisions to take (see `shotlog.review.held`): a person decides once on parts
that are held for one thing, whatever else speaks against some of them, which is told beneath.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from shotlog.parts.doubt import Since
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import Decision, Ground, PartStanding
from shotlog.review.held import HeldGroup, HeldGroups
from shotlog.review.still_held import PressDoubts, still_held
from shotlog.wording.parts import decision_text, doubt_text, doubts_text

__all__ = ["HeldCard", "held_cards"]

Span = tuple[int, int]
"""First and last shot, both included."""

_LET_GO = Ground("made", (), None, False)


@dataclass(frozen=True, slots=True)
class HeldCard:
    """Parts of a press that are held for one main reason, `why`.

    `spans`: their shots, unbroken runs in order; `cavities`: those meant, empty where all are. `besides`: what else
    speaks against some of them; `far_out`: those of them that lay far out alone as well. `since`: when the newest of it
    was known; `again`: they had been released, and newer evidence holds them again.
    """

    press: str
    spans: tuple[Span, ...]
    cavities: tuple[int, ...]
    n_parts: int
    why: str
    besides: tuple[str, ...]
    far_out: tuple[int, ...]
    since: datetime | None
    again: bool

    @property
    def first(self) -> int:
        """The first shot."""
        return self.spans[0][0]

    @property
    def named(self) -> str:
        """The parts as a person names them (``30-41, 93``), each cavity by itself where not all are meant."""
        shots = [f"{first}" if first == last else f"{first}-{last}" for first, last in self.spans]
        return ", ".join(f"{one}/{cavity}" if cavity else one for one in shots for cavity in self.cavities or (0,))


def held_cards(against: PressDoubts, decided: Sequence[Decision]) -> list[HeldCard]:
    """Return the held parts of a press, the newest first, by the rule of `shotlog.parts.standing`."""
    held = dict(still_held(against, decided))
    groups = HeldGroups()
    for part in sorted({*against.parts, *held}, key=lambda one: (one.shot, one.cavity)):
        # What made it is not asked here; one that is not held is told for its cavity, so that a span means all or some.
        groups.take(PartStanding(MadePart(part, None, {}, "", ""), held.get(part, _LET_GO), ()))
    known: dict[int, list[tuple[int, Since]]] = {}
    for part, one in held.items():
        moment = _known(part, one)
        if moment is not None:
            known.setdefault(part.shot, []).append((part.cavity, moment))
    return sorted((_card(one, known) for one in groups.found), key=lambda one: one.spans[-1][1], reverse=True)


def _known(part: Part, stands: Ground) -> Since | None:
    known = [doubt.since[part.shot] for doubt in stands.against]
    if stands.decision is not None and not stands.again:
        known.append(Since(stands.decision.place, stands.decision.time))
    return max(known, default=None)


def _card(one: HeldGroup, known: Mapping[int, Sequence[tuple[int, Since]]]) -> HeldCard:
    """Return the entry of a group; `known`: of each shot by cavity, when the newest that holds the part was known."""
    since = [
        moment
        for first, last in one.spans
        for shot in range(first, last + 1)
        for cavity, moment in known.get(shot, ())
        if cavity in (one.cavities or (cavity,))
    ]
    said = [doubt_text(one.against[0])] if one.against else []
    said += [] if one.decision is None else [decision_text(one.decision)]
    far = [doubt for doubt in one.against[1:] if doubt.far is not None]
    besides = doubts_text([doubt for doubt in one.against[1:] if doubt.far is None])
    return HeldCard(
        one.press, one.spans, one.cavities, one.n, "; ".join(said), tuple(besides),
        tuple(sorted({doubt.first for doubt in far})), max(since).time if since else None, one.again,
    )  # fmt: skip
