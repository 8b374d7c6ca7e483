"""The command ``learn``: watches a press, shows what it found, writes the map into the configuration or leaves it."""

import io
import json
import threading
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.channels import CHANNELS
from shotlog.cli.learn import _is_wanted
from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.learning.asking import Asker, Questions
from shotlog.learning.screen import ScreenShot
from shotlog.learning.usual import USUAL
from tests.contract.peers import TcpPeer
from tests.learning.played import LEVELS, PlayedPress, Word, made_shots
from tests.learning.test_reading import OnTheWire

CONFIG = """# half filled
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P1"   # the small one
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = {port}
  timeout_s = 5.0
"""


@pytest.fixture
def wire() -> Iterator[tuple[OnTheWire, int]]:
    rows = [
        Word(8, "counter"),
        Word(20, "cushion", "int16", 0.01),
        Word(21, "peak_pressure"),
        Word(22, "fill_time", "float32"),
    ]
    levels = {**LEVELS, "cycle_time": (5.0, 0.1)}
    on_the_wire = OnTheWire(PlayedPress(HandClock(), rows, made_shots(200, 2, levels)))
    with TcpPeer() as server:
        server.registers = on_the_wire  # type: ignore[assignment]
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield on_the_wire, server.server_address[1]
        finally:
            server.shutdown()
            thread.join()


def seen(wire: OnTheWire, count: int) -> str:
    shot = wire.played.on_screen(count)
    figures = (f"{name}={shot[name]:.{n}f}" for name, n in (("cushion", 2), ("peak_pressure", 0), ("fill_time", 3)))
    return f"shot={count},{','.join(figures)}"


def test_it_finds_the_map_and_writes_what_check_takes(
    wire: tuple[OnTheWire, int], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    on_the_wire, port = wire
    file = tmp_path / "trial.toml"
    file.write_text(CONFIG.format(port=port), encoding="utf-8")
    figures = [text for count in (1039, 1041) for text in ("--seen", seen(on_the_wire, count))]
    asked = ["learn", str(file), "--registers", "0-60", "--shots", "4", "--pace", "50", *figures]
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert main([*asked, "--json"]) == 0
    said = capsys.readouterr()
    document = json.loads(said.out)
    assert document["shot_counter"]["address"] == 8
    assert {name: one["address"] for name, one in document["channels"].items() if one["sure"] == "settled"} == {
        "cushion": 20, "peak_pressure": 21, "fill_time": 22,
    }  # fmt: skip
    assert document["written"] is None
    kept = tmp_path / "trial.toml.learnt"
    assert f"nothing was written into {file}: add --yes" in said.err
    assert f"{kept} is the same configuration with the map in it" in said.err
    assert main(["check", str(kept)]) == 0
    kept.unlink()
    assert file.read_text(encoding="utf-8") == CONFIG.format(port=port)
    assert on_the_wire.functions == {3}

    out = tmp_path / "learned.toml"
    out.write_bytes(b"what stood there")
    file.write_bytes(CONFIG.format(port=port).replace("\n", "\r\n").encode())
    on_the_wire.played.clock = HandClock()
    assert main([*asked, "--out", str(out), "--yes"]) == 0
    table = capsys.readouterr().out
    assert "settled" in table
    assert "shows the 2 figures read off the screen" in table
    written = out.read_bytes().decode()
    assert written.startswith(CONFIG.format(port=port).rstrip("\n").replace("\n", "\r\n"))
    assert written.count("\n") == written.count("\r\n")
    assert (tmp_path / "learned.toml.before-learn").read_bytes() == b"what stood there"
    assert not list(tmp_path.glob("*.learnt"))
    assert main(["check", str(out)]) == 0
    assert tomllib.loads(written)["press"][0]["collector"]["channels"]["cushion"]["scale"] == 0.01


@pytest.mark.parametrize(("answers", "wanted"), [(["", "", "y"], True), (["", "no"], False), ([], False)])
def test_an_empty_line_is_no_answer_to_whether_it_is_written(
    answers: list[str], wanted: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Enters typed ahead, through the questions before, were taken for no, and the proposal was lost."""
    left = iter(answers)

    def typed(question: str) -> str:
        try:
            return next(left)
        except StopIteration:
            raise EOFError from None

    monkeypatch.setattr("builtins.input", typed)
    monkeypatch.setattr("shotlog.cli.learn.forget_typed_ahead", lambda: None)
    assert _is_wanted(Path("trial.toml")) is wanted


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([], "--registers: given nothing, allowed: the addresses that may be read, such as 0-199"),
        (["--registers", "9-3"], "--registers: given '9-3', allowed: from low to high"),
        (["--registers", "0-9", "--shots", "1"], "--shots: given 1, allowed: 3 to 1000"),
        (["--registers", "0-9", "--seen", "cusion=5"], "--seen: given 'cusion', allowed: shot, cushion"),
        (["--registers", "0-9", "--seen", "shot=7,cushion=5 bar"], "unit 'bar' cannot be converted to mm"),
        (["--registers", "0-9", "--seen", "shot=7,peak_pressure=8o9"], "given '8o9', which is no number, allowed: "),
        (["--registers", "0-9", "--seen", "cushion=5.12"], "--seen: given no shot, allowed: figures with their shot"),
        (["--registers", "0-9", "--seen", "shot=7,mass_balance=1"], "--seen: given 'mass_balance', allowed: shot, "),
        (["--registers", "0-9", "--screen", "missing.csv"], "--screen: given missing.csv, allowed: a readable CSV"),
        (["--press", "P9"], 'press: given "P9", allowed: P1'),
    ],
)
def test_what_is_given_wrongly_is_said_in_one_line(
    given: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "c.toml").write_text(CONFIG.format(port=1), encoding="utf-8")
    assert main(["learn", str(tmp_path / "c.toml"), *given]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("shotlog learn: ")
    assert said in line


def asked(*answers: str, channels: list[str] | None = None) -> tuple[ScreenShot | None, list[str], Asker]:
    """Answer the questions about the screen; shots 1040 to 1042 were watched, and 1043 from the third question on."""
    left, told = list(answers), list[str]()
    shown = [1040, 1041, 1042]

    def ask(question: str) -> str:
        told.append(question)
        if len(told) > 3 and shown[-1] == 1042:
            shown.append(1043)
        return left.pop(0)

    asker = Asker(ask, told.append)
    if channels is not None:
        asker._channels = channels
    answer = asker(lambda: [shown, [7, 8, 9]])
    assert not left
    return answer, told, asker


def test_the_screen_is_asked_for_and_a_slip_is_asked_again() -> None:
    first, told, asker = asked("1042", "5,12", "", "five", "0.84 s", *[""] * 9)
    assert first is not None
    assert (first.shot, first.counted) == (1042, None)
    assert {name: one.value for name, one in first.figures.items()} == {"cushion": 5.12, "fill_time": 0.84}
    assert any("allowed: a number as the screen shows it" in line for line in told)
    assert "1040 to 1042 were watched" in told[1]
    assert asker._channels == ["cushion", "fill_time"]


def test_a_dot_ends_the_figures_or_all_questions() -> None:
    first, told, _ = asked("1042", "5.12", ".")
    assert first is not None
    assert list(first.figures) == ["cushion"]
    assert "a dot skips all that are left" in told[0]
    assert asked(".")[0] is None
    assert asked("1042", ".")[0] is None


def test_a_shot_that_was_not_watched_is_said_at_once_and_asked_again() -> None:
    """Thirteen prompts were answered for nothing, and then it was said that the shot had never been counted."""
    answer, told, _ = asked("1288", "1041", "5.12", channels=["cushion"])
    assert answer is not None
    assert answer.shot == 1041
    assert any("shot 1288 was not watched, and its figures would settle nothing: 1040 to 1042 were" in t for t in told)
    other, _, _ = asked("8", "5.12", channels=["cushion"])
    assert other is not None
    assert other.shot == 8
    ahead, _, _ = asked("1050", "1050", "5.12", channels=["cushion"])
    assert ahead is not None
    assert ahead.shot == 1050
    soon, _, _ = asked("1044", "5.12", channels=["cushion"])
    assert soon is not None
    assert soon.shot == 1044


def test_enter_for_the_shot_is_the_newest_that_was_watched() -> None:
    answer, _, _ = asked("", "5.12", channels=["cushion"])
    assert answer is not None
    assert (answer.shot, answer.counted) == (None, 2)


def test_a_second_screen_is_waited_for_and_a_third_is_not() -> None:
    shown = [1040, 1041, 1042]
    answers = iter(["1042", "5.12", ".", "1055", "5.13"])
    questions = Questions(Asker(lambda question: next(answers), lambda line: None))
    assert questions.keep_on
    assert not questions.are_due(1)
    assert questions.are_due(2)
    assert questions.put(lambda: [shown]) is not None
    assert questions.keep_on
    shown.extend(range(1043, 1056))  # it went on while the first was answered
    assert questions.are_due(15)
    assert questions.put(lambda: [shown]) is not None
    assert not questions.keep_on
    assert not questions.are_due(15)
    assert questions.are_due(16)


def test_who_says_that_this_is_all_is_asked_no_more() -> None:
    questions = Questions(Asker(lambda question: ".", lambda line: None))
    assert questions.put(lambda: [[1, 2, 3]]) is None
    assert not questions.keep_on
    assert not questions.are_due(99)


def test_empty_lines_typed_ahead_are_asked_again_at_a_later_shot_but_not_for_ever() -> None:
    questions = Questions(Asker(lambda question: "", lambda line: None))
    for n in (2, 5, 9):
        assert questions.are_due(n)
        assert questions.keep_on
        assert questions.put(lambda: [[1, 2, 3]]) is None
        assert not questions.are_due(n)
    assert not questions.keep_on


def test_a_terminal_that_is_closed_ends_the_questions() -> None:
    def closed(question: str) -> str:
        raise EOFError

    assert Asker(closed, lambda line: None)(lambda: [[1, 2]]) is None


def test_every_channel_that_is_read_has_its_usual_level() -> None:
    assert set(USUAL) == set(CHANNELS) - {"mass_balance"}
    for name, usual in USUAL.items():
        assert CHANNELS[name].low <= usual.level <= CHANNELS[name].high
