"""How each channel of each press is read, as plain data: what a later start of the logger is held against.

Taken from the keys as they were understood, those not given with the value that holds. What only says how a press is
reached, or how often it is asked, is left out: it moves no value.
"""

from collections.abc import Mapping

from shotlog.collectors.registers import TYPES
from shotlog.settings import Settings

__all__ = ["ChannelMap", "channel_maps", "map_changes", "set_point_maps"]

ChannelMap = Mapping[str, Mapping[str, object]]
"""By channel, its keys and their values."""

_OF_THE_PRESS = (
    "kind", "table", "word_order", "byte_order", "unit", "delimiter", "decimal", "pattern",
    "injection_unit", "mould", "screw_diameter_mm", "intensification_ratio",
)  # fmt: skip
"""Keys of a collector that say where all of its numbers are found and what they become; `unit`: a station on a bus."""

_NO_VALUE = ("live",)
_ORDERS = ("word_order", "byte_order")


def channel_maps(settings: Settings) -> dict[str, dict[str, dict[str, object]]]:
    """Return the map of each press by its name; its options must have been read before."""
    keys = {key: value for key, (value, _) in settings.understood.items()}
    return {press.name: _map_of(f"{press.collector.path}.", "channels", keys) for press in settings.presses}


def set_point_maps(settings: Settings) -> dict[str, dict[str, dict[str, object]]]:
    """Return the same of the set-points of each press, each under a name that no channel has."""
    keys = {key: value for key, (value, _) in settings.understood.items()}
    return {
        press.name: {
            f"set-point {name}": own for name, own in _map_of(f"{press.collector.path}.", "setpoints", keys).items()
        }
        for press in settings.presses
    }


def _map_of(path: str, table: str, keys: Mapping[str, object]) -> dict[str, dict[str, object]]:
    common = {f"collector {key}": keys[f"{path}{key}"] for key in _OF_THE_PRESS if f"{path}{key}" in keys}
    found: dict[str, dict[str, object]] = {}
    for key, value in keys.items():
        channel, _, name = key.removeprefix(f"{path}{table}.").partition(".")
        if key.startswith(f"{path}{table}.") and name and name not in _NO_VALUE:
            found.setdefault(channel, {})[name] = value
    for own in found.values():
        kind = TYPES.get(str(own.get("type")))
        one_word = kind is not None and kind.words == 1
        own |= {key: None if one_word and key.endswith(_ORDERS) else value for key, value in common.items()}
    return found


def map_changes(before: ChannelMap, now: ChannelMap) -> list[str]:
    """Return what is read otherwise than before, a channel and a key each; a key that an earlier release did not know,
    and a channel that is new or gone, are none: no value before is held against one after.

    Examples
    --------
    >>> map_changes({"cushion": {"scale": 0.01, "unit": "mm"}}, {"cushion": {"scale": 0.1, "unit": "mm"}})
    ['cushion scale 0.01 to 0.1']
    """
    return [
        f"{channel} {key} {_shown(before[channel][key])} to {_shown(own[key])}"
        for channel, own in now.items()
        if channel in before
        for key in own
        if key in before[channel] and before[channel][key] != own[key]
    ]


def _shown(value: object) -> str:
    return "none" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
