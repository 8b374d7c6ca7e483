"""Words for parts and lives: what was found, what speaks against a part, how it stands, how a life ended."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from shotlog.parts.bath import OutOfRange
from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.far import FarOut
from shotlog.parts.inspection import Inspection
from shotlog.parts.standing import Decision, PartStanding
from shotlog.parts.told import NOTE, TAKEN_OUT, Wrong
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import label, shots

__all__ = [
    "bad_text",
    "by_hand",
    "decision_text",
    "doubt_text",
    "doubts_text",
    "ending_text",
    "factor_named",
    "far_text",
    "held_text",
    "life_end",
    "life_text",
    "lifted_text",
    "none_good",
    "result_text",
    "seen_by",
    "swap_showed",
    "who_found",
    "why_out",
    "why_stands",
    "wrong_text",
]


def why_out(reason: str, replaced_by: str) -> str:
    """Return why an insert came out: what a person said, else what took its place, empty where nothing is known."""
    return reason or (f"replaced by {replaced_by}" if replaced_by else "")


def result_text(result: Inspection) -> str:
    """Return what an inspection found, with the tolerance a value was held against."""
    if result.value is None:
        return result.finding or "looked at, nothing found"
    low, high = ("" if end is None else f"{end:g}" for end in (result.low, result.high))
    words = f"{result.quantity} {result.value:g} {result.unit}"
    if low or high:
        words += f", tolerance {f'{low} to {high}'.strip()}: {'OUT' if result.out_of_tolerance else 'within'}"
    return f"{words}; {result.finding}" if result.finding else words


def bad_text(serial: str, bad: Inspection) -> str:
    """Return why a bad part holds parts: itself, or where a `serial` is given, those made on that insert."""
    if serial:
        return f"made on {serial}, which made a bad part ({bad.part})"
    return f"inspection of {bad.part}: {result_text(bad)}"


def doubt_text(doubt: Doubt) -> str:
    """Return what speaks against parts."""
    if doubt.wrong is not None:
        return f"{_wrong_text(doubt.wrong, doubt.serial)}{_since_good(doubt)}"
    if doubt.far is not None:
        return far_text(doubt.far)
    cause = f", {doubt.cause}" if doubt.cause else ""
    if doubt.limits:
        cause += f", limit passed: {', '.join(label(name).lower() for name in doubt.limits)}"
    if doubt.found:
        cause += f", seen: {doubt.found}"
    onset = "" if doubt.onset is None else f", onset {doubt.onset}"
    said = f"{doubt.verdict} at shot {doubt.last} on {doubt.serial or 'no insert on record'}{cause}{onset}"
    if doubt.edge_onset is not None and doubt.now_from is not None and doubt.now_from > doubt.first:
        said += f"; held from {doubt.first} as dated at shot {doubt.edge_by}, onset {doubt.edge_onset}"
        said += f"; dated from {doubt.now_from} on since"
    return f"{said}{_shown(doubt)}"


def _shown(doubt: Doubt) -> str:
    """Return what a swap has shown since of the change a call spoke of, empty where none has."""
    if doubt.showed is None:
        return ""
    was = "was" if doubt.showed.outcome == "confirmed" else "was not"
    return f"; since then: the swap at shot {doubt.showed.at_shot} showed it {was} {doubt.showed.insert}"


def doubts_text(against: Sequence[Doubt]) -> list[str]:
    """Return what speaks against parts, each once; of what was found on one insert the newest, for it holds as much."""
    newest = {one.serial: one for one in sorted(against, key=_told_at) if one.wrong is not None and one.serial}
    shown = [one for one in against if one.wrong is None or not one.serial or one is newest[one.serial]]
    return [doubt_text(one) for one in shown]


def _told_at(doubt: Doubt) -> int:
    return 0 if doubt.wrong is None else doubt.wrong.place


def who_found(wrong: Wrong) -> str:
    """Return on which half something was found and by whom, as far as people said, after a comma each."""
    half = f", {half_named(wrong.half)}" if wrong.half else ""
    return f"{half}, by {wrong.initials}" if wrong.initials else half


def _wrong_text(wrong: Wrong, serial: str) -> str:
    if wrong.bad is not None:
        return bad_text(serial, wrong.bad) + who_found(wrong)
    if wrong.basis == TAKEN_OUT:
        return f"made on {serial}, taken out after shot {wrong.shot}: {wrong.text}"
    if wrong.basis == NOTE:
        return f"noted: {wrong.text}{who_found(wrong)}"
    if serial:
        return f"made on {serial}, on which was seen at shot {wrong.shot}: {wrong.text}{who_found(wrong)}"
    return f"seen: {wrong.text}{who_found(wrong)}"


def _since_good(doubt: Doubt) -> str:
    """Return since when parts of an insert are held."""
    own = doubt.wrong is not None and not doubt.serial and doubt.first == doubt.last == doubt.wrong.shot
    if own or doubt.wrong is None:
        return ""
    if doubt.last_good is not None:
        return f"; held since the last known good one, shot {doubt.last_good}"
    if doubt.first > doubt.wrong.shot:
        return "; it was put back since"
    return f"; {none_good(doubt.first, doubt.wrong)}"


def seen_by(wrong: Wrong) -> str:
    """Return what somebody saw and who did, as short as can be."""
    what = wrong.text if wrong.bad is None else result_text(wrong.bad)
    return f"{what}{who_found(wrong)}"


def none_good(first: int, wrong: Wrong) -> str:
    """Return why parts are held from shot `first` on where none before is known to be good.

    Until somebody has answered how far back, a finding goes no further back than its own part (see `parts.found`): that
    nobody was heard yet must not read as the answer that none is known.
    """
    if first < wrong.shot:
        return "none before is known to be good"
    return "nobody has said yet which one before it was good"


def far_text(far: FarOut) -> str:
    """Return why a shot that lay far out alone holds its part."""
    if far.channel is None or far.by is None:
        return f"shot {far.shot} lay far out alone"
    off = f"{label(far.channel).lower()} {abs(far.by):.0f} spreads {'above' if far.by > 0 else 'below'}"
    return f"shot {far.shot} lay far out alone: {off} what was expected"


def lifted_text(lifted: Lifted) -> str:
    """Return what a call once said of parts, and what became of it."""
    dated = "" if lifted.onsets is None else f" with onset {shots(*lifted.onsets)}"
    why = lifted.judged_again or "no reason on record"
    return f"in doubt by {lifted.verdict} at shot {shots(*lifted.calls)}{dated}; judged again: {why}"


def wrong_text(wrong: Iterable[OutOfRange]) -> str:
    """Return what is outside its range in a bath, empty where nothing is."""
    return "; ".join(
        f"{one.quantity} {one.value:g} {one.unit} is {'below' if one.value < one.limit else 'above'} {one.limit:g}"
        for one in wrong
    )


def decision_text(decision: Decision) -> str:
    """Return what a person decided, with the reason where one is given."""
    return f"{decision.decision}: {decision.reason}" if decision.reason else decision.decision


def by_hand(decision: Decision) -> str:
    """Return who holds parts and why, as far as that was said."""
    who = f"held by {decision.initials}" if decision.initials else "held by hand"
    return f"{who}: {decision.reason}" if decision.reason else who


def why_stands(standing: PartStanding) -> str:
    """Return why a part stands as it does, empty where nothing speaks against it and nothing ever did."""
    said = doubts_text(standing.doubts)
    said += [f"no longer {lifted_text(one)}" for one in standing.lifted]
    decided = [] if standing.decision is None else [decision_text(standing.decision)]
    return "; ".join(said + decided if standing.state == "held" else decided + said)


def ending_text(ground: str, reason: str) -> str:
    """Return on what `ground` a life is held to have ended; `reason`: why the insert came out, in a person's words."""
    return _GROUNDS[ground].format(f'"{reason}"')


class _Ended(Protocol):
    """A life with how it ended, as `review.lives.Life` has it."""

    @property
    def ground(self) -> str: ...
    @property
    def reason(self) -> str: ...
    @property
    def people(self) -> str: ...
    @property
    def shots(self) -> str: ...
    @property
    def differ(self) -> bool: ...
    @property
    def called_since(self) -> int | None: ...
    @property
    def unsure(self) -> tuple[int, int]: ...


def life_text(life: _Ended) -> str:
    """Return on what ground a life is held to have ended, and what people and shots say of it where they differ."""
    ground = ending_text(life.ground, life.reason)
    ends = [f"{n:,} {word}" for n, word in zip(life.unsure, ("more", "fewer"), strict=True) if n]
    if ends:
        ground += f"; it may have made up to {' or '.join(ends)}: the size of a gap in it is uncertain"
    if not life.differ:
        return ground
    since = "" if life.called_since is None or life.shots != "gone off" else f" since {life.called_since}"
    said = life.people if life.people != "no finding" else life.reason
    return f"{ground} (people: {said}; shots: {life.shots or 'no change called'}{since})"


class _Over(Protocol):
    @property
    def failed(self) -> bool: ...
    @property
    def mounted(self) -> bool: ...
    @property
    def ground(self) -> str: ...


def factor_named(factor: str) -> str:
    """Return what lives are grouped by, in the words of the screens: an insert's material and what is moulded on it
    share none.

    >>> factor_named("resin family"), factor_named("moulded material"), factor_named("design")
    ('print material', 'resin', 'design')
    """
    return {"resin family": "print material", "moulded material": "resin"}.get(factor, factor)


def life_end(life: _Over) -> str:
    """Return how a life ended in a few words: the same on every page, in the report and on the terminal.

    An insert that nobody looked at is not called sound: nobody knows.
    """
    if life.failed:
        return "gone off, still mounted" if life.mounted else "gone off"
    if life.mounted:
        return "still mounted"
    by_ground = {"found sound": "found sound", "refuted": "not this insert", "laid elsewhere": "not this insert"}
    return by_ground.get(life.ground, "not known to be off")


def swap_showed(outcome: str, out: str) -> str:
    """Return what a swap showed, in the same words everywhere; `out`: the insert that came out."""
    return {
        "came back": f"the level came back with the swap: it was {out}",
        "stayed": f"the level stayed where it was: it was not {out}",
        "nothing had moved": "no level had moved before it",
    }.get(outcome, "what it showed is not resolved")


_GROUNDS = {
    "bad part": "a part made on it was found bad",
    "finding": "a finding was noted on it",
    "damage seen": "damage seen on it: {}",
    "found sound": "looked at and found sound: {}",
    "refuted": "the level stayed where it was with the swap: it was not this insert",
    "confirmed": "a change was called, and the level came back with the swap: it was this insert",
    "called": "a change was called on it",
    "called, mounted": "a change was called on it, still mounted",
    "mounted": "still mounted",
    "laid elsewhere": "a fault seen on its parts while a change laid to the press or the material stood open: {}",
    "fault seen": "a fault seen on its parts: {}",
    "sound": "taken out for another reason: {}",
    "sound, moved": "taken out for another reason: {}; its values had moved and came back with the swap",
    "no damage told": "no word of damage in the reason: {}",
    "nothing told": "nobody said why it was taken out",
}


def held_text(held: int, released: int, scrapped: int, open_: int) -> str:
    """Return how parts stand, in words, leaving out what is none."""
    told = [(held, "held"), (released, "released"), (scrapped, "scrapped"), (open_, "with nothing against them")]
    return ", ".join(f"{n} {word}" for n, word in told if n) or "none"
