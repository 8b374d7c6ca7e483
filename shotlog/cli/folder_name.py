"""The name of a folder for what people have named as they liked: one that every system takes, and each its own."""

import unicodedata
from collections.abc import Callable

__all__ = ["folder_name"]

_LONGEST = 60
"""Characters of a name; at four bytes each they leave room for a number under the 255 bytes that systems allow."""

_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³")}
"""Names that stand for devices on some systems, in whatever folder."""


def folder_name(name: str, taken: Callable[[str], bool]) -> str:
    """Return the name of a folder that is not `taken`: letters, digits, ``-`` and ``_`` of `name`, and a number if need
    be. What is named nothing is ``no-trial``.

    Examples
    --------
    >>> folder_name("cap 7", lambda name: name == "cap-7"), folder_name("../CON", lambda _: False)
    ('cap-7-2', 'CON-trial')
    """
    known = unicodedata.normalize("NFC", name)
    kept = "".join(one if one.isalnum() or one in "-_" else "-" for one in known)[:_LONGEST].strip("-")
    base = kept or ("trial" if name else "no-trial")
    if base.casefold() in _RESERVED:
        base = f"{base}-trial"
    found, n = base, 1
    while taken(found):
        n += 1
        found = f"{base}-{n}"
    return found
