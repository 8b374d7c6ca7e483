"""What people type: times, ranges, values with a unit."""

import math
import re
import sys
from datetime import UTC, datetime
from typing import Any

from shotlog.errors import UsageError
from shotlog.settings import Bound
from shotlog.wording.entries import display_said

__all__ = ["amount", "moment", "named_amount", "shot_given", "span"]

_AMOUNT = re.compile(r"([+-]?(?:\d+[.,]?\d*|[.,]\d+))\s*([A-Za-z%]*)", re.ASCII)


def moment(text: str | None) -> datetime | None:
    """Return a time; one without an offset is this computer's local time. None stays None.

    Raises
    ------
    UsageError
        The text is no ISO 8601 time.
    """
    if text is None:
        return None
    try:
        return datetime.fromisoformat(text).astimezone(UTC)
    except (ValueError, OverflowError) as error:
        raise UsageError(f"time: given {text!r}, allowed: ISO 8601, such as 2026-01-05T14:30 or with +01:00") from error


def amount(text: str) -> tuple[float, str]:
    """Return a value and its unit, empty where none is given.

    Examples
    --------
    >>> amount("10,2 g")
    (10.2, 'g')
    """
    found = _AMOUNT.fullmatch(text.strip())
    value = math.inf if found is None else float(found[1].replace(",", "."))
    if found is None or not math.isfinite(value):
        raise UsageError(f"value: given {text!r}, allowed: a number, with its unit behind it if need be")
    return value, found[2]


def named_amount(text: str) -> tuple[str, float, str]:
    """Return name, value and unit of ``NAME=VALUE[UNIT]``.

    Examples
    --------
    >>> named_amount("wall=1.2mm")
    ('wall', 1.2, 'mm')
    """
    name, equals, rest = text.partition("=")
    if not equals or not name.strip():
        raise UsageError(f"dimension: given {text!r}, allowed: NAME=VALUE, such as wall=1.20mm")
    return (name.strip(), *amount(rest))


def span(text: str | None) -> Bound:
    """Return the range ``LOW..HIGH``, either end left out where there is none.

    Examples
    --------
    >>> span("0.8..1.2")
    Bound(low=0.8, high=1.2)
    >>> span("..40").high
    40.0
    """
    if text is None:
        return Bound()
    low, dots, high = text.partition("..")
    if not dots or not (low or high):
        raise UsageError(f"range: given {text!r}, allowed: LOW..HIGH, LOW.. or ..HIGH")
    ends = Bound(*(amount(end)[0] if end else None for end in (low, high)))
    if ends.low is not None and ends.high is not None and ends.low >= ends.high:
        raise UsageError(f"range: given {text!r}, allowed: low below high")
    return ends


def shot_given(log: Any, press: str, text: str | None, what: str = "--at-shot", made: bool = False) -> int | None:
    """Return the shot that was typed, held against what the press has made; None stays None.

    A number taken for that of the press's display is said. See `numbering.shot_typed`.
    """
    from shotlog.store.log.numbering import shot_typed

    if text is None:
        return None
    with log.reading() as connection:
        typed = shot_typed(connection, press, text, what=what, made=made)
    if typed.display is not None:
        print(f"{press}: {display_said(typed.display, typed.shot)}", file=sys.stderr)
    return typed.shot
