"""Passwords: which are taken, and how one is kept and compared; by the library's scrypt.

References
----------
OWASP Password Storage Cheat Sheet, scrypt: N = 2^15 (32 MiB), r = 8, p = 3. Of its equal choices the one that takes
least memory: the pages run beside the logging, on small computers. OWASP ASVS 4.0.3, V2.1.
"""

import threading
import unicodedata

from shotlog.access.commonest import counts, is_common, is_one_piece
from shotlog.errors import UsageError

__all__ = ["LONGEST", "METHOD", "SHORTEST", "check_new", "kept_of", "matches"]

METHOD = "scrypt:32768:8:3"
SHORTEST, LONGEST = 12, 128
"""Characters of a password. No kind of character is asked for, and none is refused: length is what counts."""

_ALLOWED = f"{SHORTEST} to {LONGEST} characters, any of them"

_one_at_a_time = threading.Lock()
"""Working one out takes 32 MiB and a fifth of a second: however many ask at once, the logging beside has its share."""


def check_new(password: str, name: str) -> None:
    """Refuse a new password of an account that others would try first; it says why, and never which it was.

    Raises
    ------
    UsageError
        It is too short or too long, among the commonest, or made of the name of the account.
    """
    plain = _plain(password)
    if not SHORTEST <= len(plain) <= LONGEST:
        raise UsageError(f"password: given {len(plain)} characters, allowed: {_ALLOWED}")
    folded, own = plain.casefold(), name.casefold()
    if is_common(plain) or is_one_piece(folded) or counts(folded):
        raise UsageError("password: given one of those that are tried first, allowed: another, such as four odd words")
    if len(own) >= 3 and len(folded.replace(own, "")) < SHORTEST // 2:
        raise UsageError("password: given little but the name of the account, allowed: another, such as four odd words")


def kept_of(password: str) -> str:
    """Return what is kept of a password: method, salt and hash."""
    from werkzeug.security import generate_password_hash

    with _one_at_a_time:
        return generate_password_hash(_plain(password), method=METHOD)


def matches(password: str, kept: str) -> bool:
    """Say whether a password is the one of which that is kept; it takes as long where it is not."""
    from werkzeug.security import check_password_hash

    # one too long was never taken: it is cut, and does not match by its length
    plain = _plain(password[: 4 * LONGEST])
    with _one_at_a_time:
        return check_password_hash(kept, plain[: LONGEST + 1])


def _plain(password: str) -> str:
    """Return a password in one spelling: keyboards and systems write one letter as one character, or as two.

    Raises
    ------
    UsageError
        It is no text in the encoding of this terminal.
    """
    plain = unicodedata.normalize("NFKC", password)
    try:
        plain.encode()
    except UnicodeEncodeError as error:
        raise UsageError("password: given what is no text, allowed: text in the encoding of this terminal") from error
    return plain
