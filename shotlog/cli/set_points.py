"""What a press is set to, as JSON documents and in a line of ``status``."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from shotlog.wording.numbers import some
from shotlog.wording.set_points import set_name, set_value

if TYPE_CHECKING:
    from shotlog.store.asked.set_points import SetInForce

__all__ = ["set_document", "set_line"]


def set_document(one: "SetInForce") -> dict[str, Any]:
    """Return one set-point as a document; the value is null where it could not be read."""
    since = {"since_shot": one.since, "changed": one.is_change, "by": one.by}
    return {"value": one.value or None, "unit": one.unit, **since}


def set_line(documents: Mapping[str, Mapping[str, Any]]) -> str:
    """Return how many there are and what was changed last, in a line; empty where there are none."""
    if not documents:
        return ""
    changed = {name: one for name, one in documents.items() if one["changed"]}
    unread = [set_name(name).lower() for name, one in documents.items() if one["value"] is None]
    said = some(len(documents), "set-point")
    if changed:
        last = max(one["since_shot"] for one in changed.values())
        newest = [(name, one) for name, one in changed.items() if one["since_shot"] == last]
        values = ", ".join(
            f"{set_name(name).lower()} {set_value(one['value'] or '', one['unit'])}" for name, one in newest
        )
        said += f", last changed at shot {last}: {values}"
    else:
        said += ", none changed since they are read"
    return said + (f"; NOT READ: {', '.join(unread)}" if unread else "")
