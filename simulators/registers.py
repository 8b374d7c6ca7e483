"""The demo register map: one shot as the words a press holds (holding and input registers alike, zero-based, high
word first).

The map is invented; it follows what controllers of small presses give. Two rows are not the controller's: a gateway
adds back pressure and the reading of the bench balance. Behind them stands what the press is set to.
"""

import struct
from dataclasses import dataclass

from simulators.press import PressRun, set_point

__all__ = [
    "INSERT_TEMPERATURE",
    "MAP",
    "N_WORDS",
    "SENTINEL",
    "RegisterEntry",
    "channel_entries",
    "filler_words",
    "set_point_entries",
    "swapped_words",
    "words",
]


@dataclass(frozen=True, slots=True)
class RegisterEntry:
    """One row of the map. `channel` is the channel it carries, empty where it is none; value on the wire = value /
    scale. `set_point` is the key of the set-point it carries (see `machine.SetPoints`).
    """

    address: int
    type: str
    scale: float
    unit: str
    name: str
    channel: str = ""
    set_point: str = ""


MAP = (
    RegisterEntry(0, "uint32", 1, "", "shot counter"),
    RegisterEntry(2, "uint16", 1, "", "sequence word"),
    RegisterEntry(3, "uint16", 1, "", "state bits"),
    RegisterEntry(4, "uint16", 0.001, "s", "fill time", "fill_time"),
    RegisterEntry(5, "int16", 0.01, "mm", "switchover position", "switchover_position"),
    RegisterEntry(6, "uint16", 0.1, "bar", "switchover pressure", "switchover_pressure"),
    RegisterEntry(7, "uint16", 0.1, "bar", "peak pressure", "peak_pressure"),
    RegisterEntry(8, "int16", 0.01, "mm", "cushion", "cushion"),
    RegisterEntry(9, "int16", 0.01, "mm", "cushion at end of hold"),
    RegisterEntry(10, "uint16", 0.1, "bar", "hold pressure"),
    RegisterEntry(11, "uint16", 0.001, "s", "hold time"),
    RegisterEntry(12, "uint16", 0.001, "s", "recovery time", "recovery_time"),
    RegisterEntry(13, "uint32", 0.001, "s", "cycle time", "cycle_time"),
    RegisterEntry(15, "uint16", 0.001, "s", "open time"),
    RegisterEntry(16, "uint16", 0.1, "kN", "clamp force", "clamp_force"),
    RegisterEntry(17, "int16", 0.1, "degC", "barrel zone 1"),
    RegisterEntry(18, "int16", 0.1, "degC", "barrel zone 2"),
    RegisterEntry(19, "int16", 0.1, "degC", "barrel zone 3"),
    RegisterEntry(20, "int16", 0.1, "degC", "barrel zone 4", "melt_temperature"),
    RegisterEntry(21, "int16", 0.1, "degC", "insert temperature", "insert_temperature"),
    RegisterEntry(22, "float32", 1, "mm", "dose position"),
    RegisterEntry(24, "uint16", 1, "", "sequence word repeated"),
    RegisterEntry(25, "uint16", 0.1, "bar", "back pressure", "back_pressure"),
    RegisterEntry(26, "float32", 1, "g", "part weight", "part_weight"),
    RegisterEntry(28, "uint16", 0.1, "bar", "hold pressure set", set_point="hold_bar"),
    RegisterEntry(29, "uint16", 0.01, "s", "hold time set", set_point="hold_s"),
    RegisterEntry(30, "uint16", 0.01, "mm", "switchover position set", set_point="switchover_mm"),
    RegisterEntry(31, "uint16", 0.1, "mm/s", "injection speed set", set_point="speed_mm_s"),
    RegisterEntry(32, "uint16", 0.1, "s", "cooling time set", set_point="cooling_s"),
    RegisterEntry(33, "uint16", 0.1, "bar", "back pressure set", set_point="back_pressure_bar"),
    RegisterEntry(34, "uint16", 0.1, "kN", "clamp force set", set_point="clamp_kn"),
    RegisterEntry(35, "int16", 0.1, "degC", "barrel zone 4 set", set_point="barrel_shift_degc"),
    RegisterEntry(36, "float32", 1, "mm", "dose set", set_point="dose_mm"),
)

N_WORDS = 38
INSERT_TEMPERATURE = 21
"""Address of the insert temperature, where `SENTINEL` says that there is no sensor."""
SENTINEL = 0x8000
_BOUNDS = {"uint16": (0, 0xFFFF), "int16": (-0x8000, 0x7FFF), "uint32": (0, 0xFFFFFFFF)}
_SEMI_AUTOMATIC, _LIMITED, _DOSE_LATE = 1 << 1, 1 << 4, 1 << 5


def channel_entries() -> tuple[RegisterEntry, ...]:
    """Return the rows that carry a channel."""
    return tuple(entry for entry in MAP if entry.channel)


def set_point_entries() -> tuple[RegisterEntry, ...]:
    """Return the rows that carry a set-point."""
    return tuple(entry for entry in MAP if entry.set_point)


def filler_words() -> list[int]:
    """Return a block as a controller without sensors gives it: all ones, which is also a NaN where a float stands."""
    return [0xFFFF] * N_WORDS


def swapped_words(block: list[int]) -> list[int]:
    """Return the block with the two words of every 32-bit value exchanged."""
    out = list(block)
    for entry in MAP:
        if entry.type in ("uint32", "float32"):
            at = entry.address
            out[at], out[at + 1] = block[at + 1], block[at]
    return out


def words(run: PressRun, index: int, counter: int, sequence: int) -> list[int]:
    """Return the whole block for shot `index` (from 0) of a run; values beyond a register's range stand at its end."""
    return [word for entry in MAP for word in _encode(entry, _value(entry, run, index, counter, sequence))]


def _value(entry: RegisterEntry, run: PressRun, index: int, counter: int, sequence: int) -> float:
    if entry.channel:
        return float(run.channels[entry.channel][index])
    if entry.set_point:
        return set_point(run, index, entry.set_point)
    more, cushion = run.more, float(run.channels["cushion"][index])
    late = run.channels["recovery_time"][index] > 2.0 * run.press.machine.level.recovery_s
    bits = _SEMI_AUTOMATIC | (_LIMITED if run.filling.limited[index] else 0) | (_DOSE_LATE if late else 0)
    table = {
        "shot counter": counter,
        "sequence word": sequence & 0xFFFF,
        "sequence word repeated": sequence & 0xFFFF,
        "state bits": bits,
        "cushion at end of hold": cushion + float(more["creep"][index]),
        "hold pressure": float(more["hold_pressure"][index]),
        "hold time": float(more["hold_time"][index]),
        "open time": float(more["open_time"][index]),
        "dose position": float(more["dose_position"][index]),
        "barrel zone 1": float(more["zone_1"][index]),
        "barrel zone 2": float(more["zone_2"][index]),
        "barrel zone 3": float(more["zone_3"][index]),
    }
    return float(table[entry.name])


def _encode(entry: RegisterEntry, value: float) -> list[int]:
    if entry.type == "float32":
        return list(struct.unpack(">HH", struct.pack(">f", value)))
    low, high = _BOUNDS[entry.type]
    number = min(max(round(value / entry.scale), low), high)
    if entry.type == "uint32":
        return [number >> 16, number & 0xFFFF]
    return [number & 0xFFFF]
