"""What was entered at a centre, in a JSON document: commands that say how parts stand say this as well."""

from typing import TYPE_CHECKING, Any

from shotlog.cli.signing import who_document
from shotlog.clock import iso_utc
from shotlog.records import Who
from shotlog.wording.waiting import what_said

if TYPE_CHECKING:
    from shotlog.store.centre.entered import WaitingEntry

__all__ = ["waiting_document"]


def waiting_document(one: "WaitingEntry") -> dict[str, Any]:
    """Return what was entered at a centre, with what became of it."""
    return {
        "kind": "waiting",
        "number": one.number,
        "state": one.state,
        "why": one.why or None,
        "became": one.became,
        "said": what_said(one.said),
        **who_document(Who(one.signature.initials, one.signature)),
        "entered": iso_utc(one.made),
        "settled": None if one.settled is None else iso_utc(one.settled),
    }
