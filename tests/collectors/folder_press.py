"""A press on EUROMAP 63, played in a folder: it answers requests whenever somebody waits, and writes a line a shot."""

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from shotlog.collectors import Options

__all__ = ["FolderPress", "shared_folder"]


class FolderPress:
    """A press whose folder lies here.
    `forbidden`: what was asked and was no reading. `asked`: every request and command, in order. `refuse`: by the word
    of a command, the error that it is answered with. `plain`: it answers without number and text. `silent`: it takes no
    request. `logs`: it writes the log of a job. `lists`: what GETINFO and GETID bring; None for no file at all.
    request. `logs`: it writes the log of a job. `lists`: what GETINFO and GETID bring; None for no file at all.
    """

    def __init__(self, folder: Path) -> None:
        self.forbidden: list[bytes] = []
        self.asked: list[str] = []
        self.refuse: dict[str, str] = {}
        self.plain = self.silent = False
        self.logs = True
        self.lists: dict[str, str | None] = {}
        self.folder, self._away = folder, folder.with_name("away")
        self._units: dict[str, str] = {}
        self._names: dict[str, str] = {}
        self.jobs: dict[str, list[str]] = {}
        """The reports that run, and their tokens."""
        self.events: list[str] = []
        self.time = "06:00:00"
        self.date = "20260105"
        self.answers: Callable[[str, str], str] | None = None

    def keys(self, units: Mapping[str, str]) -> dict[str, Any]:
        """Return the keys of a collector that reads these channels, each in its unit, from this press."""
        self._units = {f"Act{n}[1,{n}]": unit for n, unit in enumerate(units.values())}
        self._names = dict(zip(self._units, units, strict=True))
        channels = {name: {"token": token, "unit": self._units[token]} for token, name in self._names.items()}
        counter = {"token": "ActCntCyc"}
        return {"kind": "euromap63", "folder": str(self.folder), "shot_counter": counter, "channels": channels}

    def wired(self, options: Any) -> Options:
        """Return the options with this press answering whenever somebody waits."""
        wired: Options = replace(options, pause=self.look)
        return wired

    def show(self, counter: int, values: Mapping[str, float | str], **others: str) -> None:
        """Make a shot: a line in every report that runs."""
        self.look(0.0)
        shown = {"DATE": self.date, "TIME": self.time, "ActCntCyc": str(counter), "COUNT": str(counter)} | others
        for token, name in self._names.items():
            value = values.get(name, "?")
            shown[token] = value if isinstance(value, str) else f"{value:.12f}"
        for job, tokens in self.jobs.items():
            self.write(f"{job}.DAT", ",".join(shown.get(token, "?") for token in tokens))

    def change(self, line: str) -> None:
        """Tell of a set-point that was changed."""
        for job in self.events:
            self.write(f"{job}.DAT", line)

    def garble(self) -> None:
        """Write a line that is none."""
        for job in self.jobs:
            self.write(f"{job}.DAT", "\x81,8,,0x")

    def vanish(self) -> None:
        """Let the share go away."""
        self.folder.rename(self._away)

    def come_back(self) -> None:
        """Let the share come back."""
        self._away.rename(self.folder)

    def restart(self) -> None:
        """Be switched off and on: no job survives."""
        self.jobs.clear()
        self.events.clear()

    def look(self, seconds: float) -> None:
        """Take the request that lies there, as a press does now and then."""
        if self.silent or not self.folder.exists():
            return
        for request in self.folder.glob("*.REQ"):
            text = request.read_text("ascii").strip()
            request.unlink()
            self._answer(request, text)

    def _answer(self, request: Path, text: str) -> None:
        number, word, *rest = text.rstrip(";").split()
        error = ""
        if word == "EXECUTE":
            error = self._run(self.folder / rest[0].strip('"'))
        else:
            self.asked.append(word)
            error = self.refuse.get(word, "")
            if word != "CONNECT":
                self.forbidden.append(text.encode())
        said = f"{number} {error}" if error else "PROCESSED;" if self.plain else f'{number} PROCESSED "{word}";'
        if self.answers is not None:
            said = self.answers(number, word)
        request.with_suffix(".rsp").write_text(f"{said}\r\n", "ascii")

    def _run(self, file: Path) -> str:
        text = file.read_text("ascii")
        job, command = file.stem, " ".join(text.partition(";")[2].split())
        word = command.split()[0].rstrip(";")
        self.asked.append(command.partition(" START")[0])
        error = self.refuse.get(word, "")
        if word in ("REPORT", "EVENT") and (job in self.jobs or job in self.events):
            error = error or 'ERROR 06 00000033 "already running";'
        if error.startswith("ERROR 05"):
            return error
        if self.logs:
            done = f'PROCESSED "{word} command" {self.date} {self.time};'
            lines = ['COMMAND 1 PROCESSED "JOB command";', f"COMMAND 2 {error or done}"]
            file.with_suffix(".LOG").write_text("\r\n".join([*lines, ""]), "ascii")
        if not error:
            self._done(job, word, command)
        return "" if self.logs else error

    def _done(self, job: str, word: str, command: str) -> None:
        if word == "REPORT":
            self.jobs[job] = re.split(r", ", command.partition("PARAMETERS ")[2].rstrip(";"))
            self.write(f"{job}.DAT", ",".join(self.jobs[job]))
        elif word == "EVENT":
            self.events.append(job)
        elif word == "GETID":
            listed = [f'{token},N,12,9,0,"{unit}","A value";' for token, unit in self._units.items()]
            self._list(job, word, "\r\n".join(['ActCntCyc,N,8,0,0,"","Shots";', *listed]))
        elif word == "GETINFO":
            self._list(job, word, 'MaxSessions,8;\r\nCharDef,"850";')
        elif command.split()[:2] == ["ABORT", "JOB"]:
            ended = command.split()[2].rstrip(";")
            self.jobs.pop(ended, None)
            self.events = [one for one in self.events if one != ended]
        else:
            self.forbidden.append(command.encode())

    def _list(self, job: str, word: str, usual: str) -> None:
        said = self.lists.get(word, usual)
        if said is not None:
            (self.folder / f"{job}.DAT").write_text(f"{said}\r\n", "cp850", newline="")

    def write(self, name: str, line: str, end: str = "\r\n") -> None:
        """Write at the end of a file."""
        with (self.folder / name).open("a", encoding="latin-1", newline="") as file:
            file.write(f"{line}{end}")


@contextmanager
def shared_folder() -> Iterator[FolderPress]:
    """Yield a press with a folder of its own."""
    with TemporaryDirectory() as place:
        folder = Path(place) / "press"
        folder.mkdir()
        yield FolderPress(folder)
