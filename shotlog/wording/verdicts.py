"""A verdict in plain words, made from its facts: what was seen, with its figures, and what to check next."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shotlog.facts import ChannelChange, Facts, SwapFinding
from shotlog.records import Verdict
from shotlog.wear.change.causes import BATCH, CAUSES
from shotlog.wear.change.told import INSERT, NOT_INSERT, causes_told
from shotlog.wear.constants import HORIZON
from shotlog.wording.facts import alike, also_open, besides, in_half, limits_passed, standing_still
from shotlog.wording.numbers import change, label, some

__all__ = [
    "MARKS",
    "WordedVerdict",
    "question",
    "swap_said",
    "told",
    "unchanged",
    "understood",
    "weights_rest_on",
    "worded",
]

MARKS = {"keep": "○ keep", "watch": "◐ watch", "swap": "● swap"}
"""Each verdict by shape and word, so that no colour is needed to tell them apart."""

_LOOK = "look at the last part"
_MOST_ODDS = 1000
_SHOWN_SHARE = 0.5
"""A change is told from half of the smallest of practical size on."""


@dataclass(frozen=True, slots=True)
class WordedVerdict:
    """The sentence of a verdict in the pieces that a screen may set apart.

    `limit`: an action limit that is passed, said before all else. `state`: what the shot was in place of judged;
    `seen`, what was seen; `why`, what it most likely is; `more`, the figures; `also`, the changes that stand open
    beside it; `question` and `check`, what to ask and to look at.
    """

    seen: str
    why: str = ""
    more: tuple[str, ...] = ()
    question: str = ""
    check: str = ""
    state: str = ""
    limit: str = ""
    also: tuple[str, ...] = ()

    @property
    def found(self) -> str:
        """What was seen, or why nothing was looked for."""
        return ": ".join(filter(None, (self.state, self.seen)))

    @property
    def lead(self) -> str:
        """What a reader in a hurry needs: what a person found, a limit passed, and what the values show."""
        return "; ".join(filter(None, (self.limit, self.found)))

    @property
    def sentence(self) -> str:
        """The whole sentence, without a capital and a full stop."""
        said = ": ".join(filter(None, (self.lead, self.why)))
        also = f"also open: {', '.join(self.also)}" if self.also else ""
        return "; ".join(filter(None, (said, *self.more, also, self.question, self.check)))


def told(verdict: Verdict) -> str:
    """Return the sentence of a verdict; in a log of before facts were kept, the one that was said on the day."""
    return worded(verdict).sentence


def worded(verdict: Verdict) -> WordedVerdict:
    """Return a verdict in words, in pieces; without facts, all that was said on the day is in `seen`."""
    facts = verdict.facts
    if facts is None:
        return WordedVerdict(verdict.sentence)
    said, limit = _beside_still(_worded(verdict, facts), verdict, facts), limits_passed(verdict, facts)
    check = said.check or (_LOOK if limit else "")
    swap = () if facts.swap is None else (swap_said(facts.swap),)
    found = "" if facts.found is None else f"seen at shot {facts.found.shot}: {facts.found.text}"
    first = "; ".join(filter(None, (found, limit)))
    return replace(said, limit=first, more=(*swap, *said.more), also=also_open(verdict.others), check=check)


def _worded(verdict: Verdict, facts: Facts) -> WordedVerdict:
    asked = "" if facts.asked_shot is None else question(facts.asked_shot)
    n, insert = verdict.shots_on_insert, verdict.insert or "the insert"
    match facts.stage:
        case "settling":
            text = f"shot {n} on {insert}, not judged before shot {facts.judged_from} of the press"
            return WordedVerdict(text, more=tuple(besides(facts)), question=asked, state="settling")
        case "waited":
            text = "settling after a wait: no change is called"
            return WordedVerdict(text, more=(f"shot {n} on {insert}", *besides(facts)), question=asked)
        case "learning":
            text = f"not judged: the level of {insert} is not known yet"
            return WordedVerdict(text, more=(f"shot {n} on it", *besides(facts)), question=asked)
        case "quiet":
            text = f"no change seen in these values since shot {facts.quiet_since}"
            on = f"shot {n} on {insert}{in_half(facts)}"
            return WordedVerdict(text, more=(on, *_quiet(facts), *besides(facts)), question=asked)
    more = (*_called(verdict, facts), *besides(facts))
    return WordedVerdict(_seen(verdict, facts), _why(verdict, facts), more, asked, _check(verdict))


def _beside_still(said: WordedVerdict, verdict: Verdict, facts: Facts) -> WordedVerdict:
    """Add the channels that stand still: where nothing else is open they decide, and go first."""
    still = standing_still(facts)
    if not still:
        return said
    if facts.stage == "called" or not verdict.cause:
        return replace(said, more=(*said.more, still))
    more = (said.found, *said.more)
    return replace(said, state="", seen=still, why=_why(verdict, facts), more=more, check=_check(verdict))


def _check(verdict: Verdict) -> str:
    return CAUSES[verdict.cause].check if verdict.cause in CAUSES else ""


def _quiet(facts: Facts) -> list[str]:
    text = []
    if facts.odd_shot is not None:
        text.append(f"shot {facts.odd_shot} was odd, look at that part and watch the next shot")
    if facts.elsewhere:
        text.append(f"it started off its sisters, {moved(facts.elsewhere)}: judged from its own level")
    if facts.n_sisters == 0 and not facts.visible:
        text.append("first insert of its design, so less sharp")
    return text


def _seen(verdict: Verdict, facts: Facts) -> str:
    since = f"shot {verdict.onset}"
    if verdict.onset_low != verdict.onset_high:
        since += f" ({verdict.onset_low} to {verdict.onset_high})"
    if facts.grown_spread is not None:
        return f"shot-to-shot spread of the {label(facts.grown_spread).lower()} has grown since {since}"
    return f"{moved(facts.changes)} since {since}"


def moved(changes: Sequence[ChannelChange]) -> str:
    """Return the two largest changes in words, largest first in units of what matters."""
    ranked = sorted(changes, key=lambda one: -abs(one.size) / one.least)[:2]
    shown = [one for one in ranked if abs(one.size) >= _SHOWN_SHARE * one.least] or ranked[:1]
    return " and ".join(
        f"{label(one.channel).lower()} {'up' if one.size > 0 else 'down'} {change(one.channel, one.size)}"
        for one in shown
    )


def _why(verdict: Verdict, facts: Facts) -> str:
    weight = "" if verdict.weight is None else f" ({verdict.weight:.2f})"
    apart = "" if facts.rival is None else f"cannot be told apart: {verdict.cause} or {facts.rival}"
    insert = verdict.group == "insert" and verdict.cause != BATCH and not facts.halves_alike
    half = in_half(facts) if insert and (facts.rival is None or CAUSES[facts.rival].group == "insert") else ""
    return f"most likely the {verdict.group}{weight}, {apart or verdict.cause}{half}"


def left(verdict: Verdict) -> str:
    """Return the shots left in words."""
    if verdict.left_high == 0.0 or verdict.limits:
        return "no good shot left"
    if verdict.left_median is None:
        return "no end in sight"
    high = f"over {HORIZON}" if verdict.left_high is None else f"{verdict.left_high:.0f}"
    if round(verdict.left_median) == 0:
        return f"perhaps no good shot left (0 to {high})"
    shots = "shot" if round(verdict.left_median) == 1 else "shots"
    return f"about {verdict.left_median:.0f} {shots} left ({verdict.left_low or 0:.0f} to {high})"


def _called(verdict: Verdict, facts: Facts) -> list[str]:
    text = list(filter(None, (alike(verdict, facts), left(verdict))))
    if facts.bad_chance is not None:
        text.append(f"{facts.bad_chance:.0%} that the next part is bad")
    if facts.next_shot_cost is not None and facts.swap_cost is not None:
        text.append(f"next shot costs {facts.next_shot_cost:.2f}, swapping {facts.swap_cost:.2f} a part")
    if facts.outlived_swap is not None:
        stayed = ": the other half, the clamp or the press" if facts.other_half else ""
        text.append(f"it outlived the swap at shot {facts.outlived_swap}{stayed}")
    return text


def question(shot: int) -> str:
    """Return what the people at the press are asked about a swap that nobody entered."""
    return f"was an insert changed before shot {shot}?"


def unchanged(shot: int) -> str:
    """Return the answer to that question that ends it."""
    return f"no insert was changed before shot {shot}"


def understood(reason: str) -> str:
    """Return what the call takes a person's words for, why an insert came out."""
    causes = causes_told(reason)
    if not causes:
        return "the call learns no cause from these words"
    known = {INSERT: "the insert, no cause named", NOT_INSERT: "not the insert, no cause named"}
    return f"the call takes it for: {known.get(causes) or ', '.join(causes)}"


def weights_rest_on(labelled: int) -> str:
    """Return what the weights of the causes rest on beside the table of causes."""
    explained = some(labelled, "change")
    return f"weights from the table of causes, and from {explained} of this design that people or a swap explained"


def swap_said(finding: SwapFinding) -> str:
    """Return what a swap said of the change before it, and how strongly: by the shots, and by the causes before."""
    stayed = finding.outcome == "refuted"
    ended = "outlived the swap: it was not the insert" if stayed else "reset with the swap: it was the insert"
    shots, before = (_odds(one if stayed else -one) for one in (finding.log_ratio, finding.log_prior))
    return f"the change on {finding.insert} {ended} (by the shots since {shots}, before it stood {before})"


def _odds(given: float) -> str:
    """Return odds, given by their natural log, in words as whole numbers; past a thousand they say no more."""
    size = f"{math.exp(abs(given)):.0f}" if abs(given) < math.log(_MOST_ODDS) else f"over {_MOST_ODDS}"
    return f"{size} to 1" if given >= 0.0 else f"1 to {size}"
