"""Who is told of what: the table `[messages]`. Nothing is sent without it.

Where a receiver lies is an address of the notification library, and most of them hold a password or a token somewhere.
So none is ever shown, whole or in part: a receiver is known by its name. One that has to stay out of the configuration
lies in a file of its own, which is read when a message is due.
"""

import re
from collections.abc import Collection
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import unquote, urlsplit

from shotlog.errors import SettingsError
from shotlog.settings.section import Section, fits_a_cell, path_beside

__all__ = ["ABOUT", "BrokerSettings", "MessagesSettings", "ReceiverSettings", "messages"]

ABOUT = ("watch", "swap", "hold", "limit", "lost", "back", "logger", "log", "disk", "bath", "backup")
"""What people can be told of: a verdict to watch or to swap, parts newly held, a value beyond an action limit, a
connection lost and back, a logger that is dead, a log that cannot be written, space, a bath and a backup overdue."""

_PORTS = {"mqtt": 1883, "mqtts": 8883}

_ADDRESS = re.compile(r"([a-z][a-z0-9+.-]*)://[^\s]*", re.IGNORECASE)
_OF_THE_WEB = ("http", "https")
"""Not taken: an address of the web does not say which service it is of, and nothing would say that it holds a token."""

_LONGEST_MIN = 10_080.0
"""A week."""


@dataclass(frozen=True, slots=True)
class BrokerSettings:
    """An MQTT broker. `password_file`: where its password lies, if not in the configuration; `ca`: whose certificates
    are believed, in PEM, None for those that the system believes. `certificate` and `key`: files in PEM by which we are
    known to it, None where it asks for none.
    """

    host: str
    port: int
    tls: bool = False
    user: str = ""
    password: str = field(default="", repr=False)
    password_file: Path | None = None
    ca: Path | None = None
    certificate: Path | None = None
    key: Path | None = None

    @property
    def shown(self) -> str:
        """Its address as it may be shown: without a password."""
        user = f"{self.user}@" if self.user else ""
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"mqtt{'s' * self.tls}://{user}{host}:{self.port}"

    @property
    def cautions(self) -> tuple[str, ...]:
        """What may be wrong with the way to it, a line each."""
        is_here = self.host == "localhost" or self.host.startswith("127.") or self.host == "::1"
        if self.tls or is_here or not (self.password or self.password_file):
            return ()
        said = "messages: the password of the broker goes over the network to be read by anybody"
        return (f"{said}: mqtts:// encrypts it, where the broker offers that",)


@dataclass(frozen=True, slots=True)
class ReceiverSettings:
    """Somebody, or some place, that messages go to, known by `name`.

    `address`: never shown; empty where it lies in `address_file`. `presses`: those it is told of. `repeat_min`: after
    how many minutes a message is sent again while nobody has acknowledged it; 0 for never. `ends`: whether it is told
    that something is over as well; of a connection that is back, `about` says so.
    """

    name: str
    address: str = field(repr=False)
    address_file: Path | None
    about: tuple[str, ...]
    presses: tuple[str, ...]
    repeat_min: float = 0.0
    ends: bool = True

    def is_told(self, about: str, press: str | None) -> bool:
        """Say whether it is told of this at this press, or, without one, of the logger itself."""
        return about in self.about and (press is None or press in self.presses)


@dataclass(frozen=True, slots=True)
class MessagesSettings:
    """Where messages go. `site`: the name of the place, a level of every topic; `broker`: None where there is none."""

    site: str
    broker: BrokerSettings | None
    receivers: tuple[ReceiverSettings, ...]

    @property
    def cautions(self) -> tuple[str, ...]:
        """What may be wrong, a line each: a file that is not there, a password for all to read, nobody to tell."""
        files = [(f"messages: the address of {one.name}", one.address_file) for one in self.receivers]
        if self.broker is not None:
            files += [("messages: the password of the broker", self.broker.password_file)]
            files += [("messages: the certificates of the broker", self.broker.ca)]
            files += [("messages: our certificate for the broker", self.broker.certificate)]
            files += [("messages: the key of our certificate for the broker", self.broker.key)]
        gone = tuple(f"{what} should lie in {path}, and there is no such file" for what, path in files if _gone(path))
        idle = () if self.receivers or self.broker else ("messages: neither mqtt nor to is given; nobody is told",)
        return gone + idle + (() if self.broker is None else self.broker.cautions)


def messages(root: Section, file: Path, presses: Collection[str]) -> MessagesSettings | None:
    """Read the table; None where the file has none."""
    if not root.has("messages"):
        return None
    table = root.section("messages")
    site = table.text("site", "shop")
    if not fits_a_cell(site, "/+#,;:$"):
        raise table.wrong("site", "a name without / + # $ , ; : line breaks, or blanks at its ends")
    broker = _broker(table, file)
    about, repeat_min, ends = _about(table, ABOUT), _repeat(table, 0.0), table.flag("ends", True)
    usual = ReceiverSettings("", "", None, about, tuple(presses), repeat_min, ends)
    receivers = _tables(table, file, usual) if _is_tables(table.peek("to")) else _listed(table, usual)
    table.finish()
    return MessagesSettings(site, broker, receivers)


def _broker(table: Section, file: Path) -> BrokerSettings | None:
    given = [key for key in ("mqtt_password_file", "mqtt_ca", "mqtt_certificate", "mqtt_key") if table.has(key)]
    if not table.has("mqtt"):
        if given:
            raise table.wrong("mqtt", f"the address of a broker, as {given[0]} is given")
        return None
    allowed = "mqtt://HOST:PORT, or mqtts://HOST:PORT for one over TLS; with a user mqtt://USER@HOST"
    try:
        parts = urlsplit(table.text("mqtt"))
        port = parts.port
    except ValueError as error:
        raise table.wrong("mqtt", allowed) from error
    plain = not parts.path.strip("/") and not parts.query and not parts.fragment
    if parts.scheme not in _PORTS or not parts.hostname or port == 0 or not plain:
        raise table.wrong("mqtt", allowed)
    user, password = unquote(parts.username or ""), unquote(parts.password or "")
    password_file, ca = path_beside(table, "mqtt_password_file", file), path_beside(table, "mqtt_ca", file)
    if password_file is not None and (password or not user):
        raise table.wrong("mqtt_password_file", "a file for a USER of mqtt, who has no password in the address")
    tls = parts.scheme == "mqtts"
    certificate, key = path_beside(table, "mqtt_certificate", file), path_beside(table, "mqtt_key", file)
    if (certificate is None) != (key is None):
        missing = "mqtt_certificate" if certificate is None else "mqtt_key"
        raise table.wrong(missing, "a file in PEM: mqtt_certificate and mqtt_key are given together")
    for name, one in (("mqtt_ca", ca), ("mqtt_certificate", certificate)):
        if one is not None and not tls:
            raise table.wrong(name, "a file in PEM, together with mqtts://")
    where = (parts.hostname, port or _PORTS[parts.scheme], tls)
    return BrokerSettings(*where, user, password, password_file, ca, certificate, key)


def _is_tables(given: object) -> bool:
    return isinstance(given, list) and any(isinstance(one, dict) for one in given)


def _listed(table: Section, usual: ReceiverSettings) -> tuple[ReceiverSettings, ...]:
    """Read a plain list of addresses; each gets the name of its service, numbered from the second of one service on."""
    found: list[ReceiverSettings] = []
    kinds: list[str] = []
    given = table.texts("to")
    for address in given:
        kind = _kind(address)
        if not kind:
            raise _wrong_address(table, "to")
        kinds.append(kind)
        name = kind if kinds.count(kind) == 1 else f"{kind} {kinds.count(kind)}"
        found.append(_as(usual, name=name, address=address))
    if given:
        table.understood[f"{table.path}.to"] = ([f"{kind}://***" for kind in kinds], True)
    return tuple(found)


def _tables(table: Section, file: Path, usual: ReceiverSettings) -> tuple[ReceiverSettings, ...]:
    found: list[ReceiverSettings] = []
    for section in table.sections("to"):
        name = section.text("name")
        if not fits_a_cell(name, ",;:") or name in (one.name for one in found):
            raise section.wrong("name", "a name of its own without , ; : line breaks, or blanks at its ends")
        address, address_file = "", path_beside(section, "address_file", file)
        if section.has("address") == (address_file is not None):
            raise section.wrong("address", "either address, of the notification library, or address_file")
        if address_file is None:
            address = section.text("address")
            if not (kind := _kind(address)):
                raise _wrong_address(section, "address")
            section.understood[f"{section.path}.address"] = (f"{kind}://***", True)
        about, presses = _about(section, usual.about), section.texts("presses")
        if strange := [press for press in presses if press not in usual.presses]:
            raise section.wrong("presses", f"presses of this file, not {strange[0]}: {', '.join(usual.presses)}")
        repeat_min, ends = _repeat(section, usual.repeat_min), section.flag("ends", usual.ends)
        section.finish()
        found.append(ReceiverSettings(name, address, address_file, about, presses or usual.presses, repeat_min, ends))
    return tuple(found)


def _as(usual: ReceiverSettings, name: str, address: str) -> ReceiverSettings:
    return ReceiverSettings(name, address, None, usual.about, usual.presses, usual.repeat_min, usual.ends)


def _about(section: Section, usual: tuple[str, ...]) -> tuple[str, ...]:
    given = section.texts("about")
    if any(one not in ABOUT for one in given):
        raise section.wrong("about", f"a list of {', '.join(ABOUT)}")
    if section.has("about"):
        return tuple(dict.fromkeys(given))
    section.understood[f"{section.path}.about"] = (usual, False)
    return usual


def _repeat(section: Section, usual: float) -> float:
    return section.number("repeat_min", 0.0, _LONGEST_MIN, usual)


def _kind(address: str) -> str:
    """Return the service that an address is of; empty where it is none."""
    found = _ADDRESS.fullmatch(address)
    kind = found[1].lower() if found else ""
    return "" if kind in _OF_THE_WEB else kind


def _wrong_address(section: Section, key: str) -> SettingsError:
    # no :// in it: whatever is shown loses what follows that, as it may be a token
    allowed = "an address of the notification library, which begins with its service, such as mailto or json"
    return section.wrong_secret(key, f"{allowed}, a colon and two slashes; an address of the web, http, is none")


def _gone(path: Path | None) -> bool:
    return path is not None and not path.is_file()
