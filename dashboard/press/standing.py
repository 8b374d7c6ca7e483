"""What may be said of a press now: the verdict in words while the data are fresh, and loudly what is wrong when not.

Pure: view, time and the logger's last sign of life in, words out. A verdict on data that are no longer coming in is
history, and is shown as history. What people found goes before what the values say. The tool never says more of a part
than the sentence of its verdict.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from dashboard.shared.heard import Unheard
from dashboard.shared.trouble import Trouble, trouble
from dashboard.shared.views import PressView
from shotlog.answers.judged_now import COMING, UNENTERED, UNJUDGED, how_judged, would_call
from shotlog.answers.needs import waits_long
from shotlog.answers.press_needs import n_waiting_long
from shotlog.parts.found import FoundWrong, damages, verdict_beside
from shotlog.records import COUNTED, Verdict
from shotlog.store.asked.kept import KeptNow
from shotlog.wear.change.causes import CAUSES
from shotlog.wording.blame import headline, likely
from shotlog.wording.entries import RELEARNING, half_named, learnt_anew
from shotlog.wording.facts import limits_passed
from shotlog.wording.found import ENDS, found_at, found_headline, found_said, known_before
from shotlog.wording.incoming import one_line
from shotlog.wording.logger import getting_ready
from shotlog.wording.not_current import UNSEEN, safe_said, to_do
from shotlog.wording.times import at_time
from shotlog.wording.unjudged import NO_HASTE, to_look_at, unjudged_said
from shotlog.wording.verdicts import beneath, checked, worded

__all__ = ["SIGNS", "PressStanding", "safe_of", "standing"]

SIGNS = ("keep", "watch", "swap", "settling", "waiting", "cut")
"""The drawn signs a standing may carry; each has its picture in the assets."""

_IN_THE_MOULD = ("insert", "press")
"""Groups of causes whose check may send hands near the mould or the nozzle."""

_NOT_SHARP_YET = "Look at the parts: a change is seen late or not at all yet."
_LOOK = "Look at the last part and sprue, then both halves: flash, gate, missing detail, residue."
_BEFORE_TOUCHING = (
    "Look before you touch: stop by the press controls, wait until the mould is fully open and stands still."
)


@dataclass(frozen=True, slots=True)
class PressStanding:
    """The words on top of the page: a headline, where the change likely lies, what was seen, from which shot on parts
    are to be held, what to check next. `limit`, an action limit that is passed, goes before all of it; `also`: changes
    that stand open beside the one that decides. `notices`: what is to be done about the computer soon.
    `safe`: whether shots are safe, and where, while data are not current; `is_read`: somebody reads the press.
    `is_heard`: false at a centre whose edge is not heard, so that nobody knows here.

    `current` is false when the data are not; `before` is then the last verdict, and `stood` what would stand were they
    current. `question` is the shot before which an
    insert may have been changed without an entry.
    """

    sign: str
    headline: str
    sentence: str
    detail: str = ""
    check: str = ""
    before: str = ""
    likely: str = ""
    hold: str = ""
    current: bool = True
    question: int | None = None
    limit: str = ""
    also: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    safe: str = ""
    is_read: bool = True
    is_heard: bool = True
    stood: "PressStanding | None" = None


def standing(
    view: PressView,
    now: datetime,
    logger_seen: datetime | None,
    kept: KeptNow | None = None,
    unheard: Unheard | None = None,
) -> PressStanding:
    """Return what may be said of a press."""
    wrong = trouble(view, now, logger_seen, kept, unheard)
    if view.shot is None:
        return replace(_waiting(view, wrong), **_safe(view.press, wrong, kept))
    found = [one for one in view.found if one.stands]
    said = replace(_beside_unjudged(_verdict_standing(view), view, now), question=view.question)
    said = _beside_found(said, found, view) if found else said
    if not wrong:
        return said
    worst, *others = wrong
    late = "" if unheard is not None else _unjudged(view, now)
    return PressStanding(
        sign="cut",
        headline=worst.what,
        sentence=_sentence(". ".join(filter(None, [_sentence(worst.more).rstrip("."), *map(str, others), late]))),
        detail="" if unheard is not None else _sentence(". ".join(_details(view))),
        check=to_do(_first_to_do(wrong)),
        before=_before(view, now),
        current=False,
        question=view.question,
        limit=" ".join(_sentence(found_said(one)) for one in found),
        stood=said,
        **_safe(view.press, wrong, kept),
    )


def _first_to_do(wrong: list[Trouble]) -> str:
    """Return which trouble is to be mended first: a logger that has ended brings nothing in, however the log is."""
    ended = [one.kind for one in wrong if one.ends_reading]
    return wrong[0].kind if wrong[0].kind == "unsafe" or not ended else ended[0]


def _safe(press: str, wrong: list[Trouble], kept: KeptNow | None) -> dict[str, Any]:
    is_read = not any(one.ends_reading for one in wrong)
    if not wrong or kept is None:
        return {"is_read": is_read, "is_heard": not any(one.kind == "unheard" for one in wrong)}
    hangs = not kept.shots and not kept.unsafe and any(one.kind == "silent" for one in wrong)
    return {"safe": UNSEEN if hangs else safe_of(press, kept, is_read), "is_read": is_read}


def safe_of(press: str, kept: KeptNow, is_read: bool) -> str:
    """Return whether shots are safe, and where; `is_read`: the logger is at work."""
    n = kept.by_press.get(press, 0) if sum(kept.by_press.values()) == kept.shots else None
    return safe_said(press, n, kept.shots, kept.place, kept.unsafe, is_read)


def _beside_found(said: PressStanding, found: Sequence[FoundWrong], view: PressView) -> PressStanding:
    """Return what may be said while something that people found stands: that first, and what the values say below it.

    Damage to the insert is a reason to swap; a fault of a part may have come from the press, which is looked at first.
    """
    worst = next((one for one in reversed(found) if damages(one)), found[-1])
    others = [found_said(one) for one in found if one is not worst]
    hold = min((held.first for one in found for held in one.held), default=worst.wrong.shot)
    verdict = view.verdict
    limit = "" if verdict is None or verdict.facts is None else limits_passed(verdict, verdict.facts)
    # what to swap by the values stays as large as what was found; what the finding alone made of it was said already
    swap = verdict is not None and verdict.verdict == "swap" and _called_by_values(verdict)
    called = said.headline if swap else ""
    values = "" if called else _values_said(view)
    return replace(
        said,
        sign=verdict_beside("swap" if said.sign == "swap" else "keep", found),
        headline=found_headline(worst),
        sentence=_sentence(found_at(worst) if worst.wrong.bad is None else found_said(worst)),
        likely=called,
        limit=_sentence(limit),
        hold=f"Hold parts from {hold} for this",
        detail=" ".join(map(_sentence, [known_before(worst), *others, values, ENDS])),
        check=f"{_LOOK} {_BEFORE_TOUCHING}",
    )


def _values_said(view: PressView) -> str:
    """Return what the values say by themselves, for below what people found: not what a finding made of the verdict."""
    verdict = view.verdict
    if verdict is None:
        return ""
    word = headline(verdict) if _called_by_values(verdict) else ""
    said = ", ".join(filter(None, (f"{word[:1].lower()}{word[1:]}", worded(verdict).found)))
    return f"by the values, at shot {verdict.shot}: {said}"


def _called_by_values(verdict: Verdict) -> bool:
    """Whether a verdict is other than keep by more than what a person found."""
    found = verdict.facts is not None and verdict.facts.found is not None
    return verdict.verdict != "keep" and bool(verdict.group or verdict.limits or not found)


def _details(view: PressView) -> list[str]:
    if view.link is not None and view.link.state == "lost" and view.link.detail:
        return [_sentence(one_line(view.link.detail)).rstrip(".")]
    return []


def _before(view: PressView, now: datetime) -> str:
    verdict = view.verdict
    if verdict is None or view.time is None:
        return ""
    said = f"Before that, at shot {verdict.shot}"
    if verdict.shot == view.shot:
        said += f" ({at_time(view.time, now)})"
    what = headline(verdict)
    return f"{said}: {what[0].lower()}{what[1:]}. {_sentence(worded(verdict).lead)}"


def _waiting(view: PressView, wrong: list[Trouble]) -> PressStanding:
    waits = wrong[0].more if wrong else ""
    told = [*filter(None, [_sentence(waits).rstrip(".")]), *map(str, wrong[1:]), *_details(view)]
    return PressStanding(
        sign="cut" if wrong else "waiting",
        headline=wrong[0].what if wrong else "Waiting for the first shot",
        sentence=". ".join(["No shot in the log yet" if waits else "No shot received yet", *told]) + ".",
        check=to_do(_first_to_do(wrong))
        if wrong
        else ""
        if view.mounted
        else "Enter which inserts are mounted, so that the shots are logged against them.",
        current=not wrong,
    )


def _verdict_standing(view: PressView) -> PressStanding:
    verdict, judged = view.verdict, view.judged
    serial = judged.serial if judged else ""
    how = how_judged(verdict, serial, judged.n_shots if judged else 0, bool(view.mounted))
    if how == COMING and judged is not None:
        return PressStanding(
            "waiting", f"{serial} is in", f"In the {half_named(judged.half)}; waiting for its first shot."
        )
    if how == UNJUDGED or verdict is None:
        return PressStanding(
            "waiting", "Not judged yet", f"Shot {view.shot} is stored; its verdict is being worked out."
        )
    if how == UNENTERED:
        return PressStanding(
            "waiting",
            "No insert entered",
            "Shots are logged, and nobody can say which insert made them.",
            detail=_learnt_anew(view, verdict),
            check="Enter which inserts are mounted; give the shot they came in at if it was earlier.",
        )
    # the question is put below, with its answers, until it is answered
    said = worded(verdict)
    detail = _sentence("; ".join(filter(None, (said.why, *said.more))))
    if verdict.shot != view.shot:
        detail = f"Judged up to shot {verdict.shot} of {view.shot}. {detail}".strip()
    if how == "settling":
        anew = _learnt_anew(view, verdict)
        word = RELEARNING if anew else _before_judged(verdict)
        return PressStanding("settling", word, anew or _sentence(said.seen), detail, _NOT_SHARP_YET)
    hold = "" if view.strips.held_from is None else f"Hold parts from {view.strips.held_from} for this"
    return PressStanding(
        how,
        headline(verdict),
        _sentence(beneath(verdict)),
        detail,
        _check(verdict),
        likely=likely(verdict),
        hold=hold,
        limit=_sentence(said.limit),
        also=said.also,
    )


def _beside_unjudged(said: PressStanding, view: PressView, now: datetime) -> PressStanding:
    """Return what may be said where shots have waited long for their verdict: what was called before still stands."""
    waits, late = view.unjudged, _unjudged(view, now)
    if waits is None or not (late or (waits.gets_ready_s is not None and waits_long(waits.age_s(now)))):
        return said
    told = _sentence(late or getting_ready(waits.n, waits.n >= COUNTED))
    if said.sign in ("watch", "swap"):
        return replace(said, detail=f"{told} {said.detail}".strip())
    before = _before(view, now)
    if not late:
        return PressStanding("waiting", "Not judged yet", told, detail=NO_HASTE, before=before)
    return PressStanding("waiting", "Not judged", told, check=to_look_at(waits.gets_ready_s is None), before=before)


def _unjudged(view: PressView, now: datetime) -> str:
    """Return which shots have waited long for their verdict; empty for none, and while what judges gets ready."""
    waits = view.unjudged
    if waits is None or not n_waiting_long(waits, now):
        return ""
    return unjudged_said(waits.n, waits.first, at_time(waits.since, now))


def _learnt_anew(view: PressView, verdict: Verdict) -> str:
    """Return since when the level is learnt anew because channels are read otherwise; empty where it is known again."""
    if view.map_changed is None or would_call(verdict):
        return ""
    facts = verdict.facts
    return _sentence(learnt_anew(*view.map_changed, None if facts is None else facts.judged_from))


def _before_judged(verdict: Verdict) -> str:
    """Return the headline while a change would not be called; of before facts were kept, by the settling alone."""
    if verdict.facts is None:
        return "Settling" if verdict.settling else "Learning"
    return headline(verdict)


def _check(verdict: Verdict) -> str:
    """Return what to check next; empty while there is nothing to check."""
    if verdict.verdict == "keep":
        return ""
    cause = CAUSES.get(verdict.cause)
    told = _LOOK if cause is None else _sentence(checked(verdict.cause, verdict.facts))
    return f"{told} {_BEFORE_TOUCHING}" if cause is None or cause.group in _IN_THE_MOULD else told


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:].rstrip('.')}." if text else ""
