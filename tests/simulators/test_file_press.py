"""The press that gives its shots as files: what it answers and writes, and how it goes wrong; no clock runs here."""

import tomllib
from datetime import UTC, datetime

import pytest

from simulators.disturb import WireFault, WireFaults
from simulators.faces import FaceError
from simulators.file_press import FilePress
from simulators.file_press_diary import Diary
from simulators.file_press_faults import FILE_FAULTS
from simulators.file_press_folder import SharedFolder
from simulators.file_press_sessions import Sessions
from simulators.file_press_ways import parse_ways
from simulators.press import mould
from simulators.story import load

RUN = mould(load("demo").presses[0], 12, seed=4)
AT = 6
"""The shot the fault is at."""

PARAMETERS = "DATE, TIME, COUNT, ActCntCyc, ActStrCsh[1], ActPrsMachSpecMax, ActTmpBrlZn[1,2]"
JOB = (
    'JOB Shots01 RESPONSE "SHOTS01.LOG";\nREPORT Shots01 {mode}"SHOTS01.DAT"\nSTART IMMEDIATE STOP NEVER\n'
    f"CYCLIC SHOT 1\nPARAMETERS {PARAMETERS};\n"
)
APPEND = JOB.format(mode="")


class Bench:
    """A press on a folder, and the host that asks it; `seen` is the report file at each pause in a write."""

    def __init__(self, folder, ways="", *faults, run=RUN):
        self.folder, self.run, self.seen, self._number = folder, run, [], 0
        folder.mkdir(exist_ok=True)
        self.shared = SharedFolder(folder, lambda: self.press.between_pieces())
        self.press = FilePress(
            "P25",
            parse_ways(ways),
            self.shared,
            datetime(2026, 3, 2, 6, 0, tzinfo=UTC),
            faults=WireFaults(faults, FILE_FAULTS),
            diary=Diary(),
            pause=lambda seconds: self.seen.append(self.text("SHOTS01.DAT")),
        )
        self.sessions = Sessions(self.press)
        self.press.begin()

    def ask(self, text, session="SESS0001"):
        (self.folder / f"{session}.REQ").write_text(text, encoding="ascii")
        self.sessions.look()
        answers = [file for file in self.folder.iterdir() if file.name.upper() == f"{session}.RSP"]
        if not answers:
            return None
        text = answers[0].read_text("ascii")
        answers[0].unlink()
        return text.strip()

    def order(self, text=APPEND):
        """Run a job; return its log."""
        self._number += 1
        (self.folder / "A.JOB").write_text(text, encoding="ascii")
        self.ask(f'{self._number:08d} EXECUTE "A.JOB";')
        return self.text("SHOTS01.LOG")

    def shots(self, *shots):
        for shot in shots or range(1, 9):
            self.press.show(self.run, shot - 1)

    def text(self, name):
        file = self.folder / name
        return file.read_bytes().decode(self.press.ways.codec) if file.exists() else ""

    def lines(self, name="SHOTS01.DAT"):
        return self.text(name).split("\r\n")

    def noted(self, kind):
        return [entry[kind] for entry in self.press.diary.entries if kind in entry]


@pytest.fixture
def bench(tmp_path):
    return Bench(tmp_path / "folder")


def test_it_answers_as_the_sheet_says(bench):
    assert bench.ask("00000000 CONNECT;") == '00000000 PROCESSED "CONNECT";'
    assert bench.ask('00000001 EXECUTE "NONE.JOB";').startswith("00000001 ERROR 05 00000007 ")
    assert bench.ask("CONNECT").startswith("ERROR 05 00000002 ")
    assert bench.ask("00000002 CONNECT;", "SESS0011") is None
    assert not (bench.folder / "SESS0001.REQ").exists()


def test_a_report_has_a_header_and_a_line_a_shot(bench):
    log = bench.order().splitlines()
    assert log[0] == 'COMMAND 1 PROCESSED "JOB command" 20260302 06:00:00;'
    assert log[1].startswith('COMMAND 2 PROCESSED "REPORT command" ')
    bench.shots()
    header, *rows, last = bench.lines()
    assert header == PARAMETERS.replace(", ", ",")
    assert last == ""
    assert [row.split(",")[3] for row in rows] == [str(n) for n in range(1, 9)]
    assert rows[0].split(",")[4] == f"{RUN.channels['cushion'][0]:.2f}"
    assert bench.noted("written") == [["SHOTS01.DAT"]] * 8
    assert bench.noted("values")[0]["ActStrCsh[1]"] == rows[0].split(",")[4]


@pytest.mark.parametrize(
    ("ways", "expected"),
    [
        ("processed=plain", lambda b: b.ask("00000000 CONNECT;") == "00000000 PROCESSED;"),
        ("session-id=no", lambda b: b.ask('00000001 EXECUTE "X.JOB";').startswith("ERROR 05 00000007")),
        ("ends=lower", lambda b: b.order() == "" and b.text("SHOTS01.log").startswith("COMMAND 1 PROCESSED")),
        ("deletes=before", lambda b: b.ask("00000000 CONNECT;") == '00000000 PROCESSED "CONNECT";'),
        ("sessions=1", lambda b: b.ask("00000000 CONNECT;") is None),
        ("slow-s=60", lambda b: b.ask("00000000 CONNECT;") is None),
        ("others=yes", lambda b: b.text("readme.txt") == "not yours" and b.text("OLD01.JOB")),
        ("report=THEIRS.DAT", lambda b: b.text("THEIRS.DAT").startswith("DATE,TIME,COUNT,SetFceClp,")),
    ],
)
def test_presses_differ_in_how_they_answer(tmp_path, ways, expected):
    assert expected(Bench(tmp_path / "folder", ways))


@pytest.mark.parametrize(
    ("ways", "expected"),
    [
        ("line=lf", lambda text: text.count("\n") == 9 and "\r" not in text),
        ("line=cr", lambda text: text.count("\r") == 9 and "\n" not in text),
        ("last-newline=no", lambda text: text.count("\r\n") == 8 and not text.endswith("\n")),
        ("units=other", lambda text: ",0.2101," in text.splitlines()[1]),
    ],
)
def test_presses_differ_in_how_they_write(tmp_path, ways, expected):
    bench = Bench(tmp_path / "folder", ways)
    bench.order()
    bench.shots()
    assert expected(bench.text("SHOTS01.DAT"))


def test_discovery_tells_units_in_its_code_page(tmp_path):
    for page, codec, info in (("850", "cp850", "comma"), ("8859-1", "latin-1", "equals")):
        bench = Bench(tmp_path / page, f"code-page={page},info={info}")
        bench.order('JOB G RESPONSE "G.LOG"; GETID "IDS.DAT"; GETINFO "INFO.DAT";')
        raw = (bench.folder / "IDS.DAT").read_bytes().decode(codec)
        assert 'ActTmpBrlZn[1,4],N,8,1,0,"°C","Barrel zone 4, Düse";' in raw.splitlines()
        assert 'ActTimCyc,N,8,1,0,"s","Actual Cycle Time";' in raw
        sign = {"comma": ",", "equals": "="}[info]
        assert f'CharDef{sign}"{page}";' in bench.lines("INFO.DAT")


def test_rewrite_holds_one_shot_and_two_pieces_are_seen_half(tmp_path):
    bench = Bench(tmp_path / "folder", "pieces=two")
    bench.order(JOB.format(mode="REWRITE "))
    bench.seen.clear()
    bench.shots(1, 2)
    assert [line.split(",")[3] for line in bench.lines()[1:-1]] == ["2"]
    assert len(bench.seen) == 2
    assert all(0 < len(seen) < len(bench.text("SHOTS01.DAT")) for seen in bench.seen)


def test_a_writer_may_truncate_and_write_all_anew(tmp_path):
    bench = Bench(tmp_path / "folder", "pieces=whole")
    bench.order()
    bench.shots(1, 2, 3, 4, 5)
    whole = bench.text("SHOTS01.DAT")
    assert len(bench.lines()) == 7
    assert all(whole.startswith(seen) and seen != whole for seen in bench.seen)


def test_by_time_a_shot_may_stand_there_twice_or_not_at_all(tmp_path):
    bench = Bench(tmp_path / "folder", "report=THEIRS.DAT,cyclic-time=00:01:00")
    bench.shots()
    counters = [int(line.split(",")[-1]) for line in bench.lines("THEIRS.DAT")[1:-1]]
    assert counters == sorted(counters)
    assert len(counters) > len(set(counters))
    fifth = Bench(tmp_path / "every", "report=THEIRS.DAT,every=3")
    fifth.shots()
    assert [line.split(",")[-1] for line in fifth.lines("THEIRS.DAT")[1:-1]] == ["3", "6"]


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        (
            "half",
            lambda sound, lines: lines[: AT + 1] == [*sound[:AT], lines[AT]] and lines[AT].endswith(sound[AT + 1]),
        ),
        ("split", lambda sound, lines: lines == sound),
        ("cut", lambda sound, lines: len(lines) == len(sound) - 1),
        ("rewritten", lambda sound, lines: lines == sound),
        ("older", lambda sound, lines: len(lines) < len(sound) and lines[-2] == sound[-2] and sound[1] in lines),
        ("emptied", lambda sound, lines: lines == sound[AT:]),
        ("deleted", lambda sound, lines: lines == [sound[0], *sound[AT:]]),
        ("header", lambda sound, lines: lines == [*sound[:AT], sound[0], *sound[AT:]]),
        ("lost", lambda sound, lines: lines == [*sound[:AT], *sound[AT + 1 :]]),
        ("duplicate", lambda sound, lines: lines == [*sound[: AT + 1], sound[AT], *sound[AT + 1 :]]),
        ("unreadable", lambda sound, lines: lines[AT].split(",")[4] == "?"),
        ("text", lambda sound, lines: ",ERR," in lines[AT]),
        ("empty", lambda sound, lines: ",," in lines[AT]),
        ("huge", lambda sound, lines: ",99999999999999," in lines[AT]),
        ("short", lambda sound, lines: lines[AT].count(",") == sound[AT].count(",") - 1),
        ("long", lambda sound, lines: lines[AT].count(",") == sound[AT].count(",") + 1),
        ("comma", lambda sound, lines: "." not in lines[AT]),
        ("garbage", lambda sound, lines: sound[AT] == lines[AT + 1] and len(lines[AT]) == 24),
        ("nul", lambda sound, lines: set(lines[AT]) == {"\0"}),
        ("clock", lambda sound, lines: lines[AT] != sound[AT] and lines[AT][18:] == sound[AT][18:]),
        ("counter-reset", lambda sound, lines: lines[AT].split(",")[3] == "1"),
        ("rollover", lambda sound, lines: lines[AT].split(",")[3] == "0"),
        ("stuck", lambda sound, lines: lines[AT].split(",")[3] == str(AT - 1)),
        ("double-count", lambda sound, lines: lines[AT].split(",")[3] == str(AT + 1)),
    ],
)
def test_the_file_goes_wrong_as_told(tmp_path, kind, expected):
    sound = Bench(tmp_path / "sound")
    wrong = Bench(tmp_path / "wrong", "", WireFault(kind, AT, seconds=3600.0, code=4))
    for bench in (sound, wrong):
        bench.order()
        bench.shots()
    assert expected(sound.lines(), wrong.lines())


def test_a_restart_forgets_the_jobs_and_a_lost_job_is_ordered_again(tmp_path):
    for kind, ways, lines in (("restart", "", 3), ("job-lost", "", 3), ("restart", "survive=yes", 6)):
        bench = Bench(tmp_path / f"{kind}{ways}", ways, WireFault(kind, 4, 6))
        assert "ERROR" not in bench.order()
        assert 'ERROR 06 00000033 "job is already running"' in bench.order()
        bench.shots(1, 2, 3, 4, 5)
        answers = bench.ask("00000005 CONNECT;")
        assert (answers is None) == (kind == "restart")
        bench.shots(6, 7, 8, 9)
        assert len(bench.lines()) == lines + 2
        assert ("ERROR" in bench.order()) == (ways != "")


def test_errors_have_the_numbers_of_the_sheet(tmp_path):
    faults = [WireFault(kind, 0, 0) for kind in ("cannot-create",)]
    bench = Bench(tmp_path / "folder", "reports=1", *faults)
    assert "ERROR 06 00000004" in bench.order()
    bench = Bench(tmp_path / "sound", "reports=1")
    assert "ERROR 06 00000006" in bench.order(APPEND.replace("ActStrCsh", "NoSuch"))
    assert "ERROR 06 00000036" in bench.order('JOB A RESPONSE "SHOTS01.LOG"; ABORT JOB Shots01;')
    assert "ERROR" not in bench.order()
    assert "ERROR 06 00000007" in bench.order(APPEND.replace("Shots01", "Shots02"))
    assert "ERROR" not in bench.order('JOB A RESPONSE "SHOTS01.LOG"; ABORT JOB Shots01;')
    assert bench.press.reports == []
    for kind, said in (("busy", "00000005"), ("offline", "00000006")):
        wrong = Bench(tmp_path / kind, "", WireFault(kind, 0, 2))
        assert wrong.ask("00000003 CONNECT;").startswith(f"00000003 ERROR 05 {said}")


def test_what_would_change_the_press_is_refused_and_noted(bench):
    for words in ("SET", "DOWNLOAD", "UPLOAD"):
        assert "ERROR" in bench.order(f'JOB A RESPONSE "SHOTS01.LOG"; {words} "X";')
    assert "ERROR" in bench.order('JOB A RESPONSE "SHOTS01.LOG"; ABORT ALL;')
    assert bench.ask('00000009 SET "X";').startswith("ERROR 05")
    assert bench.noted("refused") == ["SET", "DOWNLOAD", "UPLOAD", "ABORT ALL", 'SET "X"']


def test_changed_set_points_are_logged_as_they_change(tmp_path):
    press = load("set_point_edits").presses[0]
    run = mould(press, 200, 1)
    bench = Bench(tmp_path / "folder", "", run=run)
    bench.order('JOB E RESPONSE "E.LOG"; EVENT E CHANGES "CHANGES.DAT";')
    bench.shots(*range(1, 201))
    told = [line.split(",") for line in bench.lines("CHANGES.DAT")[:-1]]
    wanted = [(str(edit.at_shot - 1), edit.key) for edit in press.edits if edit.at_shot <= 200]
    names = {token.setting: token.name for token in bench.press.tokens.values() if token.setting}
    assert [(line[3], line[4].strip('"')) for line in told] == [(shot, names[key]) for shot, key in wanted]
    assert [line[0] for line in told] == [str(n) for n in range(1, len(wanted) + 1)]
    assert all(line[5] != line[6] for line in told)


def test_a_share_that_is_away_comes_back_with_what_was_written_meanwhile(tmp_path):
    bench = Bench(tmp_path / "folder", "", WireFault("away", 4, 6))
    bench.order()
    bench.shots(1, 2, 3, 4, 5)
    assert not bench.folder.exists()
    bench.shots(6, 7, 8)
    assert len(bench.lines()) == 10


def test_an_upload_is_seen_growing(tmp_path):
    pytest.importorskip("pyftpdlib", reason="the FTP server of the host is not installed", exc_type=ImportError)
    from simulators.file_press_ftp import FtpFolder, FtpHost

    host = FtpHost(tmp_path)
    seen = []

    def look():
        while len(grown := (tmp_path / "A.DAT").read_bytes()) < 4:  # the server has what was sent a moment later
            pass
        seen.append(grown)

    folder = FtpFolder(host.address, look)
    folder.write("A.DAT", [b"abcd", b"efgh"])
    folder.write("B.DAT", [b"more"], append=True)
    folder.write("B.DAT", [b"over"], append=True)
    assert seen == [b"abcd"]
    assert folder.read("A.DAT") == b"abcdefgh"
    assert folder.read("B.DAT") == b"moreover"
    assert folder.names() == ["A.DAT", "B.DAT"]
    folder.delete("A.DAT")
    assert folder.read("A.DAT") is None
    folder.close()
    host.close()


def test_a_wrong_switch_is_told_with_those_there_are():
    with pytest.raises(FaceError, match=r"given 'magic=1', allowed: folder, ftp, "):
        parse_ways("magic=1")
    with pytest.raises(FaceError, match="units: given 'cubits', allowed: metric, other"):
        parse_ways("units=cubits")
    with pytest.raises(FaceError, match="sessions: given 'x', allowed: a number"):
        parse_ways("sessions=x")


def test_the_configuration_it_offers_is_toml_of_one_collector(tmp_path):
    from simulators.serve import make_face

    scenario = load("demo")
    face = make_face(f"euromap63:folder={tmp_path},report=T.DAT", scenario.presses[0], scenario)
    table = tomllib.loads("[[press]]\n" + face.config(0.2))["press"][0]["collector"]
    assert table["shot_counter"] == {"token": "ActCntCyc"}
    assert table["passive"] is True
    assert table["channels"]["melt_temperature"] == {"token": "ActTmpBrlZn[1,4]", "unit": "degC"}
