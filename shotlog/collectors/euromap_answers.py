"""What a press answers over EUROMAP 63, and what to do about it in plain words. Pure; nothing is read here.

An answer is ``00000001 PROCESSED "..."`` or ``00000001 ERROR 05 00000007 "text"``, each with a semicolon; of some
presses only ``PROCESSED;``, and a request they could not read is answered without its number. What became of each
command of a job stands in the log of the job. Numbers of errors: those seen in public programs that speak it (the
standard was not read): class 05 is of the session, 06 of a job.
"""

import re
from dataclasses import dataclass

from shotlog.errors import CollectorError, PressRefused, PressUnreachable

__all__ = [
    "NOT_ACTIVE",
    "RUNNING",
    "Answer",
    "Refusal",
    "TooMany",
    "answer_in",
    "command_answers",
    "is_whole",
    "refused",
]

_SESSION, _JOB = 5, 6

RUNNING = 33
"""The job is running already: of no harm."""
NOT_ACTIVE = 36
"""A job to be ended was not active: of no harm."""

_WORDS = {
    (_SESSION, 2): "it cannot read the request (syntax); it may speak another form of EUROMAP 63",
    (_SESSION, 5): "it is busy",
    (_SESSION, 6): "it is offline: switch its host computer interface to online at the press",
    (_JOB, 3): "it has too many jobs: end those that nobody needs, at the press or in the programs that ordered them",
    (_JOB, 4): "it cannot create the file: may it write into this folder, and is there room?",
    (_JOB, 6): "it does not know one of the tokens; shotlog learn finds those it knows",
    (_JOB, 7): "it gives no more reports: end one that nobody needs, at the press or in the program that ordered it",
    (_JOB, RUNNING): "the job is running already",
    (_JOB, NOT_ACTIVE): "the job was not active",
}
_TOO_MANY = {(_JOB, 3), (_JOB, 7)}
_WAIT = {(_SESSION, 5), (_SESSION, 6)}
"""What goes by itself or at the press: asked again soon."""


class TooMany(PressRefused):
    """The press has as many jobs or reports as it can have."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """An error a press answered: its class and number, and its own text."""

    klass: int
    number: int
    text: str

    def __str__(self) -> str:
        known = _WORDS.get((self.klass, self.number))
        said = f", {self.text!r}" if self.text else ""
        code = f"error {self.number} of class {self.klass:02d}{said}"
        return f"{known} ({code})" if known else f"it answers {code}"

    @property
    def is_harmless(self) -> bool:
        """Whether what was asked for stands as it should."""
        return self.klass == _JOB and self.number in (RUNNING, NOT_ACTIVE)


@dataclass(frozen=True, slots=True)
class Answer:
    """`number`: of the request, None where it has none; `refusal`: None where the request was processed."""

    number: int | None
    refusal: Refusal | None = None


_ANSWER = re.compile(
    r"""\s*(?:([0-9]{8})\s+)?(?:(PROCESSED)\b.*|ERROR\s+([0-9]+)\s+([0-9]+)\s*(?:"([^"]*)"?)?.*?)""",
    re.IGNORECASE | re.DOTALL,
)
_COMMAND = re.compile(
    r"""COMMAND\s+([0-9]+)\s+(?:(PROCESSED)|ERROR\s+([0-9]+)\s+([0-9]+)\s*(?:"([^"\r\n]*)"?)?)""", re.IGNORECASE
)


def is_whole(text: str) -> bool:
    """Say whether an answer or a list ends as one does: with a semicolon that stands in no quotes."""
    return text.rstrip("\r\n \t\x00\x1a").endswith(";") and text.count('"') % 2 == 0


def answer_in(text: str) -> Answer | None:
    """Return what a response file says; None where it says nothing that is one.

    Examples
    --------
    >>> answer_in('00000001 PROCESSED "EXECUTE";'), answer_in("PROCESSED;").number
    (Answer(number=1, refusal=None), None)
    >>> str(answer_in('ERROR 05 00000005 "busy";').refusal)
    "it is busy (error 5 of class 05, 'busy')"
    """
    found = _ANSWER.fullmatch(text.strip("\ufeff \r\n\t\x00\x1a"))
    if found is None:
        return None
    number = int(found[1]) if found[1] else None
    return Answer(number, None if found[2] else Refusal(int(found[3]), int(found[4]), (found[5] or "").strip()))


def command_answers(text: str) -> dict[int, Refusal | None]:
    """Return what became of each command of a job by its number, from the log of the job; None for done.

    Examples
    --------
    >>> command_answers('COMMAND 1 PROCESSED "JOB command" 20261128 12:00:00;')
    {1: None}
    """
    found = {}
    for one in _COMMAND.finditer(text):
        refusal = None if one[2] else Refusal(int(one[3]), int(one[4]), (one[5] or "").strip())
        found[int(one[1])] = refusal
    return found


def refused(what: str, refusal: Refusal) -> CollectorError:
    """Return the error for what a press refused: `PressUnreachable` where it is worth asking again soon.

    >>> type(refused("a job", Refusal(6, 7, ""))).__name__
    'TooMany'
    """
    code = (refusal.klass, refusal.number)
    kind = PressUnreachable if code in _WAIT else TooMany if code in _TOO_MANY else PressRefused
    return kind(f"the press did not take {what}: {refusal}")
