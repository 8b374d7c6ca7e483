"""The collector kind ``euromap63``: a press that writes its shots into files in a shared folder, by EUROMAP 63.

The standard (V1.05a) was not read: what is done here was seen in public programs that speak it, and was not verified on
a real press. The active way orders a report of its own; the passive way follows one that somebody else ordered.
"""

import codecs
import time
from dataclasses import dataclass, replace
from pathlib import Path

from shotlog.channels import CHANNELS
from shotlog.clock import Clock
from shotlog.collectors.base import Collector, Resume
from shotlog.collectors.euromap_active import EuromapActive
from shotlog.collectors.euromap_folder import Folder
from shotlog.collectors.euromap_options import EuromapOptions
from shotlog.collectors.euromap_passive import EuromapPassive
from shotlog.collectors.euromap_report import TokenMap
from shotlog.collectors.euromap_rows import token_key
from shotlog.collectors.euromap_session import Pause
from shotlog.collectors.euromap_units import TokenChannel
from shotlog.collectors.euromap_words import LAST_SESSION, TOKEN
from shotlog.collectors.scaling import read_factors, read_scaling
from shotlog.collectors.set_points import read_set_points
from shotlog.settings import Section
from shotlog.settings.section import path_beside

__all__ = ["EuromapKind", "options", "without_map"]

_LAST_COUNT = 999_999_999
_PASSIVE_ENCODING = "cp850"


@dataclass(frozen=True, slots=True)
class EuromapKind(EuromapOptions):
    """The options, and which of the two collectors they make."""

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        if not self.is_passive:
            return EuromapActive(press, clock, resume, self)
        channels = {name: (one.token, one.scaling) for name, one in self.channels.items() if one.scaling is not None}
        return EuromapPassive(
            press,
            clock,
            resume,
            Folder(self.folder),
            self.report,
            self.rewritten,
            TokenMap(self.counter, channels, self.set_points),
            self.header,
            self.encoding or _PASSIVE_ENCODING,
            self.last_count,
            self.poll_s,
            self.probe_s,
            self.pause,
        )


def options(section: Section) -> EuromapKind:
    """Read and check the keys.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    bare = without_map(section)
    counter = section.section("shot_counter")
    token = _token(counter)
    last_count = counter.integer("last_count", 9, _LAST_COUNT, _LAST_COUNT)
    counter.finish()
    channels = _channels(section, bare.is_passive)
    set_points = read_set_points(
        section, lambda name, table: _token(table), texts=True, tells_units=not bare.is_passive
    )
    changes = section.flag("changes", bool(set_points)) and not bare.is_passive
    return replace(
        bare, counter=token, last_count=last_count, channels=channels, set_points=set_points, changes=changes
    )


def without_map(section: Section, pause: Pause | None = None) -> EuromapKind:
    """Read and check how the press is reached, and nothing of what is read there: for who is to find that out.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    section.text("folder")
    return EuromapKind(
        path_beside(section, "folder", Path(section.file)) or Path(),
        section.integer("session", 0, LAST_SESSION, 1),
        _report(section) if section.flag("passive", False) else "",
        section.choice("mode", ("append", "rewrite"), "append") == "rewrite",
        "",
        _LAST_COUNT,
        {},
        (),
        False,
        _encoding(section),
        section.number("poll_s", 0.01, 60.0, 1.0),
        section.number("timeout_s", 0.5, 15.0, 10.0),
        section.number("silence_s", 1.0, 3600.0, 30.0),
        section.number("probe_s", 1.0, 600.0, 60.0),
        pause or time.sleep,
        section.text("header", ""),
    )


def _report(section: Section) -> str:
    report = section.text("report", "")
    if not report.strip() or any(mark in report for mark in '/\\:"<>|\0'):
        wanted = 'the name of the report in the folder, "SHOTS.DAT", or a pattern, "SHOTS*.DAT"'
        raise section.wrong("report", f"with passive = true {wanted}")
    return report


def _token(section: Section) -> str:
    token = "".join(section.text("token").split())
    if not TOKEN.fullmatch(token):
        raise section.wrong("token", "a token of the press, such as ActStrCsh[1] or ActTmpBrlZn[1,2]")
    return token


def _channels(section: Section, passive: bool) -> dict[str, TokenChannel]:
    parent = section.section("channels")
    channels: dict[str, TokenChannel] = {}
    taken: dict[str, str] = {}
    for name, table in parent.items():
        if name not in CHANNELS:
            raise parent.unknown(name, CHANNELS)
        token = _token(table)
        if token_key(token) in taken:
            raise table.wrong("token", f"a token that {taken[token_key(token)]} does not have")
        taken[token_key(token)] = name
        if passive or table.has("unit"):
            scaling = read_scaling(parent, name, table)
            channels[name] = TokenChannel(name, token, scaling.scale, scaling.offset, scaling)
        else:
            channels[name] = TokenChannel(name, token, *read_factors(table), None)
        table.finish()
    if not channels:
        raise section.wrong("channels", "at least one channel")
    return channels


def _encoding(section: Section) -> str | None:
    if not section.has("encoding"):
        return None
    name = section.text("encoding")
    try:
        return codecs.lookup(name).name
    except LookupError as error:
        raise section.wrong("encoding", "a text encoding such as cp850, cp437, latin-1, utf-8") from error
