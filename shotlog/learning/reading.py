"""Reading a range of registers over and over, gently: what answers, in as few requests as it takes, never too many.

Only function codes 3 and 4 go out (the client knows no others), one request at a time. A press that refuses a piece is
asked for half of it, down to single registers; what it refuses then is left alone and said.
"""

import threading
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from typing import Protocol

from shotlog.clock import Clock
from shotlog.collectors.registers import LAST_ADDRESS, MOST_REGISTERS, Block
from shotlog.errors import PressRefused, PressUnreachable, UsageError
from shotlog.learning.history import WordHistory

__all__ = ["PACE", "RegisterReader", "Source", "passed_over_said", "pieces", "ranges_in", "said"]

PACE = 10.0
"""Requests a second at most: what controllers stand beside their own work (trade notes, 2 to 10 a second)."""

_ONE_BY_ONE, _THEN_EVERY = 64, 4
"""So many registers refused in a row are each asked for, and then every fourth: a lone one far off may be missed. A
range of so many, named by itself, is asked for whole."""

_TELL_S = 10.0

_STILL_ROUNDS, _SELDOM = 100, 5
"""Rounds without a change after which a block counts as still: some ten seconds, more than most cycles."""

_PATIENCE_S = 60.0
_AGAIN_S, _LONGEST_AGAIN_S, _TRIES = 0.2, 2.0, 6
_FEWEST = 8
"""A press that does not answer for so few registers is away; for more, the request may be longer than it takes."""


class Source(Protocol):
    """Reads registers: the client of the collectors, or a played one."""

    def open(self) -> None:
        """Connect, unless connected."""

    def close(self) -> None:
        """Disconnect."""

    def read(self, block: Block) -> tuple[int, ...]:
        """Return the registers of one block."""


def ranges_in(text: str) -> list[Block]:
    """Read ``0-199`` or ``0-99,300-349,400``: the first and last address of each range, both read.

    Raises
    ------
    UsageError
        It is no such list.
    """
    found = []
    for part in text.split(","):
        first, dash, last = part.strip().partition("-")
        ends = (first.strip(), last.strip() if dash else first.strip())
        if not all(end.isdecimal() and len(end) < 7 for end in ends):
            raise UsageError(f"--registers: given {part.strip()!r}, allowed: addresses such as 0-199 or 0-99,300-349")
        low, high = int(ends[0]), int(ends[1])
        if not low <= high <= LAST_ADDRESS:
            raise UsageError(f"--registers: given {part.strip()!r}, allowed: from low to high, {LAST_ADDRESS} at most")
        found.append(Block(low, high - low + 1))
    return found


def pieces(ranges: Iterable[Block]) -> list[Block]:
    """Return the ranges in pieces that one request may ask for, none twice."""
    wanted = sorted({address for block in ranges for address in range(block.address, block.last + 1)})
    found: list[Block] = []
    for address in wanted:
        if found and address == found[-1].last + 1 and found[-1].words < MOST_REGISTERS:
            found[-1] = Block(found[-1].address, found[-1].words + 1)
        else:
            found.append(Block(address, 1))
    return found


def said(addresses: Iterable[int]) -> str:
    """Return addresses as ranges: ``0 to 56, 58``."""
    blocks: list[Block] = []
    for address in sorted(addresses):
        if blocks and address == blocks[-1].last + 1:
            blocks[-1] = Block(blocks[-1].address, blocks[-1].words + 1)
        else:
            blocks.append(Block(address, 1))
    return ", ".join(f"{each.address}" if each.words == 1 else f"{each.address} to {each.last}" for each in blocks)


def passed_over_said(unasked: Collection[int]) -> str:
    """Say which registers were not asked for, and how to have each asked."""
    first, last = min(unasked), max(unasked)
    starts = list(range(first, last + 1, _ONE_BY_ONE))
    ranges = ",".join(f"{at}-{min(at + _ONE_BY_ONE - 1, last)}" for at in starts[:8])
    further = f", and so on to {last}" if len(starts) > 8 else ""
    return (
        f"among registers {first} to {last} only every {_THEN_EVERY}th was asked for, as {_ONE_BY_ONE} before were "
        f"refused; to have each asked, add them to --registers in ranges of {_ONE_BY_ONE} at most: {ranges}{further}"
    )


def _half(words: int) -> int:
    """Return half a block, even where it can be: a number of two words stays whole."""
    half = words // 2
    return max(1, half - half % 2 if half > 1 else half)


class RegisterReader:
    """Reads what a press lets be read of some ranges.

    Attributes
    ----------
    blocks
        What one round asks for; set by `find`.
    refused
        Addresses that the press refuses, and those of `unasked`.
    unasked
        Addresses passed over among refused ones, of which only every fourth was asked for.
    n_requests
        How many requests went out.
    """

    def __init__(
        self,
        source: Source,
        clock: Clock,
        ranges: Sequence[Block],
        stop: threading.Event,
        pace: float = PACE,
        tell: Callable[[str], None] = lambda line: None,
    ) -> None:
        self._source, self._clock, self._stop = source, clock, stop
        self._ranges, self._pause_s = ranges, 1.0 / pace
        self._next = 0.0
        self._away_since: float | None = None
        self._n_failed = 0
        self._still: Counter[Block] = Counter()
        self._tell, self._told = tell, clock.monotonic()
        self._most = MOST_REGISTERS
        self._refusal: PressRefused | None = None
        self._in_a_row = 0
        self.blocks: list[Block] = []
        self.refused: list[int] = []
        self.unasked: set[int] = set()
        self._each = {a for one in ranges if one.words <= _ONE_BY_ONE for a in range(one.address, one.last + 1)}
        self.n_requests = 0
        self.n_rounds = 0

    @property
    def stopped(self) -> bool:
        """Whether it was told to stop."""
        return self._stop.is_set()

    def find(self) -> None:
        """Find what may be read: where the press refuses, ever less is asked for, and where it answers, ever more.

        Raises
        ------
        PressRefused
            It refuses every register.
        PressUnreachable
            It does not answer.
        """
        self._source.open()
        found: list[Block] = []
        for piece in pieces(self._ranges):
            self._look_through(piece, found)
        if not found and self._refusal is not None and not self.stopped:
            raise self._refusal
        self.blocks = self._merged(found)

    def _look_through(self, piece: Block, found: list[Block]) -> None:
        at, size = piece.address, piece.words
        refused: Block | None = None
        while at <= piece.last and not self.stopped:
            block = Block(at, min(size, self._most, piece.last + 1 - at))
            if self._answers(block):
                if self._in_a_row > _ONE_BY_ONE:
                    found += self._passed_over(block)
                found.append(block)
                at, size, self._in_a_row = block.last + 1, 2 * block.words, 0
                if refused is not None and refused.address >= self._legal_from(found) and refused.last <= block.last:
                    # all of it answers by halves: it was only too long
                    self._most = min(self._most, max(refused.words // 2, 1))
                    refused = None
            elif block.words > 1:
                refused, size = block, _half(block.words) if self._in_a_row <= _ONE_BY_ONE else 1
            else:
                self._in_a_row += 1
                step = 1 if self._in_a_row <= _ONE_BY_ONE or at in self._each else _THEN_EVERY
                self.refused += range(at, min(at + step, piece.last + 1))
                self.unasked |= set(range(at + 1, min(at + step, piece.last + 1)))
                at += step
            self._tell_progress(at, found)

    def _passed_over(self, block: Block) -> list[Block]:
        """Return what answers among the registers before a block that were not asked for."""
        before = [Block(a, 1) for a in range(block.address - _THEN_EVERY + 1, block.address) if a in self.refused]
        there = [each for each in before if self._answers(each)]
        self.unasked -= {each.address for each in before}
        self.refused = [address for address in self.refused if address not in {each.address for each in there}]
        return there

    def _legal_from(self, found: Sequence[Block]) -> int:
        """Return where the registers begin that answer without a hole up to the last one found."""
        first = found[-1].address
        for block in reversed(found):
            if block.last + 1 < first:
                break
            first = block.address
        return first

    def _answers(self, block: Block) -> bool:
        """Say whether a block is read; one too long for the press may be refused, or never answered.

        Raises
        ------
        PressRefused
            The press has no such table.
        PressUnreachable
            It does not answer for a few registers either.
        """
        try:
            self._patiently(block)
        except PressRefused as error:
            self._refusal = error
            if "exception 1 " in str(error):
                raise
            return False
        except PressUnreachable:
            if block.words <= _FEWEST:
                raise
            self._most = _half(block.words)
            return False
        return True

    def _tell_progress(self, at: int, found: Sequence[Block]) -> None:
        now = self._clock.monotonic()
        if now - self._told >= _TELL_S:
            self._told = now
            n_found = sum(block.words for block in found)
            self._tell(
                f"looking through the range: at register {at}, {n_found} answer, {len(self.refused)} are refused"
            )

    def _patiently(self, piece: Block) -> None:
        """Read a piece once; a press that is busy, or hangs up, is asked again a few times."""
        for n in range(_TRIES):
            try:
                self._source.open()
                self._read(piece)
                return
            except PressUnreachable:
                self._source.close()
                if n + 1 == _TRIES or self.stopped:
                    raise
                self._pause(n)

    def _merged(self, found: Sequence[Block]) -> list[Block]:
        """Return the pieces that answered, joined where the press answers them joined."""
        merged: list[Block] = []
        for piece in found:
            if merged and merged[-1].last + 1 == piece.address:
                both = Block(merged[-1].address, merged[-1].words + piece.words)
                if both.words <= self._most and self._takes(both):
                    merged[-1] = both
                    continue
            merged.append(piece)
        return merged

    def _takes(self, block: Block) -> bool:
        try:
            self._patiently(block)
        except (PressRefused, PressUnreachable):
            return False
        return True

    def round(self, history: WordHistory) -> None:
        """Read the blocks once into `history`, no faster than the pace; a press that falls silent is waited for.

        What has not moved for a while is read every fifth round only: that spares the press, and times the rest better.

        Raises
        ------
        PressUnreachable
            It did not answer for a minute.
        """
        moving = [block for block in self.blocks if self._still[block] < _STILL_ROUNDS]
        due = self.blocks if not moving or self.n_rounds % _SELDOM == 0 else moving
        for block in due:
            if self.stopped:
                return
            try:
                self._source.open()
                words = self._read(block)
            except (PressUnreachable, PressRefused) as error:
                self._source.close()
                now = self._clock.monotonic()
                history.failed(now)
                self._away_since = now if self._away_since is None else self._away_since
                if now - self._away_since > _PATIENCE_S:
                    raise PressUnreachable(f"no answer for {_PATIENCE_S:g} s: {error}") from error
                self._pause(self._n_failed)
                self._n_failed += 1
                return
            self._away_since, self._n_failed = None, 0
            before = history.n_changes
            history.note(block.address, words, self._clock.monotonic())
            self._still[block] = self._still[block] + 1 if history.n_changes == before else 0
        self.n_rounds += 1

    def _pause(self, n: int) -> None:
        """Wait after the n-th failure in a row, from 0, ever longer: a press that is busy is soon free again."""
        self._clock.wait(self._stop, min(_AGAIN_S * 2.0**n, _LONGEST_AGAIN_S))

    def _read(self, block: Block) -> tuple[int, ...]:
        now = self._clock.monotonic()
        if now < self._next:
            self._clock.wait(self._stop, self._next - now)
        self._next = max(now, self._next) + self._pause_s
        self.n_requests += 1
        return self._source.read(block)
