"""The process of the presses as the examination holds it, and what a cycle of them is."""

import json
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from typing import Any

from simulators.opc_names import GOOD_CYCLE, PRODUCTION, unit_object
from tests.faults.soak.truth import Made, true_values

__all__ = ["UNIT", "Played", "cycle", "offered"]

UNIT = unit_object(1)

_FIELDS = {
    "cushion": (f"{UNIT}/CushionStroke", 1.0),
    "peak_pressure": (f"{UNIT}/SpecificPressureMaximum", 1.0),
    "fill_time": (f"{UNIT}/InjectionTime", 1000.0),
    "recovery_time": (f"{UNIT}/DosingTime", 1000.0),
}


def offered(made: Made) -> dict[str, float]:
    """Return the values of a shot as its press offers them: mm, bar, s, s."""
    return {channel: round(value, 6) for channel, value in true_values(made.n).items()}


def cycle(made: Made, broken: Any = None, job: int = 0) -> dict[str, Any]:
    """Return the cycle of a shot; `broken` stands in the channels that are unreadable.

    The press counts it as the counter that it has: of the machine where `job`, what the job's shows, is given.
    """
    true = offered(made)
    values: dict[str, Any] = {
        "JobCycleCounter": job or made.counter,
        "MachineCycleCounter": made.counter if job else None,
        "CycleTime": 75000.0,
        "CycleQuality": GOOD_CYCLE,
        "ProductionStatus": PRODUCTION,
    }
    for channel, (name, scale) in _FIELDS.items():
        values[name] = (
            broken if channel in made.unreadable else round(true[channel] * scale, 3) if scale > 1.0 else true[channel]
        )
    return values


class Played:
    """Presses by name and switches, in a process. Started again they are on other ports, as another program may have
    taken the old ones meanwhile: it is the relay that stays where it is.
    """

    def __init__(self, presses: Mapping[str, str]) -> None:
        self.switches, self.ports = dict(presses), dict[str, int]()
        self.changed: dict[str, int] = {}
        self.frozen = False
        self._process: subprocess.Popen[str] | None = None
        self.start()

    def start(self) -> None:
        """Start it, as a press is switched on."""
        command = [sys.executable, "-m", "tests.faults.opc.press"]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.ports = self.do("open", self.switches)

    def do(self, what: str, told: Any) -> Any:
        """Tell it to do something and wait until it is done."""
        assert self._process is not None
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps({what: told}) + "\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        if not line:
            raise RuntimeError(f"the press ended at {what} {told}")
        return json.loads(line)

    def send(self, name: str, *cycles: Mapping[str, Any]) -> None:
        """Send cycles of a press, all in one step."""
        self.do("send", {name: cycles})

    def done(self) -> dict[str, int]:
        """Return what was written and called at all presses together, over every start."""
        out = dict(self.changed)
        for counts in self.do("done", {}).values():
            for what, count in counts.items():
                out[what] = out.get(what, 0) + count
        return out

    def freeze(self) -> None:
        """Stop it where it stands: its connections stay, and nothing is answered."""
        self.changed = self.done()
        assert self._process is not None
        self._process.send_signal(signal.SIGSTOP)
        self.frozen = True

    def thaw(self) -> None:
        """Let it go on."""
        assert self._process is not None
        self._process.send_signal(signal.SIGCONT)
        self.changed, self.frozen = {}, False

    def restart(self, off_s: float = 0.0) -> None:
        """Kill it, frozen or not, and start it again."""
        if not self.frozen:
            self.changed = self.done()
        assert self._process is not None
        self._process.kill()
        self._end()
        time.sleep(off_s)
        self.frozen = False
        self.start()

    def close(self) -> None:
        """End it."""
        self._end()

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.close()
        if self.frozen:
            process.send_signal(signal.SIGCONT)
        process.wait(timeout=20)
        process.stdout.close()
