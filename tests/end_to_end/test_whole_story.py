"""The whole job once through: from the print of an insert to the decision after the shift, and the record of it.

One trial on the rinse-manifold press of the demo: a reused simple half, a queue of single-use pieces from three plates,
36 simulated shots over a real wire with a balance beside it, the bath, a bad part found late, release and scrap,
review, export, and the same shots taken into another log.
"""

import csv
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from shotlog import recording
from shotlog.cli.main import main
from shotlog.records import LoggedShot
from simulators.recording import runs, write_recording
from simulators.story import load
from tests.end_to_end.running import Run, ServedPress, pseudo_terminal

N_SHOTS = 36
BAD = 30
"""The part found bad a day later: the simple half's life then ends at 29 shots."""

CONFIG = """
[log]
store = "sqlite:///trial.db"
[trial]
name = "manifold trial"
part = "rinse manifold"
resin = "PP"
[[press]]
name = "P15"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = {port}
  poll_s = 0.01
  timeout_s = 1.0
  table = "input"
  shot_counter = {{ address = 0, type = "uint16" }}
    [press.collector.channels]
    cushion       = {{ address = 1, type = "uint16", scale = 0.01, unit = "mm" }}
    peak_pressure = {{ address = 2, type = "uint16", scale = 0.1, unit = "bar" }}
    fill_time     = {{ address = 3, type = "uint16", scale = 0.001, unit = "s" }}
[[balance]]
name = "balance-1"
port = "{balance}"
weighs = "P15"
after_s = 600.0
poll_s = 0.01
[design.manifold-simple-r1]
settling_shots = 10
  [design.manifold-simple-r1.cost]
  insert = 31.0
  changeover = 13.0
[design.manifold-soluble-r1]
dissolve_h = 26.0
  [design.manifold-soluble-r1.cost]
  part = 0.9
  insert = 1.5
  late_find = 7.0
  [design.manifold-soluble-r1.tolerance]
  bore = {{ low = 3.95, high = 4.05 }}
"""

Typed = Callable[..., str]

pytestmark = pytest.mark.skipif(not hasattr(os, "openpty"), reason="this system has no pseudo-terminals")


@pytest.fixture
def typed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Typed:
    """Type a command on the trial's configuration; it must succeed; returns what it printed."""

    def run(command: str, *words: object, config: str = "trial.toml") -> str:
        capsys.readouterr()
        status = main([command, str(tmp_path / config), *map(str, words)])
        said = capsys.readouterr()
        assert status == 0, said.err
        return said.out

    return run


def simulated(folder: Path) -> list[LoggedShot]:
    """Return what the manifold press of the demo reports."""
    scenario = load("demo")
    with (folder / "simulated.csv").open("w", encoding="utf-8", newline="") as file:
        write_recording(scenario, runs(scenario, N_SHOTS), file)
    return [shot for shot in recording.read(folder / "simulated.csv") if shot.press == "P15"]


def words_of(shot: LoggedShot) -> list[int]:
    """Return the registers that show a shot."""
    scaled = (("cushion", 100), ("peak_pressure", 10), ("fill_time", 1000))
    return [shot.shot, *(round(shot.values[name] * by) for name, by in scaled)]


def mould(folder: Path, typed: Typed) -> list[LoggedShot]:
    """Set the press up, mould, and weigh every fourth shot; returns what the press reported."""
    shots = simulated(folder)
    with pseudo_terminal() as (wire, port), ServedPress() as press:
        config = folder / "trial.toml"
        config.write_text(CONFIG.format(port=press.port, balance=port), encoding="utf-8")
        typed("check")
        printed_and_mounted(typed)
        press.bank.set_input_registers(0, [0, *words_of(shots[0])[1:]])
        with Run(config) as run:
            run.wait_for("balance-1: connected: ")
            run.wait_for("P15: shot 0 |P15: connected: ")
            for shot in shots:
                press.bank.set_input_registers(0, words_of(shot))
                run.wait_for(f"P15: shot {shot.shot} ")
                if shot.shot % 4 == 0:
                    os.write(wire, f"W +{shot.values['part_weight']:.3f} g =\r\n".encode())
                    run.wait_for("P15: weighed ", shot.shot // 4)
            assert run.stop() == 0
    return shots


def printed_and_mounted(typed: Typed) -> None:
    making = ("--resin", "ceramic-filled photopolymer", "--post-cure", "60 min 60 degC", "--cured", "2026-01-05T10:00Z")
    typed("insert", "SH-02", "--design", "manifold-simple-r1", "--print-batch", "HB-1", "--cost", 31, *making,
          "--dimension", "gate=1.20", "--initials", "ab")  # fmt: skip
    typed("mount", "P15", "SH-02", "--half", "fixed", "--at-shot", 1)
    places = ",".join(f"{row}{column}" for row in "abc" for column in range(1, 5))
    for plate, first in ((1, 1), (2, 13), (3, 25)):
        where = ("--at-shot", 1) if first == 1 else ()
        typed("queue", "P15", f"S-{first:02d}..S-{first + 11:02d}", "--design", "manifold-soluble-r1",
              "--print-batch", f"PL-{plate}", "--plate", f"plate {plate}", "--positions", places, *where)  # fmt: skip
    typed("note", "P15", "lot", "L1", "--at-shot", 1)


def inspect_and_decide(typed: Typed) -> None:
    """Bath in, bath out, and what was found the day after."""
    typed("bath", "make-up", "B1", "--concentration", "0.9..1.1", "--temperature", "38..42")
    typed("bath", "check", "B1", "--concentration", "1.02", "--temperature", "40.5")
    typed("bath", "in", "B1", "P15", f"1-{N_SHOTS}", "--initials", "ab")
    assert len(json.loads(typed("bath", "list", "--json"))["parts"]) == N_SHOTS
    typed("bath", "out", "P15", f"1-{N_SHOTS}", "--initials", "cd")
    for shot in (1, 5, 9, 14, 20, 25):
        assert "within" in typed("inspect", "P15", f"{shot}/1", "--dimension", f"bore=4.0{shot % 4}")
    said = typed("inspect", "P15", f"{BAD}/1", "--finding", "flash at the parting line", "--half", "fixed")
    assert f"the life of SH-02 ends at this part, after {BAD - 1} shots" in said
    held = [row["shot"] for row in json.loads(typed("parts", "P15", "--json"))["parts"] if row["state"] == "held"]
    assert set(range(BAD, N_SHOTS + 1)) <= set(held)
    typed("parts", "P15", f"{BAD}-{BAD + 1}", "--scrap", "--reason", "flash", "--initials", "cd")
    typed("parts", "P15", f"{BAD + 2}-{N_SHOTS}", "--release", "--reason", "found sound", "--initials", "cd")
    typed("remove", "P15", "SH-02", "--reason", "flash at the parting line")


def test_from_the_print_to_the_decision_and_the_record_of_it(tmp_path: Path, typed: Typed) -> None:
    shots = mould(tmp_path, typed)
    inspect_and_decide(typed)
    one_part(typed)
    review(tmp_path, typed, shots)
    export(tmp_path, typed, shots)
    assert "nothing changed later" in typed("verify")


def one_part(typed: Typed) -> None:
    """The bad part tells its whole story on one page."""
    (chain,) = json.loads(typed("part", "P15", f"{BAD}/1", "--json"))
    assert chain["halves"]["fixed"]["print_batch"] == "HB-1"
    piece = chain["halves"]["moving"]
    assert (piece["serial"], piece["print_batch"], piece["plate_position"]) == (f"S-{BAD}", "PL-3", "b2")
    assert (chain["lot"], chain["state"]) == ("L1", "scrapped")
    assert [soak["bath"] for soak in chain["bath"]] == ["B1"]
    assert [one["result"] for one in chain["inspections"]] == ["flash at the parting line"]
    assert [one["decision"] for one in chain["decisions"]] == ["scrapped"]


def review(folder: Path, typed: Typed, shots: list[LoggedShot]) -> None:
    document = json.loads(typed("review", "--json", "--out", folder / "shift.html"))
    (press,) = document["presses"]
    assert press["shots"][-N_SHOTS:] == [shot.shot for shot in shots]
    assert press["values"]["cushion"][-N_SHOTS:] == [shot.values["cushion"] for shot in shots]
    assert (press["n_missed"], press["parts"]["scrapped"]) == (0, 2)
    batches = {one["print_batch"]: one["n_pieces"] for one in press["pieces"]["series"]}
    assert batches == {"PL-1": 12, "PL-2": 12, "PL-3": 12}
    assert press["weighed"]["n"] == N_SHOTS // 4
    assert [soak["bath"] for soak in press["soaks"]] == ["B1"] * N_SHOTS
    (life,) = (entry["life"] for entry in document["ledger"]["entries"])
    assert (life["serial"], life["failed"], life["sound"]) == ("SH-02", True, BAD - 1)
    assert life["dated_by"] == "first part found bad"
    page = (folder / "shift.html").read_text(encoding="utf-8")
    for said in ("manifold trial", "SH-02", "PL-3", "flash at the parting line", document["log"]["digest"]):
        assert said in page


def export(folder: Path, typed: Typed, shots: list[LoggedShot]) -> None:
    """The trial's folder, and its shots taken into another log: the same shots on the same inserts."""
    typed("export", "--out", folder / "handed-over")
    trial = folder / "handed-over" / "manifold-trial"

    def rows(name: str) -> list[dict[str, Any]]:
        with (trial / name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    assert len(rows("weighings.csv")) == N_SHOTS // 4
    assert {row["shot"]: row["state"] for row in rows("parts.csv")}[str(BAD)] == "scrapped"
    assert len([row for row in rows("inserts.csv") if row["plate_position"]]) >= N_SHOTS
    again = CONFIG.format(port=1, balance="none").replace("trial.db", "again.db")
    (folder / "again.toml").write_text(again, encoding="utf-8")
    typed("import", trial / "shots.csv", config="again.toml")
    typed("export", "--out", folder / "again.csv", config="again.toml")
    before = {shot.shot: (shot.values, shot.halves) for shot in recording.read(trial / "shots.csv")}
    after = {shot.shot: (shot.values, shot.halves) for shot in recording.read(folder / "again.csv")}
    assert after == before
    assert set(after) >= {shot.shot for shot in shots}
