"""What speaks against parts by itself, by the one idea of a bad part (see `bad`), and what no longer does.

A verdict other than keep: a change that stands open, a limit passed at the shot, or a finding of people. What people
found, by itself (see `found`). And a shot that lay far out alone (see `far`).

How far back a call holds parts. A call dates its change with an interval, and every further shot dates it anew, mostly
more narrowly. Parts are held from the earliest edge any of its dates ever had: who was told to set a part aside, and
did, must not find it unheld by a later date, and a quarantine is closed by a decision of a person or not at all. The
price is that of the widest of many looks, which a vague first date makes wide; what the call itself dates later now is
said of the part, so that letting it go is one decision. A call that was *withdrawn* leaves its parts held as well,
because whether there was a change at all is for a person to decide. What shots judged again, after an entry in the
past, are no longer said to be is let go by that entry, and stays on show.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from shotlog.facts import SwapFinding
from shotlog.parts.far import FarOut
from shotlog.parts.inspection import Inspection
from shotlog.parts.told import Wrong

__all__ = ["Doubt", "JudgedFrom", "Lifted", "Naming", "Since", "by_call", "by_verdict", "with_shown"]


@dataclass(frozen=True, slots=True, order=True)
class Since:
    """When something was known: its place in the order of the log, which counts, and the time of day, to be shown."""

    place: int
    time: datetime = field(compare=False)


@dataclass(frozen=True, slots=True)
class Naming:
    """A verdict of watch or swap on a shot, which names parts from the early edge of its onset on.

    `judging`: number of the judging it was given under, opened at `judged`; `stands`: no later one covers it. `limits`:
    channels that were beyond an action limit at the shot, which is never kept. `found`: the finding that stood.
    `moulded`: when the shot was made. `after`: the shot stored before it, None for the first of all. `place`: in the
    order of the log.
    """

    shot: int
    insert: str
    verdict: str
    cause: str
    onset: int | None
    onset_low: int | None
    onset_high: int | None
    judging: int
    judged: datetime
    moulded: datetime | None
    after: int | None
    stands: bool
    limits: tuple[str, ...] = ()
    found: str = ""
    place: int = 0

    @property
    def early_edge(self) -> int:
        """The first shot whose part it names."""
        edge = self.onset if self.onset_low is None else self.onset_low
        return self.shot if edge is None else min(edge, self.shot)

    @property
    def said(self) -> Since:
        """When it first spoke against its parts; by the clock not before the shot was made."""
        return Since(self.place, self.judged if self.moulded is None else max(self.judged, self.moulded))


@dataclass(frozen=True, slots=True)
class JudgedFrom:
    """A judging of the shots from `from_shot` on, and why it was opened; a later one has a higher number."""

    number: int
    from_shot: int
    reason: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why parts of shots `first` to `last` are held without anybody having said so.

    `basis`: ``verdict``, ``far out`` or one of those in `found`; `serial`: the insert it is about. Of a call,
    `verdict`, `cause` and `onset` are those of its last shot, `last`; `limits` the channels that were beyond a limit at
    any of its shots, `found` what a person had found; `edge_by` is the shot whose verdict first dated the change so
    early that parts are held from `first` on, with the onset `edge_onset`; `now_from` the early edge as dated last.

    Of what people found, `wrong` says it: of the part itself where no `serial` is given, else of what was made on that
    insert since `last_good`, the last shot known to be good, None where none is. `far`: how far out its shot lay.
    `since`: for each shot, when the evidence first spoke against it. `showed`: what a swap has shown since of what
    was called; it lets no part go, and is for who has to decide.
    """

    press: str
    basis: str
    serial: str
    first: int
    last: int
    since: Mapping[int, Since]
    verdict: str = ""
    cause: str = ""
    onset: int | None = None
    limits: tuple[str, ...] = ()
    found: str = ""
    edge_by: int | None = None
    edge_onset: int | None = None
    now_from: int | None = None
    wrong: Wrong | None = None
    last_good: int | None = None
    far: FarOut | None = None
    showed: SwapFinding | None = None

    @property
    def bad(self) -> Inspection | None:
        """The result of the inspection that is the reason, where one is."""
        return None if self.wrong is None else self.wrong.bad

    @property
    def about(self) -> tuple[object, ...]:
        """What it says, whatever the shot."""
        said = (
            self.verdict,
            self.cause,
            self.onset,
            self.limits,
            self.found,
            self.edge_by,
            self.now_from,
            self.wrong,
            self.last_good,
            self.showed,
        )
        return (self.press, self.basis, self.serial, self.first, self.last, *said)


@dataclass(frozen=True, slots=True)
class Lifted:
    """Parts of shots `first` to `last` that a call once named and none names any more.

    `verdict` is the worst that was said of them, at shots `calls` with onsets `onsets`, first and last each. Those
    shots were judged again since, for the reason `judged_again`, empty where none is on record.
    """

    press: str
    serial: str
    first: int
    last: int
    verdict: str
    calls: tuple[int, int]
    onsets: tuple[int, int] | None
    judged_again: str


def by_call(press: str, namings: Sequence[Naming]) -> list[Doubt]:
    """Return a doubt for each run of shots on one insert whose verdict in force was watch or swap.

    Missed shots end no run: their parts are in doubt as well. A verdict made again by a later judging is not newer
    evidence: a part counts as named since the first verdict of that run that named it, under whichever judging.

    Parameters
    ----------
    namings
        In order of shot, those of one shot in the order they were given; such as are out of force as well.
    """
    runs: list[list[Naming]] = []
    for one in namings:
        if one.stands:
            before = runs[-1][-1] if runs else None
            if before is not None and before.insert == one.insert and before.shot in (one.after, one.shot - 1):
                runs[-1].append(one)
            else:
                runs.append([one])
    shots = [one.shot for one in namings]
    return [
        _doubt(press, run, namings[bisect_left(shots, run[0].shot) : bisect_right(shots, run[-1].shot)]) for run in runs
    ]


def by_verdict(
    press: str, namings: Sequence[Naming], judgings: Sequence[JudgedFrom]
) -> tuple[list[Doubt], list[Lifted]]:
    """Return the doubts of `by_call`, and what verdicts once named and none of those doubts names now.

    `judgings`: every judging of the press, in order.
    """
    found = by_call(press, namings)
    return found, list(_spans(press, _once_named(namings, found, judgings)))


def with_shown(doubts: Iterable[Doubt], swaps: Sequence[SwapFinding]) -> list[Doubt]:
    """Return doubts by calls, each with what a swap has shown since of the change it spoke of.

    The swap was made while the call stood, or ended it, and after the change had begun: the call may go on for the
    shots that it takes to see. That it stayed tells of the insert that came out alone.
    """
    return [replace(one, showed=next((swap for swap in reversed(swaps) if _tells(swap, one)), None)) for one in doubts]


def _tells(swap: SwapFinding, doubt: Doubt) -> bool:
    began = doubt.first if doubt.onset is None else doubt.onset
    return began < swap.at_shot <= doubt.last + 1 and (swap.outcome == "confirmed" or swap.insert == doubt.serial)


def _doubt(press: str, run: Sequence[Naming], every: Sequence[Naming]) -> Doubt:
    dated, last = min(run, key=lambda one: one.early_edge), run[-1]
    first = dated.early_edge
    now_from = next((one.early_edge for one in reversed(run) if one.onset is not None), None)
    since: dict[int, Since] = {}
    left = _Left(first, last.shot)
    for one in sorted(every, key=lambda one: one.said):
        since |= dict.fromkeys(left.take(one.early_edge, one.shot), one.said)
    for shot in range(last.shot, first - 1, -1):
        # Nobody judged the shots missed just before a judged one; they were made between two that are held.
        since.setdefault(shot, since.get(shot + 1, last.said))
    limits = tuple(dict.fromkeys(name for one in run for name in one.limits))
    found = next((one.found for one in run if one.found), "")
    said = (last.verdict, last.cause, last.onset, limits, found, dated.shot, dated.onset, now_from)
    return Doubt(press, "verdict", last.insert, first, last.shot, since, *said)


def _once_named(
    namings: Sequence[Naming], found: Sequence[Doubt], judgings: Sequence[JudgedFrom]
) -> dict[int, tuple[Naming, str]]:
    """Return the last verdict that named a shot and why it was judged again, for each shot that no doubt names."""
    if not namings:
        return {}
    left = _Left(min(one.early_edge for one in namings), namings[-1].shot)
    for doubt in found:
        left.take(doubt.first, doubt.last)
    said: dict[int, tuple[Naming, str]] = {}
    for one in reversed(namings):
        named = left.take(one.early_edge, one.shot)
        if named:
            said |= dict.fromkeys(named, (one, _judged_again(one, judgings)))
    return said


def _judged_again(one: Naming, judgings: Sequence[JudgedFrom]) -> str:
    """Return why the shot of a verdict out of force was judged again."""
    since = bisect_right(judgings, one.judging, key=lambda judging: judging.number)
    later = (judgings[n].reason for n in range(since, len(judgings)) if judgings[n].from_shot <= one.shot)
    return next(later, "")


def _spans(press: str, said: Mapping[int, tuple[Naming, str]]) -> Iterator[Lifted]:
    """Yield unbroken runs of shots that are in doubt no more for one reason, with the calls that had named them."""
    run: list[int] = []
    for shot, (one, why) in sorted(said.items()):
        if run and (run[-1] != shot - 1 or (said[run[-1]][0].insert, said[run[-1]][1]) != (one.insert, why)):
            yield _lifted(press, run, said)
            run = []
        run.append(shot)
    if run:
        yield _lifted(press, run, said)


def _lifted(press: str, run: Sequence[int], said: Mapping[int, tuple[Naming, str]]) -> Lifted:
    named = [said[shot][0] for shot in run]
    worst = "swap" if any(one.verdict == "swap" for one in named) else "watch"
    calls = [one.shot for one in named]
    onsets = [one.onset for one in named if one.onset is not None]
    dated = (min(onsets), max(onsets)) if onsets else None
    return Lifted(press, named[-1].insert, run[0], run[-1], worst, (min(calls), max(calls)), dated, said[run[-1]][1])


class _Left:
    """Shots `first` to `last` of which each is taken once; what is taken already is stepped over, however long."""

    def __init__(self, first: int, last: int) -> None:
        self._first = first
        self._next = list(range(last - first + 2))

    def take(self, first: int, last: int) -> list[int]:
        """Return the shots of a span that are left, and take them."""
        taken = []
        at = self._find(max(first - self._first, 0))
        while at <= last - self._first and at < len(self._next) - 1:
            taken.append(self._first + at)
            self._next[at] = at + 1
            at = self._find(at)
        return taken

    def _find(self, at: int) -> int:
        while self._next[at] != at:
            self._next[at] = self._next[self._next[at]]
            at = self._next[at]
        return at
