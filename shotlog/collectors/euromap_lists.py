"""The two lists a press gives over EUROMAP 63: what it is (GETINFO), and which tokens it knows (GETID). Pure.

A line of GETID is ``ActTimCyc,N,8,4,0,"s","Actual Cycle Time";``: token, numeric or text, digits, decimals, writable,
unit, text. Whether the digits count those before the point or all is not known, and nothing here needs it. Units are
taken from there as they are written.
"""

import codecs
import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from shotlog.collectors.euromap_rows import fields_of, token_key

__all__ = ["KnownToken", "PressInfo", "code_page", "nearest_to", "press_info", "tokens_in"]


@dataclass(frozen=True, slots=True)
class KnownToken:
    """One token of a press: its name as spelt there, whether it is a number, unit and text."""

    name: str
    numeric: bool
    unit: str
    text: str


_INDEXED = re.compile(r"(.+)\[([0-9, ]+)\]")


def tokens_in(text: str) -> dict[str, KnownToken]:
    """Return the tokens of a GETID list by their keys (`token_key`); a line that is none is passed over.

    Examples
    --------
    >>> tokens_in('ActTimCyc,N,8,4,0,"s","Actual Cycle Time";')["acttimcyc"].unit
    's'
    """
    found: dict[str, KnownToken] = {}
    for line in re.split(r"[\r\n]+", text):
        fields = fields_of(line.strip().removesuffix(";"))
        if len(fields) >= 6 and re.match(r"[A-Za-z@$]", fields[0]) and fields[1].upper()[:1] in "NATSC":
            one = KnownToken(fields[0], fields[1].upper().startswith("N"), fields[5], ",".join(fields[6:]))
            found.setdefault(token_key(one.name), one)
    return found


def nearest_to(token: str, known: Mapping[str, KnownToken]) -> str:
    """Return the token of a press that is spelt most like one that it does not know; empty where none is near.

    Examples
    --------
    >>> nearest_to("ActTimCycle", tokens_in('ActTimCyc,N,8,4,0,"s","Actual Cycle Time";'))
    'ActTimCyc'
    """
    nearest = get_close_matches(token_key(token), known, 1)
    return known[nearest[0]].name if nearest else ""


@dataclass(frozen=True, slots=True)
class PressInfo:
    """What a press says of itself; None where it does not."""

    max_sessions: int | None = None
    code_page: str | None = None
    said: Mapping[str, str] | None = None


def press_info(text: str) -> PressInfo:
    """Return what a GETINFO list says; however a name and its value are parted.

    Examples
    --------
    >>> press_info('MaxSessions,4;\\nCharDef,"850";').code_page
    'cp850'
    """
    said: dict[str, str] = {}
    for one in re.finditer(r"""([A-Za-z]+)\s*[,=:\s]\s*"?([^",;\r\n]*)"?""", text):
        said.setdefault(one[1].lower(), one[2].strip())
    sessions = said.get("maxsessions", "")
    return PressInfo(int(sessions) if sessions.isdecimal() else None, code_page(said.get("chardef", "")), said)


def code_page(name: str) -> str | None:
    """Return the encoding of this computer for a code page as a press names it; None where there is none."""
    digits = re.fullmatch(r"(?:cp|ibm|dos|windows|win|pc)?[ _-]*([0-9]{3,5})", name.lower())
    for one in (f"cp{digits[1]}" if digits else name, f"iso{name}"):
        try:
            return codecs.lookup(one).name if name else None
        except (LookupError, ValueError):
            continue
    return None
