"""The keys of a collector ``opcua-40077``, read and checked. Nothing is connected to, and the library is not loaded."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from urllib.parse import urlsplit

from shotlog.channels import CHANNELS, Channel
from shotlog.collectors.opcua_certificates import MODES, POLICIES, Security
from shotlog.collectors.opcua_fields import ChannelField, Parts
from shotlog.collectors.opcua_names import COUNTERS, NAMES, is_hydraulic, is_volume
from shotlog.collectors.opcua_set_points import Where
from shotlog.collectors.opcua_units import Geometry, known_unit, scaling_of, to_mm3
from shotlog.collectors.scaling import Scaling
from shotlog.collectors.set_points import ChosenSetPoint, read_set_points
from shotlog.errors import SettingsError, UsageError
from shotlog.extras import need
from shotlog.settings import Section
from shotlog.settings.section import path_beside

__all__ = ["SILENT", "Options40077", "Server", "read_options", "read_server"]

SILENT = 3
"""Words of life that may be missing before a press counts as lost."""

_LAST_COUNT = 2**32 - 1
_HIGHEST_COUNT = 10**18
_ANY = Geometry(1.0, 1.0)
"""Of a check that only asks whether units fit."""


@dataclass(frozen=True, slots=True)
class Server:
    """How a press is reached; times in seconds. `node`: whose events, empty for the Server object, which has all.

    The password is read from its file at each connection, and kept nowhere.
    """

    url: str
    timeout_s: float
    keep_alive_s: float
    node: str = ""
    security: Security | None = None
    user: str = ""
    password_file: Path | None = None
    unprotected_login: bool = False


@dataclass(frozen=True, slots=True)
class Options40077:
    """All of it; times in seconds. `wait_s`: how long ``probe`` waits for an event."""

    server: Server
    poll_s: float
    wait_s: float
    counter: str
    last_count: int
    channels: tuple[ChannelField, ...]
    parts: Parts
    geometry: Geometry
    set_points: tuple[ChosenSetPoint[Where], ...] = ()

    def describe(self) -> list[str]:
        """Say, a line each, what is read from where."""
        server = self.server
        lines = [
            f"OPC UA {server.url}, cycle events of {server.node or 'the Server object'}, every type derived from theirs"
        ]
        lines.append(f"silence: the press counts as lost {SILENT * server.keep_alive_s:g} s after it was last heard of")
        lines += [f"security: none{_login_said(server)}"] if server.security is None else list(server.security.lines())
        if server.user:
            lines.append(f"user: {server.user}, {_password_said(server.password_file)}")
        unit = self.parts.unit
        lines.append(f"injection unit: {unit if unit is not None else '1, if the press has several (not given)'}")
        lines.append(f"shot_counter: event field {self.counter}, up to {self.last_count}")
        lines += [f"{one.channel.name}: event field {one.name}, {self._meaning(one)}" for one in self.channels]
        return lines + [one.described(f"{one.place}, read only") for one in self.set_points]

    def _meaning(self, one: ChannelField) -> str:
        if one.unit is None:
            return f"in the unit the press gives, converted to {one.channel.unit}"
        how = ""
        if is_hydraulic(one.name):
            how = f"times {self.geometry.ratio:g} from oil to melt, "
        elif one.channel.unit == "mm" and to_mm3(known_unit(one.unit)) is not None:
            given = self.geometry.screw_mm
            how = (
                f"a volume over the area of a screw of {f'{given:g} mm' if given else 'the diameter the press gives'}, "
            )
        return how + str(Scaling(one.channel, one.scale, one.offset, one.unit, float))


def _login_said(server: Server) -> str:
    """Say what becomes of a password where nothing is encrypted."""
    if server.password_file is None:
        return ""
    if server.unprotected_login:
        return "; the password goes over the network to be read by anybody (unprotected_login)"
    return "; the password is sent only if the press has it encrypted, else nobody is logged in"


def _password_said(file: Path | None) -> str:
    """Say where the password comes from, and nothing of it."""
    if file is None:
        return "without a password"
    return f"password from {file}" + ("" if file.is_file() else ", which is not there")


def read_options(section: Section) -> Options40077:
    """Read and check the keys.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    UsageError
        The extra is not installed.
    """
    server = read_server(section)
    counter = section.section("shot_counter")
    if not counter.has("name"):
        raise counter.wrong("name", f"a BrowseName, of the standard {' or '.join(COUNTERS)}")
    name = counter.text("name")
    last_count = counter.integer("last_count", 9, _HIGHEST_COUNT, _LAST_COUNT)
    counter.finish()
    geometry = Geometry(
        section.number("screw_diameter_mm", 5.0, 200.0) if section.has("screw_diameter_mm") else None,
        section.number("intensification_ratio", 1.0, 50.0) if section.has("intensification_ratio") else None,
    )
    channels = tuple(_channels(section, geometry))
    if not channels:
        raise section.wrong("channels", "at least one channel")
    return Options40077(
        server,
        section.number("poll_s", 0.05, 10.0, 0.2),
        section.number("wait_s", 0.1, 3600.0, 120.0),
        name,
        last_count,
        channels,
        Parts(*(section.integer(key, 0, 99) if section.has(key) else None for key in ("injection_unit", "mould"))),
        geometry,
        read_set_points(section, _place, texts=True, tells_units=True),
    )


def _place(name: str, table: Section) -> Where:
    if table.has("node") == table.has("name"):
        raise table.wrong(
            "node" if table.has("node") else "name", 'name = "BrowseName" or node = "ns=2;s=Id", one of both'
        )
    if table.has("node"):
        return Where(node=_node(table, "node"))
    return Where(table.text("name"))


def _node(section: Section, key: str) -> str:
    """Read the id of a node, as OPC UA writes one."""
    text = section.text(key)
    rest = text.partition(";")[2] if text.startswith("ns=") and text[3:].partition(";")[0].isdecimal() else text
    if rest[:2] not in ("i=", "s=", "g=", "b=") or len(rest) < 3 or (rest[0] == "i" and not rest[2:].isdecimal()):
        raise section.wrong(key, "the id of a node, as ns=2;s=Name or ns=2;i=5001")
    return text


def read_server(section: Section) -> Server:
    """Read only the keys that say how the press is reached.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    UsageError
        The extra is not installed.
    """
    need("opcua", "kind opcua-40077 reads a press over OPC UA")
    file = Path(section.file)
    password_file = path_beside(section, "password_file", file)
    user = section.text("user") if section.has("user") else ""
    if password_file is not None and not user:
        raise section.wrong("user", "the user whose password it is")
    return Server(
        _url(section),
        section.number("timeout_s", 0.2, 30.0, 4.0),
        section.number("keep_alive_s", 0.5, 60.0, 5.0),
        _node(section, "node") if section.has("node") else "",
        _security(section, file),
        user,
        password_file,
        section.flag("unprotected_login", False),
    )


def _url(section: Section) -> str:
    allowed = "opc.tcp://HOST:PORT, as the press shows it; user and password stand under keys of their own"
    url = section.text("url")
    try:
        parts = urlsplit(url)
        fits = parts.scheme == "opc.tcp" and bool(parts.hostname) and (parts.port or 4840) > 0
    except ValueError:
        fits = False
    if not fits or "@" in url or any(mark.isspace() for mark in url):
        raise section.wrong("url", allowed)
    return url


def _security(section: Section, file: Path) -> Security | None:
    policy = section.choice("security_policy", POLICIES, "none")
    mode = section.choice("security_mode", MODES, "sign-and-encrypt")
    keys = ("certificate", "private_key", "server_certificate")
    certificate, private_key, pinned = (path_beside(section, key, file) for key in keys)
    if policy == "none":
        for key in keys:
            if section.has(key):
                raise section.wrong("security_policy", f"{' | '.join(POLICIES[1:])}, where {key} is given")
        return None
    if certificate is None or private_key is None:
        lacking = "certificate" if certificate is None else "private_key"
        raise section.wrong(lacking, f"a file (PEM or DER), beside security_policy = {policy}")
    security = Security(policy, mode, certificate, private_key, pinned)
    for key, look in (
        ("certificate", security.own),
        ("private_key", security.key),
        ("server_certificate", security.of_press),
    ):
        try:
            look()
        except UsageError as error:
            raise SettingsError(section.file, f"{section.path}.{key}", *_given_allowed(str(error))) from error
    return security


def _given_allowed(sentence: str) -> tuple[str, str]:
    given, _, allowed = sentence.partition(", allowed: ")
    return given.partition(": given ")[2], allowed


def _channels(section: Section, geometry: Geometry) -> Iterator[ChannelField]:
    parent = section.section("channels")
    for name, table in parent.items():
        if name not in CHANNELS:
            raise parent.unknown(name, CHANNELS)
        channel = CHANNELS[name]
        if not table.has("name"):
            usual = " or ".join(NAMES.get(name, ()))
            raise table.wrong("name", "a BrowseName" + (f", of the standard {usual}" if usual else ""))
        field = ChannelField(
            channel,
            table.text("name"),
            table.text("unit") if table.has("unit") else None,
            Decimal(str(table.number("scale", -1e9, 1e9, 1.0, nonzero=True))),
            Decimal(str(table.number("offset", -1e9, 1e9, 0.0))),
        )
        if is_hydraulic(field.name) and channel.unit == "bar" and geometry.ratio is None:
            raise table.wrong(
                "name",
                "a specific pressure (of the melt), or this one with intensification_ratio = R in the collector: melt "
                "over oil, off the press's data sheet",
            )
        if field.unit is not None:
            _check_unit(table, channel, field)
        table.finish()
        yield field


def _check_unit(table: Section, channel: Channel, field: ChannelField) -> None:
    volume = is_volume(field.name) and channel.unit == "mm"
    fits = scaling_of(channel, field.name, str(field.unit), field.scale, field.offset, _ANY)
    if isinstance(fits, str):
        what = "cm3 or mm3, for it is a volume that becomes mm by the screw's area" if volume else channel.unit
        raise table.wrong("unit", f"{what}, or a unit that can be converted to it")
