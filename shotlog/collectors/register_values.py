"""Words of a block as values, as faults, and as rows for commissioning. Pure."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from shotlog.collectors.base import Reading
from shotlog.collectors.register_map import Cell, MeasuredRegister, SetRegister
from shotlog.collectors.registers import decode, exact, wire_bytes
from shotlog.collectors.set_points import ChosenSetPoint, Untaken, set_points_of
from shotlog.records import SetPoint

__all__ = ["DoubtfulValue", "moving", "reading", "set_reading", "set_values_of", "values_of"]

Words = Mapping[int, int]


@dataclass(frozen=True, slots=True)
class DoubtfulValue:
    """Why a channel has no value; `kind` counts and begins with it, `detail` says more, `raw` holds its registers."""

    kind: str
    detail: str
    raw: bytes


def values_of(channels: Iterable[MeasuredRegister], words: Words) -> tuple[dict[str, float], list[DoubtfulValue]]:
    """Return each channel that was measured, in its unit, and a doubt for each that was not."""
    values: dict[str, float] = {}
    doubts: list[DoubtfulValue] = []
    for channel in channels:
        raw = channel.raw(words)
        if raw == channel.missing:
            continue
        if channel.kind.empty(raw):
            doubts.append(_doubt(channel, words, "not measured", f"{channel.name} reads {raw}"))
            continue
        value = channel.scaling.value(raw)
        if channel.scaling.believable(value):
            values[channel.name] = value
        else:
            detail = f"{channel.name} {_beyond(channel, value)}, raw {raw}"
            doubts.append(_doubt(channel, words, "range", detail))
    return values, doubts


def set_values_of(
    chosen: Iterable[ChosenSetPoint[SetRegister]],
    words: Words,
    unsteady: Collection[str] = (),
    refused: Mapping[str, str] | None = None,
) -> tuple[dict[str, SetPoint], list[Untaken]]:
    """Return each set-point that could be taken, and why each other could not; `unsteady` ones kept changing, and
    `refused` ones the press did not give, by the name of the registers, with its words.
    """

    def raw_of(one: ChosenSetPoint[SetRegister]) -> int | Decimal:
        if refused and one.place.name in refused:
            raise ValueError(refused[one.place.name])
        if one.place.name in unsteady:
            raise ValueError("it kept changing while the counter stood")
        return one.place.number(words)

    return set_points_of(chosen, raw_of)


def _doubt(channel: MeasuredRegister, words: Words, how: str, detail: str) -> DoubtfulValue:
    return DoubtfulValue(f"{channel.name} {how}", detail, wire_bytes(channel.words(words)))


def _beyond(channel: MeasuredRegister, value: float) -> str:
    bounds = channel.scaling.channel
    return f"is {value:g} {bounds.unit}, allowed: {bounds.low:g} to {bounds.high:g} {bounds.unit}"


def moving(cells: Iterable[Cell], before: Words, after: Words) -> tuple[str, ...]:
    """Name the numbers whose registers differ between two readings, leaving out those that always move, and those that
    the press did not give.
    """
    given = [each for each in cells if each.span.address in before and each.span.address in after]
    still = [each for each in given if not (isinstance(each, MeasuredRegister) and each.live)]
    return tuple(each.name for each in still if each.words(before) != each.words(after))


def reading(cell: Cell, words: Words) -> Reading:
    """Return the row that shows a number as it came and as it was taken, with what looks wrong about it."""
    got = cell.words(words)
    raw = cell.raw(words)
    shown = f"{' '.join(f'{word:04X}' for word in got)} = {_number(raw)}"
    remarks: list[str] = []
    value: float | None = float(raw)
    unit = ""
    if isinstance(cell, MeasuredRegister):
        unit = cell.scaling.channel.unit
        value, remark = _judged(cell, raw)
        remarks += [remark] if remark else []
    if cell.kind.words > 1:
        remarks.append(_other_order(cell, got))
    return Reading(cell.name, f"{cell.span}, {cell.kind.name}", shown, value, unit, "; ".join(remarks))


def set_reading(chosen: ChosenSetPoint[SetRegister], words: Words) -> Reading:
    """Return the row that shows a set-point as it came and as it was taken."""
    cell, said = chosen.place, reading(chosen.place, words)
    row = chosen.row(said.where, said.raw, lambda one: one.place.number(words))
    if cell.kind.words == 1:
        return row
    order = "little" if cell.word_order == "big" else "big"
    raw = decode(cell.words(words), cell.kind, order, cell.byte_order)
    other = "no value" if cell.kind.empty(raw) else f"{chosen.taken(exact(raw, cell.kind)).text} {chosen.unit}".strip()
    return replace(
        row, remark="; ".join(each for each in (row.remark, f"word_order {order} would give {other}") if each)
    )


def _number(raw: int | float) -> str:
    return str(raw) if isinstance(raw, int) else f"{raw:.7g}"


def _judged(cell: MeasuredRegister, raw: int | float) -> tuple[float | None, str]:
    if raw == cell.missing or cell.kind.empty(raw):
        return None, "not measured"
    value = cell.scaling.value(raw)
    if cell.scaling.believable(value):
        return value, ""
    return value, f"not believable: {_beyond(cell, value)}; check address, type, scale and word order"


def _other_order(cell: Cell, got: tuple[int, ...]) -> str:
    order = "little" if cell.word_order == "big" else "big"
    raw = decode(got, cell.kind, order, cell.byte_order)
    if not isinstance(cell, MeasuredRegister):
        return f"word_order {order} would give {_number(raw)}"
    value, remark = _judged(replace(cell, word_order=order), raw)
    shown = remark if value is None else f"{value:.7g} {cell.scaling.channel.unit}"
    return f"word_order {order} would give {shown}"
