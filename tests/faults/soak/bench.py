"""The bench: presses run, faults happen, the logger is kept alive from outside, and in the end the referee counts."""

import contextlib
import os
import re
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.faults import outside
from tests.faults.soak.disk import Disk
from tests.faults.soak.faults import Planned
from tests.faults.soak.logger import Logger, told
from tests.faults.soak.referee import Count, count, rows_of
from tests.faults.soak.truth import Made, TruePress
from tests.faults.soak.wires import Printer, RtuUnit, TcpUnit, Wire

__all__ = ["Bench", "Done"]

STOP_S = 15.0
"""Longest wait for the logger to end when asked to; what it is allowed is 5 s, and that is looked at apart."""


@dataclass(frozen=True, slots=True)
class Done:
    """A fault that happened, and what was said of it in the time after (nothing: empty)."""

    planned: Planned
    began: float
    ended: float
    said: str


@dataclass
class Bench:
    """One bench in `folder`, which is left as it ends. `cycle_s`: time of a shot in the fast time of the bench."""

    folder: Path
    seed: int
    plan: list[Planned]
    cycle_s: float
    whole_s: float
    pages: bool = True
    done: list[Done] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    set_aside: list[Path] = field(default_factory=list)
    set_aside_unread: list[str] = field(default_factory=list)
    verdict: Count = field(default_factory=Count)
    verified: str = ""
    began: float = 0.0
    ended_s: float = 0.0
    _off_s: float = 0.0

    def __post_init__(self) -> None:
        self.disk = Disk(self.folder)
        self.work = self.disk.folder
        self.database = self.work / "trial.db"
        self.presses = [
            TruePress("TCP", 65_300, 65_535),
            TruePress("RTU", 900, 999),
            TruePress("LINE", 9_900, 9_999),
        ]
        tcp, rtu, line = self.presses
        self.wires: dict[str, Wire] = {
            "TCP": TcpUnit(tcp, self.seed),
            "RTU": RtuUnit(rtu, self.seed + 1, self.folder),
            "LINE": Printer(line, self.seed + 2, self.folder),
        }
        config = self.work / "press.toml"
        port = _free_port()
        config.write_text(
            f'[log]\nstore = "sqlite:///trial.db"\n[dashboard]\nport = {port}\n'
            + "".join(wire.config() for wire in self.wires.values()),
            encoding="utf-8",
        )
        self._clock = self.folder / "clock"
        self.logger = Logger(config, self.pages, outside.clock(self._clock))
        self._end = threading.Event()
        self._machine = threading.Lock()
        self._quiet: list[tuple[float, float]] = []
        self._away_s: list[tuple[float, float]] = []
        self._copy = self.folder / "copy.db"

    # --- the run ---

    def run(self) -> Count:
        """Run to the end of the plan, then mend everything and count."""
        self.logger.start()
        until = time.monotonic() + 60.0
        while time.monotonic() < until and not all(
            self.logger.said_since(0.0, f"{n.lower()}: connected") for n in self.wires
        ):
            for press in self.presses:  # a printer is heard of with its first line
                self.wires[press.name].show(press.make())
            time.sleep(0.2)
        self.began = time.monotonic()
        threads = [threading.Thread(target=self._make, args=(press,), daemon=True) for press in self.presses]
        by_press = {name: [p for p in self.plan if p.press == name] for name in ("", *self.wires)}
        threads += [threading.Thread(target=self._follow, args=(plan,), daemon=True) for plan in by_press.values()]
        threads.append(threading.Thread(target=self._watch, daemon=True))
        try:
            for thread in threads:
                thread.start()
            while time.monotonic() - self.began < self.whole_s and not self._end.wait(1.0):
                self._progress()
        except KeyboardInterrupt:
            self.notes.append("ended by hand")
        self._settle(threads)
        return self.verdict

    def _make(self, press: TruePress) -> None:
        chance, wire = Random(f"{self.seed} {press.name}"), self.wires[press.name]
        while not self._end.wait(self.cycle_s * chance.uniform(0.8, 1.4)):
            wire.show(press.make())

    def _watch(self) -> None:
        while not self._end.wait(0.5):
            self.logger.sample()
            with self._machine:
                if self.logger.process is not None and not self.logger.alive:
                    last = [said.line for said in self.logger.said[-5:]]
                    self.notes.append(f"ENDED BY ITSELF with status {self.logger.process.returncode}: {last}")
                    self._away(self.logger.start)

    def _progress(self) -> None:
        gone, at = [len(press.ledger) for press in self.presses], time.monotonic() - self.began
        line = f"{at:6.0f} of {self.whole_s:.0f} s  shots {sum(gone)}  told {len(self.logger.acknowledged)}"
        line += f"  faults {len(self.done)} of {len(self.plan)}"
        print(line, end="\r" if sys.stderr.isatty() else "\n", file=sys.stderr, flush=True)

    def _follow(self, plan: list[Planned]) -> None:
        for planned in plan:
            if self._end.wait(max(0.0, self.began + planned.at_s - time.monotonic())):
                return
            began = time.monotonic()
            try:
                act = self._wire_fault if planned.press else self._machine_fault
                said = act(planned)
            except Exception as error:  # noqa: BLE001 (a fault of the bench must not end the bench unseen)
                said = f"BENCH: {error!r}"
                self.notes.append(f"{planned}: {error!r}")
            self.done.append(Done(planned, began - self.began, time.monotonic() - self.began, said or ""))

    # --- faults of wires ---

    def _wire_fault(self, planned: Planned) -> str:
        press, wire, began = (
            next(p for p in self.presses if p.name == planned.press),
            self.wires[planned.press],
            time.monotonic(),
        )
        away = {"TCP": "refused", "RTU": "unplugged", "LINE": "unplugged"}[planned.press]
        kind = away if planned.kind in ("reset", "leap") else planned.kind
        press.now.spoilt = True
        wire.wrong[kind] = planned.size
        self._end.wait(planned.for_s)
        if planned.kind == "reset":
            press.reset()
        elif planned.kind == "leap":
            press.leap(int(planned.size * planned.for_s / self.cycle_s))
        if planned.kind in ("reset", "leap"):
            press.make()
        press.now.spoilt = True
        wire.wrong.pop(kind)
        self._quiet.append((began, time.monotonic() + 3.0))
        for _ in range(12):  # an answer that is late, a counter that is polled again
            if said := self._said_of(planned.press, began):
                return said
            self._end.wait(0.25)
        return ""

    def _said_of(self, press: str, since: float) -> str:
        mine = [s for s in list(self.logger.said) if f"{press}: " in s.line and told(s.line) is None]
        lines = [said.line for said in mine if said.at >= since]
        if lines:
            return lines[0]
        links = [said.line for said in mine if re.search(f"{press}: (.*: )?(connected|lost|stopped)", said.line)]
        if links and "connected" not in links[-1]:
            return f"lost before it began: {links[-1]}"
        away = any(began <= time.monotonic() and since <= ended for began, ended in list(self._away_s))
        return "nobody to say it: the logger was away, or nobody read what it said" if away else ""

    # --- faults of the machine ---

    def _machine_fault(self, planned: Planned) -> str:
        began = time.monotonic()
        with self._machine:
            name = planned.kind.replace(" ", "_").replace(",", "")
            said: str = getattr(self, f"_{name}")(planned)
        self._quiet.append((began, time.monotonic() + 3.0))
        return said

    def _away(self, then: Callable[[], object]) -> None:
        """The logger is gone until it reads again."""
        began = time.monotonic()
        for press in self.presses:
            press.now.spoilt = True
        then()
        self._away_s.append((began, time.monotonic() + 5.0))
        self._quiet.append(self._away_s[-1])

    def _kill(self, planned: Planned) -> str:
        self._away(self.logger.kill)
        self._end.wait(planned.for_s * 0.3)
        self._away(self.logger.start)
        return "killed from outside"

    def _kill_pages(self, planned: Planned) -> str:
        before = self.logger.children()
        for child in before:
            with contextlib.suppress(ProcessLookupError):
                os.kill(child, signal.SIGKILL)
        began, until = time.monotonic(), time.monotonic() + max(20.0, planned.for_s)
        while self.pages and time.monotonic() < until and not self._end.wait(0.2):
            if set(self.logger.children()) - set(before):
                return f"pages started again after {time.monotonic() - began:.1f} s"
        return "" if self.pages else "no pages"

    def _freeze(self, planned: Planned) -> str:
        self.logger.signal(signal.SIGSTOP)
        self._away(lambda: self._end.wait(planned.for_s))
        self.logger.signal(signal.SIGCONT)
        return "frozen from outside"

    def _restart(self, planned: Planned) -> str:
        self._away(self._stopped)
        self._away(self.logger.start)
        return "asked to end from outside"

    def _stopped(self) -> None:
        if self.logger.stop(STOP_S) is None:
            self.notes.append(f"did not end within {STOP_S:g} s of SIGTERM")

    def _lock(self, planned: Planned) -> str:
        began = time.monotonic()
        with contextlib.closing(sqlite3.connect(self.database, timeout=10, isolation_level=None)) as other:
            other.execute("BEGIN EXCLUSIVE")
            self._end.wait(planned.for_s)
            other.execute("ROLLBACK")
        self._end.wait(1.0)
        said = self.logger.said_since(began, "lock", "busy", "journal", "waiting")
        return said[0] if said else ("shorter than the wait for a lock" if planned.for_s < 6.0 else "")

    def _disk_full(self, planned: Planned) -> str:
        if not self.disk.limited:
            return "skipped: no file system of a limited size here"
        began = time.monotonic()
        self.disk.fill()
        self._end.wait(planned.for_s)
        self.disk.free()
        self._end.wait(1.0)
        said = self.logger.said_since(began, "disk", "space", "journal", "full")
        return said[0] if said else ""

    def _disk_full_then_killed(self, planned: Planned) -> str:
        if not self.disk.limited:
            return "skipped: no file system of a limited size here"
        began = time.monotonic()
        self.disk.fill()
        self._end.wait(planned.for_s / 2)
        self._away(self._stopped)
        self._away(self.logger.start)
        self._end.wait(planned.for_s / 2)
        self.disk.free()
        self._end.wait(1.0)
        said = self.logger.said_since(began, "disk", "space", "journal", "full")
        return said[0] if said else ""

    def _clock_back(self, planned: Planned) -> str:
        if not self.logger.environment:
            return "skipped: no way to put the clock of a process here"
        began = time.monotonic()
        sign = -1 if planned.kind == "clock back" else 1
        self._off_s += sign * planned.size
        outside.put_clock(self._clock, self._off_s)
        self._end.wait(min(planned.for_s, 5.0))
        said = self.logger.said_since(began, "clock")
        return said[0] if said else ""

    _clock_on = _clock_back

    def _terminal_stands(self, planned: Planned) -> str:
        self.logger.deaf.set()
        self._away(lambda: self._end.wait(planned.for_s))
        self.logger.deaf.clear()
        return "nobody read what it said"

    def _family(self) -> list[Path]:
        return [p for p in (self.database, *(Path(f"{self.database}-{end}") for end in ("wal", "shm"))) if p.exists()]

    def _keep(self) -> Path:
        """Hold on to the file the log is in now, by a second name: what was acknowledged into it is still there."""
        kept = self.folder / f"aside-{len(self.set_aside)}.db"
        for file in self._family():
            there = Path(str(file).replace(str(self.database), str(self.work / kept.name)))
            if not there.name.endswith("-shm"):
                os.link(file, there)
        self.set_aside.append(self.work / kept.name)
        return kept

    def _log_moved(self, planned: Planned) -> str:
        began, away = time.monotonic(), self.work / "away"
        away.mkdir(exist_ok=True)
        for file in self._family():
            file.rename(away / file.name)
        self._end.wait(planned.for_s)
        if self.database.exists():  # a new log stands there: the old one stays away, and counts as well
            kept = self.work / f"aside-{len(self.set_aside)}.db"
            for file in list(away.iterdir()):
                file.rename(str(file).replace(str(away / "trial.db"), str(kept)))
            self.set_aside.append(kept)
        else:
            for file in list(away.iterdir()):
                file.rename(self.work / file.name)
        self._end.wait(2.0)
        return self._said_of_file(began)

    def _log_deleted(self, planned: Planned) -> str:
        began = time.monotonic()
        self._keep()
        for file in self._family():
            file.unlink()
        self._end.wait(planned.for_s)
        return self._said_of_file(began)

    def _said_of_file(self, began: float) -> str:
        said = self.logger.said_since(
            began, "moved", "gone", "deleted", "another file", "other file", "older", "not the log", "journal"
        )
        return said[0] if said else ""

    def _copy_taken(self, planned: Planned) -> str:
        with contextlib.closing(sqlite3.connect(self.database, timeout=20)) as log:
            fresh = self.folder / "copy.new"
            fresh.unlink(missing_ok=True)
            with contextlib.closing(sqlite3.connect(fresh)) as to:
                log.backup(to)
            fresh.replace(self._copy)
        return "a copy was taken"

    def _older_copy_put_over(self, planned: Planned) -> str:
        began = time.monotonic()
        if not self._copy.exists():
            return self._copy_taken(planned)
        self._keep()
        shutil.copy(self._copy, self.work / "restored")
        for file in self._family()[1:]:
            file.unlink()
        (self.work / "restored").replace(self.database)
        self._end.wait(planned.for_s)
        return self._said_of_file(began)

    def _older_copy_copied_over(self, planned: Planned) -> str:
        began = time.monotonic()
        if not self._copy.exists():
            return self._copy_taken(planned)
        self.logger.signal(signal.SIGSTOP)
        try:  # what stands in it is saved while the logger stands still; a lock it holds goes with this turn
            kept = self.work / f"aside-{len(self.set_aside)}.db"
            with (
                contextlib.closing(sqlite3.connect(self.database, timeout=0.5)) as log,
                contextlib.closing(sqlite3.connect(kept)) as to,
            ):
                log.backup(to)
        except sqlite3.OperationalError as busy:
            return f"skipped: {busy}"
        else:
            self.set_aside.append(kept)
            with self.database.open("r+b") as out, self._copy.open("rb") as old:
                out.truncate(0)
                shutil.copyfileobj(old, out)
        finally:
            self.logger.signal(signal.SIGCONT)
        self._end.wait(planned.for_s)
        return self._said_of_file(began)

    # --- the end ---

    def _settle(self, threads: list[threading.Thread]) -> None:
        until = time.monotonic() + 90.0
        while time.monotonic() < until and any(t.is_alive() for t in threads[3:-1]):  # faults that are under way
            time.sleep(0.1)
        self.disk.free()
        self.logger.deaf.clear()
        self.logger.signal(signal.SIGCONT)
        goal = [press.now.n + 3 for press in self.presses]
        while time.monotonic() < until and not self._caught_up(goal):
            time.sleep(0.5)
        self._end.set()
        for thread in threads:
            thread.join(20.0)
        time.sleep(1.0)  # the last shots are on display; nobody makes more
        if self.logger.stop(STOP_S) is None:
            self.notes.append(f"did not end within {STOP_S:g} s of SIGTERM at the end")
        for wire in self.wires.values():
            wire.close()
        self.ended_s = time.monotonic() - self.began
        lines = [f"{said.at - self.began:9.2f} {said.line}" for said in self.logger.said]
        (self.folder / "said.txt").write_text("\n".join(lines), encoding="utf-8")
        self._judge()

    def _caught_up(self, goal: list[int]) -> bool:
        with contextlib.suppress(sqlite3.Error):
            shots, _, _ = rows_of(self.database)
            newest = {one.press: one for one in shots}
            for press, n in zip(self.presses, goal, strict=True):
                made = {m.counter for m in press.ledger if m.n >= n}
                if press.name not in newest or newest[press.name].counter not in made:
                    return False
            return all(one.judged for one in shots[-20:])
        return False

    def _judge(self) -> None:
        quiet = sorted(self._quiet)

        def listening(press: str, made: Made) -> bool:
            if made.answers < 1 or made.shown < self.began + 5.0:
                return False
            return not any(a - 1.0 <= made.gone and made.shown <= b for a, b in quiet)

        files = [self.database]
        for file in reversed(self.set_aside):
            try:
                rows_of(file)
                files.insert(0, file)
            except (
                sqlite3.Error
            ) as error:  # set aside in the middle of a write: nobody's log, and no promise rests on it
                self.set_aside_unread.append(f"{file.name}: {error}")
        self.verdict = count(self.presses, self.logger.acknowledged, self.logger.waiting, files, listening)
        for file in files[-1:]:
            with contextlib.closing(sqlite3.connect(f"file:{file.as_posix()}?mode=ro", uri=True)) as log:
                answer = log.execute("PRAGMA integrity_check").fetchone()[0]
            if answer != "ok":
                self.notes.append(f"integrity_check of {file.name}: {answer}")
        command = [sys.executable, "-m", "shotlog", "verify", str(self.logger.config)]
        verified = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
        self.verified = (verified.stdout + verified.stderr).strip()
        if verified.returncode:
            self.notes.append(f"verify ended with {verified.returncode}: {self.verified}")

    @property
    def unnamed(self) -> Counter[str]:
        """Faults that nothing was said of, by kind."""
        return Counter(one.planned.kind for one in self.done if not one.said)


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port: int = taken.getsockname()[1]
        return port
