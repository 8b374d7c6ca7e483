"""Serve a scenario on real wires at a multiple of its speed, and say on a stream what happens, one JSON object a line.

The schedule is computed from the moment of starting: a late step never delays the ones after it.
"""

import asyncio
import heapq
import json
import signal
import sys
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import FrameType

import numpy as np

from simulators.disturb import MODBUS_FAULTS, OPC_FAULTS, PRINTER_FAULTS, WireFault, WireFaults
from simulators.faces import FACES, Face, FaceError
from simulators.file_press_face import FileFace
from simulators.file_press_faults import FILE_FAULTS
from simulators.file_press_ways import parse_ways
from simulators.modbus_server import ModbusRtuFace, ModbusTcpFace
from simulators.operator import acts
from simulators.press import PressRun
from simulators.printout import DIALECTS
from simulators.recording import runs
from simulators.serial_line import PtyPrinterFace, SocketPrinterFace, has_ptys
from simulators.story import Press, Scenario

__all__ = ["ServePlan", "as_line", "make_face", "run_server", "serve"]

Say = Callable[[dict[str, object]], None]


def make_face(face: str, press: Press, scenario: Scenario, more: tuple[WireFault, ...] = ()) -> Face:
    """Return a face of this kind with the faults of its press; a printer port is a socket where there are no
    pseudo-terminals.
    """
    kind, _, dialect = face.partition(":")
    faults = (*press.faults, *more)
    if kind in ("modbus-tcp", "modbus-rtu"):
        maker = ModbusTcpFace if kind == "modbus-tcp" else ModbusRtuFace
        return maker(first_count=press.first_count, faults=WireFaults(faults, MODBUS_FAULTS, scenario.seed))
    if kind in ("serial-line", "serial-socket"):
        printer = PtyPrinterFace if kind == "serial-line" and has_ptys() else SocketPrinterFace
        wire = WireFaults(faults, PRINTER_FAULTS, scenario.seed)
        chosen = dialect or press.dialect
        if chosen not in DIALECTS:
            raise FaceError(f"{press.name}: given dialect {chosen!r}, allowed: {', '.join(DIALECTS)}")
        return printer(scenario.start, chosen, press.first_count, wire)
    if kind == "opcua-40077":
        return _opc_face(dialect, press, scenario, faults)
    if kind == "euromap63":
        wire = WireFaults(faults, FILE_FAULTS, scenario.seed)
        return FileFace(press.name, scenario.start, parse_ways(dialect), press.first_count, wire)
    raise FaceError(f"{press.name}: given {kind!r}, allowed: {', '.join(FACES)}")


def _opc_face(switches: str, press: Press, scenario: Scenario, faults: tuple[WireFault, ...]) -> Face:
    # an extra, and slow to load: only where a press is on OPC UA
    from simulators.opc_face import OpcFace
    from simulators.opc_switches import read_switches

    wire = WireFaults(faults, OPC_FAULTS, scenario.seed)
    return OpcFace(None, read_switches(switches), press.first_count, wire, machine=press.machine)


@dataclass(frozen=True, slots=True)
class ServePlan:
    """How to serve: `kinds` overrides faces by press, `faults` adds wire faults to theirs.

    `longest_wait_s`: no two shots of a press are further apart on the wire, however long it stood (0: as long as it
    stood). `wait`: for the word on stdin, and until stdin closes. `end`: after the last shot, instead of keeping it
    on the wire.
    """

    speed: float = 1.0
    shots: int | None = None
    wait: bool = False
    end: bool = False
    kinds: Mapping[str, str] = field(default_factory=dict)
    faults: tuple[tuple[str, WireFault], ...] = ()
    longest_wait_s: float = 0.0

    def due_s(self, run: PressRun) -> list[float]:
        """Return when each shot of a run is due, in seconds after the start."""
        gaps = np.diff(run.seconds, prepend=0.0) / self.speed
        if self.longest_wait_s > 0.0:
            gaps = np.minimum(gaps, self.longest_wait_s)
        due: list[float] = np.cumsum(gaps).tolist()
        return due


def run_server(scenario: Scenario, plan: ServePlan, say: Say) -> None:
    """Serve until stopped by a signal, by stdin closing, or after the last shot, as the plan wants it."""
    asyncio.run(serve(scenario, plan, say))


async def serve(scenario: Scenario, plan: ServePlan, say: Say) -> None:
    """Open every face, say where they are, wait for the word if asked to, and run the schedule."""
    made = {run.press.name: run for run in runs(scenario, plan.shots)}
    faces = {}
    for press in scenario.presses:
        more = tuple(fault for name, fault in plan.faults if name == press.name)
        faces[press.name] = make_face(plan.kinds.get(press.name, press.face), press, scenario, more)
    stop, go = asyncio.Event(), asyncio.Event()
    _stop_on_signals(stop)
    try:
        for face in faces.values():
            await face.open()
        serving = {}
        for name, face in faces.items():
            poll_s = min(0.2, max(0.01, made[name].press.machine.level.cycle_s / plan.speed / 8.0))
            serving[name] = {**face.place(), "config": face.config(round(poll_s, 3))}
        say({"serving": serving})
        if plan.wait:
            _listen(go, stop)
            await _first(go, stop)
        await _schedule(made, faces, plan, stop, say)
        say({"done": True, "functions": {name: face.asked() for name, face in faces.items()}})
        if not plan.end:
            await stop.wait()
    finally:
        for face in faces.values():
            await face.close()


async def _schedule(
    made: dict[str, PressRun], faces: dict[str, Face], plan: ServePlan, stop: asyncio.Event, say: Say
) -> None:
    loop = asyncio.get_running_loop()
    start = loop.time()
    waiting = {name: acts(run.press, len(run)) for name, run in made.items()}
    times = {name: plan.due_s(run) for name, run in made.items()}
    due = [(times[name][0], name, 0) for name in made if times[name]]
    heapq.heapify(due)
    while due and not stop.is_set():
        at, name, index = heapq.heappop(due)
        run = made[name]
        await _until(start + at, loop, stop)
        if stop.is_set():
            return
        while waiting[name] and waiting[name][0][0] <= index + 1:
            say(_counted(waiting[name].pop(0)[1], run.press.first_count))
        await faces[name].show(run, index)
        say({"press": name, "shot": run.press.first_count + index + 1})
        if index + 1 < len(run):
            heapq.heappush(due, (times[name][index + 1], name, index + 1))


def _counted(act: dict[str, object], first_count: int) -> dict[str, object]:
    counted = {key: int(str(act[key])) + first_count for key in ("at_shot", "first", "last") if act.get(key)}
    return {**act, **counted}


async def _until(moment: float, loop: asyncio.AbstractEventLoop, stop: asyncio.Event) -> None:
    left = moment - loop.time()
    if left <= 0.0:
        await asyncio.sleep(0)
        return
    try:
        await asyncio.wait_for(stop.wait(), left)
    except TimeoutError:
        return


async def _first(go: asyncio.Event, stop: asyncio.Event) -> None:
    tasks = [asyncio.ensure_future(go.wait()), asyncio.ensure_future(stop.wait())]
    await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
    for task in tasks:
        task.cancel()


def _listen(go: asyncio.Event, stop: asyncio.Event) -> None:
    """Watch stdin from a thread, which works on every system: a line ``go`` starts, the end of input stops."""
    loop = asyncio.get_running_loop()

    def watch() -> None:
        for line in sys.stdin:
            if line.strip() == "go":
                _tell(loop, go)
        _tell(loop, stop)

    threading.Thread(target=watch, daemon=True).start()


def _tell(loop: asyncio.AbstractEventLoop, event: asyncio.Event) -> None:
    if not loop.is_closed():
        loop.call_soon_threadsafe(event.set)


def _stop_on_signals(stop: asyncio.Event) -> None:
    loop = asyncio.get_running_loop()

    def stopped(number: int, frame: FrameType | None) -> None:
        _tell(loop, stop)

    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, stopped)
        signal.signal(signal.SIGTERM, stopped)


def as_line(event: dict[str, object]) -> str:
    """Return an event as one line of JSON."""
    return json.dumps(event)
