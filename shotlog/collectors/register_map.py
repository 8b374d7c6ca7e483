"""The register map of a press, as the configuration gives it, and what a block of words means under it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from shotlog.collectors.registers import LAST_ADDRESS, TYPES, Block, RegisterSpan, RegisterType, decode, exact, plan
from shotlog.collectors.scaling import Scaling, read_scaling
from shotlog.collectors.set_points import ChosenSetPoint, read_set_points
from shotlog.settings import Section

__all__ = ["Cell", "Count", "MeasuredRegister", "RegisterMap", "SetRegister", "read_register_map"]

# Unwrapped numbers go on from here and must still fit a database column of 64 bits.
_HIGHEST_COUNT = 10**18

Words = Mapping[int, int]
"""Registers read, by address."""


@dataclass(frozen=True, slots=True)
class Cell:
    """Where one number lies."""

    name: str
    span: RegisterSpan
    kind: RegisterType
    word_order: str
    byte_order: str

    def words(self, words: Words) -> tuple[int, ...]:
        """Return its registers."""
        return tuple(words[address] for address in range(self.span.address, self.span.last + 1))

    def raw(self, words: Words) -> int | float:
        """Return its number, unscaled."""
        return decode(self.words(words), self.kind, self.word_order, self.byte_order)

    def all_ones(self, words: Words) -> bool:
        """Say whether every bit is set, as where nothing stands behind a register."""
        return all(word == 0xFFFF for word in self.words(words))


@dataclass(frozen=True, slots=True)
class MeasuredRegister(Cell):
    """A channel in registers.

    `missing` is the raw number that means "not measured" on this press; `live` marks a value that moves between
    shots as well, so that it proves nothing about the block being complete.
    """

    scaling: Scaling
    missing: int | None = None
    live: bool = False


@dataclass(frozen=True, slots=True)
class SetRegister(Cell):
    """A set-point in registers; `missing` is the raw number that means that there is none."""

    missing: int | None = None

    def number(self, words: Words) -> int | Decimal:
        """Return its number, unscaled.

        Raises
        ------
        ValueError
            The registers hold what stands for no number.
        """
        raw = self.raw(words)
        if raw == self.missing or self.kind.empty(raw):
            raise ValueError(f"the {self.span} read {raw}, which stands for no value")
        return exact(raw, self.kind)


@dataclass(frozen=True, slots=True)
class Count(Cell):
    """The shot counter in registers; after `last_count` it starts again at 0."""

    last_count: int


@dataclass(frozen=True, slots=True)
class RegisterMap:
    """Everything that is read from one press. `blocks` are the requests that fetch the channels, and set-points that
    lie within; `set_blocks` those that fetch the other set-points, which a press may refuse without harm to a shot.
    """

    table: str
    counter: Count
    channels: tuple[MeasuredRegister, ...]
    blocks: tuple[Block, ...]
    set_points: tuple[ChosenSetPoint[SetRegister], ...] = ()
    set_blocks: tuple[Block, ...] = ()

    @property
    def cells(self) -> list[Cell]:
        """Every number but the counter: the channels, then the set-points."""
        return [*self.channels, *(each.place for each in self.set_points)]

    def describe(self) -> list[str]:
        """Say, a line each, what lies where."""
        base = 40001 if self.table == "holding" else 30001
        rows: list[tuple[Cell, str]] = [(self.counter, f"up to {self.counter.last_count}")]
        rows += [(channel, str(channel.scaling)) for channel in self.channels]
        lines = [f"{cell.name}: {self._where(cell, base)}, {meaning}" for cell, meaning in rows]
        lines += [each.described(self._where(each.place, base)) for each in self.set_points]
        blocks = (*self.blocks, *self.set_blocks)
        registers = sum(block.words for block in blocks)
        many = "1 register" if registers == 1 else f"{registers} registers"
        requests = "1 request" if len(blocks) == 1 else f"{len(blocks)} requests"
        return [*lines, f"a shot is read in {requests} ({many}), twice until equal"]

    def _where(self, cell: Cell, base: int) -> str:
        number = f"{base + cell.span.address} in a map that counts from {base}"
        return f"{self.table} {cell.span} ({number}), {cell.kind.name}{_order(cell)}"


def _order(cell: Cell) -> str:
    if cell.kind.words == 1:
        return ""
    return f", {'high' if cell.word_order == 'big' else 'low'} word first"


def read_register_map(section: Section) -> RegisterMap:
    """Read table, orders, shot counter and channels.

    Raises
    ------
    SettingsError
        A key is wrong, or two numbers share a register.
    """
    table = section.choice("table", ("holding", "input"), "holding")
    counter = _counter(section)
    channels = tuple(_channels(section))
    set_points = _set_points(section, counter, channels)
    max_gap = section.integer("max_gap", 0, 100, 0)
    blocks = plan((each.span for each in channels), max_gap)
    outside = [one.place.span for one in set_points if not any(_within(one.place.span, block) for block in blocks)]
    return RegisterMap(table, counter, channels, tuple(blocks), set_points, tuple(plan(outside, max_gap)))


def _within(span: RegisterSpan, block: Block) -> bool:
    return block.address <= span.address and span.last <= block.last


def _cell(name: str, section: Section, orders: Section, types: tuple[str, ...]) -> Cell:
    kind = TYPES[section.choice("type", types)]
    if not orders.flag("high_addresses", False):
        _refuse_number(section, orders.choice("table", ("holding", "input"), "holding"))
    address = section.integer("address", 0, LAST_ADDRESS + 1 - kind.words)
    word_order, byte_order = (_order_of(key, section, orders) for key in ("word_order", "byte_order"))
    return Cell(name, RegisterSpan(address, kind.words), kind, word_order, byte_order)


def _order_of(key: str, section: Section, orders: Section) -> str:
    """Read an order: that of the press, unless the number has one of its own; some presses mix them."""
    of_the_press = orders.choice(key, ("big", "little"), "big")
    return of_the_press if section.peek(key) is None else section.choice(key, ("big", "little"))


_NUMBERED = (("holding", 40001, 49999), ("holding", 400001, 465536), ("input", 30001, 39999), ("input", 300001, 365536))
"""How printed maps number registers: a leading digit for the table, then the address counted from 1."""


def _refuse_number(section: Section, table: str) -> None:
    """Refuse an address that looks like a number out of a printed map, 40004, and say what it most likely means.

    Raises
    ------
    SettingsError
        It does.
    """
    given = section.peek("address")
    for of, first, last in _NUMBERED:
        if isinstance(given, int) and first <= given <= last:
            where = "" if of == table else f' with table = "{of}"'
            meant = f"{given - first}{where}, if {given} is the number of a register in a printed map"
            if given <= LAST_ADDRESS:
                meant += f"; high_addresses = true, if {given} is an address"
            raise section.wrong("address", meant)


def _counter(section: Section) -> Count:
    table = section.section("shot_counter")
    cell = _cell("shot_counter", table, section, tuple(name for name, kind in TYPES.items() if kind.whole))
    highest = min(cell.kind.highest, _HIGHEST_COUNT)
    last_count = table.integer("last_count", 9, highest, highest)
    table.finish()
    return Count(cell.name, cell.span, cell.kind, cell.word_order, cell.byte_order, last_count)


def _channels(section: Section) -> Iterator[MeasuredRegister]:
    taken: dict[str, RegisterSpan] = {"shot_counter": _counter(section).span}
    parent = section.section("channels")
    for name, table in parent.items():
        scaling = read_scaling(parent, name, table)
        cell = _cell(name, table, section, tuple(TYPES))
        _refuse_overlap(table, cell, taken)
        taken[name] = cell.span
        missing = _missing(table)
        live = table.flag("live", False)
        table.finish()
        yield MeasuredRegister(name, cell.span, cell.kind, cell.word_order, cell.byte_order, scaling, missing, live)
    if len(taken) == 1:
        raise section.wrong("channels", "at least one channel")


def _set_points(
    section: Section, counter: Count, channels: tuple[MeasuredRegister, ...]
) -> tuple[ChosenSetPoint[SetRegister], ...]:
    taken = {cell.name: cell.span for cell in (counter, *channels)}

    def place(name: str, table: Section) -> SetRegister:
        cell = _cell(f"set-point {name}", table, section, tuple(TYPES))
        _refuse_overlap(table, cell, taken)
        taken[cell.name] = cell.span
        return SetRegister(cell.name, cell.span, cell.kind, cell.word_order, cell.byte_order, _missing(table))

    return read_set_points(section, place)


def _refuse_overlap(table: Section, cell: Cell, taken: Mapping[str, RegisterSpan]) -> None:
    for other, span in taken.items():
        if cell.span.overlaps(span):
            raise table.wrong("address", f"registers that {other} does not take (it has {span})")


def _missing(table: Section) -> int | None:
    return table.integer("missing", -(2**63), 2**64 - 1) if table.has("missing") else None
