"""What the monitor holds about the insert in the mould: its shots, what was noted, and the change called on it.

`HalfState` is the one owner of that state. The rest of the room reads it, works something out, and tells it through one
of its methods; nobody else writes to it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from shotlog.records import InForce
from shotlog.wear.change.causes import BATCH, NEXT_BATCH, group_weights
from shotlog.wear.change.hypotheses import Hypotheses, hypotheses
from shotlog.wear.change.labelled import Labelled, taught
from shotlog.wear.change.onset import Onset
from shotlog.wear.constants import FOUND_MENDED, MOST_ACCEPTED, MOST_EVENTS, MOST_STANDING
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.changes import Accepted, Asked, Finding, OpenChange, Spoken
from shotlog.wear.life.marks import Beyond, StretchShot
from shotlog.wear.life.rhythm import OtherRhythm, rhythm_of
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.life.swap_odds import Carried
from shotlog.wear.replacing import replaced

__all__ = ["HalfState"]


@dataclass
class HalfState:
    """The insert judged now; `first` is the press's shot number of its first shot, `key` the pool it will join,
    `pool` the one it is judged by, if that is of its set-up. `pieces`: a single-use half stands beside it.

    `call`: the open change that is followed shot by shot, on `stretch`; beside it the next is looked for on `ahead`,
    which goes on `beyond` it. `standing`: open changes followed no longer, oldest first; `stretch` goes on from
    the level they left. `pause`: shot on it after the last wait, until it is known whether an insert was changed in it.
    `question`: shot of the press before which one may have been changed without an entry. `asked`: the change that the
    swap of another half is asked about. `spoken`: what verdicts say against it, while they do. `found`: the first
    finding that stands against it; `passed`: one that may have been a single-use half's, and left with it.
    `elsewhere`: how far off its sisters it started, by channel.
    `started`: level it was expected to start from if nothing had been open on the halves beside it, mean and variance
    by channel in its unit. `rhythm`: another one than usual, that its channels have followed. `made`: shots on it
    before it was taken out and came back, and `known` the level it had then, as `started`. `labelled`: changes of its
    design of which it was known what they were when it was mounted.
    """

    held: InForce
    first: int
    key: str
    pieces: bool = False
    stretch: Stretch = field(default_factory=Stretch)
    call: OpenChange | None = None
    standing: list[OpenChange] = field(default_factory=list)
    beyond: Beyond | None = None
    carried: Carried | None = None
    events: list[tuple[int, str]] = field(default_factory=list)
    accepted: list[Accepted] = field(default_factory=list)
    pause: int | None = None
    question: int | None = None
    asked: Asked | None = None
    spoken: Spoken | None = None
    found: Finding | None = None
    passed: Finding | None = None
    pool: str = ""
    elsewhere: dict[str, float] = field(default_factory=dict)
    started: dict[str, tuple[float, float]] = field(default_factory=dict)
    rhythm: OtherRhythm | None = None
    made: int = 0
    known: dict[str, tuple[float, float]] = field(default_factory=dict)
    labelled: list[Labelled] = field(default_factory=list)
    hypotheses: Hypotheses | None = field(default=None, metadata={"saved": False})
    ahead: Stretch | None = field(default=None, metadata={"saved": False})

    def open(self) -> list[OpenChange]:
        """Return every open change, oldest first."""
        return [*self.standing, *([self.call] if self.call is not None else [])]

    # shots, and what was noted with them

    def note(self, n: int, kinds: Iterable[str]) -> None:
        """Note kinds of entries made at shot `n` of the insert; what two entries say of one shot is said once."""
        self.events = [*self.events[-MOST_EVENTS:], *((n, kind) for kind in dict.fromkeys(kinds))]

    def take_verdict(self, n: int, verdict: str, group: str, onset: int | None) -> None:
        """Take note of what the verdict at shot `n` says against it; `onset`: on the insert."""
        if verdict == "keep":
            self.spoken = None
        else:
            before = self.spoken or Spoken(n, False, "", None)
            self.spoken = Spoken(before.since, before.swap or verdict == "swap", group, onset or before.onset)

    def find(self, n: int, text: str, about: str) -> None:
        """Take note of a finding at shot `n`; one that still stands goes on standing.

        `about`: ``half``, this one was named; ``piece``, one that takes a new piece every shot was; empty, none. What
        is of a piece has left with its part, it passes with its shot; so does a first one, beside pieces, of neither.
        """
        found = Finding(self.made + n - 1, self.first - 1 + n, text, about == "half")
        stands = self.found is not None and (self.found.named or about != "half")
        self.found = self.found if stands else found
        if self.found is found and (about == "piece" or (not about and self.pieces and self.passed is None)):
            self.passed = found

    def let_pass(self, n: int) -> None:
        """Let a finding go that does not stand beyond its shot, when shot `n` comes."""
        if self.found is not None and self.found == self.passed and self.found.shot < self.first - 1 + n:
            self.found = None

    def mend(self, n: int) -> None:
        """Let a finding that names no half go, made just before another half was swapped for it, at shot `n`."""
        if self.found is not None and not self.found.named and self.first - 1 + n - self.found.shot <= FOUND_MENDED:
            self.found = None

    def acquit(self) -> None:
        """Let no finding stand against it: a person has looked and found it sound."""
        self.found = None

    def begin_batch(self, n: int) -> None:
        """Note that a print batch of single-use halves is used up: a change that came with it goes with it."""
        self.events.append((n, NEXT_BATCH))
        began = max((at for at, kind in self.events if kind == NEXT_BATCH and at < n), default=None)
        if began is None:
            return
        gone = [one for one in self.open() if one.cause == BATCH and one.onset.high >= began]
        if gone:
            self.standing = [one for one in self.standing if one not in gone]
            if self.call in gone:
                self.call = self.pause = self.beyond = self.ahead = None
            elif self.call is not None and self.call.onset.high >= began:
                self.let_stand(self.call)  # its shots go with the batch, and it could be followed no further
            self.stretch.skip(began, n - 1)
            self._look_again()

    def take(self, row: StretchShot, waited: bool) -> None:
        """Take in a shot."""
        if waited and self.stretch.filter is not None:
            self.pause = row.n
        self.stretch.take(row)
        if self.ahead is not None:
            self.ahead.take(row)

    def hear(self) -> None:
        """Tell another rhythm from the shots so far, or that it has come back."""
        self.rhythm = rhythm_of(self.stretch, self.rhythm)

    def meet(self, n: int, *fresh: "HalfState") -> None:
        """Take note of another half that came in new before shot `n`, where its sisters have shown what it brings."""
        priors = [one.stretch.prior for one in fresh if one.pool == one.key and one.stretch.prior is not None]
        if len(priors) == len(fresh) == 1:
            self.stretch.meet(n, priors[0])
            if self.ahead is not None:
                self.ahead.meet(n, priors[0])

    def leave_out(self, channels: Mapping[str, int]) -> None:
        """Look no longer at channels that stand still, each from a shot of the press on."""
        since = {name: shot - self.first + 1 for name, shot in channels.items()}
        self.stretch.leave_out(since)
        if self.ahead is not None:
            self.ahead.leave_out(since)

    def begin_set_up(self, key: str) -> None:
        """Start over under a new set-up: the shots before it are done with."""
        self.key, self.stretch, self.call, self.carried = key, Stretch(), None, None
        self.standing, self.beyond, self.ahead = [], None, None
        self.accepted, self.question, self.pause, self.elsewhere, self.asked = [], None, None, {}, None
        self.rhythm = None

    def shorten(self, keep: int) -> None:
        """Forget all but the last `keep` shots, and what they were judged by."""
        self.stretch = self.stretch.shortened(keep)

    # what it is judged by

    def judge_by(
        self, prior: Prior, mode: str, *, pool: str | None = None, elsewhere: Mapping[str, float] | None = None
    ) -> None:
        """Judge the insert by a prior from its first shot on, in a mode of `signatures.MODES`."""
        self.pool = self.pool if pool is None else pool
        self.elsewhere = self.elsewhere if elsewhere is None else dict(elsewhere)
        table = hypotheses(prior, mode, self.pieces)
        self.hypotheses = taught(table, prior.channels, prior.sigma, self.labelled)
        self.stretch.judge_by(prior)
        self._look_ahead()

    def go_on_from(self, made: int, changes: Iterable[OpenChange], found: Finding | None) -> None:
        """Go on as an insert that has made shots before, with what was open on it and what was found."""
        self.made, self.found = made, found
        self._stand(*changes)

    def begin_beside(self, started: Mapping[str, tuple[float, float]]) -> None:
        """Keep the level it would start from if nothing were open on the halves beside it."""
        self.started = dict(started)

    def know(self, level: Mapping[str, tuple[float, float]]) -> None:
        """Keep the level it had when it was taken out, mean and variance by channel in its unit."""
        self.known = dict(level)

    def forget_values(self) -> None:
        """Forget what was learnt from values before: they may have been in another scale."""
        self.labelled, self.known, self.started = [], {}, {}

    def _look_ahead(self) -> None:
        self.ahead = None if self.beyond is None else self.stretch.going_on(self.beyond)

    # the changes called on it

    def begin_call(self, change: OpenChange, beyond: Beyond) -> None:
        """Follow a change called now; no new onset is opened for it, and the next one is looked for `beyond` it."""
        self.call, self.beyond = change, beyond
        self.stretch.freeze(change.at)
        self._look_ahead()

    def follow(self, onset: Onset, low_for: int, over: float) -> None:
        """Follow the call with one more shot; `over`: its log odds above the bar."""
        if self.call is not None:
            self.call = replaced(self.call, onset=onset, low_for=low_for, over=max(over, self.call.over))

    def name(self, group: str, cause: str, weights: Mapping[str, float], effect: Mapping[str, float]) -> None:
        """Give the call its name, with what it was given for."""
        if self.call is not None:
            weight = group_weights(weights)[group]
            self.call = replaced(
                self.call, group=group, cause=cause, weight=weight, weights=dict(weights), effect=dict(effect)
            )

    def advise(self, swap: bool) -> None:
        """Keep whether a swap was advised."""
        if self.call is not None:
            self.call = replaced(self.call, swap=swap)

    def look_from(self, beyond: Beyond) -> None:
        """Look for the next change from another level on: the called one has gone on."""
        self.beyond = beyond
        self._look_ahead()

    def withdraw(self) -> None:
        """Withdraw the call: the evidence has gone."""
        self.call = self.beyond = self.ahead = None
        self.stretch.thaw()

    def let_stand(self, change: OpenChange) -> None:
        """Follow the call no longer, but leave it open as `change`: the level it left is what is looked at now."""
        self._stand(change)
        self._go_on()

    def _stand(self, *changes: OpenChange) -> None:
        """Let changes stand open; of many the first, since when parts are held, and the last."""
        every = [*self.standing, *changes]
        self.standing = every if len(every) <= MOST_STANDING else [every[0], *every[1 - MOST_STANDING :]]

    def accept(self, accepted: Accepted, change: OpenChange | None = None) -> None:
        """Close an open change, by default the one followed: the level that it left is the level from now on."""
        self.accepted = [*self.accepted, accepted][-MOST_ACCEPTED:]
        self.pause = None
        self.standing = [one for one in self.standing if one is not change]
        if change is None or change is self.call:
            if accepted.group == "material" and self.beyond is not None:
                # a lot does not go on growing; what does is no lot
                self.look_from(replaced(self.beyond, mean={}, sd={}))
            self._go_on()

    def _go_on(self) -> None:
        if self.ahead is not None:
            self.stretch = self.ahead
        self.call = self.beyond = self.ahead = None

    # what a swap, or a wait, says

    def carry(self, carried: Carried | None) -> None:
        """Wait for what this insert shows of the change seen before the swap to it."""
        self.carried = carried

    def settle_swap(self, outcome: str) -> None:
        """Keep what became of the change carried to this insert."""
        if self.carried is not None:
            self.carried = replaced(self.carried, outcome=outcome)

    def take_over(self, *changes: OpenChange) -> None:
        """Go on with changes that outlived the swap."""
        self._stand(*changes)

    def ask(self, asked: Asked) -> None:
        """Wait for what the swap of another half says of an open change."""
        self.asked = asked

    def settle_other_swap(self, reset: bool) -> None:
        """Be done with the question put to the swap of another half; where the change has `reset`, it was not this
        half's: it is closed, and this half goes on from the level before it.
        """
        asked, self.asked = self.asked, None
        if asked is None or not reset:
            return
        gone = [one for one in self.open() if one.at in asked.at or one.at >= asked.n]
        self.standing = [one for one in self.standing if one not in gone]
        if self.call in gone:
            self.call = self.beyond = self.ahead = None
        self.look_past(asked.low, asked.n - 1)

    def look_past(self, low: int, high: int) -> None:
        """Go on from the level before shot `low`: what came until `high` went with another half."""
        self.stretch = self.stretch.without(low, high)
        if any(one.onset.clean >= low for one in self.open()):
            self.stretch.free(high + 1)
        self._look_again()

    def _look_again(self) -> None:
        """Look at a stretch anew of which shots were left out; after the call that is followed no onset is opened."""
        if self.call is not None:
            self.stretch.freeze(self.call.at)
        self.stretch.run_again()
        self._look_ahead()

    def end_pause(self, question: int | None) -> None:
        """Be done with the last wait; `question`: the shot to ask about, if any."""
        self.pause, self.question = None, self.question if question is None else question
