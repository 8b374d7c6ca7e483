"""The command ``learn``: watches a press, shows what it found, writes the map into the configuration or leaves it."""

import io
import json
import threading
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.channels import CHANNELS
from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.learning.asking import Asker
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
    assert "nothing was written: add --yes" in said.err
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
    assert main(["check", str(out)]) == 0
    assert tomllib.loads(written)["press"][0]["collector"]["channels"]["cushion"]["scale"] == 0.01


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


def test_the_screen_is_asked_for_and_a_slip_is_asked_again() -> None:
    answers = iter(["1042", "5,12", "", "0.84 s", *[""] * 9])
    told: list[str] = []
    asker = Asker(lambda question: next(answers), told.append)
    first = asker(2)
    assert first is not None
    assert (first.shot, first.counted) == (1042, 2)
    assert {name: one.value for name, one in first.figures.items()} == {"cushion": 5.12, "fill_time": 0.84}
    again = iter(["", "five", "5.11", "0.85"])
    second = Asker.__call__(_with(asker, lambda question: next(again)), 5)
    assert second is not None
    assert {name: one.value for name, one in second.figures.items()} == {"cushion": 5.11, "fill_time": 0.85}
    assert any("allowed: a number as the screen shows it" in line for line in told)


def _with(asker: Asker, ask: object) -> Asker:
    asker._ask = ask  # type: ignore[assignment]
    return asker


def test_a_terminal_that_is_closed_ends_the_questions() -> None:
    def closed(question: str) -> str:
        raise EOFError

    assert Asker(closed, lambda line: None)(2) is None


def test_every_channel_that_is_read_has_its_usual_level() -> None:
    assert set(USUAL) == set(CHANNELS) - {"mass_balance"}
    for name, usual in USUAL.items():
        assert CHANNELS[name].low <= usual.level <= CHANNELS[name].high
