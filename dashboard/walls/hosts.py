"""The names that the pages answer to.

A foreign page can give its own name the address of this machine (DNS rebinding): a browser then takes ours for one of
its pages, reads it and writes to it. The name that the browser believes in still stands in each request, so a name that
is not one of this machine's is not answered.
"""

import ipaddress
import re
import socket
from collections.abc import Iterable
from functools import lru_cache

from shotlog.access.reach import is_loopback

__all__ = ["Hosts", "machine_names"]

_GIVEN = re.compile(r"(\[[0-9a-f:.]+\]|[^\s:\[\]/@,]+)(:[0-9]{1,5})?", re.ASCII)
_LOOPBACK_NAME = "localhost"


def machine_names() -> tuple[str, ...]:
    """Return the names of this machine: as it calls itself, in short, in full, and as neighbours find it."""
    name = socket.gethostname()
    short = name.partition(".")[0]
    return tuple(dict.fromkeys(one.lower() for one in (name, short, f"{short}.local", socket.getfqdn()) if one))


class Hosts:
    """Tells whether a request names one of the names that the pages answer to; the port in it does not matter.

    Parameters
    ----------
    bound
        The address that the pages are bound to. Where that is loopback, loopback names alone are answered; where it is
        every address of the machine, any of those is.
    further
        Names from the configuration.
    machine
        Names of this machine, answered where the pages are not bound to loopback.
    """

    def __init__(self, bound: str, further: Iterable[str] = (), machine: Iterable[str] = ()) -> None:
        self._loopback = is_loopback(bound)
        address = _address(bound)
        self._everywhere = bound in ("", "*") or (address is not None and address.is_unspecified)
        own = () if self._loopback else machine if self._everywhere else (bound, *machine)
        self._names = {one.lower().strip("[]") for one in (*own, *further)}

    def answer_to(self, given: str) -> bool:
        """Say whether the pages answer to what a request says under ``Host``."""
        found = _GIVEN.fullmatch(given.lower())
        if found is None:
            return False
        name = found[1].strip("[]").removesuffix(".")
        if name in self._names:
            return True
        if self._loopback or self._everywhere:
            address = _address(name)
            if name == _LOOPBACK_NAME or (address is not None and address.is_loopback):
                return True
        return self._everywhere and _is_own(name)


def _address(name: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(name)
    except ValueError:
        return None


@lru_cache(maxsize=256)
def _is_own(name: str) -> bool:
    """Say whether an address is one of this machine's: no other can be bound to."""
    address = _address(name)
    if address is None or address.is_unspecified or address.is_multicast:
        return False
    family = socket.AF_INET if address.version == 4 else socket.AF_INET6
    try:
        with socket.socket(family, socket.SOCK_DGRAM) as tried:
            tried.bind((name, 0))
    except OSError:
        return False
    return True
