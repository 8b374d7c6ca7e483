"""How soon a press needs a person, from the log and its logger's sign of life alone: for who shows no page."""

from collections.abc import Sequence
from datetime import datetime

from shotlog.answers.needs import FEW, PressFacts, is_quiet
from shotlog.answers.whereof import whereof
from shotlog.parts.found import FoundWrong, verdict_beside
from shotlog.parts.part import Part
from shotlog.parts.standing import Ground
from shotlog.records import Stay
from shotlog.store.asked.cycle import usual_cycle_s
from shotlog.store.asked.logger_state import LoggerState
from shotlog.store.asked.state import PressState
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.places import WhereIs
from shotlog.wording.found import why_asked

__all__ = ["facts_of"]

_AHEAD_S = 60.0
"""The last shot so far in the future: the clocks disagree, and nobody knows what the press does."""


def facts_of(
    log: Log,
    state: PressState,
    timeline: Timeline,
    found: Sequence[FoundWrong],
    held: Sequence[tuple[Part, Ground]],
    where: WhereIs,
    logger: LoggerState,
    now: datetime,
) -> PressFacts:
    """Return what is known of a press that decides how soon it needs a person.

    Parameters
    ----------
    found
        What people found on it, all of it.
    held
        Its held parts, each with how it stands.
    """
    verdict, stands = state.verdict, [one for one in found if one.stands]
    said = verdict_beside("keep" if verdict is None else verdict.verdict, stands)
    is_judged = verdict is not None and not verdict.settling
    of = whereof(state.press, held, where, now)
    age_s = 0.0 if state.time is None else (now - state.time).total_seconds() - state.set_since_s
    silent = _silent_since(state, logger)
    away = silent is not None or age_s < -_AHEAD_S
    cycle_s = None if state.shot is None else usual_cycle_s(log, state.press, state.shot)
    return PressFacts(
        state.press,
        verdict=said if said != "keep" or is_judged else "",
        limit=verdict is not None and bool(verdict.limits),
        left=verdict.left_median if verdict is not None and said in ("watch", "swap") else None,
        held=len(held),
        loose=of.loose,
        away=away,
        away_s=max(((now - one).total_seconds() for one in silent or ()), default=None),
        overdue=of.overdue,
        few_pieces=any(_is_short(timeline, stay, state) for stay in state.mounted.values()),
        asked=why_asked(found) is not None,
        quiet=is_quiet(age_s, cycle_s) and not away,
    )


def _silent_since(state: PressState, logger: LoggerState) -> list[datetime] | None:
    """Return since when nothing is known of what a press does, as far as that is known; None where it is heard."""
    lost = state.link is not None and state.link.state in ("lost", "stopped")
    silent = logger.state != "running" and (
        logger.state != "silent press" or logger.sign is None or state.press in logger.sign.silent
    )
    if not lost and not silent:
        return None
    times = (state.link.time if lost and state.link else None, logger.seen if silent else None)
    return [one for one in times if one is not None]


def _is_short(timeline: Timeline, stay: Stay, state: PressState) -> bool:
    """Whether the queue of a single-use half is about to run out."""
    queue = timeline.queue(stay) if stay.mounting.single_use else None
    upcoming = 1 if state.shot is None else state.shot + 1
    return queue is not None and len(queue) - timeline.n_taken(stay, upcoming) <= FEW
