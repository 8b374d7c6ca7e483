"""What a face is: the wire a simulated press is read over, and the configuration a logger needs to read it."""

from typing import Protocol

from simulators.press import PressRun

__all__ = ["FACES", "Face", "FaceError", "collector_table"]

FACES = ("modbus-tcp", "modbus-rtu", "serial-line", "serial-socket", "opcua-40077", "euromap63")
"""The faces a press may have."""


class FaceError(Exception):
    """A face cannot be opened here: one sentence."""


class Face(Protocol):
    """A press on a wire. `shown` counts the shots put on it."""

    kind: str
    shown: int

    async def open(self) -> None:
        """Start serving."""

    async def show(self, run: PressRun, index: int) -> None:
        """Put shot `index` (from 0) of the run on the wire."""

    async def close(self) -> None:
        """Stop serving and release everything."""

    def place(self) -> dict[str, object]:
        """Return where it is: kind, and host, port, unit, url, folder as far as they apply."""

    def config(self, poll_s: float) -> str:
        """Return the `[press.collector]` table that reads it, as TOML."""

    def asked(self) -> list[int] | list[str] | dict[str, int]:
        """Return what was asked for, sorted: Modbus function codes, words of requests; empty on a printer line; on
        OPC UA how often somebody wrote, and called each method.
        """


def collector_table(
    keys: dict[str, object], counter: str, channels: dict[str, str], set_points: dict[str, str] | None = None
) -> str:
    """Write a `[press.collector]` table as TOML; `counter` (where it needs one), `channels` and `set_points` hold
    inline tables.
    """
    lines = ["  [press.collector]"]
    lines += [f"  {key} = {_toml(value)}" for key, value in keys.items()]
    lines += [f"  shot_counter = {counter}"] if counter else []
    lines.append("    [press.collector.channels]")
    lines += [f"    {name} = {table}" for name, table in channels.items()]
    if set_points:
        lines.append("    [press.collector.setpoints]")
        lines += [f"    {name} = {table}" for name, table in set_points.items()]
    return "\n".join(lines) + "\n"


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        escaped = (
            value.replace("\\", "\\\\")
            .replace('"', '\\"')
            .replace("\t", "\\t")
            .replace("\r", "\\r")
            .replace("\n", "\\n")
        )
        return f'"{escaped}"'
    return str(value)
