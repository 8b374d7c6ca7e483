"""The parts of a press that are held, of a log of any length: what speaks against them, and what people decided since.

What speaks against parts is worked out from every verdict of a press; beyond some weeks of shots that takes long, and
what was let go whole is passed over (`undecided`).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shotlog.parts.against import by_found
from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.found import FoundWrong
from shotlog.parts.held import HeldNow
from shotlog.parts.part import Part
from shotlog.parts.standing import Decision, Ground, by_shot, ground
from shotlog.review.states import counted_through
from shotlog.settings import DesignSettings
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions, held_among
from shotlog.store.parts.doubts import said_of_parts
from shotlog.store.parts.found import found_on
from shotlog.store.parts.parts import parts_of_shots
from shotlog.store.parts.undecided import holding_doubts, undecided_doubts

__all__ = ["NEAR", "PressDoubts", "doubts_of", "held_on", "held_with_parts", "still_held"]

NEAR = 20_000
"""Up to so many shots, what speaks against parts is worked out within the answer; beyond, apart."""

LIFTED = 60
"""Calls of a press of which it is shown what they name no more, the newest ones."""


@dataclass(frozen=True, slots=True)
class PressDoubts:
    """What speaks against parts of a press, all of it, the newest last.

    `parts`: those of the shots it speaks of, in order. `lifted`: what calls once named and none names any more, the
    newest. `dry`: shots that made no part.
    """

    press: str
    doubts: tuple[Doubt, ...]
    parts: tuple[Part, ...]
    lifted: tuple[Lifted, ...]
    dry: frozenset[int]


def doubts_of(log: Log, press: str, designs: Mapping[str, DesignSettings], long: int = NEAR) -> PressDoubts:
    """Return what speaks against the parts of one press; of one with more than `long` shots, of those that may be held
    still.
    """
    timeline, newest = log.timeline(press), counted_through(log, press)
    if newest <= long:
        speaking, lifted = said_of_parts(log, press, timeline=timeline, designs=designs)
    else:
        speaking, lifted = undecided_doubts(log, press, newest, timeline, designs)
    shots = {shot for doubt in speaking for shot in range(doubt.first, doubt.last + 1)}
    return PressDoubts(
        press,
        tuple(sorted(speaking, key=lambda doubt: (doubt.last, doubt.first))),
        tuple(parts_of_shots(log, press, designs, shots, timeline)),
        tuple(lifted[-LIFTED:]),
        frozenset(timeline.dry_shots),
    )


def still_held(against: PressDoubts, decided: Sequence[Decision]) -> list[tuple[Part, Ground]]:
    """Return the held parts of a press, in order, with how each stands."""
    parts = set(against.parts)
    for one in decided:
        if one.decision == "held":
            parts.update(Part(against.press, shot, one.cavity or 1) for shot in range(one.first, one.last + 1))
    shots = {part.shot for part in parts}
    doubts, said = by_shot(against.doubts, shots), by_shot(decided, shots)
    ordered = sorted(parts, key=lambda part: (part.shot, part.cavity))  # of one press, and quicker than part by part
    stands = ((part, ground(part, doubts.get(part.shot, ()), said.get(part.shot, ()))) for part in ordered)
    return [(part, one) for part, one in stands if one.state == "held"]


def held_on(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    timeline: Timeline | None = None,
    found: Sequence[FoundWrong] | None = None,
) -> HeldNow | None:
    """Return what is held of a press in blocks of shots, and what to inspect first; None where nothing is.

    `timeline`, `found`: as for `held_with_parts`.
    """
    return held_with_parts(log, press, designs, timeline, found)[0]


def held_with_parts(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    timeline: Timeline | None = None,
    found: Sequence[FoundWrong] | None = None,
) -> tuple[HeldNow | None, list[tuple[Part, Ground]]]:
    """Return what `held_on` returns, and each held part with how it stands.

    `timeline`, `found`: those of the press, all of them, where they have been read already.
    """
    timeline = log.timeline(press) if timeline is None else timeline
    found = found_on(log, press, timeline, designs) if found is None else found
    decided = decisions(log, press)
    doubts, shots = holding_doubts(log, press, decided, by_found(press, found), designs)
    parts = parts_of_shots(log, press, designs, shots, timeline)
    against = PressDoubts(press, tuple(doubts), tuple(parts), (), frozenset(timeline.dry_shots))
    stands = still_held(against, decided)
    return held_among(log, press, stands, decided, against.dry), stands
