"""What comes in from presses and balances, beside the view of each: raw where it is kept, gaps, faults, where from."""

from collections.abc import Mapping
from dataclasses import dataclass

from dashboard.shared.source import Source
from shotlog.errors import SettingsError
from shotlog.records import Fault, Gap, Weighing
from shotlog.settings import Section
from shotlog.store.asked import state
from shotlog.store.asked.faults import FaultKind, fault_kinds, faults
from shotlog.store.asked.presence import last_came
from shotlog.store.asked.set_points import SetInForce, set_points_at

__all__ = ["Incoming", "incoming", "last_weighing", "log_bytes", "read_from", "set_read_from"]


@dataclass(frozen=True, slots=True)
class Incoming:
    """The raw reading of the counter at the last shot, the last gaps, the newest faults with their bytes, their kinds.

    `came`: the last shot of which it is noted what it came as, and that. `set_points`: what the press is set to.
    """

    counter: int | None
    came: tuple[int, str] | None
    gaps: tuple[Gap, ...]
    faults: tuple[Fault, ...]
    kinds: tuple[FaultKind, ...]
    set_points: tuple[SetInForce, ...] = ()


def incoming(source: Source, name: str, n: int) -> Incoming:
    """Return what came in from a press or balance, at most `n` of each, newest first.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    log = source.reading()
    last = log.last_shot(name)
    return Incoming(
        None if last is None else last[1],
        last_came(log, name),
        tuple(reversed(state.gaps(log, name, limit=n))),
        tuple(faults(log, name, limit=n)),
        tuple(fault_kinds(log, name)),
        tuple(set_points_at(log, name)),
    )


def last_weighing(source: Source, balance: str) -> Weighing | None:
    """Return the newest weight a balance gave, or None.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    return state.last_weighing(source.reading(), source.balances[balance], balance)


def log_bytes(source: Source) -> int:
    """Return how much room the log takes, in bytes.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    return state.size_bytes(source.reading())


def read_from(source: Source, press: str) -> Mapping[str, str]:
    """Return in words where the configuration has each channel read from; nothing where it does not say."""
    return _places(source.settings.press(press).collector, "channels")


def set_read_from(source: Source, press: str) -> Mapping[str, str]:
    """Return the same of each set-point."""
    return _places(source.settings.press(press).collector, "setpoints")


def _places(collector: Section, table: str) -> Mapping[str, str]:
    if not collector.has(table):
        return {}
    return {name: _where(one) for name, one in collector.section(table).items()}


def _where(channel: Section) -> str:
    """Return one channel's place; what is oddly written was refused by the logger, and is left out here."""
    try:
        place = [f"register {channel.integer('address', 0, 65535)}"] if channel.has("address") else []
        place += [f"field {channel.integer('field', 1, 10_000)}"] if channel.has("field") else []
        place += [channel.text(key) for key in ("token", "name", "node") if channel.has(key)]
        place += [channel.text("type")] if channel.has("type") else []
        place += [f"x {channel.number('scale', -1e12, 1e12):g}"] if channel.has("scale") else []
    except SettingsError:
        return ""
    return ", ".join(place)
