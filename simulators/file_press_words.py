"""The words of requests and job files of EUROMAP 63, as the press reads them.

A statement ends with `;`. The clauses of REPORT come in a fixed order: file, START, STOP, CYCLIC, PARAMETERS; a
condition may stand before CYCLIC and counts of samples and sessions after it (their spelling is not known, so they are
passed over).
"""

import re
from dataclasses import dataclass

__all__ = ["READING", "Command", "WordError", "commands", "statements", "words"]

READING = ("JOB", "REPORT", "EVENT", "GETID", "GETINFO", "ABORT")
"""The commands of a job that change nothing on the press."""

_WORD = re.compile(r'"[^"]*"|[^\s,;"\[\]]+(?:\[[^\]]*\])?')


class WordError(Exception):
    """A statement the press does not understand, or cannot follow: the number and text of a presentation error."""

    def __init__(self, number: int, text: str) -> None:
        super().__init__(text)
        self.number, self.text = number, text


@dataclass(frozen=True, slots=True)
class Command:
    """One statement of a job file. `every`: shots between lines; `period_s`: seconds between them, where CYCLIC TIME
    was asked for.
    """

    word: str
    name: str = ""
    file: str = ""
    rewrite: bool = False
    every: int = 1
    period_s: float = 0.0
    parameters: tuple[str, ...] = ()


def statements(text: str) -> tuple[list[str], str]:
    """Return the statements of a text without their `;`, and what stands behind the last `;`."""
    parts, start, quoted = [], 0, False
    for at, sign in enumerate(text):
        if sign == '"':
            quoted = not quoted
        elif sign == ";" and not quoted:
            parts.append(text[start:at].strip())
            start = at + 1
    return parts, text[start:].strip()


def words(statement: str) -> list[str]:
    """Return the words of a statement: a quoted string is one, and so is a token with its bracket."""
    return _WORD.findall(statement)


def commands(text: str) -> list[Command | WordError]:
    """Return the commands of a job file, in order; one that is not understood is the error it gets."""
    made, rest = statements(text)
    read: list[Command | WordError] = []
    for statement in [*made, *([rest] if rest else [])]:
        try:
            if statement is rest and rest:
                raise WordError(2, "statement without its end")
            read.append(_command(words(statement)))
        except WordError as error:
            read.append(error)
        except IndexError:
            read.append(WordError(2, "statement too short"))
    return read


def _command(said: list[str]) -> Command:
    word = said[0].upper()
    if word == "JOB":
        _want(said, 2, "RESPONSE")
        return Command(word, said[1], _file(said[3]))
    if word in ("GETID", "GETINFO"):
        return Command(word, file=_file(said[1]))
    if word == "ABORT":
        if said[1].upper() != "JOB":
            return Command("ABORT ALL" if said[1].upper() == "ALL" else " ".join(said[:2]))
        return Command(word, said[2])
    if word == "EVENT":
        _want(said, 2, "CHANGES")
        at = 4 if said[3].upper() in ("APPEND", "REWRITE") else 3
        return Command(word, said[1], _file(said[at]), said[3].upper() == "REWRITE")
    if word == "REPORT":
        return _report(said)
    return Command(word)


def _report(said: list[str]) -> Command:
    mode = said[2].upper() if said[2].upper() in ("APPEND", "REWRITE") else ""
    at = 3 if mode else 2
    file, at = _file(said[at]), at + 1
    for clause in (("START", "IMMEDIATE"), ("STOP", "NEVER")):
        for word in clause:
            _want(said, at, word)
            at += 1
    while said[at].upper() != "CYCLIC":  # a condition
        at += 1
    every, period_s = 1, 0.0
    if said[at + 1].upper() == "SHOT":
        every = _number(said[at + 2])
    elif said[at + 1].upper() == "TIME":
        hours, minutes, seconds = (_number(part) for part in said[at + 2].split(":"))
        period_s = hours * 3600.0 + minutes * 60.0 + seconds
    else:
        raise WordError(2, f"CYCLIC {said[at + 1]}")
    while said[at].upper() != "PARAMETERS":
        at += 1
    parameters = tuple(said[at + 1 :])
    if not parameters:
        raise WordError(2, "PARAMETERS without any")
    return Command("REPORT", said[1], file, mode == "REWRITE", max(1, every), period_s, parameters)


def _want(said: list[str], at: int, word: str) -> None:
    if said[at].upper() != word:
        raise WordError(2, f"{said[at]} where {word} belongs")


def _file(word: str) -> str:
    if not (word.startswith('"') and word.endswith('"') and len(word) > 2):
        raise WordError(2, f"{word} where a file name in quotes belongs")
    return word[1:-1]


def _number(word: str) -> int:
    if not word.isdigit():
        raise WordError(2, f"{word} where a number belongs")
    return int(word)
