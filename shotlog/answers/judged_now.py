"""What the newest verdict is worth by now: whether it is on what is mounted, and what it asks that nobody answered."""

from collections.abc import Mapping

from shotlog.entries import UNCHANGED
from shotlog.records import Stay, Verdict, half_judged
from shotlog.store.asked import state
from shotlog.store.log.log import Log
from shotlog.wording.blame import pointed_at

__all__ = ["COMING", "UNENTERED", "UNJUDGED", "half_looked_at", "how_judged", "open_question", "would_call"]

COMING = "coming"
UNJUDGED = "unjudged"
UNENTERED = "unentered"


def half_looked_at(mounted: Mapping[str, Stay], verdict: Verdict | None) -> str:
    """Return the half whose insert is looked at: the one a change is laid to while it is mounted, else the one changed
    last; empty for none. A single-use piece is judged on nothing of its own.
    """
    reused = {half: stay for half, stay in mounted.items() if not stay.mounting.single_use}
    if verdict is not None and verdict.verdict != "keep":
        halves = {stay.mounting.insert.serial: half for half, stay in reused.items()}
        called = next((halves[one] for one in (*pointed_at(verdict), verdict.insert) if one in halves), None)
        if called is not None:
            return called
    return half_judged({half: stay.first for half, stay in reused.items()})


def how_judged(verdict: Verdict | None, serial: str, n_shots: int, any_mounted: bool) -> str:
    """Return ``keep``, ``watch`` or ``swap`` where that is what the values say of what is mounted, else why not.

    `COMING`: the insert waits for its first shot; `UNJUDGED`: its verdict is being worked out; `UNENTERED`: nobody said
    what is mounted; ``settling``: a change would not be called yet.

    Parameters
    ----------
    serial, n_shots
        The insert that is looked at, empty for none, and the shots it has made since it was mounted.
    """
    if serial and n_shots == 0 and (verdict is None or verdict.insert != serial):
        return COMING
    if verdict is not None and not any_mounted:
        return UNENTERED  # also where one came out since: nothing waits to be worked out
    if verdict is None or serial not in (verdict.insert, *pointed_at(verdict)):
        return UNJUDGED
    return "settling" if verdict.verdict == "keep" and not would_call(verdict) else verdict.verdict


def would_call(verdict: Verdict) -> bool:
    """Whether a change would have been called: beside sisters also while an insert warms up and its charts wait."""
    if verdict.facts is None:
        return not verdict.settling and verdict.statistic is not None
    return verdict.facts.stage in ("quiet", "called")


def open_question(log: Log, press: str, verdict: Verdict | None, stay: Stay | None, upcoming: int) -> int | None:
    """Return the shot before which an insert may have been changed without an entry; None where nothing is asked.

    It is asked while the verdict is on the insert that is looked at, and until an entry in force says no.
    """
    shot = verdict.facts.asked_shot if verdict is not None and verdict.facts is not None else None
    if shot is None or verdict is None or stay is None or verdict.insert != stay.mounting.insert.serial:
        return None
    entered = state.entries(log, press, stay.first, upcoming)
    no = any((row.event.kind, row.event.at_shot) == (UNCHANGED, shot) and not row.taken_back for row in entered)
    return None if no else shot
