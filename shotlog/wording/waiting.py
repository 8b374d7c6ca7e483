"""Words for what was entered at a centre and waits for its edge, and for what became of it there."""

from shotlog.parts.let_go import CALLED, INSPECTED, NOTED, TAKEN_BACK, Newer

__all__ = ["another_log", "newer_said"]

_SAID = {
    "held": "held", "released": "released", "scrapped": "scrapped", INSPECTED: "inspected", NOTED: "spoken of",
    CALLED: "named by a call", TAKEN_BACK: "spoken of by an entry that was taken back",
}  # fmt: skip


def newer_said(newer: Newer) -> str:
    """Return why parts are not let go: what came into the log about them that who wanted it had not seen.

    Examples
    --------
    >>> from shotlog.parts.let_go import PartSpan
    >>> newer_said(Newer(8, "held", PartSpan("P25", 93, 95), 12, "KB"))
    'parts 93 to 95 of P25 were held there since, by KB (entry 12), which was not known here; look, then decide again'
    """
    first, last = newer.parts.first, newer.parts.last
    parts = (
        f"part {first} of {newer.parts.press} was"
        if first == last
        else f"parts {first} to {last} of {newer.parts.press} were"
    )
    by = f", by {newer.initials}" if newer.initials else ""
    number = f" (entry {newer.number})" if newer.number else ""
    return f"{parts} {_SAID[newer.what]} there since{by}{number}, which was not known here; look, then decide again"


def another_log() -> str:
    """Return why parts are not let go where the edge's log is not, or not any more, the one that was seen here."""
    return "the log there goes on otherwise than the one that was known here; look, then decide again"
