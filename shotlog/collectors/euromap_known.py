"""What a press says of itself over EUROMAP 63 before it is read: its code page, its tokens and their units."""

from collections.abc import Mapping
from dataclasses import dataclass

from shotlog.collectors.euromap_lists import KnownToken, PressInfo, nearest_to, press_info, tokens_in
from shotlog.collectors.euromap_options import EuromapOptions
from shotlog.collectors.euromap_report import TokenMap
from shotlog.collectors.euromap_rows import token_key
from shotlog.collectors.euromap_session import PressSession
from shotlog.collectors.euromap_units import scalings
from shotlog.collectors.scaling import Scaling
from shotlog.errors import PressRefused

__all__ = ["KnownPress", "discover"]

_FALLBACK = "cp850"
"""The code page that the interface names as an example; used where a press names none."""
_BUILT_IN = ("date", "time", "count")
"""What a report may be asked for without being a token of the press."""


@dataclass(frozen=True, slots=True)
class KnownPress:
    """`tokens`: what it knows, by the key of a token; `channels`: what is read, in which unit; `remarks`: to be
    said, each with what the press wrote.
    """

    encoding: str
    tokens: Mapping[str, KnownToken]
    channels: Mapping[str, tuple[str, Scaling]]
    remarks: tuple[tuple[str, str], ...]

    def lacks(self, token: str) -> bool:
        """Say whether the press gave a list and a token is not in it."""
        return bool(self.tokens) and token_key(token) not in {*self.tokens, *_BUILT_IN}

    def lacking(self, tokens: TokenMap) -> list[str]:
        """Return the tokens that are wanted and that the press lacks, each with the nearest one that it has."""
        return [self.with_nearest(one) for one in tokens.tokens if self.lacks(one)]

    def with_nearest(self, token: str) -> str:
        """Return a token, and the one of the press that is spelt most like it."""
        nearest = nearest_to(token, self.tokens)
        return f"{token} (nearest: {nearest})" if nearest else token


def discover(session: PressSession, chosen: EuromapOptions) -> KnownPress:
    """Ask a press what it is and what it knows.

    Raises
    ------
    PressUnreachable
        It does not answer.
    PressRefused
        It has no such session, or neither it nor the configuration says in which unit a value comes.
    """
    remarks: list[tuple[str, str]] = []
    info = press_info(_list(session, "INFO", "GETINFO", remarks))
    if info.max_sessions is not None and chosen.session >= info.max_sessions:
        raise PressRefused(
            f"the press allows sessions 0 to {info.max_sessions - 1} (MaxSessions), and the configuration says "
            f"session = {chosen.session}"
        )
    if chosen.encoding is None and info.code_page is None:
        remarks.append((_fallback_said(info), f"CharDef {(info.said or {}).get('chardef', '')}"))
    encoding = chosen.encoding or info.code_page or _FALLBACK
    listed = _list(session, "IDS", "GETID", remarks).encode("latin-1").decode(encoding, errors="replace")
    tokens = tokens_in(listed)
    channels, said = scalings(chosen.channels, tokens)
    return KnownPress(encoding, tokens, channels, (*remarks, *said))


def _fallback_said(info: PressInfo) -> str:
    named = (info.said or {}).get("chardef", "")
    of = f"names the code page {named!r}, which is not known here" if named else "names no code page"
    return f'the press {of}: text is read as {_FALLBACK}; encoding = "..." sets another'


def _list(session: PressSession, what: str, command: str, remarks: list[tuple[str, str]]) -> str:
    try:
        text = session.list(what, command)
    except PressRefused as error:
        remarks.append((f"{error}; the press is read without it", command))
        return ""
    if not text:
        remarks.append((f"the press wrote no list of {command} in time; it is read without it", command))
    return text or ""
