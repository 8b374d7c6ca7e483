"""What is said at a press whose data are not current: whether its shots are safe and where, and what to do."""

from shotlog.wording.numbers import some

__all__ = ["UNSEEN", "kept_out", "link_unknown", "safe_said", "to_do"]

_MEANWHILE = "Judge by the parts meanwhile: verdict and values are not current. What was found and is held stands."

UNSEEN = (
    "No shot waits on disk. Where shotlog run hangs, shots that it holds in memory are not safe; where it is not at "
    "work, what the press makes now is not logged."
)
"""What is said of the shots of a logger that gives no sign of life and has not said that it ends."""

_TO_DO = {
    "locked": "End the program that holds the log: a viewer of databases, a copy, a sync. Nothing is lost, the shots "
    "go in by themselves.",
    "full": "Make room on the disk of the log. The shots go in by themselves; do not end shotlog run.",
    "gone": "Bring the log back to its place, or ask who moved it. Do not end shotlog run.",
    "log": "Look at what shotlog run says of the log, and leave it running: the shots go in by themselves.",
    "unsafe": "Make room on the disk of the journal now. Do not switch off, and do not end shotlog run.",
    "stopped": "Start shotlog run again.",
    "silent": "Look at the computer that logs. If shotlog run is not at work there, start it again; if it is, read "
    "what it says before you end it.",
    "unheard": "Whether it logs meanwhile is not known here. Look at the edge whether shotlog run is at work "
    "there, then at shotlog ship there and the network between the edge and here.",
    "link": "Check that the press is on, then its cable, then its address on Presses.",
    "clocks": "Check the clocks of this computer and of the one that logs.",
    "quiet": "Check that the press makes shots, then its line on Presses.",
}
"""What to check or start, by what is wrong."""


def to_do(kind: str) -> str:
    """Return what to check or start first, and what to go by meanwhile.

    Examples
    --------
    >>> print(to_do("stopped").split(" Judge")[0])
    Start shotlog run again.
    """
    return f"{_TO_DO[kind]} {_MEANWHILE}"


def safe_said(press: str, n: int | None, of_all: int | None, place: object, unsafe: int, logging: bool) -> str:
    """Return in one place whether shots are safe, and where; `n` of this press and `of_all` wait in the journal at
    `place`, None where nobody can tell, and `unsafe` of all presses are in memory. `logging`: the logger is at work.

    Examples
    --------
    >>> print(safe_said("P25", 12, 34, "day.journal", 0, True))
    Safe: 12 shots of P25 wait on disk and go into the log (34 of all presses), in the journal day.journal.
    >>> safe_said("P25", 0, 0, "day.journal", 0, True)
    'Safe: every shot that came is in the log.'
    >>> print(safe_said("P25", 0, 1, "day.journal", 2, True))
    NOT SAFE: 2 shots of all presses are IN MEMORY ONLY: make room, do not switch off. Safe: 1 shot of other presses \
waits on disk and goes into the log, in the journal day.journal.
    """
    said = []
    if unsafe:
        are = "shot of all presses is" if unsafe == 1 else "shots of all presses are"
        said.append(f"NOT SAFE: {unsafe} {are} IN MEMORY ONLY: make room, do not switch off.")
    if of_all:
        mine = of_all if n is None else n
        whose = "all presses" if n is None else press if n else "other presses"
        shown = mine or of_all
        wait, goes = ("waits", "goes") if shown == 1 else ("wait", "go")
        every = f" ({of_all} of all presses)" if n and n != of_all else ""
        said.append(
            f"Safe: {some(shown, 'shot')} of {whose} {wait} on disk and {goes} into the log{every}, "
            f"in the journal {place}."
        )
    if not said and of_all is None:
        said.append(f"Not known whether shots wait: the journal {place} cannot be read.")
    elif not said:
        only = "every shot that came is in the log" if logging else "every shot that was logged is in the log"
        made = "" if logging else "; what the press makes now is not logged"
        said.append(f"Safe: {only}{made}.")
    return " ".join(said)


def kept_out(kind: str, why: str) -> str:
    """Return what keeps the log from being written; `why`: what was said of it, where it is nothing of the known.

    Examples
    --------
    >>> kept_out("locked", "log trial.db: database is locked"), kept_out("log", "log trial.db: read-only")
    ('another program holds it', 'log trial.db: read-only')
    """
    return {"locked": "another program holds it", "full": "its disk is full"}.get(kind, why)


def link_unknown(state: str, *, is_heard: bool = True) -> str:
    """Return what is said of a link while nobody reads it; `state`: as it was last.

    `is_heard`: false at a centre of an edge that is not heard, of which nothing is known.
    """
    if not is_heard:
        return f"not known here: its edge is not heard (last {state})"
    return f"not known: the logger that reads it is not at work (last {state})"
