"""Which parts are in doubt and why: since the early edge of each change that was called, and what people found.

In doubt is what the log holds by itself until a person decides, and nothing else (see `parts.doubt`); this says over
which shots, how they stand by now, and which to look at first. A change that outlives a swap is called again on the
next insert, since the same shot: the spans then are one. A call that was withdrawn leaves its parts to be decided on.
No part is in two spans: what people found is told of the parts that no call holds, and of those the first thing found.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from shotlog.channels import ALWAYS_CHARTED
from shotlog.entries import KINDS
from shotlog.parts.doubt import Doubt
from shotlog.parts.inspection import Inspection
from shotlog.review.costs import PartCounts
from shotlog.review.episodes import Episode
from shotlog.review.history import History
from shotlog.wording.numbers import label
from shotlog.wording.parts import doubt_text

__all__ = ["FirstLook", "Suspects", "found_bad", "suspects_of"]

_EARLIER = 10
_ENDED = {
    "came back": "brought the level back",
    "stayed": "left the level where it was: what came after is held only where it was called again",
    "not resolved": "ended it (not resolved)",
    "nothing had moved": "ended it (nothing had moved)",
}
"""What is said of the swap that a span ended with, by what it showed."""

CountsOf = Callable[[int, int], PartCounts]


@dataclass(frozen=True, slots=True)
class FirstLook:
    """A part worth looking at before the others, and why."""

    shot: int
    why: str


@dataclass(frozen=True, slots=True)
class Suspects:
    """Parts of shots `first` to `last`, both included, in doubt because of `insert`, and how they stand.

    `onset` is the latest estimate, with its interval. `n_missed` shots of them were never seen. `because`: what was
    said of the change on the day, or what people found; `bad`: the result, where an inspection is the reason.
    `ended_by` says why the span ends. `earlier`: how many more parts it would be, were the onset ten shots earlier, and
    `earlier_cost` what they cost if all were bad. `called`: for a change that was called; else for what people
    found or a shot far out, which has no onset.
    """

    press: str
    insert: str
    first: int
    last: int
    onset: int
    onset_low: int
    onset_high: int
    parts: PartCounts
    n_missed: int
    because: str
    ended_by: str
    withdrawn: bool
    look_first: tuple[FirstLook, ...]
    earlier: int
    earlier_cost: float | None
    bad: Inspection | None = None
    called: bool = True

    @property
    def reason(self) -> str:
        """Why, in words: what was said of the change, or what people found."""
        return self.because


@dataclass(frozen=True, slots=True)
class _Span:
    episode: Episode
    first: int
    last: int
    ended_by: str


def suspects_of(
    history: History, doubts: Sequence[Doubt], costs: Mapping[str, Mapping[str, float]], count: CountsOf
) -> tuple[Suspects, ...]:
    """Return the spans of a press in order, overlapping ones joined.

    A span begins where the log begins to hold: at the early edge of the onset in force (see `parts.doubt`).

    Parameters
    ----------
    doubts
        What the log holds parts for.
    costs
        The configured costs by serial of the insert judged.
    count
        Says how the parts of shots first to last stand.
    """
    joined: list[_Span] = []
    for span in sorted((_span(history, one, doubts) for one in history.episodes), key=lambda one: one.first):
        before = joined[-1] if joined else None
        if before is not None and span.first <= before.last and span.episode.withdrawn == before.episode.withdrawn:
            late = span if span.last >= before.last else before
            joined[-1] = _Span(before.episode, before.first, late.last, late.ended_by)
        elif before is None or span.first > before.last:
            joined.append(span)
        elif span.last > before.last:
            joined.append(replace(span, first=before.last + 1))
    return tuple(_suspects(history, span, costs.get(span.episode.insert, {}), count) for span in joined)


def found_bad(
    history: History, doubts: Sequence[Doubt], count: CountsOf, called: Sequence[Suspects] = ()
) -> tuple[Suspects, ...]:
    """Return the spans in doubt because of what people found, or a shot lay far out, and of no span in `called`."""
    found: list[Suspects] = []
    told = [(one.first, one.last) for one in called]
    for doubt in sorted((one for one in doubts if one.basis != "verdict"), key=_as_told):
        for first, last in _left(doubt.first, doubt.last, told):
            whole = bool(doubt.serial) and doubt.wrong is not None
            ended = "what was found, or the insert's stay" if whole else "this part alone"
            place = (doubt.press, doubt.serial, first, last, first, first, first)
            parts, missed = count(first, last), _missed(history, first, last)
            found.append(
                Suspects(*place, parts, missed, doubt_text(doubt), ended, False, (), 0, None, doubt.bad, False)
            )
            told.append((first, last))
    return tuple(sorted(found, key=lambda one: one.first))


def _as_told(doubt: Doubt) -> tuple[int, int]:
    """Order what was found: of one part before what is held with it, then by the order of the log."""
    return min(1, len(doubt.since) - 1), min((known.place for known in doubt.since.values()), default=0)


def _left(first: int, last: int, taken: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return what is left of shots `first` to `last` without spans that are taken."""
    spans, at = [], first
    for low, high in sorted(one for one in taken if one[0] <= last and one[1] >= first):
        if low > at:
            spans.append((at, low - 1))
        at = max(at, high + 1)
    return [*spans, *([(at, last)] if at <= last else [])]


def _span(history: History, episode: Episode, doubts: Sequence[Doubt]) -> _Span:
    """Return an episode with its first and last shot in doubt, as they are held, and why the span ends."""
    held = [one for one in doubts if one.basis == "verdict" and episode.first <= one.last <= episode.last]
    first = min((one.first for one in held), default=episode.early_edge)
    return _Span(episode, first, episode.last, _ended_by(history, episode))


def _ended_by(history: History, episode: Episode) -> str:
    if episode.withdrawn and (sound := _found_sound(history, episode)) is not None:
        return f"the insert was found sound at shot {sound}"
    if episode.withdrawn and not episode.cause and episode.limits:
        names = ", ".join(label(name).lower() for name in episode.limits)
        return f"within its limits again after shot {episode.last}: {names}"
    if episode.withdrawn and not episode.cause:
        return f"nothing spoke against the insert after shot {episode.last}"
    if episode.withdrawn:
        return f"the call was withdrawn after shot {episode.last}"
    for swap in history.swaps:
        if swap.at_shot > episode.last:
            return f"the swap of {swap.out} at shot {swap.at_shot} {_ENDED[swap.outcome]}"
    return "it still ran at the last shot"


def _found_sound(history: History, episode: Episode) -> int | None:
    """Return the shot at which a person found the insert sound and so ended an episode, None where nobody did."""
    noted = [row.event for row in history.record.entries if not row.taken_back]
    ends = range(episode.last, episode.last + 2)
    return next((one.at_shot for one in noted if KINDS[one.kind].effect.sound and one.at_shot in ends), None)


def _missed(history: History, first: int, last: int) -> int:
    return sum(max(0, min(gap.last, last) - max(gap.first, first) + 1) for gap in history.record.gaps)


def _suspects(history: History, span: _Span, costs: Mapping[str, float], count: CountsOf) -> Suspects:
    episode, stretch = span.episode, history.record.stretch_at(span.first)
    earlier = min(_EARLIER, span.first - stretch.first) if stretch is not None else 0
    each = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    onset = episode.first if episode.onset is None else episode.onset
    return Suspects(
        episode.press,
        episode.insert,
        span.first,
        span.last,
        onset,
        min(onset, episode.onset_low or onset),
        max(onset, episode.onset_high or onset),
        count(span.first, span.last),
        _missed(history, span.first, span.last),
        episode.sentence,
        span.ended_by,
        episode.withdrawn,
        _look_first(history, onset, span.first, span.last),
        earlier,
        count(span.first - earlier, span.first - 1).made * each if each > 0 else None,
    )


def _look_first(history: History, onset: int, first: int, last: int) -> tuple[FirstLook, ...]:
    """Return the parts that tell most, in order: around the onset, the ends, the extremes."""
    record = history.record
    seen = set(record.shots[record.rows(first - 1, last + 1)].tolist())
    wanted = [
        FirstLook(onset, "first after the estimated onset"),
        FirstLook(first - 1, "last before the early edge, should be sound"),
        FirstLook(last, "last of the span"),
        FirstLook(last + 1, "first after the span"),
        *_extremes(history, first, last),
    ]
    told: dict[int, str] = {}
    for one in wanted:
        if one.shot in seen:
            told[one.shot] = f"{told[one.shot]}; {one.why}" if one.shot in told else one.why
    return tuple(FirstLook(shot, why) for shot, why in told.items())


def _extremes(history: History, first: int, last: int) -> list[FirstLook]:
    record, found = history.record, []
    stretch = record.stretch_at(first)
    for channel in ALWAYS_CHARTED:
        if channel not in record.channels or stretch is None:
            continue
        _, sound = record.settled(channel, stretch.first, first - 1)
        shots, values = record.column(channel, first, last)
        if len(sound) and len(values):
            far = int(abs(values - float(sound.mean())).argmax())
            found.append(FirstLook(int(shots[far]), f"farthest from the level in {label(channel).lower()}"))
    return found
