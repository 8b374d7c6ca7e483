"""Who is let in to the pages, and what they answer to: keys of the table `[dashboard]`."""

import ipaddress
import re
from dataclasses import dataclass
from pathlib import Path

from shotlog.settings.section import Section, path_beside

__all__ = ["LoginSettings", "WallSettings", "login", "walls"]


_NAME = re.compile(r"[A-Za-z0-9]([A-Za-z0-9._-]{0,252})|[0-9A-Fa-f:.]{2,45}")
"""The name of a machine, or its address of either kind, without a port."""


@dataclass(frozen=True, slots=True)
class LoginSettings:
    """Who is let in to the pages. `wanted`: everybody logs in, also where the pages are bound to this machine alone.

    `accounts`: the file of accounts, None for the usual place. A log-in ends once nobody touched the page for
    `idle_min` minutes, and `hours` after it began, whatever was touched.
    """

    wanted: bool = False
    accounts: Path | None = None
    idle_min: float = 120.0
    hours: float = 12.0


@dataclass(frozen=True, slots=True)
class WallSettings:
    """What the pages answer to from outside. `hosts`: further names that browsers know this machine by.

    `certificate` and `key`: files in PEM by which the pages are served over TLS, None for plain HTTP. `proxy`: the
    address of a reverse proxy in front, empty for none: what it says of who asks is believed, and nobody else's word.
    """

    hosts: tuple[str, ...] = ()
    certificate: Path | None = None
    key: Path | None = None
    proxy: str = ""


def login(dashboard: Section, file: Path) -> LoginSettings:
    accounts = path_beside(dashboard, "accounts", file)
    if accounts is not None and accounts.is_dir():
        raise dashboard.wrong("accounts", "the name of a file, and not of a folder")
    return LoginSettings(
        dashboard.flag("login", False),
        accounts,
        dashboard.number("idle_min", 1.0, 1440.0, LoginSettings().idle_min),
        dashboard.number("session_h", 0.1, 720.0, LoginSettings().hours),
    )


def walls(dashboard: Section, file: Path) -> WallSettings:
    hosts = dashboard.texts("hosts")
    if not all(_NAME.fullmatch(one) for one in hosts):
        raise dashboard.wrong("hosts", 'names without a port, such as ["press-pc.example", "192.168.1.20"]')
    certificate, key = path_beside(dashboard, "certificate", file), path_beside(dashboard, "key", file)
    if (certificate is None) != (key is None):
        missing = "certificate" if certificate is None else "key"
        raise dashboard.wrong(missing, "a file in PEM: certificate and key are given together")
    proxy = dashboard.text("proxy", "")
    if proxy and not _is_address(proxy):
        raise dashboard.wrong("proxy", 'the address that the proxy asks from, such as "127.0.0.1"')
    return WallSettings(tuple(one.lower() for one in hosts), certificate, key, proxy)


def _is_address(text: str) -> bool:
    try:
        ipaddress.ip_address(text)
    except ValueError:
        return False
    return True
