"""What the page is asked to show, as the part of its address after the question mark: a copied link reopens the view.

A word the page does not know, or a value it cannot read, is left out: a link from an older release still opens.
"""

from dataclasses import dataclass, fields, replace
from datetime import date, datetime, time, timedelta
from typing import Any, Self
from urllib.parse import parse_qsl, urlencode

from shotlog.answers.questions import QUESTIONS
from shotlog.channels import ALWAYS_CHARTED, CHANNELS

__all__ = ["AXES", "Query", "moment_of"]

AXES = ("shot", "time")
"""What the timeline runs over."""

_LISTED = ","


@dataclass(frozen=True, slots=True)
class Query:
    """A view. Empty texts filter nothing; `since` and `until` are days or moments in ISO 8601, both ends included.

    `life` is the serial that is looked at closely, `stay` which of its stays in a press (1 is the first, 0 the last),
    `upto` the last shot drawn where it made more than fit, `channels` its strips, `beside` the channel in which it is
    held against its sisters. `ask`: the word of the question that is answered, of `answers.questions`.
    """

    trial: str = ""
    press: str = ""
    design: str = ""
    resin: str = ""
    since: str = ""
    until: str = ""
    axis: str = "shot"
    life: str = ""
    stay: int = 0
    upto: int = 0
    channels: tuple[str, ...] = ALWAYS_CHARTED
    beside: str = ALWAYS_CHARTED[0]
    ask: str = ""

    @classmethod
    def parse(cls, search: str | None) -> Self:
        """Return the view an address asks for.

        Examples
        --------
        >>> Query.parse("?press=P25&stay=two&axis=time").search
        '?press=P25&axis=time'
        """
        given = dict(parse_qsl((search or "").lstrip("?")))
        read = {name: _READ[type(default)](given[name]) for name, default in _DEFAULTS.items() if name in given}
        kept = {name: value for name, value in read.items() if _CHECKS.get(name, bool)(value)}
        return cls(**kept)

    @property
    def search(self) -> str:
        """This view as part of an address, only what differs from the view without any."""
        said = {name: getattr(self, name) for name in _DEFAULTS}
        told = {name: value for name, value in said.items() if value != _DEFAULTS[name]}
        texts = {name: _LISTED.join(value) if isinstance(value, tuple) else str(value) for name, value in told.items()}
        return f"?{urlencode(texts)}" if texts else ""

    def but(self, **changes: Any) -> Self:
        """Return this view with some of it changed."""
        return replace(self, **changes)


_DEFAULTS: dict[str, Any] = {field.name: field.default for field in fields(Query)}
_READ: dict[type, Any] = {
    str: lambda text: text.encode(errors="replace").decode().strip(),  # what no address can hold stands in none
    int: lambda text: int(text) if text.isdecimal() and len(text) < 19 else 0,
    tuple: lambda text: tuple(name for name in CHANNELS if name in text.split(_LISTED)),
}
_CHECKS: dict[str, Any] = {
    "axis": AXES.__contains__,
    "beside": CHANNELS.__contains__,
    "ask": QUESTIONS.__contains__,
    "since": lambda text: moment_of(text) is not None,
    "until": lambda text: moment_of(text) is not None,
}


def moment_of(text: str, *, end: bool = False) -> datetime | None:
    """Return a moment on this computer's wall clock; a day stands for its first moment, or with `end` its last.

    None where the text is neither.
    """
    try:
        if len(text) == len("2026-11-25"):
            day = date.fromisoformat(text)
            return datetime.combine(day + timedelta(days=1) if end else day, time()).astimezone()
        return datetime.fromisoformat(text).astimezone()
    except (ValueError, OverflowError):
        return None
