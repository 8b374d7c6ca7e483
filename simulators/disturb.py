"""Wire faults on demand: what a line, a gateway or a controller may do to good values.

A fault has a kind, the shots it lasts (`at_shot` to `until`, counted as in the scenario) and, for some, `seconds`, a
`code` or a `modulus`. The tables below say what each kind does; a counter, once off, stays off.
"""

import asyncio
import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from simulators.machine import ScenarioError

__all__ = ["COUNTER_FAULTS", "MODBUS_FAULTS", "OPC_FAULTS", "PRINTER_FAULTS", "WireFault", "WireFaults", "parse_fault"]

COUNTER_FAULTS = {
    "counter-reset": "the counter starts again at 1",
    "rollover": "the counter passes `modulus` and is 0 at this shot",
    "stuck": "the counter stands while values change",
    "double-count": "the shot counts twice",
}
"""What may go wrong with the counter, on any wire."""

MODBUS_FAULTS = {
    "refused": "no connection is accepted, open ones are closed",
    "half-open": "connections stay and nothing is answered",
    "slow": "every answer comes `seconds` late",
    "exception": "every answer is the exception `code`",
    "short": "every answer is one register short",
    "torn": "the first reads find the new first half beside the old second half",
    "delayed": "the new counter stands beside old values for `seconds`",
    "bit-errors": "bits of answers are flipped",
    "garbage": "noise instead of answers",
    "filler": "every value register holds 0xFFFF, which makes the float a NaN",
    "sentinel": "the insert temperature is -32768, the mark of a sensor that is missing",
    "swapped": "32-bit values have their low word first",
    "one-based": "the whole block stands one address later",
    "frozen": "values stand while the counter runs",
    **COUNTER_FAULTS,
}
"""What may go wrong on Modbus, by kind."""

PRINTER_FAULTS = {
    "garbage": "noise before a line",
    "split": "a line comes in two parts, `seconds` apart",
    "glued": "the end of the line is missing",
    "partial": "the first half of the line is missing",
    "duplicate": "the line is printed twice",
    "lost": "the line is not printed",
    "stars": "**** instead of one value",
    "error": "ERR instead of one value",
    "chatter": "three kilobytes of lines of noise come first",
    "alarm": "a line of alarm text comes first",
    "statistics": "a line of means that looks like a shot follows",
    "bit-errors": "bits are flipped",
    "clock": "the press's clock is `seconds` wrong",
    **COUNTER_FAULTS,
}
"""What may go wrong on a printer line, by kind."""

OPC_FAULTS = {
    "refused": "the press restarts: connections are cut, and none is accepted meanwhile",
    "lost": "no event comes",
    "burst": "the events come all at once, with the last of these shots",
    "duplicate": "the event comes twice",
    "alarm": "an event that is no cycle comes first",
    "null": "the cushion is null",
    "bad-status": "the cushion is a bad status instead of a value",
    "nan": "the cushion is not a number",
    "infinite": "the cushion is infinite",
    "text": "the cushion is a text",
    "no-counter": "both counters are null",
    "dry": "the cycle is a dry run",
    "test-sample": "the cycle is a test sample",
    "clock": "the press's clock is `seconds` wrong",
    **COUNTER_FAULTS,
}
"""What may go wrong on OPC UA, by kind; of the counters only that of the job is concerned."""


_NO_ENDS = bytes(128 + value % 128 for value in range(256))
"""Noise in which no line ends."""


@dataclass(frozen=True, slots=True)
class WireFault:
    """One fault; `until` 0 means the one shot."""

    kind: str = ""
    at_shot: int = 1
    until: int = 0
    seconds: float = 0.4
    code: int = 6
    modulus: int = 65536

    def lasts(self, shot: int) -> bool:
        """Say whether it is there at a shot."""
        return self.at_shot <= shot <= max(self.until, self.at_shot)


class WireFaults:
    """The faults of one face, and the shot it is at."""

    def __init__(
        self, faults: Iterable[WireFault] = (), allowed: Mapping[str, str] = MODBUS_FAULTS, seed: int = 1
    ) -> None:
        self.faults = tuple(faults)
        for fault in self.faults:
            if fault.kind not in allowed:
                raise ScenarioError(f"fault: given {fault.kind!r}, allowed here: {', '.join(allowed)}")
        self.shot = 0
        self._random = random.Random(seed)  # noqa: S311  (noise on a wire, nothing secret)

    def active(self, kind: str) -> WireFault | None:
        """Return the fault of this kind that is there now."""
        return next((fault for fault in self.faults if fault.kind == kind and fault.lasts(self.shot)), None)

    def counter(self, count: int) -> int:
        """Return what the press's counter shows instead of `count`, at the shot it is at."""
        for fault in self.faults:
            if fault.kind == "counter-reset" and self.shot >= fault.at_shot:
                count = self.shot - fault.at_shot + 1
            elif fault.kind == "rollover":
                count = (fault.modulus + self.shot - fault.at_shot) % fault.modulus
            elif fault.kind == "stuck" and self.shot >= fault.at_shot:
                count -= min(self.shot, max(fault.until, fault.at_shot)) - fault.at_shot + 1
            elif fault.kind == "double-count" and self.shot >= fault.at_shot:
                count += 1
        return count

    def flipped(self, data: bytes) -> bytes:
        """Return the bytes with one to three bits flipped."""
        out = bytearray(data)
        for _ in range(self._random.randint(1, 3)):
            out[self._random.randrange(len(out))] ^= 1 << self._random.randrange(8)
        return bytes(out)

    def noise(self, size: int) -> bytes:
        """Return random bytes."""
        return self._random.randbytes(size)

    def lines(self, line: bytes) -> list[bytes]:
        """Return the pieces a printed line arrives in; waits of its own come between them."""
        pieces = [line]
        if self.active("lost"):
            return []
        for kind, text in (("stars", b"****"), ("error", b"ERR")):
            if self.active(kind):
                pieces = [_replaced(line, text)]
        if self.active("statistics"):
            pieces.append(b"MEAN;" + line.split(b";", 1)[-1])
        if self.active("alarm"):
            pieces.insert(0, b"ALARM 0317 heating zone 2 below limit\r\n")
        if self.active("duplicate"):
            pieces.append(line)
        if self.active("partial"):
            pieces = [line[len(line) // 2 :]]
        if self.active("glued"):
            pieces = [piece.rstrip(b"\r\n") for piece in pieces]
        if self.active("bit-errors"):
            pieces = [self.flipped(piece) for piece in pieces]
        if self.active("chatter"):
            pieces.insert(0, b"".join(self.noise(3).translate(_NO_ENDS) + b"\r\n" for _ in range(600)))
        if self.active("garbage"):
            pieces.insert(0, self.noise(24) + b"\x00\xff\r\n")
        if self.active("split"):
            pieces = [part for piece in pieces for part in (piece[:9], piece[9:])]
        return pieces

    async def pause(self) -> None:
        """Wait as long as a split line does between its parts."""
        fault = self.active("split")
        if fault is not None:
            await asyncio.sleep(fault.seconds)


def _replaced(line: bytes, text: bytes) -> bytes:
    cells = line.rstrip(b"\r\n").split(b";")
    end = line[len(line.rstrip(b"\r\n")) :]
    return b";".join([*cells[:-2], text, *cells[-1:]]) + end


def parse_fault(text: str) -> tuple[str, WireFault]:
    """Read ``PRESS:KIND@FROM[-TO][,seconds=S][,code=N][,modulus=N]``; return the press and the fault.

    Raises
    ------
    ScenarioError
        The text does not have this form.
    """
    form = "PRESS:KIND@FROM[-TO][,seconds=S][,code=N][,modulus=N]"
    head, *options = text.split(",")
    try:
        press, rest = head.split(":")
        kind, shots = rest.split("@")
        first, _, last = shots.partition("-")
        given = dict(option.split("=") for option in options)
        fault = WireFault(
            kind,
            int(first),
            int(last or first),
            float(given.pop("seconds", 0.4)),
            int(given.pop("code", 6)),
            int(given.pop("modulus", 65536)),
        )
    except ValueError as error:
        raise ScenarioError(f"fault: given {text!r}, allowed: {form}") from error
    if given:
        raise ScenarioError(f"fault: given {text!r}, allowed: {form}")
    return press, fault
