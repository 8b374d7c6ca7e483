"""The state of an evaluator as text, under a checksum: a bit that turned on the disk must not judge the next shot."""

import hashlib
import json
from typing import Any

__all__ = ["opened_state", "sealed_state"]


def sealed_state(state: object) -> str:
    """Return a state as it is kept."""
    text = json.dumps(state)
    return f"{_checksum(text)} {text}"


def opened_state(kept: bytes | str) -> Any | None:
    """Return what was kept, None where it is not what was kept; the shots give it again."""
    whole = kept.decode(errors="replace") if isinstance(kept, bytes) else kept
    checksum, _, text = whole.partition(" ")
    return json.loads(text) if checksum == _checksum(text) else None


def _checksum(text: str) -> str:
    return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()
