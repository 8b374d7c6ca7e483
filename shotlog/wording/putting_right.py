"""What is said of a log that was put right: what happened to it, what goes on, where the old file is, what to do."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime

from shotlog.wording.numbers import shots as shots_of
from shotlog.wording.numbers import some
from shotlog.wording.times import ago

__all__ = ["away_said", "begun_said", "follows_said", "put_right_said", "put_right_told"]

_NEW = "A new log goes on, with the shots and entries that the logger still had"
_LOOK = "Look at what is mounted and what is held, and enter again what is missing."
_AGAIN = (
    f"{_LOOK} What is known of sisters, and more of what was held, may stand in the old log only: keep parts apart."
)


def begun_said(trouble: str, journal: str) -> str:
    """Return what is said when a log begins to be put right."""
    return f"the log is being put right: {trouble}; shots wait in {journal} until that is done"


def put_right_said(
    how: str,
    log: str,
    aside: str,
    damage: str,
    whole: bool,
    lost: Mapping[str, int],
    shots: Mapping[str, Sequence[tuple[int, int]]],
) -> str:
    """Return what is said to whoever looks after the logger.

    `how` it was done, `aside`: the name under which what lay there is kept, `damage` to it, `lost`: rows by table,
    `shots` among them, by press; see `store.log.recovery.PutRight`.
    """
    kept = f" What was found there is kept as {aside}." if aside else ""
    if damage:
        begun = f"The log {log} is damaged ({damage}); the file is kept as {aside}."
        if whole:
            return f"{begun} All of its record could be read and goes on at its path: nothing is lost."
        if how == "new":
            return f"{begun} Nothing could be read of it. {_NEW}. {_AGAIN}"
        rows = ", ".join(f"{n} of {table}" for table, n in sorted(lost.items()))
        less = f"lost are {rows}" if rows else "what came into the log later than that is lost"
        runs = "; ".join(f"{press} {_runs(spans)}" for press, spans in shots.items())
        missing = f" Shots that were on the damaged page: {runs}." if runs else ""
        return (
            f"{begun} A new log goes on with all that could be read; {less}, but for what the logger still "
            f"had of shots and entries.{missing} {_LOOK}"
        )
    if how == "put back":
        happened = "Another file was put in place of" if aside else "Somebody deleted or moved"
        whole_again = "All of it could still be read and lies at its path again: nothing is lost."
        return f"{happened} the log {log}. {whole_again}{kept}"
    if how == "older":
        return (
            f"An older copy was written over the log {log}. It goes on in that copy, with the shots and entries that "
            f"the logger still had. {_LOOK}{kept}"
        )
    if how == "taken up":
        return f"The log {log} was not at its path. All of it lay beside it and is at its path again.{kept}"
    if how == "other":
        return (
            f"At the path of the log {log} lies another log, or an older copy, without all that was logged before. "
            f"Logging goes on in it, and it names the one of before; put that one back while nobody is logging. {_LOOK}"
        )
    return f"The log {log} did not come back. {_NEW}. {_AGAIN}{kept}"


def _runs(spans: Sequence[tuple[int, int]]) -> str:
    return ", ".join(str(a) if a == b else f"{a} to {b}" for a, b in spans)


def follows_said(since: str, reason: str) -> str:
    """Return what is said of a log that goes on from another one; `since`: a time as it is shown."""
    return f"goes on from an earlier log since {since}: {reason}"


def put_right_told(how: str, aside: str, damage: str, whole: bool) -> str:
    """Return what goes on record of a log that was put right; see `put_right_said`.

    Examples
    --------
    >>> put_right_told("put back", "", "", True)
    'it was deleted or moved away, and all of it was put back'
    >>> put_right_told("older", "trial.db.put-aside-2", "", False)
    'an older copy was written over it, and it goes on in that copy; what lay there is kept as trial.db.put-aside-2'
    """
    kept = f"; what lay there is kept as {aside}" if aside else ""
    if damage:
        rest = "all of it was put back" if whole else "what could be read of it goes on"
        return f"it was damaged ({damage}), and {'a new one goes on' if how == 'new' else rest}{kept}"
    if how == "put back":
        happened = "another file was put in its place" if aside else "it was deleted or moved away"
        return f"{happened}, and all of it was put back{kept}"
    if how == "older":
        return f"an older copy was written over it, and it goes on in that copy{kept}"
    return f"it did not come back, and a new one goes on{kept}"


def away_said(
    since: datetime | None, now: datetime, why: str, waited: tuple[int, int, int] | None, put_right: Sequence[str]
) -> str:
    """Return what goes on record of a log that could not be written, up to `now`: since when, why, and what became of
    the shots of a press; `waited`: how many, the first, the last.

    Examples
    --------
    >>> began = datetime(2026, 1, 5, 6, tzinfo=UTC)
    >>> said = away_said(began, began.replace(second=38), "database is locked", (59, 118, 176), ())
    >>> for part in said.split("; "): print(part)
    the log could not be written for 38 s, since 2026-01-05 06:00:00 UTC (database is locked)
    59 shots of this press waited and are in it now: 118 to 176
    """
    at = "" if since is None else f"{since.astimezone(UTC):%Y-%m-%d %H:%M:%S} UTC"
    began = "" if since is None else f" for {_length((now - since).total_seconds())}, since {at}"
    because = f" ({why})" if why else ""
    shots = "no shot of this press had to wait"
    if waited is not None:
        n, first, last = waited
        shots = (
            f"{some(n, 'shot')} of this press waited and {'is' if n == 1 else 'are'} in it now: {shots_of(first, last)}"
        )
    return "; ".join((f"the log could not be written{began}{because}", *put_right, shots))


def _length(seconds: float) -> str:
    return f"{max(1.0, seconds):.0f} s" if seconds < 120.0 else ago(seconds)
