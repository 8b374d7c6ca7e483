"""How much is kept of what a peer sends: enough to see what it was, never as much as it likes to send.

A peer that floods may send without end. What it sent stands in the log for ever and on pages that are sent again and
again, so bytes and words are cut when a record is made of them, and it is said how much came.
"""

__all__ = ["RAW_MOST", "TEXT_MOST", "cut_bytes", "cut_text", "said_cut"]

RAW_MOST = 4096
"""Bytes kept of what came: longer than any frame or line that says something."""
TEXT_MOST = 1000
"""Characters kept of what is said of it."""


def said_cut(detail: str, n_bytes: int) -> str:
    """Return a detail that says how many bytes came, where not all were kept.

    Examples
    --------
    >>> said_cut("no answer in them", 11_534_336)
    'no answer in them (11,534,336 bytes came, the first 4,096 kept)'
    >>> said_cut("torn", 6)
    'torn'
    """
    return detail if n_bytes <= RAW_MOST else f"{detail} ({n_bytes:,} bytes came, the first {RAW_MOST:,} kept)"


def cut_bytes(raw: bytes, detail: str) -> tuple[bytes, str]:
    """Return what is kept of bytes, and the detail that goes with them."""
    return bytes(raw[:RAW_MOST]), said_cut(detail, len(raw))


def cut_text(text: str) -> str:
    """Return what is kept of words: no longer than `TEXT_MOST`, and nothing in them that a database refuses.

    Examples
    --------
    >>> cut_text("answers with \\0")
    'answers with \\\\x00'
    """
    text = "".join(c if c != "\0" and not "\ud800" <= c <= "\udfff" else ascii(c)[1:-1] for c in text[:TEXT_MOST])
    return text if len(text) < TEXT_MOST else f"{text[: TEXT_MOST - 1]}\N{HORIZONTAL ELLIPSIS}"
