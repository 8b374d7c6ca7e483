"""Damaging what is well formed: what comes out is mostly nonsense, and near enough to sense to reach deep."""

from collections.abc import Sequence
from random import Random

__all__ = ["NUMBERS", "TEXTS", "damaged", "damaged_text", "shuffled"]

NUMBERS = (
    "0", "-0", "00", "1", "-1", "9", "10", "49", "50", "51", "9999", "10000", "32767", "32768", "65535", "65536",
    "2147483647", "2147483648", "4294967295", "9223372036854775807", "9223372036854775808", "9" * 30, "9" * 400,
    "1e5", "1e308", "1e309", "-1e309", "1e-400", "0x10", "0.0", ".5", "5.", ".", "-.", "1.2.3", "1,5", "1.234,5",
    "1 234", "1'234", "1_000", "inf", "-inf", "nan", "NaN", "ERR", "----", "****", ">999", "<0", "+5", "--5", "\u0665",
    "\u00b2", "\u2212" + "5", "5 g", "5mm",
)  # fmt: skip
"""Numbers, and what is written where a number should be."""

TEXTS = (
    "", " ", "  ", "\t", "\n", "\r\n", "\0", "\x1b[2J", "\x7f", "\u00a0", "\u2028", "\ufeff", "\ud800", "\udcff",
    "\U0001f600", "e\u0301", "\u0130", "\u202e", "'", '"', "'=1+1", "=1+1", "@x", ";", ",", ":", "/", "..", "-", "|",
    "P25", "B-11", "B-12", "F-1", "S-001..S-003", "3-5", "7/2", "s3", "moving", "fixed", "core", "cap-r2", "flash",
    "24h", "14:30", "x" * 300, "%s", "{}", "<b>", "../..", "1; DROP TABLE shots", "http://h/part/P25/3", "KIND:TEXT",
)  # fmt: skip
"""Texts that somewhere mean something else than letters."""

_MOST = 8


def damaged(random: Random, data: bytes, words: Sequence[bytes], longest: int = 4000) -> bytes:
    """Return bytes with a few of them lost, changed, doubled, moved, or replaced by one of `words`."""
    made = bytearray(data)
    for _ in range(random.choice((0, 1, 1, 1, 2, 2, 3, _MOST))):
        at = random.randrange(len(made) + 1)
        end = min(len(made), at + random.choice((1, 1, 2, 4, 8, 40)))
        match random.randrange(9):
            case 0:
                del made[at:end]
            case 1:
                made[at:end] = random.choice(words)
            case 2:
                made[at:at] = random.choice(words)
            case 3:
                made[at:at] = made[at:end] * random.choice((1, 1, 1, 2, 30))
            case 4:
                to = random.randrange(len(made) + 1)
                made[to:to] = made[at:end]
            case 5:
                del made[at:]
            case 6:
                made[at:end] = random.randbytes(end - at)
            case 7 if at < len(made):
                made[at] ^= 1 << random.randrange(8)
            case _:
                made[at:at] = random.randbytes(random.choice((1, 2, 9)))
    return bytes(made[:longest])


def damaged_text(random: Random, text: str) -> str:
    """Return a text that somebody might type, or might have typed on purpose."""
    if random.random() < 0.3:
        return text
    words = (random.choice(NUMBERS), random.choice(TEXTS), text)
    at = random.randrange(len(text) + 1)
    match random.randrange(5):
        case 0:
            return random.choice(words)
        case 1:
            return text[:at] + random.choice(words) + text[at:]
        case 2:
            return text[:at] + text[at + 1 :]
        case 3:
            return random.choice(words) + random.choice(("", " ", ",", "-", "/", "..")) + random.choice(words)
        case _:
            return "".join(random.choice(text or "x") for _ in range(random.randrange(8)))


def shuffled(random: Random, items: Sequence[bytes]) -> list[bytes]:
    """Return most of the items, some of them twice, lost, or out of their order."""
    made = list(items)
    for _ in range(random.choice((0, 0, 1, 1, 2, 4))):
        if not made:
            break
        at = random.randrange(len(made))
        match random.randrange(3):
            case 0:
                made.insert(random.randrange(len(made) + 1), made[at])
            case 1:
                del made[at]
            case _:
                made.insert(random.randrange(len(made)), made.pop(at))
    return made
