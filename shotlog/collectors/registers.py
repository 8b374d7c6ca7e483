"""Registers of a press: their types, how words become numbers, and which blocks to ask for. Pure; nothing is read here.

A register is 16 bits wide, sent high byte first. Wider numbers take two or four registers, and no standard says which
comes first: `word_order` "big" means the register with the lower address holds the high word. Few devices also
swap the bytes inside a register, `byte_order` "little", and a few write a decimal digit in four bits each (BCD): 1042
as 0x1042. Addresses are those on the wire and count from 0; printed maps often count from 1 and add 30000 or 40000
(Modbus application protocol specification v1.1b3, clause 4.4).
"""

import struct
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite

__all__ = [
    "LAST_ADDRESS",
    "MOST_REGISTERS",
    "TYPES",
    "Block",
    "RegisterSpan",
    "RegisterType",
    "decode",
    "exact",
    "plan",
    "wire_bytes",
]

MOST_REGISTERS = 125
"""Registers in one answer (Modbus application protocol specification v1.1b3, clauses 6.3 and 6.4)."""

LAST_ADDRESS = 65535


@dataclass(frozen=True, slots=True)
class RegisterType:
    """A number as it lies in `words` registers; `code` is its letter in the standard library's `struct`.

    `fillers` are the raw numbers that devices send for "no sensor": all ones where there is no sign, the two ends of
    the range where there is one (common practice, no source). `digits`: four bits hold a decimal digit; what holds none
    is read as -1 and counts as a filler.
    """

    name: str
    words: int
    code: str
    fillers: tuple[int, ...] = ()
    digits: bool = False

    @property
    def whole(self) -> bool:
        """Whether it is an integer."""
        return self.code not in "fd"

    @property
    def highest(self) -> int:
        """The highest whole number it holds."""
        if self.digits:
            return int(10 ** (4 * self.words) - 1)
        bits = 16 * self.words - (1 if self.code.islower() else 0)
        return int(2**bits - 1)

    def empty(self, raw: int | float) -> bool:
        """Say whether `raw` is a filler: not measured, whatever the press meant by it."""
        return raw in self.fillers if self.whole else not isfinite(raw)


def _whole(name: str, words: int, code: str) -> RegisterType:
    top = 2 ** (16 * words - 1)
    return RegisterType(name, words, code, (top - 1, -top) if code.islower() else (2 * top - 1,))


TYPES: Mapping[str, RegisterType] = {
    each.name: each
    for each in (
        _whole("uint16", 1, "H"),
        _whole("int16", 1, "h"),
        _whole("uint32", 2, "I"),
        _whole("int32", 2, "i"),
        _whole("uint64", 4, "Q"),
        _whole("int64", 4, "q"),
        RegisterType("bcd16", 1, "H", (-1,), digits=True),
        RegisterType("bcd32", 2, "I", (-1,), digits=True),
        RegisterType("float32", 2, "f"),
        RegisterType("float64", 4, "d"),
    )
}
"""Every register type by the name the configuration uses."""


def wire_bytes(words: Iterable[int]) -> bytes:
    """Return registers as the bytes that came over the wire."""
    words = tuple(words)
    return struct.pack(f">{len(words)}H", *words)


def decode(words: Sequence[int], kind: RegisterType, word_order: str = "big", byte_order: str = "big") -> int | float:
    """Return the number that lies in `words`, in the order of their addresses.

    Raises
    ------
    ValueError
        The number of words is not that of the type.

    Examples
    --------
    >>> decode([0x0001, 0x86A0], TYPES["uint32"])
    100000
    >>> decode([0x86A0, 0x0001], TYPES["uint32"], word_order="little")
    100000
    >>> decode([0x1042], TYPES["bcd16"])
    1042
    """
    if len(words) != kind.words:
        raise ValueError(f"{kind.name} takes {kind.words} registers, given {len(words)}")
    raw = wire_bytes(words if word_order == "big" else tuple(reversed(words)))
    if byte_order == "little":
        raw = b"".join(raw[at : at + 2][::-1] for at in range(0, len(raw), 2))
    number: int | float = struct.unpack(f">{kind.code}", raw)[0]
    if kind.digits:
        return int(raw.hex()) if raw.hex().isdecimal() else -1
    return number


def exact(raw: int | float, kind: RegisterType) -> int | Decimal:
    """Return the number that was meant: of a float the shortest decimal that is stored as it.

    Examples
    --------
    >>> exact(350.1000061035156, TYPES["float32"])
    Decimal('350.1')
    """
    if isinstance(raw, int):
        return raw
    shortest = (f"{raw:.{digits}g}" for digits in range(6, 18))
    return Decimal(next(one for one in shortest if _same(float(one), raw, kind)))


def _same(one: float, raw: float, kind: RegisterType) -> bool:
    try:
        return struct.pack(f">{kind.code}", one) == struct.pack(f">{kind.code}", raw)
    except OverflowError:
        return False


@dataclass(frozen=True, slots=True, order=True)
class RegisterSpan:
    """The registers of one number: `address` and how many."""

    address: int
    words: int

    @property
    def last(self) -> int:
        """Address of its last register."""
        return self.address + self.words - 1

    def overlaps(self, other: "RegisterSpan") -> bool:
        """Say whether the two share a register."""
        return self.address <= other.last and other.address <= self.last

    def __str__(self) -> str:
        return f"register {self.address}" if self.words == 1 else f"registers {self.address} to {self.last}"


Block = RegisterSpan
"""What one request asks for; at most `MOST_REGISTERS` registers."""


def plan(spans: Iterable[RegisterSpan], max_gap: int = 0) -> list[Block]:
    """Return the fewest blocks that cover every span, each span whole within one block.

    Parameters
    ----------
    max_gap
        Registers nobody asked for that may be read between two spans. 0: never touch one, because a press may answer
        a block with a hole in it by an exception.

    Notes
    -----
    The first block must start at the lowest span; letting it take all it can leaves the least to the others, so the
    greedy plan is the shortest.

    Examples
    --------
    >>> [str(block) for block in plan([RegisterSpan(0, 1), RegisterSpan(2, 2), RegisterSpan(4, 1)])]
    ['register 0', 'registers 2 to 4']
    """
    blocks: list[Block] = []
    for span in sorted(spans):
        if blocks:
            block = blocks[-1]
            last = max(block.last, span.last)
            if span.address - block.last - 1 <= max_gap and last - block.address < MOST_REGISTERS:
                blocks[-1] = Block(block.address, last - block.address + 1)
                continue
        blocks.append(span)
    return blocks
