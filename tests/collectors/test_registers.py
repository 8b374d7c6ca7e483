"""Register types, decoding and block planning."""

import itertools
import struct
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.channels import CHANNELS
from shotlog.collectors.registers import MOST_REGISTERS, TYPES, RegisterSpan, decode, plan, wire_bytes
from shotlog.collectors.scaling import Scaling


def scaling(scale: str, offset: str = "0", channel: str = "cushion") -> Scaling:
    return Scaling(CHANNELS[channel], Decimal(scale), Decimal(offset), CHANNELS[channel].unit, lambda value: value)


@pytest.mark.parametrize(
    ("kind", "words", "expected"),
    [
        ("uint16", [0xFFFE], 65534),
        ("int16", [0xFFFE], -2),
        ("uint32", [0x0001, 0x86A0], 100000),
        ("int32", [0xFFFE, 0x7960], -100000),
        ("uint64", [0x0000, 0x0002, 0x540B, 0xE400], 10_000_000_000),
        ("int64", [0xFFFF, 0xFFFF, 0xFFFF, 0xFFFF], -1),
        # IEEE 754 binary32 of 1.0 is 3F800000 and of -118.625 is C2ED4000, binary64 of 1.0 is 3FF0000000000000.
        ("float32", [0x3F80, 0x0000], 1.0),
        ("float32", [0xC2ED, 0x4000], -118.625),
        ("float64", [0x3FF0, 0x0000, 0x0000, 0x0000], 1.0),
    ],
)
def test_numbers_decode_in_all_four_orders(kind: str, words: list[int], expected: float) -> None:
    swapped = [(word >> 8) | ((word & 0xFF) << 8) for word in words]
    assert decode(words, TYPES[kind]) == expected
    assert decode(words[::-1], TYPES[kind], "little") == expected
    assert decode(swapped, TYPES[kind], "big", "little") == expected
    assert decode(swapped[::-1], TYPES[kind], "little", "little") == expected


BINARY = sorted(name for name, kind in TYPES.items() if not kind.digits)


@given(st.sampled_from(BINARY), st.binary(min_size=8, max_size=8), st.sampled_from(["big", "little"]))
def test_any_words_decode_to_what_they_were_packed_from(name: str, data: bytes, order: str) -> None:
    kind = TYPES[name]
    raw = data[: 2 * kind.words]
    words = struct.unpack(f">{kind.words}H", raw)
    number = decode(words if order == "big" else words[::-1], kind, order)
    if number == number:
        assert struct.pack(f">{kind.code}", number) == raw
    assert wire_bytes(words) == raw


@pytest.mark.parametrize(("words", "kind", "number"), [([0x1042], "bcd16", 1042), ([0x0012, 0x3456], "bcd32", 123456)])
def test_decimal_digits_in_four_bits_each(words: list[int], kind: str, number: int) -> None:
    assert decode(words, TYPES[kind]) == decode(words[::-1], TYPES[kind], "little") == number
    assert TYPES[kind].empty(decode([0x10A2] * len(words), TYPES[kind]))
    assert TYPES[kind].highest == 10 ** (4 * len(words)) - 1


def test_a_wrong_number_of_words_is_an_error() -> None:
    with pytest.raises(ValueError, match="uint32 takes 2 registers, given 1"):
        decode([1], TYPES["uint32"])


@pytest.mark.parametrize(
    ("kind", "fillers", "measured"),
    [
        ("uint16", [0xFFFF], [0, 0x7FFF, 0x8000]),
        ("int16", [0x7FFF, -0x8000], [-1, 0]),
        ("uint32", [0xFFFFFFFF], [0xFFFF]),
        ("int32", [0x7FFFFFFF, -0x80000000], [-1]),
        ("float32", [float("nan"), float("inf"), -float("inf")], [0.0, -1.5]),
    ],
)
def test_fillers_are_told_from_values(kind: str, fillers: list[float], measured: list[float]) -> None:
    assert all(TYPES[kind].empty(raw) for raw in fillers)
    assert not any(TYPES[kind].empty(raw) for raw in measured)


def test_scaling_gives_the_decimal_the_press_meant() -> None:
    """Multiplying in binary gives 57 x 0.01 as 0.57 and a bit."""
    assert 57 * 0.01 != 0.57
    assert scaling("0.01").value(497) == 4.97
    assert scaling("0.1").value(57) == 5.7
    assert [scaling("0.01").value(raw) for raw in range(1000)] == [
        float(f"{raw // 100}.{raw % 100:02d}") for raw in range(1000)
    ]
    assert scaling("0.01", "-273.15").value(30000) == 26.85


@given(
    st.integers(-(2**63), 2**64 - 1),
    st.decimals("-1000", "1000", places=6).filter(bool),
    st.decimals("-1000", "1000", places=6),
)
def test_scaling_is_correctly_rounded(raw: int, scale: Decimal, offset: Decimal) -> None:
    exact = Fraction(raw) * Fraction(scale) + Fraction(offset)
    assert scaling(str(scale), str(offset)).value(raw) == float(exact)


def test_a_plan_joins_neighbours_and_leaves_holes() -> None:
    spans = [RegisterSpan(4, 2), RegisterSpan(2, 1), RegisterSpan(3, 1), RegisterSpan(8, 1)]
    assert plan(spans) == [RegisterSpan(2, 4), RegisterSpan(8, 1)]
    assert plan(spans, max_gap=1) == [RegisterSpan(2, 4), RegisterSpan(8, 1)]
    assert plan(spans, max_gap=2) == [RegisterSpan(2, 7)]


def test_a_plan_never_asks_for_more_than_one_answer_holds() -> None:
    assert plan([RegisterSpan(address, 1) for address in range(250)]) == [RegisterSpan(0, 125), RegisterSpan(125, 125)]


def test_a_plan_never_splits_a_number() -> None:
    assert plan([RegisterSpan(address, 2) for address in range(0, 130, 2)]) == [
        RegisterSpan(0, 124),
        RegisterSpan(124, 6),
    ]


def _fewest(spans: list[RegisterSpan], max_gap: int) -> int:
    """The fewest blocks, by trying every way of cutting the sorted row of spans."""
    ordered = sorted(spans)
    for cuts in range(len(ordered)):
        for at in itertools.combinations(range(1, len(ordered)), cuts):
            groups = [ordered[i:j] for i, j in itertools.pairwise([0, *at, len(ordered)])]
            if all(_one_block(group, max_gap) for group in groups):
                return cuts + 1
    return len(ordered)


def _one_block(group: list[RegisterSpan], max_gap: int) -> bool:
    holes = all(b.address - a.last - 1 <= max_gap for a, b in itertools.pairwise(group))
    return holes and group[-1].last - group[0].address < MOST_REGISTERS


@st.composite
def _maps(draw: st.DrawFn) -> list[RegisterSpan]:
    spans, at = [], draw(st.integers(0, 50))
    for _ in range(draw(st.integers(1, 7))):
        words = draw(st.sampled_from([1, 2, 4]))
        spans.append(RegisterSpan(at, words))
        at += words + draw(st.sampled_from([0, 0, 1, 3, 40, 118]))
    return draw(st.permutations(spans))


@given(_maps(), st.sampled_from([0, 2, 60]))
def test_a_plan_covers_everything_in_the_fewest_blocks(spans: list[RegisterSpan], max_gap: int) -> None:
    blocks = plan(spans, max_gap)
    assert all(any(b.address <= s.address and s.last <= b.last for b in blocks) for s in spans)
    assert all(1 <= block.words <= MOST_REGISTERS for block in blocks)
    assert len(blocks) == _fewest(spans, max_gap)
    if max_gap == 0:
        asked = {a for b in blocks for a in range(b.address, b.last + 1)}
        assert asked == {a for s in spans for a in range(s.address, s.last + 1)}
