"""Episodes: runs of shots over which the verdict on an insert was other than keep."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from shotlog.records import OtherChange, Stay, Verdict
from shotlog.wording.blame import pointed_at
from shotlog.wording.verdicts import told

__all__ = ["BriefCall", "Call", "Episode", "Episodes", "by_serial", "episodes", "withdrawn"]


class Call:
    """What a change that was called comes to, for lives and swaps; see `Episode`."""

    __slots__ = ()
    press: str
    insert: str
    first: int
    last: int
    worst: str
    swap_at: int | None
    onset: int | None
    onset_low: int | None
    onset_high: int | None
    group: str
    withdrawn: bool

    @property
    def early_edge(self) -> int:
        """The earliest shot the change may have begun at; parts since then are held."""
        edges = [edge for edge in (self.onset_low, self.onset, self.first) if edge is not None]
        return min(edges)

    @property
    def stands(self) -> bool:
        """Whether parts are held for it: a call to swap, or a watch with an onset, that was not withdrawn."""
        return not self.withdrawn and (self.worst == "swap" or self.onset is not None)


@dataclass(frozen=True, slots=True)
class BriefCall(Call):
    """A change that was called, without what only words are made of."""

    press: str
    insert: str
    first: int
    last: int
    worst: str
    swap_at: int | None
    onset: int | None
    onset_low: int | None
    onset_high: int | None
    group: str
    withdrawn: bool


@dataclass(frozen=True, slots=True)
class Episode(Call):
    """A change that was called: from shot `first` to shot `last`, both included.

    `worst` is ``watch`` or ``swap``; `swap_at` is the first shot with a call to swap. `onset` with its interval and
    the cause are those of the last shot that gave them, `first_onset` the one told first. `withdrawn`: the tool went
    back to keep on the same insert. `others` stood open beside it at some shot of it, each as it was told last;
    `limits`: channels beyond an action limit meanwhile. `found`: a finding of people was what spoke against the insert.
    `pointed`: inserts that any of its verdicts pointed at, where it could not be told which.
    """

    press: str
    insert: str
    first: int
    last: int
    worst: str
    swap_at: int | None
    onset: int | None
    onset_low: int | None
    onset_high: int | None
    cause: str
    group: str
    weight: float | None
    sentence: str
    signals: tuple[str, ...]
    withdrawn: bool
    first_onset: int | None = None
    others: tuple[OtherChange, ...] = ()
    limits: tuple[str, ...] = ()
    found: bool = False
    pointed: tuple[str, ...] = ()

    @property
    def ended(self) -> str:
        """How it ended: ``stood`` to the end, was ``withdrawn``, ``answered`` by people, or is ``within`` limits again.

        Only a change that was called can be withdrawn; a limit that is passed no longer and a finding are none.
        """
        if not self.withdrawn:
            return "stood"
        if self.cause or self.onset is not None:
            return "withdrawn"
        return "within" if self.limits else "answered" if self.found else "withdrawn"


def episodes(verdicts: Iterable[Verdict]) -> tuple[Episode, ...]:
    """Return the episodes of one press, from its verdicts in order."""
    found = Episodes()
    for verdict in verdicts:
        found.take(verdict)
    return found.found


class Episodes:
    """The episodes of one press, from its verdicts taken one by one in order: a long log has too many to hold.

    `stays`: who was mounted. While nothing is called a verdict is on the half changed last, so that a call on the other
    one ends with a verdict on another insert; it was withdrawn if its own was still in the mould.
    """

    def __init__(self, stays: Sequence[Stay] = ()) -> None:
        self._stays = by_serial(stays)
        self._found: list[Episode] = []
        self._run: list[Verdict] = []

    def take(self, verdict: Verdict) -> None:
        """Take the next verdict."""
        run = self._run
        if run and (verdict.verdict == "keep" or verdict.insert != run[0].insert):
            self._found.append(_episode(run, withdrawn(run[0].insert, verdict, self._stays)))
            run.clear()
        if verdict.verdict != "keep":
            run.append(verdict)

    @property
    def found(self) -> tuple[Episode, ...]:
        """The episodes up to the last verdict taken."""
        return (*self._found, _episode(self._run, False)) if self._run else tuple(self._found)


class _Judged(Protocol):
    @property
    def shot(self) -> int: ...
    @property
    def insert(self) -> str: ...
    @property
    def verdict(self) -> str: ...


def withdrawn(called: str, after: _Judged, stays: Mapping[str, Sequence[Stay]]) -> bool:
    """Whether a call on an insert was withdrawn by the verdict after it: the tool went back to keep while it was in.

    `stays`: who was mounted, see `by_serial`.
    """
    if after.insert == called:
        return True
    return after.verdict == "keep" and any(one.first <= after.shot < one.end for one in stays.get(called, ()))


def by_serial(stays: Iterable[Stay]) -> dict[str, list[Stay]]:
    """Return stays by the serial that was mounted."""
    found: dict[str, list[Stay]] = {}
    for stay in stays:
        found.setdefault(stay.mounting.insert.serial, []).append(stay)
    return found


def _episode(run: list[Verdict], withdrawn: bool) -> Episode:
    swaps = [verdict for verdict in run if verdict.verdict == "swap"]
    dated = next((verdict for verdict in reversed(run) if verdict.onset is not None), None)
    caused = next((verdict for verdict in reversed(run) if verdict.cause or verdict.group), None)
    names = tuple(dict.fromkeys(name for verdict in run for name in verdict.signals))
    beside = {(one.group, one.cause): one for verdict in run for one in verdict.others}
    if caused is not None:
        beside.pop((caused.group, caused.cause), None)
    return Episode(
        run[0].press,
        run[0].insert,
        run[0].shot,
        run[-1].shot,
        "swap" if swaps else "watch",
        swaps[0].shot if swaps else None,
        dated.onset if dated else None,
        dated.onset_low if dated else None,
        dated.onset_high if dated else None,
        caused.cause if caused else "",
        caused.group if caused else "",
        caused.weight if caused else None,
        told((swaps or run)[-1]),
        names,
        withdrawn,
        next((verdict.onset for verdict in run if verdict.onset is not None), None),
        tuple(beside.values()),
        tuple(dict.fromkeys(name for verdict in run for name in verdict.limits)),
        any(verdict.facts is not None and verdict.facts.found is not None for verdict in run),
        tuple(dict.fromkeys(serial for verdict in run for serial in pointed_at(verdict))),
    )
