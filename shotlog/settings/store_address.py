"""The address of the store: a file of SQLite, or a server; a wrong one is told without the password in it."""

import os
import re
from pathlib import Path
from urllib.parse import parse_qs, urlencode, urlsplit

from shotlog.errors import SettingsError
from shotlog.settings.section import Section, shown

__all__ = ["SERVER", "SQLITE", "edge_named", "is_server", "server_url", "store_url", "with_edge"]


SQLITE = "sqlite:///"

_PORT = r"(?:6553[0-5]|655[0-2]\d|65[0-4]\d\d|6[0-4]\d{3}|[1-5]\d{4}|[1-9]\d{0,3})"

_SERVER = re.compile(
    rf"""postgresql(\+\w+)?://([^:/@\s"']*(:[^@]*)?@)?(\[[^/?@\[\]]+\]|[^:/@?\[\]]*)(:{_PORT}?)?(/[^@?]*)?(\?.*)?"""
)
"""The address of a server, taken apart as the library does, and refused where a mark stands where it would part a
password: what then became the name of a host or of a database would be told to whoever asks why there is none."""

_NO_PASSWORD = re.compile(r"[^:@]*|[\w+]*:[\w/\\. -]*")
"""An address with room for none: one colon, behind its first word, and no @."""


def _no_address(log: Section, url: str, allowed: str, key: str = "store") -> SettingsError:
    """Return the error for an address of a store that is none: nobody can say where a password in it ends."""
    kept = url if _NO_PASSWORD.fullmatch(url) else f"{url.partition(':')[0]}:***"
    return SettingsError(log.file, f"{log.path}.{key}", shown(key, kept), allowed)


SERVER = (
    '"postgresql+psycopg://USER@HOST/DB", in which @ / : within a name or a password are written '
    "%40 %2F %3A, and a port is 1 to 65535"
)
"""What the address of a server may be."""


def server_url(table: Section, key: str) -> str:
    """Read the address of a server."""
    url = table.text(key)
    if not is_server(url):
        raise _no_address(table, url, SERVER, key)
    return url


def is_server(url: str) -> bool:
    """Say whether an address is one of a server, in which it can be told where a password ends."""
    return bool(_SERVER.fullmatch(url)) and url.isprintable() and "%00" not in url


def edge_named(url: str) -> str:
    """Return the edge that an address of a centre names (``?edge=hall-2``), empty where it names none.

    Examples
    --------
    >>> edge_named("postgresql+psycopg://ann@host/plant?edge=hall%202"), edge_named("postgresql://ann@host/plant")
    ('hall 2', '')
    """
    return parse_qs(urlsplit(url).query).get("edge", [""])[-1] if is_server(url) else ""


def with_edge(url: str, name: str) -> str:
    """Return the address of the log of an edge, by that of its centre.

    Examples
    --------
    >>> with_edge("postgresql://ann@host/plant?sslmode=require", "hall 2")
    'postgresql://ann@host/plant?sslmode=require&edge=hall+2'
    """
    return f"{url}{'&' if '?' in url else '?'}{urlencode({'edge': name})}"


def store_url(log: Section, file: Path) -> str:
    url = log.text("store")
    if re.match(r"postgresql(\+\w+)?://", url):
        return server_url(log, "store")
    if not url.startswith(SQLITE):
        allowed = '"sqlite:///FILE", such as "sqlite:///trial.db", or "postgresql+psycopg://USER@HOST/DB"'
        raise _no_address(log, url, allowed)
    name = url.removeprefix(SQLITE)
    if name in ("", ":memory:"):
        raise log.wrong("store", "a file: a log in memory would be lost")
    if not name.isprintable():
        raise log.wrong("store", "the name of a file, in characters that are seen")
    path = (file.parent / name).resolve().as_posix()
    if name.endswith("/") or os.path.isdir(path):  # noqa: PTH112  (the other fails where one may not look)
        raise log.wrong("store", "the name of a file, and not of a folder")
    if path == file.resolve().as_posix():
        raise log.wrong("store", "a file of its own, and not this configuration")
    if "?" in path:
        raise log.wrong("store", f"a file and folder without ? in their names, not {path}")
    return SQLITE + path
