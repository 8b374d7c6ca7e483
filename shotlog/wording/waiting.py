"""Words for what was entered at a centre and waits for its edge, and for what became of it there."""

from collections.abc import Sequence

from shotlog.parts.let_go import CALLED, INSPECTED, NOTED, TAKEN_BACK, Newer
from shotlog.records import MadeEntry
from shotlog.wording.entries import made_said

__all__ = ["became_said", "newer_said", "numbered", "waits_said", "what_said"]

_SAID = {
    "held": "held", "scrapped": "scrapped", INSPECTED: "found bad", NOTED: "spoken of", CALLED: "named by a call",
    TAKEN_BACK: "spoken well of by an entry that was taken back",
}  # fmt: skip


def newer_said(newer: Newer | None, entry: str = "") -> str:
    """Return why parts are not let go: what came into the log about them that who wanted it had not seen; None for a
    log that is not, or not any more, the one that was seen. `entry`: which one it is, as `shotlog entries` lists it.

    Examples
    --------
    >>> from shotlog.parts.let_go import PartSpan
    >>> newer_said(Newer(8, "held", PartSpan("P25", 9, 15), "dispositions:2", "KB"), "decision 2")
    'parts 9 to 15 of P25 were held there since, by KB (decision 2), which was not known here: look, and decide again'
    >>> found = Newer(8, INSPECTED, PartSpan("P25", 20, 20), "inspections:3", "KB", 10)
    >>> newer_said(found, "inspection 3").partition(", which")[0]
    'part 10 of P25 was found bad there since, by KB (inspection 3), and that speaks against part 20 as well'
    """
    if newer is None:
        return "the log there goes on otherwise than the one that was known here: look, and decide again"
    first, last, at = newer.parts.first, newer.parts.last, newer.said_at
    parts = f"part {first}" if first == last else f"parts {first} to {last}"
    said, also = (parts, "") if at is None else (f"part {at}", f", and that speaks against {parts} as well")
    were = "was" if at is not None or first == last else "were"
    by = f", by {newer.initials}" if newer.initials else ""
    number = f" ({entry})" if entry else ""
    what = f"{said} of {newer.parts.press} {were} {_SAID[newer.what]} there since{by}{number}{also}"
    return f"{what}, which was not known here: look, and decide again"


def waits_said(edge: str, numbers: Sequence[int]) -> str:
    """Return where what was entered at a centre is.

    Examples
    --------
    >>> waits_said("hall-2", [7])
    'waits for hall-2 as number 7: it goes in when that is heard next; `shotlog entries` says what became of it'
    """
    named = ", ".join(map(str, numbers))
    number = f"number{'s' * (len(numbers) > 1)} {named}"
    return f"waits for {edge} as {number}: it goes in when that is heard next; `shotlog entries` says what became of it"


def numbered(kind: str, numbers: Sequence[int], edge: str) -> str:
    """Return the numbers of what was entered; where it waits for an edge it has none yet.

    Examples
    --------
    >>> numbered("decision", [4, 5], ""), numbered("decision", [0], "hall-2")
    ('decision 4, 5', 'waits for hall-2')
    """
    return f"waits for {edge}" if edge else f"{kind} {', '.join(map(str, numbers))}"


def what_said(said: Sequence[MadeEntry]) -> str:
    """Return what was entered at a centre in one transaction; of what takes an entry back `number` is that one's."""
    told = "; ".join(
        made_said(one) if one.taken_back is None else f"{one.kind} {one.number} taken back: {one.why}" for one in said
    )
    return told or "an entry that this release cannot read"


def became_said(state: str, edge: str, entries: Sequence[str], why: str) -> str:
    """Return what became of an entry made at a centre; `entries`: its kinds and numbers in the edge's log.

    Examples
    --------
    >>> became_said("waiting", "hall-2", (), ""), became_said("taken", "hall-2", ("decision 12",), "")
    ('waits for hall-2', 'taken in by hall-2 as decision 12')
    >>> became_said("refused", "hall-2", (), "noted as dry"), became_said("withdrawn", "hall-2", (), "slip (MR)")
    ('REFUSED by hall-2: noted as dry', 'taken back while it waited: slip (MR)')
    """
    if state == "taken":
        named = ", ".join(entries)
        return f"taken in by {edge} as {named}" if named else f"taken in by {edge}"
    if state in ("waiting", "taking"):
        return f"waits for {edge}"
    return f"REFUSED by {edge}: {why}" if state == "refused" else f"taken back while it waited: {why}"
