"""A verdict in plain words, made from its facts: what was seen, with its figures, and what to check next."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shotlog.entries import KINDS
from shotlog.facts import ChannelChange, Facts, Found, SwapFinding
from shotlog.records import Verdict
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.told import INSERT, NOT_INSERT, causes_told
from shotlog.wear.constants import LOW_FOR
from shotlog.wording.blame import cannot_be_told, headline, named, pointed_at, rival_group
from shotlog.wording.entries import half_named
from shotlog.wording.facts import also_open, besides, limits_passed, standing_still
from shotlog.wording.numbers import change, label, some
from shotlog.wording.outlook import cheaper, until_bad
from shotlog.wording.parts import swap_showed

__all__ = [
    "MARKS",
    "VERDICT_WORDS",
    "WordedVerdict",
    "announced",
    "beneath",
    "checked",
    "lives_counted",
    "question",
    "stands_below",
    "swap_said",
    "swap_weighed",
    "told",
    "unchanged",
    "understood",
    "weights_rest_on",
    "worded",
]

VERDICT_WORDS = {"keep": "no change seen", "watch": "watch", "swap": "swap"}
"""A verdict on screens, by what is stored of it: people took "keep" for a word about the parts."""

MARKS = {name: f"{shape} {VERDICT_WORDS[name]}" for name, shape in (("keep", "○"), ("watch", "◐"), ("swap", "●"))}
"""Each verdict by shape and word, so that no colour is needed to tell them apart."""

_LOOK = "look at the last part"
_LOOK_AT_IT = "look at that part"
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


def announced(verdict: Verdict) -> str:
    """Return the headline of a verdict and its sentence, as a line of text; while nothing is called one says both."""
    said = told(verdict)
    if verdict.verdict == "keep":
        return f"{said[:1].upper()}{said[1:]}"
    return f"{headline(verdict)}: {said}"


def beneath(verdict: Verdict) -> str:
    """Return what was seen, to stand beneath the headline and not to say it again."""
    facts = verdict.facts
    if verdict.verdict == "keep" and facts is not None and facts.stage == "quiet":
        return f"in these values, since shot {facts.quiet_since}; what they cannot show is not seen"
    return worded(verdict).found


def worded(verdict: Verdict) -> WordedVerdict:
    """Return a verdict in words, in pieces; without facts, all that was said on the day is in `seen`."""
    facts = verdict.facts
    if facts is None:
        return WordedVerdict(verdict.sentence)
    said, limit = _beside_still(_worded(verdict, facts), verdict, facts), limits_passed(verdict, facts)
    of_piece = facts.found is not None and facts.found.piece
    check = said.check or (_LOOK_AT_IT if of_piece else _LOOK if limit else "")
    swap = () if facts.swap is None else (swap_said(facts.swap),)
    found = "" if facts.found is None else _found_said(verdict, facts.found)
    first = "; ".join(filter(None, (found, limit)))
    return replace(said, limit=first, more=(*swap, *said.more), also=also_open(verdict.others), check=check)


def _found_said(verdict: Verdict, found: Found) -> str:
    """Return what a person found; where it was, if on a single-use piece or maybe on one."""
    on = ""
    if found.piece and found.half:
        on = f" on {found.piece}, {half_named(found.half)}"
    elif found.piece:
        on = f" on {found.piece} or {verdict.insert or 'the insert'}, which of them nobody said"
    return f"seen at shot {found.shot}{on}: {found.text}"


def _worded(verdict: Verdict, facts: Facts) -> WordedVerdict:
    asked = "" if facts.asked_shot is None else question(facts.asked_shot)
    n, insert = verdict.shots_on_insert, verdict.insert or "the insert"
    # where none is entered, no shot was made on one
    on_it = (f"shot {n} on {insert}",) if verdict.insert else ()
    match facts.stage:
        case "settling":
            text = ", ".join((*on_it, f"not judged before shot {facts.judged_from} of the press"))
            return WordedVerdict(text, more=tuple(besides(facts)), question=asked, state="settling")
        case "waited":
            return WordedVerdict(_waited(facts), more=(*on_it, *besides(facts)), question=asked)
        case "learning":
            text = f"not judged: the level of {insert} is not known yet"
            text += "" if facts.judged_from is None else f", at shot {facts.judged_from} of the press at the earliest"
            return WordedVerdict(text, more=(*((f"shot {n} on it",) if on_it else ()), *besides(facts)), question=asked)
        case "quiet":
            text = f"no change seen in these values since shot {facts.quiet_since}"
            on = f"shot {n} on {named(verdict, insert)}"
            return WordedVerdict(text, more=(on, *_quiet(verdict, facts), *besides(facts)), question=asked)
    more = (*_called(verdict, facts), *besides(facts))
    return WordedVerdict(_seen(verdict, facts), _why(verdict, facts), more, asked, checked(verdict.cause, facts))


def _waited(facts: Facts) -> str:
    """Return why nothing is judged after a wait, and until when; without facts of when, as an earlier release said."""
    if facts.waited_at is None or facts.judged_from is None:
        return "settling after a wait: no change is called"
    return (
        f"not judged: the press waited before shot {facts.waited_at}, and what a wait does is not known yet of such "
        f"inserts; judged from shot {facts.judged_from} at the latest, if it does not wait again"
    )


def _beside_still(said: WordedVerdict, verdict: Verdict, facts: Facts) -> WordedVerdict:
    """Add the channels that stand still: where nothing else is open they decide, and go first."""
    still = standing_still(facts)
    if not still:
        return said
    if facts.stage == "called" or not verdict.cause:
        return replace(said, more=(*said.more, still))
    more = (said.found, *said.more)
    return replace(said, state="", seen=still, why=_why(verdict, facts), more=more, check=checked(verdict.cause, facts))


def checked(name: str, facts: Facts | None) -> str:
    """Return what to check of a cause; what somebody has noted already is told and not asked."""
    cause = CAUSES.get(name)
    if cause is None:
        return ""
    noted = () if facts is None or not cause.check_noted else facts.noted
    answer = next((one for one in reversed(noted) if KINDS[one.kind].effect.moves == cause.group), None)
    if answer is None:
        return cause.check
    return f"{KINDS[answer.kind].word} {answer.text} was noted at shot {answer.shot}: {cause.check_noted}"


def _quiet(verdict: Verdict, facts: Facts) -> list[str]:
    text = []
    if facts.odd_shot is not None:
        text.append(f"shot {facts.odd_shot} was odd, look at that part and watch the next shot")
    if facts.elsewhere:
        text.append(f"it started off its sisters, {moved(facts.elsewhere)}: judged from its own level")
    if facts.n_sisters == 0 and not facts.visible:
        text.append("first insert of its design, so less sharp")
    return [*text, *_lives(verdict, facts)]


def lives_counted(here: int, elsewhere: int) -> str:
    """Return on how many lives it rests how long inserts live; where none ended on this press, that none did.

    Presses alike so far say nothing of one that is not: only lives here show that.

    Examples
    --------
    >>> lives_counted(4, 7)
    'lives of 4 sisters here and 7 on other presses'
    >>> lives_counted(0, 1)
    'life of 1 sister on another press, and on none here'
    """
    there = "another press" if elsewhere == 1 else "other presses"
    if not here:
        return f"{'life' if elsewhere == 1 else 'lives'} of {some(elsewhere, 'sister')} on {there}, and on none here"
    return f"lives of {some(here, 'sister')} here and {elsewhere} on {there}"


def _lives(verdict: Verdict, facts: Facts) -> list[str]:
    """Return on whose lives the shots left rest, where some ended on other presses."""
    if facts.lives_elsewhere is None or verdict.left_median is None:
        return []
    return [f"how long it will do rests on the {lives_counted(facts.lives_here or 0, facts.lives_elsewhere)}"]


def _seen(verdict: Verdict, facts: Facts) -> str:
    since = f"shot {verdict.onset}"
    if verdict.onset_low != verdict.onset_high:
        since += f" ({verdict.onset_low} to {verdict.onset_high})"
    if facts.grown_spread is not None:
        return f"shot-to-shot spread of the {label(facts.grown_spread).lower()} has grown since {since}"
    # a change that is followed no longer may have gone on: its figures are those of then, and are said to be
    then = " when last followed" if facts.followed is False and facts.changes else ""
    return f"{moved(facts.changes)} since {since}{then}"


def moved(changes: Sequence[ChannelChange]) -> str:
    """Return the two largest changes in words, largest first in units of what matters."""
    ranked = sorted(changes, key=lambda one: -abs(one.size) / one.least)[:2]
    shown = [one for one in ranked if abs(one.size) >= _SHOWN_SHARE * one.least] or ranked[:1]
    return " and ".join(
        f"{label(one.channel).lower()} {'up' if one.size > 0 else 'down'} {change(one.channel, one.size)}"
        for one in shown
    )


def _why(verdict: Verdict, facts: Facts) -> str:
    rival = rival_group(verdict)
    if rival:
        each = f"{verdict.cause}{_share(facts.cause_weight)} or {facts.rival}{_share(facts.rival_weight)}"
        return f"the {verdict.group} or the {rival}, cannot be told apart: {each}"
    apart = "" if facts.rival is None else f"cannot be told apart: {verdict.cause} or {facts.rival}"
    at = pointed_at(verdict)
    told_half = len(at) == 1 and at[0] != named(verdict, at[0]) and not cannot_be_told(verdict)
    on = f" on {named(verdict, at[0])}" if told_half and facts.outlived_swap is None else ""
    return f"most likely the {verdict.group}{_share(verdict.weight)}, {apart or verdict.cause}{on}"


def _share(weight: float | None) -> str:
    return "" if weight is None else f" ({weight:.2f})"


def _called(verdict: Verdict, facts: Facts) -> list[str]:
    text = list(filter(None, (cannot_be_told(verdict), until_bad(verdict, facts))))
    if facts.bad_chance is not None:
        text.append(f"{facts.bad_chance:.0%} that the next part is bad")
    text += filter(None, (cheaper(verdict, facts),))
    text += _lives(verdict, facts)
    if facts.outlived_swap is not None:
        others = [f"{named(verdict, one)}," for one in pointed_at(verdict)] or ["the other half,"]
        stayed = f": look at {' '.join(others)} the clamp or the press" if facts.other_half else ""
        text.append(f"it outlived the swap at shot {facts.outlived_swap}{stayed}")
    return text


def question(shot: int) -> str:
    """Return what the people at the press are asked about a swap that nobody entered."""
    return f"was an insert changed before shot {shot}?"


def unchanged(shot: int) -> str:
    """Return the answer to that question that ends it."""
    return f"no insert was changed before shot {shot}"


def understood(reason: str) -> str:
    """Return as what a person's words are counted, why an insert came out."""
    causes = causes_told(reason)
    if not causes:
        return "Counted for no cause: these words name none."
    known = {INSERT: "the insert, no cause named", NOT_INSERT: "not the insert, no cause named"}
    return f"Counted as: {known.get(causes) or ', '.join(causes)}."


def stands_below(facts: Facts, log_odds: float, threshold: float) -> str:
    """Return why a change stands although the log odds lie below what calls one; empty where that needs no word."""
    if facts.stage != "called" or log_odds >= threshold:
        return ""
    if facts.followed is False:
        return " (these are of a further change: the one that stands is followed no longer)"
    return f" (below that now: a call stands until {LOW_FOR} shots running speak against it, or a swap ends it)"


def weights_rest_on(labelled: int) -> str:
    """Return what the weights of the causes rest on beside the table of causes."""
    explained = some(labelled, "change")
    return f"weights from the table of causes, and from {explained} of this design that people or a swap explained"


def swap_said(finding: SwapFinding) -> str:
    """Return what a swap said of the change before it."""
    showed = swap_showed("stayed" if finding.outcome == "refuted" else "came back", finding.insert)
    return f"swap at shot {finding.at_shot}: {showed}"


def swap_weighed(finding: SwapFinding) -> str:
    """Return what a swap said of the change before it, and how strongly: by the shots, and by the causes before."""
    stayed = finding.outcome == "refuted"
    shots, before = (_odds(one if stayed else -one) for one in (finding.log_ratio, finding.log_prior))
    return f"{swap_said(finding)} (by the shots since {shots}, before it stood {before})"


def _odds(given: float) -> str:
    """Return odds, given by their natural log, in words as whole numbers; past a thousand they say no more."""
    size = f"{math.exp(abs(given)):.0f}" if abs(given) < math.log(_MOST_ODDS) else f"over {_MOST_ODDS}"
    return f"{size} to 1" if given >= 0.0 else f"1 to {size}"
