"""What a press tells by itself of set-points that were changed (EVENT ... CHANGES of EUROMAP 63). Pure.

A line has count, date, time, shot, parameter, old, new, user, in that order or as its header has them. Whether `shot`
is the one that was made last or the first with the new value is not known; the change is said to hold from the next
on, for whoever sets something sees it at work there. Not verified on a real press.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from shotlog.collectors.euromap_rows import fields_of, token_key

__all__ = ["ChangeReader", "ToldChange"]

_ORDER = ("count", "date", "time", "shot", "parameter", "old", "new", "user")
_KNOWN = {
    "count": "count", "date": "date", "time": "time", "shot": "shot", "actcntcyc": "shot", "cycle": "shot",
    "parameter": "parameter", "param": "parameter", "old": "old", "oldvalue": "old", "new": "new", "newvalue": "new",
    "user": "user",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class ToldChange:
    """One line: the token that was set, the values as written, who, and the count of shots then (None where unread)."""

    token: str
    old: str
    new: str
    user: str
    shot: int | None
    date: str
    time: str


class ChangeReader:
    """Reads such lines. State: the order of the columns by the last header."""

    def __init__(self, encoding: str) -> None:
        self._encoding = encoding
        self._columns: Sequence[str] = _ORDER

    def read(self, raw: bytes) -> ToldChange | str | None:
        """Return what a line tells; None for a header or a blank one, and why where it is neither.

        Examples
        --------
        >>> ChangeReader("cp850").read(b'1,20261128,12:00:00,118,SetPrsHldSpec[1],540,560,"R. K."').new
        '560'
        """
        text = raw.decode(self._encoding, errors="replace").strip().removesuffix(";")
        if not text.strip("\x1a \t"):
            return None
        fields = fields_of(text)
        names = [_KNOWN.get(token_key(re.sub(r"[^A-Za-z]", "", one)), "") for one in fields]
        if not any(one.isdecimal() for one in fields) and names.count("parameter") == 1:
            self._columns = names
            return None
        found = dict(zip(self._columns, fields, strict=False))
        if len(fields) < len(self._columns) - 1 or not found.get("parameter") or "new" not in found:
            return f"a change of a set-point has {len(fields)} fields, expected {', '.join(self._columns)}"
        shot = found.get("shot", "")
        return ToldChange(
            found["parameter"],
            found.get("old", ""),
            found["new"],
            found.get("user", ""),
            int(shot) if shot.isdecimal() and len(shot) < 18 else None,
            found.get("date", ""),
            found.get("time", ""),
        )
