"""The session of EUROMAP 63: ``SESSnnnn.REQ`` comes, ``SESSnnnn.RSP`` goes.

Whether the request is deleted before or after, whether the answer repeats the command, and in which case its extension
is written differ from press to press. A request that is still being written is answered as one that makes no sense.
"""

import re
import time

from simulators.file_press import FilePress
from simulators.file_press_faults import SESSION_ERRORS
from simulators.file_press_words import statements, words

__all__ = ["Sessions"]

_REQUEST = re.compile(r"SESS(\d{4})\.REQ", re.IGNORECASE)
_SYNTAX = (2, "syntax error")


class Sessions:
    """The requests of one press, and what it was asked for (`asked`, words in the order they first came)."""

    def __init__(self, press: FilePress) -> None:
        self.press = press
        self.asked: list[str] = []
        self._due: dict[str, float] = {}

    def look(self) -> None:
        """Answer every request that is there, those of a slow press when it is time."""
        press = self.press
        with press.guard:
            if press.off or press.faults.active("silent"):
                return
            for name in press.folder.names():
                match = _REQUEST.fullmatch(name)
                if match is None or int(match[1]) >= press.ways.sessions:
                    continue
                due = self._due.setdefault(name, time.monotonic() + press.ways.slow_s)
                if time.monotonic() >= due:
                    del self._due[name]
                    self._answer(name)

    def _answer(self, name: str) -> None:
        press = self.press
        raw = press.folder.read(name)
        if raw is None:
            return
        text = raw.decode(press.ways.codec)
        press.diary.note(asked=text, name=name)
        if press.ways.deletes == "before":
            press.folder.delete(name)
        answer, job = self._reply(text)
        press.diary.note(answered=answer)
        stem = name.rpartition(".")[0]
        press.put(press.named(f"{stem}.RSP"), answer + press.ways.end)
        if press.ways.deletes == "after":
            press.folder.delete(name)
        if job is not None:
            press.run_job(job)

    def _reply(self, text: str) -> tuple[str, str | None]:
        """Return the answer, and the text of the job to run."""
        press = self.press
        made, rest = statements(text)
        said = words(made[0]) if made else []
        if rest or len(made) != 1 or len(said) < 2 or not re.fullmatch(r"\d{8}", said[0]):
            return self._error(said[0] if said else "", *_SYNTAX), None
        number, word = said[0], said[1].upper()
        if word not in self.asked:
            self.asked.append(word)
        for kind, (error, why) in SESSION_ERRORS.items():
            if press.faults.active(kind):
                return self._error(number, error, why), None
        if word == "CONNECT":
            return self._processed(number, "CONNECT"), None
        if word != "EXECUTE" or len(said) != 3:
            press.diary.note(refused=" ".join(said[1:]))
            return self._error(number, *_SYNTAX), None
        file = said[2].strip('"')
        found = [one for one in press.folder.names() if one.upper() == file.upper()]
        raw = press.folder.read(found[0]) if found else None
        if raw is None:
            return self._error(number, 7, f"cannot open {file}"), None
        job = raw.decode(press.ways.codec, "replace")
        press.diary.note(job=file, text=job)
        return self._processed(number, f"EXECUTE {file}"), job

    def _processed(self, number: str, command: str) -> str:
        return f'{number} PROCESSED "{command}";' if self.press.ways.processed == "quoted" else f"{number} PROCESSED;"

    def _error(self, number: str, error: int, why: str) -> str:
        head = f"{number} " if number and not (error == 2 or self.press.ways.session_id == "no") else ""
        return f'{head}ERROR 05 {error:08d} "{why}";'
