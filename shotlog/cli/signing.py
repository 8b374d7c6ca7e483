"""Who made an entry, as the JSON of every command has it."""

from dataclasses import asdict
from typing import Any

from shotlog.records import Who
from shotlog.wording.who import who_said

__all__ = ["who_document"]


def who_document(who: Who) -> dict[str, Any]:
    """Return who made an entry in words, and the signature by which it is known, null where none was kept."""
    return {"who": who_said(who), "signature": None if who.signature is None else asdict(who.signature)}
