"""From bytes to lines, and from a line to a counter and values."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.channels import CHANNELS
from shotlog.collectors.line_reader import LineReader
from shotlog.collectors.lines import Doubt, Line, LineFormat, LineSplitter, Piece, Rejection, number
from shotlog.collectors.scaling import Scaling

HEADER = b"NR;TIME;FILL s;XFER mm;XFER bar;PMAX bar;CUSH mm;DOSE s;CYC s"
SHOT = b"000118;08:41:07;0,721;9,01;534;556;4,97;4,57;75,3"


def own(name: str) -> Scaling:
    return Scaling(CHANNELS[name], Decimal(1), Decimal(0), CHANNELS[name].unit, lambda value: value)


FORM = LineFormat(
    1,
    {"cushion": (7, own("cushion")), "peak_pressure": (6, own("peak_pressure")), "fill_time": (3, own("fill_time"))},
    decimal=",",
)
BY_HEADER = LineFormat(
    "NR",
    {"cushion": ("CUSH mm", own("cushion")), "fill_time": ("FILL s", own("fill_time"))},
    decimal=",",
)


def kind(reader: LineReader, raw: bytes) -> str:
    said = reader.read(raw)
    return said.kind if isinstance(said, Rejection) else "shot" if said else "silent"


@pytest.mark.parametrize("end", [b"\r\n", b"\r", b"\n", b"\x03\r\n", b"\f"])
def test_every_line_end_ends_one_line(end: bytes) -> None:
    splitter = LineSplitter()
    assert [piece.raw for piece in splitter.feed(end.join([b"one", b"two", b"", b"thr"]))] == [b"one", b"two"]
    assert [piece.raw for piece in splitter.feed(b"ee" + end)] == [b"three"]


@given(st.lists(st.binary(max_size=40)), st.integers(1, 30))
def test_lines_do_not_depend_on_how_the_bytes_are_cut(chunks: list[bytes], longest: int) -> None:
    whole, by_chunk, by_byte = (LineSplitter(longest) for _ in range(3))
    data = b"".join(chunks)
    expected = whole.feed(data)
    assert [piece for chunk in chunks for piece in by_chunk.feed(chunk)] == expected
    assert [piece for byte in data for piece in by_byte.feed(bytes([byte]))] == expected
    rests = {splitter.rest() for splitter in (whole, by_chunk, by_byte)}
    assert len(rests) == 1
    assert all(len(piece.raw) <= longest for piece in expected)


def test_a_line_without_end_is_given_up_once_and_the_next_is_whole() -> None:
    splitter = LineSplitter(longest=10)
    pieces = splitter.feed(b"x" * 100 + b"\nok\n")
    assert [(piece.raw, piece.whole) for piece in pieces] == [(b"x" * 10, False), (b"ok", True)]


def test_a_line_without_an_end_is_told_of_every_megabyte_and_not_held() -> None:
    splitter = LineSplitter()
    pieces = [piece for _ in range(300) for piece in splitter.feed(b"x" * 10_000)]
    assert [(len(piece.raw), piece.dropped) for piece in pieces] == [(1024, 0), (0, 1 << 20), (0, 1 << 20)]
    assert splitter.rest() == b""
    assert splitter.feed(b"ok\n") == [Piece(b"ok")]


@pytest.mark.parametrize(
    ("token", "decimal", "expected"),
    [
        ("4,97", ",", "4.97"),
        ("-0,0", ",", "-0.0"),
        ("- 0,02", ",", "-0.02"),
        ("+5", ",", "5"),
        (",5", ",", "0.5"),
        ("1.234,5", ",", "1234.5"),
        ("1 234,5", ",", "1234.5"),
        ("1'234.5", ".", "1234.5"),
        ("1,234,567", ".", "1234567"),
        ("75.3", ".", "75.3"),
    ],
)
def test_numbers_as_presses_print_them(token: str, decimal: str, expected: str) -> None:
    assert number(token, decimal) == Decimal(expected)


@pytest.mark.parametrize("token", ["", "  ", "----", "****", ">999", "< 0,1", "--.--", "n/a", "OFF", "?"])
def test_missing_is_missing_and_never_zero(token: str) -> None:
    assert number(token, ",") is None


@pytest.mark.parametrize(
    "token", ["4.97", "0.721", "4,9,7", "4;97", "4,97 mm", "1,2e", "12:30", "0x1F", "1.23,4", "4\u0664"]
)
def test_what_is_no_number_is_said_not_guessed(token: str) -> None:
    with pytest.raises(ValueError, match="is no number"):
        number(token, ",")


def test_a_shot_line_is_read() -> None:
    assert LineReader(FORM).read(SHOT) == Line(118, {"cushion": 4.97, "peak_pressure": 556.0, "fill_time": 0.721}, SHOT)


@pytest.mark.parametrize(
    "raw",
    [b"", b"   ", HEADER, b";;s;mm;bar;bar;mm;s;s", b"==========", b"-;-;s;mm;cm3;bar;mm;s;s", b"\x00\x00"],
)
def test_header_unit_and_ruler_lines_are_passed_over(raw: bytes) -> None:
    assert LineReader(FORM).read(raw) is None


def test_text_start_and_break_marks_around_a_line_do_not_count() -> None:
    said = LineReader(FORM).read(b"\x00\x02" + SHOT + b"\x00")
    assert isinstance(said, Line)
    assert said.counter == 118


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        (b"ALARM 17 HEATER", "field count"),
        (SHOT + SHOT, "field count"),
        (SHOT + b";1", "field count"),
        (SHOT[13:], "field count"),
        (SHOT.replace(b"4,97", b"4,x7"), "no number"),
        (SHOT.replace(b"000118", b"A00118"), "no counter"),
        (SHOT.replace(b"000118", b"-118"), "no counter"),
        (SHOT.replace(b"000118", b""), "no counter"),
        (b"MEAN" + SHOT[6:], "no counter"),
        (SHOT.replace(b"534", b"5\x004"), "damaged"),
        (SHOT.replace(b"534", b"5\x854"), "damaged"),
    ],
)
def test_damaged_lines_are_rejected_by_name_with_their_bytes(raw: bytes, expected: str) -> None:
    reader = LineReader(FORM)
    assert kind(reader, SHOT) == "shot"
    said = reader.read(raw)
    assert isinstance(said, Rejection)
    assert (said.kind, said.raw) == (expected, raw)
    assert kind(reader, SHOT) == "shot"


def test_skip_passes_over_lines_that_look_like_shots() -> None:
    reader = LineReader(LineFormat(1, FORM.channels, decimal=",", skip=re.compile("^(MEAN|#)")))
    assert reader.read(b"MEAN" + SHOT[6:]) is None
    assert reader.read(b"# 3;4") is None


def test_a_missing_token_leaves_the_channel_out() -> None:
    said = LineReader(FORM).read(SHOT.replace(b"4,97", b"----"))
    assert isinstance(said, Line)
    assert said.values == {"peak_pressure": 556.0, "fill_time": 0.721}


def test_a_value_no_press_can_have_is_left_out_and_told() -> None:
    said = LineReader(FORM).read(SHOT.replace(b"556", b"99999"))
    assert isinstance(said, Line)
    assert "peak_pressure" not in said.values
    detail = "peak_pressure is 99999 bar, allowed: -100 to 4000 bar, printed '99999'"
    assert said.doubts == (Doubt("peak_pressure", "range", detail),)
    assert said.doubts[0].kind == "peak_pressure range"


@pytest.mark.parametrize(
    ("token", "kind", "detail"),
    [
        (b"", "cushion blank", "cushion came as a blank"),
        (b"  ", "cushion blank", "cushion came as a blank"),
        (b"----", "cushion dashes", "cushion came as '----'"),
        (b"****", "cushion marks", "cushion came as '****'"),
        (b">999", "cushion beyond", "cushion came as '>999'"),
        (b"inf", "cushion infinite", "cushion came as 'inf'"),
        (b"-INF", "cushion infinite", "cushion came as '-INF'"),
        (b"1.#INF", "cushion infinite", "cushion came as '1.#INF'"),
        (b"NaN", "cushion infinite", "cushion came as 'NaN'"),
        (b"ERR", "cushion text", "cushion came as 'ERR'"),
        (b"ERR 5", "cushion text", "cushion came as 'ERR 5'"),
    ],
)
def test_a_value_that_cannot_be_read_is_absent_and_told(token: bytes, kind: str, detail: str) -> None:
    """The shot was stored without a value and without a word."""
    said = LineReader(FORM).read(SHOT.replace(b"4,97", token))
    assert isinstance(said, Line)
    assert "cushion" not in said.values
    assert len(said.values) == 2
    assert [(doubt.kind, doubt.detail) for doubt in said.doubts] == [(kind, detail)]


def test_a_first_line_of_wrong_length_does_not_lock_out_the_rest() -> None:
    reader = LineReader(FORM)
    assert [kind(reader, raw) for raw in (SHOT + b";9", SHOT, SHOT, SHOT)] == ["shot", "field count", "shot", "shot"]
    assert [kind(reader, SHOT + b";9") for _ in range(3)] == ["field count"] * 3


def test_alarm_lines_never_set_the_length_of_a_line() -> None:
    reader = LineReader(FORM)
    alarm = b"ALARM 17 HEATER"
    said = reader.read(alarm)
    assert isinstance(said, Rejection)
    assert said.detail.startswith("has 1 field, too few for ")
    assert [kind(reader, raw) for raw in (alarm, alarm, SHOT, alarm, alarm, SHOT)] == [
        "field count", "field count", "shot", "field count", "field count", "shot",
    ]  # fmt: skip


def test_a_new_header_is_told_because_columns_may_have_moved() -> None:
    reader = LineReader(FORM)
    swapped = HEADER.replace(b"FILL s;XFER mm", b"XFER mm;FILL s")
    assert [kind(reader, raw) for raw in (HEADER, SHOT, HEADER, swapped, swapped)] == [
        "silent", "shot", "silent", "header changed", "silent",
    ]  # fmt: skip


def test_words_in_another_number_of_fields_than_the_shots_are_no_header() -> None:
    reader = LineReader(FORM)
    assert [kind(reader, raw) for raw in (HEADER, SHOT, b"HEATER;COLD", SHOT)] == ["silent", "shot", "silent", "shot"]
    swapped = HEADER.replace(b"FILL s;XFER mm", b"XFER mm;FILL s")
    told = "a header line not seen before: have the columns changed?"
    assert reader.read(swapped) == Rejection("header changed", told, swapped)


def test_words_are_no_header_where_columns_are_found_by_their_names() -> None:
    reader = LineReader(BY_HEADER)
    lines = (HEADER, b"a;b;c;d;e;f;g;h;i", SHOT, b"i;h;g;f;e;d;c;b;a", SHOT)
    assert [kind(reader, raw) for raw in lines] == ["silent", "silent", "shot", "silent", "shot"]


def test_columns_are_found_by_their_header_and_follow_it() -> None:
    reader = LineReader(BY_HEADER)
    assert kind(reader, SHOT) == "no header"
    assert kind(reader, HEADER) == "silent"
    first = reader.read(SHOT)
    assert kind(reader, b"NR;CUSH mm;FILL s") == "header changed"
    second = reader.read(b"119;4,91;0,722")
    assert isinstance(first, Line)
    assert isinstance(second, Line)
    assert (first.values, second.values) == (
        {"cushion": 4.97, "fill_time": 0.721},
        {"cushion": 4.91, "fill_time": 0.722},
    )


def test_a_header_that_lacks_a_column_stops_the_reading_of_values() -> None:
    reader = LineReader(BY_HEADER)
    assert kind(reader, HEADER) == "silent"
    assert kind(reader, b"NR;TIME;FILL s;CUSHION") == "header changed"
    assert kind(reader, b"119;08:42;0,7;4,9") == "no header"


def test_fixed_columns_are_read_by_a_pattern() -> None:
    pattern = re.compile(r"^ *(?P<shot_counter>\d+) +(?P<fill_time>\S+) +(?P<cushion>\S+)$")
    form = LineFormat("shot_counter", {name: (name, own(name)) for name in ("cushion", "fill_time")}, pattern=pattern)
    reader = LineReader(form)
    said = reader.read(b"  118   0.72    ----")
    assert isinstance(said, Line)
    assert (said.counter, said.values) == (118, {"fill_time": 0.72})
    assert [kind(reader, raw) for raw in (b"page 3", b"NO  FILL  CUSH")] == ["no match", "silent"]


def test_a_blank_as_delimiter_is_any_run_of_blanks() -> None:
    form = LineFormat(1, {"cushion": (3, own("cushion"))}, delimiter=" ")
    assert LineReader(form).read(b" 118   0.72 5.0") == Line(118, {"cushion": 5.0}, b" 118   0.72 5.0")


@given(st.lists(st.one_of(st.binary(max_size=60), st.sampled_from([SHOT, HEADER, SHOT[5:], b"NR;CUSH mm;FILL s"]))))
def test_any_bytes_give_a_line_or_a_named_rejection_or_nothing_to_say(lines: list[bytes]) -> None:
    for form in (FORM, BY_HEADER, LineFormat(1, FORM.channels, decimal=",", encoding="utf-8")):
        reader = LineReader(form)
        for raw in lines:
            said = reader.read(raw)
            if isinstance(said, Rejection):
                assert said.kind
                assert said.raw == raw
            elif isinstance(said, Line):
                assert all(CHANNELS[name].low <= value <= CHANNELS[name].high for name, value in said.values.items())
