"""Passwords that are tried first, as far as they are long enough to be asked for: made by hand, in small letters.

They are what people make of a short one to fill twelve characters: said twice, counted on, with a year or a mark behind
it, the keys of a keyboard in a row, the words of a works. What is one short piece over and over, or counts up or down,
is told by `is_one_piece` and `counts`, and needs no list.
"""

import re
from itertools import pairwise

__all__ = ["counts", "is_common", "is_one_piece"]

_SHORT = """
password passwort passw0rd p@ssword p@ssw0rd pa55word admin administrator root user guest operator quality viewer
welcome willkommen letmein login secret hello hallo master access changeme default test testing temp dragon monkey
football baseball princess sunshine shadow superman batman iloveyou trustno starwars computer internet server system
machine machines press presses moulding molding injection plastic plastics mould mold insert inserts shotlog shots shop
shopfloor workshop factory production works maintenance service engineer engineering technician toolroom tooling
company office summer winter spring autumn january february march april may june july august september october november
december monday tuesday wednesday thursday friday saturday sunday sommer fruehling herbst
qwerty qwertz azerty qwertyuiop qwertzuiop asdfgh asdfghjkl zxcvbn zxcvbnm yxcvbnm 1q2w3e 1q2w3e4r q1w2e3r4 1qaz2wsx
qazwsx qazwsxedc zaq12wsx abc123 abcd1234 a1b2c3d4 1234 12345 123456 1234567 12345678 123456789 1234567890 0987654321
987654321 654321 111111 000000 123123 121212 112233
"""

_WHOLE = """
correcthorsebatterystaple|correct horse battery staple|thisisapassword|this is a password|thisismypassword
this is my password|mypassword123|mypassword1234|mysecretpassword|my secret password|donotforgetme|do not forget me
iforgotmypassword|i forgot my password|nopasswordneeded|no password needed|letmeinplease|let me in please|openthedoor
open the door|passwordpassword|password password|iloveyousomuch|i love you so much|iloveyou1234|qwertyuiopasdfgh
qwertyuiop[]|qwertyuiopü+|asdfghjklöä|asdfghjkl;'|qwertyasdfgh|qwertyasdfghzxcvbn|1qaz2wsx3edc|1qaz2wsx3edc4rfv
qazwsxedcrfv|zaq12wsxcde3|1q2w3e4r5t6y|1q2w3e4r5t6z|q1w2e3r4t5y6|a1b2c3d4e5f6|abcdefghijkl|aabbccddeeff|aaabbbcccddd
112233445566|111222333444|123qweasdzxc|qweasdzxc123|qweasdyxc123|123abc456def|abcdef123456|123456abcdef|abc123abc123
administrator|administrator1|changemeplease|change me please|defaultpassword|default password|temporarypassword
twelvecharacters|twelve characters|twelvecharacter|twelveletters|minimumtwelve|longpassword|a long password
injectionmoulding|injection moulding|injectionmolding|injection molding|printedinserts|printed inserts|qualitycontrol
quality control|qualitymanager|quality manager|shiftleader|shift leader|nightshift123|earlyshift123|lateshift123
productionhall|production hall|machineoperator|machine operator|pressoperator|press operator
"""

_AROUND = re.compile(r"^[\W\d_]+|[\W\d_]+$")
"""What people put before and behind a word: a year, a count, a mark."""

_STEMS = frozenset(_SHORT.split())
_PHRASES = frozenset(phrase.strip() for line in _WHOLE.splitlines() for phrase in line.split("|"))


def is_common(password: str) -> bool:
    """Say whether a password is among those that are tried first; whatever its letters' case.

    Examples
    --------
    >>> is_common("Password2026!"), is_common("pressPRESS123"), is_common("eleven brass kettles")
    (True, True, False)
    """
    plain = password.casefold().strip()
    return any(core in _STEMS or core in _PHRASES or _is_two_stems(core) for core in (plain, _AROUND.sub("", plain)))


def _is_two_stems(text: str) -> bool:
    """Say whether a text is two short ones, with a blank or a dash between them or nothing."""
    return any(text[:n].rstrip(" -_.") in _STEMS and text[n:] in _STEMS for n in range(3, len(text) - 2))


def is_one_piece(password: str) -> bool:
    """Say whether a password is one piece of up to four characters over and over, the last one cut short maybe.

    Examples
    --------
    >>> is_one_piece("abcabcabcabca"), is_one_piece("            "), is_one_piece("abcdeabcdeab")
    (True, True, False)
    """
    return any(all(a == b for a, b in zip(password, password[n:], strict=False)) for n in range(1, 5))


def counts(password: str) -> bool:
    """Say whether every character of a password is the next one up, or down, from the one before.

    Examples
    --------
    >>> counts("abcdefghijkl"), counts("2109876543210"), counts("acegikmoqsuw")
    (True, True, False)
    """
    steps = [ord(b) - ord(a) for a, b in pairwise(password)]
    return all(step in (1, -9) for step in steps) or all(step in (-1, 9) for step in steps)
