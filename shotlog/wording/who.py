"""Words for who made an entry, and how that is known."""

from shotlog.records import Signature, Who

__all__ = ["NOT_SAID", "PROGRAM", "by_whom", "initials_first", "who_said"]

NOT_SAID = "not said"
"""What stands for who where nobody was logged in and nobody gave initials."""

PROGRAM = "the logger"
"""What stands for who where the logger entered something by itself."""


def initials_first(what: str) -> str:
    """Return what to do on a page before something is entered that nobody enters without saying who.

    Examples
    --------
    >>> initials_first("parts are released")
    'Enter your initials first: parts are released only by somebody who says who.'
    """
    return f"Enter your initials first: {what} only by somebody who says who."


def who_said(who: Who) -> str:
    """Return who made an entry, and whether that was told by a log-in or typed; of an earlier release only who.

    Examples
    --------
    >>> typed = Signature("", "", "page", "127.0.0.1", "KB")
    >>> who_said(Who("KB", typed)), who_said(Who("KB")), who_said(Who("", Signature("", "", "page", "")))
    ('KB, typed', 'KB', 'not said')
    >>> who_said(Who("KB", Signature("k.brand", "quality", "page", "10.0.0.7", "KB")))
    'KB, logged in as k.brand'
    >>> who_said(Who("MR", Signature("", "", "import", "kb@bench", "KB"))), who_said(Who("MR", typed))
    ('MR, taken in by KB, typed', 'MR, entered by KB, typed')
    >>> who_said(Who("MR", Signature("", "", "centre", "10.0.0.7", "MR")))
    'MR, typed, at the centre'
    """
    signature = who.signature
    if signature is None:
        return who.initials or NOT_SAID
    if who.is_program:
        return PROGRAM
    maker = _maker(signature)
    taken_in = signature.via == "import"
    if not taken_in and who.initials in ("", signature.initials):
        return maker or NOT_SAID
    how = "taken in" if taken_in else "entered"
    login = "" if signature.via == "page" else signature.address
    by = f"by {maker or login}" if maker or login else f"by whom is {NOT_SAID}"
    return f"{who.initials or NOT_SAID}, {how} {by}"


def by_whom(who: Who) -> str:
    """Return who made an entry, to stand behind what was entered; nothing of an earlier release where nobody said.

    Examples
    --------
    >>> by_whom(Who("KB")), by_whom(Who(""))
    (', by KB', '')
    >>> by_whom(Who("", Signature("", "", "page", "127.0.0.1")))
    ', by whom is not said'
    >>> by_whom(Who("", Signature("", "", "import", "kb@bench", "KB")))
    ', by whom is not said, taken in by KB, typed'
    """
    if who.signature is None and not who.initials:
        return ""
    said = who_said(who)
    return f", by whom is {said}" if said.startswith(NOT_SAID) else f", by {said}"


def _maker(signature: Signature) -> str:
    there = ", at the centre" if signature.via == "centre" else ""
    if signature.account:
        name = signature.initials or signature.account
        return f"{name}, logged in as {signature.account}{there}"
    return f"{signature.initials}, typed{there}" if signature.initials else ""
