"""How soon a press needs a person: from what is seen of it, what is held, and whether it is heard.

`facts_from` is for every screen; `facts_of` asks the log and its logger's sign of life alone, for who shows no page.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from shotlog.answers.judged_now import half_looked_at, how_judged, open_question
from shotlog.answers.needs import FEW, PressFacts, is_ahead, is_quiet, waits_long
from shotlog.answers.whereof import Whereof, whereof
from shotlog.parts.found import FoundWrong, verdict_beside
from shotlog.parts.part import Part
from shotlog.parts.standing import Ground
from shotlog.records import VERDICTS, Stay, Verdict
from shotlog.store.asked.cycle import usual_cycle_s
from shotlog.store.asked.logger_state import LoggerState
from shotlog.store.asked.state import PressState
from shotlog.store.asked.unjudged import Unjudged
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.places import WhereIs
from shotlog.wording.found import why_asked

__all__ = ["SeenPress", "Silence", "facts_from", "facts_of", "n_waiting_long"]


@dataclass(frozen=True, slots=True)
class SeenPress:
    """What is seen of a press; `shot` and `verdict` are the newest, None where there is none.

    `serial`: the insert that is looked at, empty for none, with the `n_shots` it has made since it was mounted.
    `found`: what people found wrong. `question`: the shot before which an insert may have been changed unentered.
    `pieces`: of each single-use half with a queue, how many are left. `unjudged`: how many shots have waited long to be
    judged.
    """

    press: str
    shot: int | None
    verdict: Verdict | None
    serial: str
    n_shots: int
    any_mounted: bool
    found: Sequence[FoundWrong]
    question: int | None
    pieces: Sequence[int]
    unjudged: int = 0


@dataclass(frozen=True, slots=True)
class Silence:
    """Whether it is not known what a press does (`away`, since `away_s` seconds), or it makes no shots (`quiet`)."""

    away: bool
    away_s: float | None
    quiet: bool


def facts_from(seen: SeenPress, held: int, of: Whereof, silence: Silence, edge: str = "") -> PressFacts:
    """Return what decides how soon a press needs a person; `held`: how many of its parts are, `of`: where."""
    verdict, said = seen.verdict, ""
    if seen.shot is not None:
        said = how_judged(verdict, seen.serial, seen.n_shots, seen.any_mounted)
        stands = [one for one in seen.found if one.stands]
        if stands:
            said = verdict_beside(said if said in VERDICTS else "keep", stands)
        elif said == "keep" and seen.unjudged:
            said = ""
    return PressFacts(
        seen.press,
        verdict=said if said in VERDICTS else "",
        limit=verdict is not None and bool(verdict.limits),
        left=verdict.left_median if verdict is not None and said in ("watch", "swap") else None,
        held=held,
        loose=of.loose,
        away=silence.away,
        away_s=silence.away_s if silence.away else None,
        overdue=of.overdue,
        few_pieces=any(left <= FEW for left in seen.pieces),
        asked=why_asked(seen.found) is not None or seen.question is not None,
        quiet=silence.quiet and not silence.away,
        unjudged=seen.unjudged,
        edge=edge,
    )


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
    upcoming = 1 if state.shot is None else state.shot + 1
    stay = state.mounted.get(half_looked_at(state.mounted, state.verdict))
    seen = SeenPress(
        state.press,
        state.shot,
        state.verdict,
        "" if stay is None else stay.mounting.insert.serial,
        0 if stay is None else upcoming - stay.first,
        bool(state.mounted),
        found,
        open_question(log, state.press, state.verdict, stay, upcoming),
        [left for one in state.mounted.values() if (left := _left(timeline, one, upcoming)) is not None],
        n_waiting_long(state.unjudged, now),
    )
    of = whereof(state.press, held, where, now)
    return facts_from(seen, len(held), of, _silence(log, state, logger, now))


def n_waiting_long(unjudged: Unjudged | None, now: datetime) -> int:
    """Return how many shots of a press wait to be judged, where that has taken long; else none."""
    late = unjudged is not None and waits_long(unjudged.age_s(now), unjudged.gets_ready_s)
    return unjudged.n if unjudged is not None and late else 0


def _silence(log: Log, state: PressState, logger: LoggerState, now: datetime) -> Silence:
    age_s = 0.0 if state.time is None else (now - state.time).total_seconds() - state.set_since_s
    since = _silent_since(state, logger)
    cycle_s = None if state.shot is None else usual_cycle_s(log, state.press, state.shot)
    away_s = max(((now - one).total_seconds() for one in since or ()), default=None)
    return Silence(since is not None or is_ahead(age_s), away_s, is_quiet(age_s, cycle_s))


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


def _left(timeline: Timeline, stay: Stay, upcoming: int) -> int | None:
    """Return how many pieces of a single-use half are left; None where they never run out."""
    queue = timeline.queue(stay) if stay.mounting.single_use else None
    return None if queue is None else len(queue) - timeline.n_taken(stay, upcoming)
