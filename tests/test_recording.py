"""The recording: what is written reads back the same, and a bad cell says where it is."""

import csv
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.errors import RecordingError
from shotlog.records import HALVES, InForce, LoggedShot
from tests.recorded_shots import columns_of

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)

HEADER = "press,shot,time,fixed,moving,core,design,event,single_use,print_batch,cushion"
GOOD = "P25,7,2026-01-05T06:00:00Z,F-1,M-1,,cap-r2,lot:L2,moving,moving:B7,4.97"


def cell(marks: str) -> st.SearchStrategy[str]:
    """Printable text without the marks and without blanks at its ends."""
    letters = st.characters(codec="utf-8", exclude_categories=("C", "Z"), exclude_characters=marks)
    return st.lists(st.text(letters, min_size=1, max_size=5), min_size=1, max_size=2).map(" ".join)


texts = cell(";").map(recording.one_line)
pieces = st.builds(
    InForce, cell(";,:"), st.one_of(st.just(""), cell(";")), st.one_of(st.just(""), cell(";")), st.booleans()
)
values = st.fixed_dictionaries(
    {}, optional={name: st.floats(channel.low, channel.high) for name, channel in CHANNELS.items()}
)
moments = st.datetimes(datetime(1971, 1, 1), datetime(2100, 1, 1)).map(lambda moment: moment.replace(tzinfo=UTC))


@st.composite
def presses(draw: st.DrawFn) -> list[LoggedShot]:
    """Return the shots of one or two presses, numbers rising within each."""
    shots = []
    for press in draw(st.lists(cell(";,:"), min_size=1, max_size=2, unique=True)):
        for shot in sorted(draw(st.sets(st.integers(0, 10**15), max_size=4))):
            halves = draw(st.dictionaries(st.sampled_from(HALVES), pieces))
            events = draw(st.lists(st.tuples(st.sampled_from(tuple(KINDS)), texts), max_size=2))
            about = tuple(draw(st.sampled_from(("", *HALVES))) for _ in events)
            told = tuple(events), (), about if any(about) else ()
            shots.append(LoggedShot(press, shot, draw(moments), draw(values), halves, *told))
    return shots


@given(presses())
def test_what_is_written_reads_back_to_the_last_bit(
    tmp_path_factory: pytest.TempPathFactory, shots: list[LoggedShot]
) -> None:
    path = tmp_path_factory.mktemp("recording") / "r.csv"
    assert recording.write(path, [columns_of(shots)], CHANNELS, optional=True) == len(shots)
    remarks: list[str] = []
    assert list(recording.read(path, remarks.append)) == shots
    assert remarks == []


def read(tmp_path: Path, *lines: str) -> list[LoggedShot]:
    path = tmp_path / "r.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return list(recording.read(path))


def test_a_row_means_what_it_says(tmp_path: Path) -> None:
    assert read(tmp_path, HEADER, GOOD) == [
        LoggedShot(
            "P25",
            7,
            NOW,
            {"cushion": 4.97},
            {"fixed": InForce("F-1", "cap-r2"), "moving": InForce("M-1", "cap-r2", "B7", single_use=True)},
            (("lot", "L2"),),
        )
    ]


@pytest.mark.parametrize(
    ("column", "cell", "allowed"),
    [
        ("press", "", "a name"),
        *(("shot", cell, "a whole number") for cell in ("", "7.0", "1_000", "-1", "seven", "٧", "1e3", "9" * 19)),
        *(("time", cell, "ISO 8601") for cell in ("", "yesterday", "2026-13-01", "0001-01-01T00:00:00+14:00")),
        ("design", "a;b;c", "one design, or 2 separated by ;"),
        *(
            ("event", cell, "KIND:TEXT or KIND@HALF:TEXT with KIND one of lot")
            for cell in ("lunch:soup", "lot", ":L2", "lot:L2;x")
        ),
        *(("single_use", cell, "halves out of fixed, moving, core") for cell in ("left", "moving fixed")),
        *(("print_batch", cell, "HALF:BATCH") for cell in ("B7", "left:B7", "moving:", "moving:B7;B8")),
        *(("cushion", cell, "a number with a decimal point") for cell in ("4;97", "4_0", "n/a", "0x10", "--1", "1e")),
        *(("cushion", cell, "a number with a decimal point") for cell in ("inf", "-Infinity")),
        ("cushion", "1e999", "a finite number"),
    ],
)
def test_a_bad_cell_names_file_line_column_given_and_allowed(
    tmp_path: Path, column: str, cell: str, allowed: str
) -> None:
    """1_000 was read as 1000, and a print batch without its half was dropped without a word."""
    cells = dict(zip(HEADER.split(","), GOOD.split(","), strict=True)) | {column: cell}
    with pytest.raises(RecordingError) as caught:
        read(tmp_path, HEADER, GOOD.replace(",7,", ",6,"), ",".join(cells.values()))
    said = str(caught.value)
    assert said.startswith(f"{tmp_path / 'r.csv'}, line 3: {column}: given {cell!r}, allowed: ")
    assert allowed in said
    assert "\n" not in said


def test_a_decimal_comma_in_quotes_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="line 2: cushion: given '4,97', allowed: a number with a decimal point"):
        read(tmp_path, "press,shot,time,cushion", 'P25,7,2026-01-05T06:00:00Z,"4,97"')


def test_shot_numbers_rise_within_a_press_only(tmp_path: Path) -> None:
    row = "{},{},2026-01-05T06:00:00Z"
    assert len(read(tmp_path, "press,shot,time", row.format("A", 7), row.format("B", 7), row.format("A", 8))) == 3
    with pytest.raises(
        RecordingError, match="line 3: shot: given '7', allowed: a number above 7, the shot before on A"
    ):
        read(tmp_path, "press,shot,time", row.format("A", 7), row.format("A", 7))


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ((), "line 1: no column 'press'"),
        (("press,shot", "P25,7"), "line 1: no column 'time'"),
        (("press,shot,time,time",), "line 1: a column appears twice"),
        (("press,shot,time", "P25,7,2026-01-05T06:00:00Z,8"), "line 2: more cells than the header has columns"),
        (("press,shot,time", "P25,7"), "line 2: time: given ''"),
    ],
)
def test_a_file_of_the_wrong_shape(tmp_path: Path, lines: tuple[str, ...], said: str) -> None:
    with pytest.raises(RecordingError) as caught:
        read(tmp_path, *lines)
    assert said in str(caught.value)


def test_a_file_that_is_none(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match=r"none\.csv: No such file"):
        list(recording.read(tmp_path / "none.csv"))
    with pytest.raises(RecordingError, match=r"Is a directory|Permission denied"):
        list(recording.read(tmp_path))
    (tmp_path / "latin.csv").write_bytes(b"press,shot,time\nM\xfcller,1,2026-01-05T06:00:00Z\n")
    with pytest.raises(RecordingError, match=r"latin\.csv: .* at byte 17, allowed: text in UTF-8"):
        list(recording.read(tmp_path / "latin.csv"))


def test_a_cell_beyond_all_size_says_the_line(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="line 2: field larger than field limit"):
        read(tmp_path, "press,shot,time", "P" * 140_000 + ",7,2026-01-05T06:00:00Z")


def test_a_strange_column_and_a_value_that_cannot_be_are_remarked_once(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    row = "P25,{},2026-01-05T06:00:00Z,9999,1\n"
    path.write_text("press,shot,time,cushion,humidity\n" + row.format(1) + row.format(2), encoding="utf-8")
    remarks: list[str] = []
    assert [shot.values for shot in recording.read(path, remarks.append)] == [{}, {}]
    assert [remark.removeprefix(str(path)) for remark in remarks] == [
        ": column 'humidity' is no channel and is not used",
        ", line 2: cushion 9999 is outside -5 to 500; not used",
    ]


def test_empty_nan_and_absent_are_not_known(tmp_path: Path) -> None:
    shots = read(tmp_path, "press,shot,time,cushion,fill_time", "P25,1,2026-01-05T06:00:00,,nan")
    assert shots == [LoggedShot("P25", 1, NOW, {})]


def test_a_time_elsewhere_is_read_as_utc(tmp_path: Path) -> None:
    shots = read(tmp_path, "press,shot,time", "P25,1,2026-01-05T08:30:00+02:00")
    assert shots[0].time == NOW + timedelta(minutes=30)


def test_a_note_of_several_lines_stays_one_cell() -> None:
    assert recording.event_cell((), [("note", "flash; at\nthe gate", "")]) == "note:flash, at the gate"


@given(presses(), st.data())
def test_what_is_read_at_once_is_what_is_read_row_by_row(
    tmp_path_factory: pytest.TempPathFactory, shots: list[LoggedShot], data: st.DataObject
) -> None:
    """Columns that are plain throughout are read at once; the same cells with a blank before them are not."""
    path = tmp_path_factory.mktemp("at-once") / "r.csv"
    recording.write(path, [columns_of(shots)], CHANNELS, optional=data.draw(st.booleans()))
    plain = list(recording.read(path))
    with path.open(encoding="utf-8", newline="") as file:
        header, *rows = csv.reader(file)
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([header, *([f" {cell}" if cell else "" for cell in row] for row in rows)])
    assert list(recording.read(path)) == plain


@pytest.mark.parametrize("n_before", [0, 1, 499, 500, 501, 1300])
def test_a_bad_cell_is_named_wherever_it_stands(tmp_path: Path, n_before: int) -> None:
    """Rows are read some hundred at a time: those before a bad one come all the same, and blank lines count."""
    rows = [GOOD.replace(",7,", f",{n},") for n in range(1, n_before + 1)]
    path = tmp_path / "r.csv"
    path.write_text("\n".join([HEADER, *rows, "", GOOD.replace(",7,", ",seven,"), *rows]) + "\n", encoding="utf-8")
    shots = recording.read(path)
    assert [next(shots).shot for _ in rows] == [*range(1, n_before + 1)]
    with pytest.raises(RecordingError, match=f"line {n_before + 3}: shot: given 'seven', allowed: a whole number"):
        next(shots)


def test_a_number_that_does_not_rise_is_seen_over_rows_read_at_once(tmp_path: Path) -> None:
    rows = [GOOD.replace(",7,", f",{n},") for n in (*range(1, 501), 500)]
    with pytest.raises(RecordingError, match="line 502: shot: given '500', allowed: a number above 500"):
        read(tmp_path, HEADER, *rows)
