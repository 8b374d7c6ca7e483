"""Lines of reports over EUROMAP 63, the files they stand in, and the times of the press."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from shotlog.channels import CHANNELS
from shotlog.clock import HandClock
from shotlog.collectors.euromap_answers import Answer, answer_in, command_answers, is_whole, refused
from shotlog.collectors.euromap_changes import ChangeReader, ToldChange
from shotlog.collectors.euromap_folder import Folder
from shotlog.collectors.euromap_follow import Appended, Rewritten
from shotlog.collectors.euromap_lists import code_page, press_info, tokens_in
from shotlog.collectors.euromap_report import ReportReader, ReportRow, TokenMap
from shotlog.collectors.euromap_times import PressClock
from shotlog.collectors.lines import Rejection
from shotlog.collectors.scaling import Scaling
from shotlog.collectors.set_points import ChosenSetPoint
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import SetPoint

CUSHION = Scaling(CHANNELS["cushion"], Decimal(1), Decimal(0), "mm", lambda value: value)
TOKENS = TokenMap(
    "ActCntCyc",
    {"cushion": ("ActStrCsh[1]", CUSHION)},
    (ChosenSetPoint("resin", "SetDescMat", is_text=True), ChosenSetPoint("zone", "SetTmpBrlZn[1,2]")),
    {"settmpbrlzn[1,2]": "degC"},
)
HEADER = b'DATE, TIME, SetTmpBrlZn[1,2], ActCntCyc, "ActStrCsh[1]", SetDescMat'


def reader() -> ReportReader:
    made = ReportReader(TOKENS, "cp850")
    assert made.read(HEADER) is None
    return made


def row(line: bytes) -> ReportRow:
    said = reader().read(line)
    assert isinstance(said, ReportRow), said
    return said


def test_a_line_is_read_by_its_header_with_commas_in_brackets_and_quotes() -> None:
    said = row(b'20261128,12:00:01,235.0,118,4.97,"PA 6, gr\x81n"')
    assert (said.line.counter, dict(said.line.values)) == (118, {"cushion": 4.97})
    assert said.moment == datetime(2026, 11, 28, 12, 0, 1)
    assert said.line.set_points == {"resin": SetPoint("PA 6, grün"), "zone": SetPoint(235.0, "degC")}


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        (b"20261128,12:00:01,235.0,118", "field count"),
        (b'20261128,12:00:01,235.0,118,4.97,"a","b"', "field count"),
        (b'20261128,12:00:01,235.0,?,4.97,"a"', "no counter"),
        (b'20261128,12:00:01,235.0,11x,4.97,"a"', "no counter"),
        (b'20261128,12:00:01,235.0,1\x0018,4.97,"a"', "damaged"),
    ],
)
def test_what_is_no_line_of_a_shot_is_rejected_with_its_bytes(line: bytes, kind: str) -> None:
    said = reader().read(line)
    assert isinstance(said, Rejection)
    assert (said.kind, said.raw) == (kind, line)


@pytest.mark.parametrize(("came", "how"), [("?", "absent"), ("", "absent"), ("4,97x", "text"), ("9e9", "range")])
def test_a_value_that_cannot_be_taken_is_absent_and_never_zero(came: str, how: str) -> None:
    said = row(f'20261128,12:00:01,235.0,118,"{came}","a"'.encode())
    assert said.line.values == {}
    assert [(doubt.channel, doubt.how) for doubt in said.line.doubts] == [("cushion", how)]


def test_a_question_mark_is_said_once_until_the_value_is_there_again() -> None:
    made = reader()
    told = []
    for came in ("?", "?", "4.97", "?"):
        said = made.read(f'20261128,12:00:01,235.0,118,{came},"a"'.encode())
        assert isinstance(said, ReportRow)
        told.append(len(said.line.doubts))
    assert told == [1, 0, 0, 1]


def test_a_set_point_that_cannot_be_taken_is_said_once_and_absent() -> None:
    made = reader()
    said = [made.read(f'20261128,12:00:01,{zone},118,4.97,"a"'.encode()) for zone in ("?", "?", "235", "x")]
    rows = [one for one in said if isinstance(one, ReportRow)]
    assert [[one.name for one in each.line.untaken] for each in rows] == [["zone"], [], [], ["zone"]]
    assert ["zone" in each.line.set_points for each in rows] == [False, False, True, False]


def test_a_header_in_the_middle_moves_the_columns_and_is_said() -> None:
    made = reader()
    assert made.read(b"ActStrCsh[1],ActCntCyc") is None
    said = made.read(b"4.97,119")
    assert isinstance(said, ReportRow)
    assert (said.line.counter, dict(said.line.values)) == (119, {"cushion": 4.97})
    assert [kind for kind, _ in made.notes] == ["header changed"]
    made.notes.clear()
    assert made.read(b"ActStrCsh[1],ActCntCyc") is None
    assert made.notes == []


def test_a_token_that_the_report_has_not_is_said_and_the_others_are_taken() -> None:
    made = ReportReader(TOKENS, "cp850")
    assert made.read(b"DATE,TIME,ActCntCyc") is None
    assert made.notes == [("cushion missing", "the report has no ActStrCsh[1]: cushion is absent")]
    said = made.read(b"20261128,12:00:01,118")
    assert isinstance(said, ReportRow)
    assert said.line.values == {}


def test_a_report_without_the_counter_is_known() -> None:
    made = ReportReader(TOKENS, "cp850")
    assert not made.lacks_counter
    made.read(b"DATE,TIME,ActStrCsh[1]")
    assert made.lacks_counter


def test_a_line_before_any_header_is_no_shot() -> None:
    said = ReportReader(TOKENS, "cp850").read(b"1,2,3")
    assert isinstance(said, Rejection)
    assert said.kind == "no header"


def test_tokens_are_asked_for_once_each() -> None:
    assert TOKENS.tokens == ["DATE", "TIME", "ActCntCyc", "ActStrCsh[1]", "SetDescMat", "SetTmpBrlZn[1,2]"]


# Answers


@pytest.mark.parametrize(
    ("text", "number", "error"),
    [
        ('00000000 PROCESSED "CONNECT";', 0, None),
        ('00000001 PROCESSED "EXECUTE "X.JOB"";', 1, None),
        ("PROCESSED;", None, None),
        ("00000001 PROCESSED;", 1, None),
        ('00000001 ERROR 05 00000007 "text";', 1, (5, 7)),
        ('ERROR 05 00000002 "syntax";', None, (5, 2)),
        ("00000001 error 06 00000033;", 1, (6, 33)),
    ],
)
def test_every_form_of_an_answer_is_read(text: str, number: int | None, error: tuple[int, int] | None) -> None:
    answer = answer_in(f"{text}\r\n")
    assert isinstance(answer, Answer)
    assert answer.number == number
    assert (answer.refusal and (answer.refusal.klass, answer.refusal.number)) == error


@pytest.mark.parametrize("text", ["", "0000", "00000001 PROC", "ERROR", "HELLO;"])
def test_what_is_no_answer_is_none(text: str) -> None:
    assert answer_in(text) is None


def test_half_an_answer_is_not_whole() -> None:
    whole = '00000001 ERROR 05 00000007 "a;b";'
    assert is_whole(whole)
    assert not any(is_whole(whole[:n]) for n in range(len(whole)))


@pytest.mark.parametrize(
    ("code", "kind", "says"),
    [
        ("05 00000005", PressUnreachable, "it is busy"),
        ("05 00000006", PressUnreachable, "switch its host computer interface to online"),
        ("05 00000002", PressRefused, "cannot read the request"),
        ("06 00000003", PressRefused, "too many jobs"),
        ("06 00000004", PressRefused, "cannot create the file"),
        ("06 00000006", PressRefused, "does not know one of the tokens"),
        ("06 00000007", PressRefused, "gives no more reports"),
        ("09 00000099", PressRefused, "error 99 of class 09"),
    ],
)
def test_an_error_is_said_in_plain_words_with_what_to_do(code: str, kind: type[Exception], says: str) -> None:
    answer = answer_in(f'00000001 ERROR {code} "its own words";')
    assert answer is not None
    assert answer.refusal is not None
    error = refused("the job S01R0001", answer.refusal)
    assert isinstance(error, kind)
    assert says in str(error)
    assert "its own words" in str(error)


def test_the_log_of_a_job_tells_of_each_command() -> None:
    text = 'COMMAND 1 PROCESSED "JOB command" 20261128 12:00:00;\r\nCOMMAND 2 ERROR 06 00000006 "unknown";\r\nCOMM'
    done = command_answers(text)
    assert done[1] is None
    assert done[2] is not None
    assert (done[2].klass, done[2].number, done[2].text) == (6, 6, "unknown")


def test_lists_give_units_and_the_code_page() -> None:
    known = tokens_in('ActTimCyc,N,8,4,0,"s","Cycle, actual";\r\nSetDescMat,A,20,0,1,"","Resin";\r\nbroken line\r\n')
    assert {key: (one.unit, one.numeric, one.text) for key, one in known.items()} == {
        "acttimcyc": ("s", True, "Cycle, actual"),
        "setdescmat": ("", False, "Resin"),
    }
    info = press_info('MaxSessions = 4;\r\nCharDef,"850";')
    assert (info.max_sessions, info.code_page) == (4, "cp850")
    assert [code_page(name) for name in ("850", "CP437", "ISO8859-1", "8859-1", "UTF-8", "", "xyz")] == [
        "cp850", "cp437", "iso8859-1", "iso8859-1", "utf-8", None, None,
    ]  # fmt: skip


def test_a_change_is_read_in_its_order_or_by_its_header() -> None:
    changes = ChangeReader("cp850")
    line = b'1,20261128,12:00:00,118,SetTmpBrlZn[1,2],235,240,"R. K."'
    told = ToldChange("SetTmpBrlZn[1,2]", "235", "240", "R. K.", 118, "20261128", "12:00:00")
    assert changes.read(line) == told
    assert changes.read(b"COUNT,DATE,TIME,SHOT,USER,PARAMETER,NEW,OLD") is None
    assert changes.read(b'1,20261128,12:00:00,118,"R. K.",SetTmpBrlZn[1,2],240,235') == told
    assert changes.read(b"") is None
    assert isinstance(changes.read(b"1,20261128"), str)


# Files


def appended(place: Path) -> Appended:
    return Appended(Folder(place), "SHOTS.DAT")


def test_a_line_counts_once_it_ended_however_it_is_written(tmp_path: Path) -> None:
    file, report = tmp_path / "shots.dat", appended(tmp_path)
    assert report.look() == []
    found = []
    for piece in (b"HEAD", b"ER\r\n1,", b"2.", b"5\r\n2,3.5\r\n3,", b"4\n"):
        with file.open("ab") as end:
            end.write(piece)
        found.append(report.look())
    assert found == [[], [b"HEADER"], [], [b"1,2.5", b"2,3.5"], [b"3,4"]]
    assert report.n_begun == 0


def test_a_file_that_is_written_over_in_two_pieces_is_no_new_one(tmp_path: Path) -> None:
    """A press that truncates and writes all anew: what is read meanwhile is shorter, and begins nothing."""
    file, report = tmp_path / "SHOTS.DAT", appended(tmp_path)
    file.write_bytes(b"H\r\n1,1\r\n")
    assert report.look() == [b"H", b"1,1"]
    for half in (b"", b"H\r\n1"):
        file.write_bytes(half)
        assert report.look() == []
    file.write_bytes(b"H\r\n1,1\r\n2,2\r\n")
    assert report.look() == [b"2,2"]
    assert report.n_begun == 0


def test_a_file_that_shrank_or_is_another_is_read_from_its_beginning(tmp_path: Path) -> None:
    file, report = tmp_path / "SHOTS.DAT", appended(tmp_path)
    file.write_bytes(b"H\r\n1,1\r\n2,2\r\n")
    report.look()
    file.write_bytes(b"H\r\n1,9\r\n")
    assert report.look() == []
    assert report.look() == [b"H", b"1,9"]
    file.write_bytes(b"H\r\n7,7\r\n8,8\r\n9,9\r\n")
    assert report.look() == []
    assert report.look() == [b"H", b"7,7", b"8,8", b"9,9"]
    assert report.n_begun == 2


def test_a_file_that_is_another_at_each_look_is_read_from_its_beginning_at_the_third(tmp_path: Path) -> None:
    file, report = tmp_path / "SHOTS.DAT", appended(tmp_path)
    file.write_bytes(b"H\r\n1,1\r\n2,2\r\n")
    report.look()
    looks = []
    for n in range(3):
        file.write_bytes(b"H\r\n" + b"3,3\r\n" * (n + 1))
        looks.append(report.look())
    assert looks == [[], [], [b"H", b"3,3", b"3,3", b"3,3"]]


def test_lines_may_end_with_cr_alone(tmp_path: Path) -> None:
    file, report = tmp_path / "SHOTS.DAT", appended(tmp_path)
    file.write_bytes(b"H\r")
    assert report.look() == []
    file.write_bytes(b"H\r1,1\r")
    assert report.look() == [b"H", b"1,1"]


def test_bytes_that_are_not_there_yet_are_waited_for(tmp_path: Path) -> None:
    file, report = tmp_path / "SHOTS.DAT", appended(tmp_path)
    file.write_bytes(b"H\r\n1,\0\0\r\n")
    assert report.look() == [b"H"]
    file.write_bytes(b"H\r\n1,25\r\n")
    assert report.look() == [b"1,25"]


def test_bytes_that_never_came_hide_nothing_of_a_report_that_lay_there(tmp_path: Path) -> None:
    (tmp_path / "SHOTS.DAT").write_bytes(b"H\r\n1,1\r\n\0\0\0\r\n2,2\r\n")
    assert appended(tmp_path).backlog() == [b"H", b"1,1", b"\0\0\0", b"2,2"]


def test_a_long_report_is_begun_near_its_end_with_its_header(tmp_path: Path) -> None:
    file, report = tmp_path / "SHOTS.DAT", appended(tmp_path)
    line = b",".join([b"%06d"] * 20) + b"\r\n"
    file.write_bytes(b"HEADER\r\n" + b"".join(line % ((n,) * 20) for n in range(32_000)))
    lines = report.backlog()
    assert lines[0] == b"HEADER"
    assert 25_000 < len(lines) < 32_000
    assert all(len(one) == len(line % ((0,) * 20)) - 2 for one in lines[1:])
    assert lines[-1].startswith(b"031999")


def test_a_rewritten_report_is_taken_when_two_looks_agree(tmp_path: Path) -> None:
    file, report = tmp_path / "SHOTS.DAT", Rewritten(Folder(tmp_path), "SHOTS.DAT", HandClock())
    looks = []
    for content in (b"", b"H\r\n1,2", b"H\r\n1,2.5\r\n", b"H\r\n1,2.5\r\n", b"H\r\n1,2.5\r\n", b"H\r\n2,3\r\n"):
        file.write_bytes(content)
        looks.append(report.look())
    looks.append(report.look())
    assert looks == [[], [], [], [b"H", b"1,2.5"], [], [], [b"H", b"2,3"]]


def looks(report: Rewritten, clock: HandClock, times: int, apart_s: float = 0.1) -> list[list[bytes]]:
    found = []
    for _ in range(times):
        found.append(report.look())
        clock.advance(apart_s)
    return found


def test_a_rewritten_report_without_an_end_is_taken_once_it_stood_for_a_while(tmp_path: Path) -> None:
    (tmp_path / "SHOTS.DAT").write_bytes(b"H\r\n1,2.5")
    clock = HandClock()
    report = Rewritten(Folder(tmp_path), "SHOTS.DAT", clock)
    assert looks(report, clock, 8, 0.25) == [*[[]] * 4, [b"H", b"1,2.5"], [], [], []]


def test_a_last_line_without_its_end_is_not_taken_for_a_value_where_others_had_one(tmp_path: Path) -> None:
    """A writer that pauses before its last bytes: both halves stand for some looks."""
    file, clock = tmp_path / "SHOTS.DAT", HandClock()
    report = Rewritten(Folder(tmp_path), "SHOTS.DAT", clock)
    found = []
    for n in (1, 2, 3):
        for half in (b"", b"H\r\n%d,0.7" % n, b"H\r\n%d,0.705\r\n" % n):
            file.write_bytes(half)
            found += looks(report, clock, 8)
    assert [one for one in found if one] == [[b"H", b"%d,0.705" % n] for n in (1, 2, 3)]


def test_what_never_gets_its_end_there_is_told_and_no_value(tmp_path: Path) -> None:
    file, clock = tmp_path / "SHOTS.DAT", HandClock()
    report = Rewritten(Folder(tmp_path), "SHOTS.DAT", clock)
    file.write_bytes(b"H\r\n1,0.701\r\n")
    looks(report, clock, 3)
    file.write_bytes(b"H\r\n2,0.")
    assert [b"H"] in looks(report, clock, 14)
    assert report.broken == b"2,0."


def test_a_file_that_is_refused_for_a_moment_is_borne_with_and_for_long_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "SHOTS.DAT").write_bytes(b"H\r\n")
    report = appended(tmp_path)

    def refuse(*given: object, **named: object) -> object:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "open", refuse)
        assert [report.look() for _ in range(20)] == [[]] * 20
        with pytest.raises(PressUnreachable, match="cannot be read"):
            report.look()
    assert report.look() == [b"H"]


@pytest.mark.parametrize("error", [OSError(53, "network path"), OSError(116, "Stale file handle"), TimeoutError()])
def test_whatever_a_share_says_is_a_press_out_of_reach(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: OSError
) -> None:
    def fail(*given: object, **named: object) -> object:
        raise error

    monkeypatch.setattr(Path, "open", fail)
    with pytest.raises(PressUnreachable, match=r"folder .* cannot be used"):
        appended(tmp_path).look()


# Times


OURS = datetime(2026, 11, 28, 11, 0, 0, tzinfo=UTC)


def test_a_press_in_another_zone_with_a_wrong_clock_gives_our_times() -> None:
    clock = PressClock()
    press = datetime(2021, 3, 1, 17, 30)
    assert clock.seen(press, OURS) is None
    later = press + timedelta(minutes=7)
    now = OURS + timedelta(hours=1)
    assert clock.time_of(later, OURS, now) == (OURS + timedelta(minutes=7), False)


def test_no_shot_lies_before_the_one_ahead_of_it_or_in_the_future() -> None:
    clock = PressClock()
    press = datetime(2026, 11, 28, 12, 0)
    clock.seen(press, OURS)
    now = OURS + timedelta(minutes=10)
    assert clock.time_of(press + timedelta(hours=1), OURS, now) == (now, True)
    assert clock.time_of(press - timedelta(hours=1), OURS, now) == (OURS, True)


@pytest.mark.parametrize("year", [1, 9999])
@pytest.mark.parametrize("ours", [datetime(1, 1, 2, tzinfo=UTC), datetime(9999, 12, 30, tzinfo=UTC), None])
def test_a_press_in_the_year_of_no_calendar_gives_a_time_of_ours(year: int, ours: datetime | None) -> None:
    clock = PressClock()
    press = datetime(year, 1, 1) if year == 1 else datetime(year, 12, 31, 23, 59, 59)
    if ours is not None:
        clock.seen(datetime(2026, 11, 28), ours)
    told, _ = clock.time_of(press, OURS, OURS)
    assert told == OURS


def test_summer_time_of_the_press_is_noticed_and_costs_no_time_of_ours() -> None:
    clock = PressClock()
    press = datetime(2026, 3, 29, 1, 59, 30)
    for minutes in (-2, -1, 0):
        clock.seen(press + timedelta(minutes=minutes), OURS + timedelta(minutes=minutes))
    step_s = clock.seen(press + timedelta(hours=1, minutes=1), OURS + timedelta(minutes=1))
    assert step_s == pytest.approx(3600.0)
    told, doubtful = clock.time_of(press + timedelta(hours=1, minutes=2), OURS, OURS + timedelta(minutes=5))
    assert (told, doubtful) == (OURS + timedelta(minutes=2), False)
