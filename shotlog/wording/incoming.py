"""What came in from a press, as a page shows it: never more than a line or two, however much came."""

__all__ = ["BYTES_SHOWN", "LINE", "bytes_shown", "one_line"]

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
