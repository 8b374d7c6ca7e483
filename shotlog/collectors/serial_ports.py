"""Which serial ports are there, and by which names they may be written down.

`/dev/ttyUSB0` or `COM3` is the order in which adapters were found: plugged in anew, or after a restart, the press of
yesterday may be the balance of today. Two names stay: the link below `/dev/serial/by-id/` that Linux makes, and the
hardware address of the adapter, which every system tells.
"""

import os
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from serial.tools import list_ports

from shotlog.errors import PressUnreachable

__all__ = ["BY_ID", "PortThere", "named", "port_of_hardware", "ports_said", "ports_there"]

BY_ID = Path("/dev/serial/by-id")
_NONE = "n/a"
_MOST_SAID = 8


@dataclass(frozen=True, slots=True)
class PortThere:
    """A serial port of this computer.

    `stable`: its name that stays, or empty. `hwid`: the hardware address of its adapter, as it is written under `hwid`,
    or empty. `may_open`: whether this user may, None where the system does not tell before it is tried. `group`: whose
    members may, or empty.
    """

    device: str
    stable: str
    hwid: str
    description: str
    may_open: bool | None
    group: str

    @property
    def name(self) -> str:
        """The name that it is best written down by."""
        return self.stable or self.device

    @property
    def lasting_hwid(self) -> str:
        """The hardware address without the socket it is plugged into, where its serial number tells it anyhow."""
        words = self.hwid.split()
        has_number = any(word.startswith("SER=") for word in words)
        return " ".join(word for word in words if not (has_number and word.startswith("LOCATION=")))


def ports_there(by_id: Path | None = None) -> tuple[PortThere, ...]:
    """Return the serial ports of this computer, by device; none of them is opened, which a press may notice."""
    links = _links(BY_ID if by_id is None else by_id)
    return tuple(_there(one, links) for one in sorted(list_ports.comports()))


def port_of_hardware(hwid: str, there: Iterable[PortThere] | None = None) -> str:
    """Return the device of the one adapter whose hardware address has every word of `hwid`.

    Raises
    ------
    PressUnreachable
        None has, or several have: which of them was meant nobody can tell.
    """
    there = ports_there() if there is None else tuple(there)
    wanted = _words(hwid)
    fitting = [one for one in there if wanted and wanted <= _words(one.hwid)]
    if len(fitting) == 1:
        return fitting[0].device
    if not fitting:
        raise PressUnreachable(f'no serial port has hwid "{hwid}"; {ports_said(there)}')
    same = ", ".join(f"{one.device} ({one.hwid})" for one in fitting)
    raise PressUnreachable(
        f'{len(fitting)} serial ports have hwid "{hwid}": {same}; add the word that tells them apart'
    )


def named(port: str, hwid: str, there: Iterable[PortThere]) -> str:
    """Return the device that a configuration means by `port` or `hwid`; empty where it is not there."""
    try:
        if hwid:
            return port_of_hardware(hwid, there)
        if port.lower().startswith("hwgrep://"):
            pattern = port[len("hwgrep://") :].partition("&")[0]
            return next((str(one.device) for one in sorted(list_ports.grep(pattern))), "")
    except (PressUnreachable, re.error):
        return ""
    return next((one.device for one in there if port in (one.device, one.stable) or _same(port, one.device)), "")


def ports_said(there: Iterable[PortThere]) -> str:
    """Say which ports are there, by the names that stay where they have one."""
    said = [one.name if one.stable or not one.hwid else f'{one.device} (hwid "{one.lasting_hwid}")' for one in there]
    if not said:
        return "this computer has no serial port now: is the adapter plugged in?"
    more = [f"and {len(said) - _MOST_SAID} more"] if len(said) > _MOST_SAID else []
    return f"ports here: {', '.join([*said[:_MOST_SAID], *more])}"


def _there(one: Any, links: dict[str, str]) -> PortThere:
    device = str(one.device)
    path = Path(device)
    try:
        group = path.group()
    except (OSError, KeyError, NotImplementedError):  # no such file, no such group, or a system that has none
        group = ""
    may_open = os.access(path, os.R_OK | os.W_OK) if path.exists() else None
    hwid = "" if one.hwid in (None, _NONE) else str(one.hwid)
    description = "" if one.description in (None, _NONE) else str(one.description)
    return PortThere(device, links.get(os.path.realpath(device), ""), hwid, description, may_open, group)


def _links(by_id: Path) -> dict[str, str]:
    """Return the lasting name of each device, by where it leads; the first by alphabet where there are several."""
    try:
        return {os.path.realpath(link): str(link) for link in sorted(by_id.iterdir(), reverse=True)}
    except OSError:
        return {}


def _words(hwid: str) -> set[str]:
    return set(hwid.upper().split())


def _same(port: str, device: str) -> bool:
    return os.path.realpath(port) == os.path.realpath(device)
