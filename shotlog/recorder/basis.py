"""What a judging rests on besides the shots, as a short digest: verdicts of two bases are never taken for one judging.

All that decides a verdict goes in as data: the release, the form of the kept state, the designs, the false calls that
are put up with where they are stated, and the tables of channels, causes, signatures, constants and of what an entry
does to the call. The text it is made of is the same in every process and under every version of Python: JSON, with the
keys of each row in order.
"""

import hashlib
import json
from collections.abc import Mapping

from shotlog import __version__
from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.signatures import MODES, SIGNATURES
from shotlog.wear.change.told import WORDS
from shotlog.wear.constants import TABLE
from shotlog.wear.plain import STATE, to_plain

__all__ = ["basis"]


def basis(designs: Mapping[str, DesignSettings], false_calls: float | None = None) -> str:
    """Return the digest of all that decides a verdict besides the shots; the order of the designs does not."""
    effects = {name: kind.effect for name, kind in KINDS.items()}
    tables = [list(to_plain(one).items()) for one in (CHANNELS, CAUSES, SIGNATURES, MODES, WORDS, TABLE, effects)]
    stated = [] if false_calls is None else [false_calls]
    text = json.dumps([__version__, STATE, to_plain(designs), tables, *stated], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:16]
