"""What came in from a press, as a page shows it: never more than a line or two, however much came."""

from collections.abc import Iterable, Sequence

from shotlog.channels import CHANNELS
from shotlog.records import Gap
from shotlog.wording.numbers import counted, shots, shots_named

__all__ = [
    "BYTES_SHOWN",
    "LINE",
    "bytes_shown",
    "changes_said",
    "gap_said",
    "kind_named",
    "missed_counted",
    "missed_said",
    "more_said",
    "one_line",
    "uncertain_said",
    "unread_said",
]

LINE = 300
"""Characters of what is said of something that came."""
BYTES_SHOWN = 64
"""Bytes of what came, shown as they are."""


def one_line(text: str, most: int = LINE) -> str:
    """Return a text cut to so many characters, with a mark where it was cut.

    Examples
    --------
    >>> one_line("a line without an end", 10)
    'a line wi…'
    """
    return text if len(text) <= most else f"{text[: most - 1]}\N{HORIZONTAL ELLIPSIS}"


def bytes_shown(raw: bytes) -> str:
    """Return the first bytes of what came as text where they are text, as hexadecimal where not, and how many came.

    Examples
    --------
    >>> bytes_shown(b"118;0,72"), bytes_shown(bytes([0, 255]))
    ('118;0,72', '00 ff')
    >>> bytes_shown(b"x" * 4096)[-20:]
    'xxx…, of 4,096 bytes'
    """
    head = raw[:BYTES_SHOWN]
    text = head.decode("ascii", errors="replace")
    shown = text if text.isprintable() and "\N{REPLACEMENT CHARACTER}" not in text else head.hex(" ")
    return shown if len(raw) <= BYTES_SHOWN else f"{shown}\N{HORIZONTAL ELLIPSIS}, of {len(raw):,} bytes"


def more_said(n: int, seconds: float, shots: Sequence[int], last: str) -> str:
    """Say how many more came that were counted and not kept; `shots`: the first and the last they belong to, if any.

    Examples
    --------
    >>> more_said(1234, 600.0, (), "holds a byte that is no text")
    'and 1,234 more in 10 min; the last: holds a byte that is no text'
    >>> more_said(14, 61.0, (31, 52), "cushion came as 'ERR'")
    "and 14 more in 61 s, shots 31 to 52; the last: cushion came as 'ERR'"
    """
    where = f", shots {shots[0]} to {shots[-1]}" if len(set(shots)) > 1 else f", shot {shots[0]}" if shots else ""
    return f"and {n:,} more in {_rough(seconds)}{where}; the last: {last}"


def changes_said(n: int, seconds: float, detail: str) -> str:
    """Say that a connection changed more often than is told one by one.

    Examples
    --------
    >>> changes_said(240, 61.0, "the press answers")
    'the press answers; it came and went: 240 changes in 61 s'
    """
    return f"{detail}; it came and went: {n:,} changes in {_rough(seconds)}"


def kind_named(kind: str) -> str:
    """Return a kind of fault as it is said: where it is about a channel, with the channel's name.

    Examples
    --------
    >>> kind_named("peak_pressure text"), kind_named("torn")
    ('peak pressure text', 'torn')
    """
    name, _, how = kind.partition(" ")
    return f"{CHANNELS[name].label.lower()} {how}" if name in CHANNELS else kind


def unread_said(told: str, n: int, since: str, first_shot: int | None) -> str:
    """Say how often the value of a channel could not be taken; `told` is what it was the first time.

    Examples
    --------
    >>> unread_said("cushion came as 'ERR'", 14, "14:02", 31)
    "Cushion came as 'ERR': 14 times since 14:02, first at shot 31"
    """
    often = "once, at" if n == 1 else f"{n:,} times since"
    at = "" if first_shot is None else f", shot {first_shot}" if n == 1 else f", first at shot {first_shot}"
    return f"{told[:1].upper()}{told[1:]}: {often} {since}{at}"


def missed_said(n: int, gaps: Iterable[Gap]) -> str:
    """Say how many shots were missed, `n` by the numbering, where `gaps` among them may have been more or fewer.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> gap = Gap("P25", 65001, 65903, datetime(2026, 1, 5, tzinfo=UTC), "rolled over or began again", 903, 1439)
    >>> missed_said(903, [gap]), missed_said(910, [gap]), missed_said(3, [])
    ('903 to 1,439', '910 to 1,446', '3')
    """
    uncertain = [*gaps]
    more, fewer = sum(gap.n_more for gap in uncertain), sum(gap.n_fewer for gap in uncertain)
    return f"{n - fewer:,} to {n + more:,}" if more or fewer else str(n)


def missed_counted(n: int, gaps: Iterable[Gap]) -> str:
    """Say as `missed_said`, with the noun.

    Examples
    --------
    >>> missed_counted(0, []), missed_counted(1, [])
    ('no shot', '1 shot')
    """
    said = missed_said(n, gaps)
    return counted(n, "shot") if said == str(n) else f"{said} shots"


def gap_said(gap: Gap) -> str:
    """Say which shots were missed, or how many where that is not certain.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> gap_said(Gap("P25", 4, 6, datetime(2026, 1, 5, tzinfo=UTC), "the counter went on"))
    'shots 4 to 6'
    >>> gap_said(Gap("P25", 40, 40, datetime(2026, 1, 5, tzinfo=UTC), "the counter went on"))
    'shot 40'
    >>> gap_said(Gap("P25", 65001, 65903, datetime(2026, 1, 5, tzinfo=UTC), "rolled over or began again", 903, 1439))
    '903 to 1,439 shots, counted as 65001 to 65903'
    """
    if not gap.n_more and not gap.n_fewer:
        return shots_named(gap.first, gap.last)
    return f"{missed_said(gap.n_shots, [gap])} shots, counted as {shots(gap.first, gap.last)}"


def uncertain_said(gap: Gap) -> str:
    """Say of a gap of uncertain size what it means for what is counted on.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> gap = Gap("P25", 65001, 65903, datetime(2026, 1, 5, tzinfo=UTC), "it rolled over", 903, 1439)
    >>> uncertain_said(gap)
    '903 to 1,439 shots were missed before shot 65904: shots on an insert are counted by 903 (it rolled over)'
    """
    often = f"{missed_said(gap.n_shots, [gap])} shots were missed before shot {gap.last + 1}"
    return f"{often}: shots on an insert are counted by {gap.n_shots:,} ({gap.reason})"


def _rough(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 120.0 else f"{seconds / 60.0:.0f} min"
