"""All that is ever written to a press over EUROMAP 63: one table of words. Pure; nothing is written here.

That interface is asked by files, so a program that only reads still writes. What this one may write stands in
`SESSION` and `COMMANDS` and nowhere else: a request is an `Order`, an `Order` that the tables do not know cannot be
made, and `euromap_folder` writes nothing but Orders. SET, DOWNLOAD, UPLOAD and ABORT ALL are not among them, and
ABORT takes only a job of our own name.

Our own files begin with S and two digits of the session, ``S01``: no other name is written or deleted. Names keep to
eight letters and digits, for old controllers. The standard itself was not read; the spelling is that of public
programs that speak it, and EVENT more so: it is not verified on a real press.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from shotlog.errors import UsageError

__all__ = [
    "COMMANDS",
    "LAST_SESSION",
    "SESSION",
    "TOKEN",
    "Order",
    "abort_job",
    "connect",
    "event_job",
    "is_own",
    "job_name",
    "list_job",
    "number_of",
    "report_job",
    "session_stem",
    "take_job",
]

LAST_SESSION = 99
"""The highest number of a session: two digits of it are in the name of every file of ours."""

TOKEN = re.compile(r"[A-Za-z@$][A-Za-z0-9_@$.]{0,60}(?:\[[0-9]{1,4}(?:,[0-9]{1,4})*\])?")
"""The name of a value, with its indices: ``ActStrCsh[1]``, ``ActTmpBrlZn[1,2]``."""

_JOB = r"S[0-9]{2}(?:[REP][0-9]{4}|INFO|IDS|STOP)"
_HOW = r"START IMMEDIATE STOP NEVER"

SESSION = {
    "CONNECT": r"[0-9]{8} CONNECT;",
    "EXECUTE": rf'[0-9]{{8}} EXECUTE "{_JOB}\.JOB";',
}
"""What a request of a session may say, by its word."""

COMMANDS = {
    "GETINFO": rf'GETINFO "{_JOB}\.DAT";',
    "GETID": rf'GETID "{_JOB}\.DAT";',
    "REPORT": (
        rf'REPORT {_JOB} (?:APPEND|REWRITE) "{_JOB}\.DAT" {_HOW} CYCLIC SHOT 1 '
        rf"PARAMETERS {TOKEN.pattern}(?:, {TOKEN.pattern})*;"
    ),
    "EVENT": rf'EVENT {_JOB} CHANGES "{_JOB}\.DAT" {_HOW};',
    "ABORT": rf"ABORT JOB {_JOB};",
}
"""The one command that may stand in a job file of ours, by its word."""

_HEAD = rf'JOB {_JOB} RESPONSE "{_JOB}\.LOG"; '
_SESSION_FILE = r"SESS[0-9]{4}\.REQ"
_ALLOWED = re.compile(
    rf"{_SESSION_FILE}\n(?:{'|'.join(SESSION.values())})|{_JOB}\.JOB\n{_HEAD}(?:{'|'.join(COMMANDS.values())})"
)


@dataclass(frozen=True, slots=True)
class Order:
    """A file to be written: its name and text; one that is not in the tables cannot be made.

    Raises
    ------
    UsageError
        It says something else than the tables allow, or under another name than our own.

    Examples
    --------
    >>> Order("SESS0001.REQ", '00000001 EXECUTE "S01R0001.JOB";').word
    'EXECUTE'
    >>> Order("S01STOP.JOB", 'JOB S01STOP RESPONSE "S01STOP.LOG"; ABORT ALL;')
    Traceback (most recent call last):
    ...
    shotlog.errors.UsageError: not written to a press: 'JOB S01STOP RESPONSE "S01STOP.LOG"; ABORT ALL;'
    """

    name: str
    text: str

    def __post_init__(self) -> None:
        if not _ALLOWED.fullmatch(f"{self.name}\n{' '.join(self.text.split())}"):
            raise UsageError(f"not written to a press: {self.text!r}")

    @property
    def word(self) -> str:
        """What it asks for."""
        words = self.text.split()
        return words[1].rstrip(";") if self.name.endswith(".REQ") else words[4]

    @property
    def bytes(self) -> bytes:
        """Its text as it is written."""
        return "\r\n".join((*self.text.split("\n"), "")).encode("ascii")


def session_stem(session: int) -> str:
    """Return the name of the files of a session, without its ending."""
    return f"SESS{session:04d}"


def job_name(session: int, what: str) -> str:
    """Return the name of a job of ours: `what` is INFO, IDS, STOP, or a letter and four digits."""
    return f"S{session:02d}{what}"


def number_of(name: str, session: int, letter: str) -> int | None:
    """Return the number of a report (R), an event (E) or a probe (P) of this session from the name of its file.

    Examples
    --------
    >>> number_of("s01r0042.dat", 1, "R"), number_of("SHOTS.DAT", 1, "R")
    (42, None)
    """
    found = re.fullmatch(rf"S{session:02d}{letter}([0-9]{{4}})", name.upper().partition(".")[0])
    return int(found[1]) if found else None


def is_own(name: str, session: int) -> bool:
    """Say whether a file is one of this session: one that we wrote, or that was written because we asked for it."""
    stem, _, ending = name.upper().partition(".")
    if stem == session_stem(session):
        return ending in ("REQ", "RSP", "TMP")
    return re.fullmatch(_JOB, stem) is not None and stem.startswith(f"S{session:02d}") and bool(ending)


def connect(session: int) -> Order:
    """Ask whether the press is there."""
    return Order(f"{session_stem(session)}.REQ", "00000000 CONNECT;")


def take_job(session: int, number: int, job: str) -> Order:
    """Ask the press to take a job file of ours; `number` is that of the request."""
    return Order(f"{session_stem(session)}.REQ", f'{number:08d} EXECUTE "{job}.JOB";')


def list_job(job: str, command: str) -> Order:
    """Ask for a list: of what the press is (GETINFO), or of the tokens it knows (GETID)."""
    return _job(job, f'{command} "{job}.DAT";')


def report_job(job: str, tokens: Sequence[str], rewrite: bool = False) -> Order:
    """Ask for a line a shot with these values."""
    mode = "REWRITE" if rewrite else "APPEND"
    return _job(
        job,
        f'REPORT {job} {mode} "{job}.DAT"\nSTART IMMEDIATE STOP NEVER\nCYCLIC SHOT 1\nPARAMETERS {", ".join(tokens)};',
    )


def event_job(job: str) -> Order:
    """Ask for a line whenever something is set otherwise at the press."""
    return _job(job, f'EVENT {job} CHANGES "{job}.DAT"\nSTART IMMEDIATE STOP NEVER;')


def abort_job(job: str, ended: str) -> Order:
    """Ask that a job of ours be ended."""
    return _job(job, f"ABORT JOB {ended};")


def _job(job: str, command: str) -> Order:
    return Order(f"{job}.JOB", f'JOB {job} RESPONSE "{job}.LOG";\n{command}')
