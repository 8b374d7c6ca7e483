"""What is said of a log that was put right: what happened to it, what goes on, where the old file is, what to do."""

from collections.abc import Mapping, Sequence

__all__ = ["follows_said", "put_right_said"]

_NEW = "A new log goes on, with the shots and entries that the logger still had"
_LOOK = "Look at what is mounted and what is held, and enter again what is missing."
_AGAIN = (
    f"{_LOOK} What is known of sisters, and more of what was held, may stand in the old log only: keep parts apart."
)


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
        runs = "; ".join(f"{press} {_runs(spans)}" for press, spans in shots.items())
        missing = f" Shots that were on the damaged page: {runs}." if runs else ""
        return (
            f"{begun} A new log goes on with all that could be read; lost are {rows}, but for what the logger still "
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
    return f"The log {log} did not come back. {_NEW}. {_AGAIN}{kept}"


def _runs(spans: Sequence[tuple[int, int]]) -> str:
    return ", ".join(str(a) if a == b else f"{a} to {b}" for a, b in spans)


def follows_said(since: str, reason: str) -> str:
    """Return what is said of a log that goes on from another one; `since`: a time as it is shown."""
    return f"goes on from an earlier log since {since}: {reason}"
