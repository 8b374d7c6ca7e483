"""Recordings and truth files: reproducible, complete, and the truth only in the truth."""

import csv
import io
from datetime import datetime

import pytest

from shotlog import recording
from shotlog.channels import CHANNELS
from simulators.__main__ import main
from simulators.causes import CAUSES
from simulators.operator import acts
from simulators.recording import runs, truth, write_recording
from simulators.story import load, read, scenario_names

FIXED = ["press", "shot", "time", "fixed", "moving", "core", "design", "event", "single_use", "print_batch"]


def recorded(name, shots=None, seed=None):
    scenario = load(name)
    out = io.StringIO()
    write_recording(scenario, runs(scenario, shots, seed), out)
    return out.getvalue()


def rows(text):
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("name", scenario_names())
@pytest.mark.parametrize("shots", [1_000, pytest.param(10_000, marks=pytest.mark.long)])
def test_any_number_of_shots_a_press_comes_out_the_same_twice(name, shots):
    once, again = recorded(name, shots), recorded(name, shots)
    assert once == again
    assert once.count("\n") == 1 + shots * len(load(name).presses)


def test_ten_thousand_shots_of_the_demo_come_out_the_same_twice():
    test_any_number_of_shots_a_press_comes_out_the_same_twice("demo", 10_000)


@pytest.mark.parametrize("name", scenario_names())
def test_every_value_is_believable_and_every_shot_there(name):
    scenario = load(name)
    table = rows(recorded(name))
    assert list(table[0]) == FIXED + [channel for channel in CHANNELS if channel in table[0]]
    for press in scenario.presses:
        mine = [row for row in table if row["press"] == press.name]
        shots = press.shots or scenario.shots
        assert [int(row["shot"]) - press.first_count for row in mine] == list(range(1, shots + 1))
        times = [datetime.fromisoformat(row["time"]) for row in mine]
        assert times == sorted(times)
        assert times[0].tzinfo is not None
        assert all(row["fixed"] for row in mine)
    for row in table:
        for name in set(row) - set(FIXED):
            assert CHANNELS[name].low <= float(row[name]) <= CHANNELS[name].high


def test_another_seed_is_another_run():
    assert recorded("demo", 20) != recorded("demo", 20, seed=99)


def test_the_recording_holds_what_was_logged_and_no_more():
    events = {row["shot"]: row["event"] for row in rows(recorded("lot_changes")) if row["event"]}
    assert events == {"60": "lot:L2", "170": "lot:L3"}
    text = recorded("lot_changes")
    assert "lot-change" not in text
    causes = [(row[1], row[5]) for row in truth(runs(load("lot_changes"))[0])]
    assert causes == [("lot-change", 60), ("lot-change", 170), ("lot-change", 250), ("lot-change", 350)]


def test_a_single_use_half_takes_a_new_serial_every_shot():
    table = [row for row in rows(recorded("demo")) if row["press"] == "P15"]
    assert [row["moving"] for row in table[:14]] == [f"S-{number}" for number in range(1, 15)]
    assert {row["fixed"] for row in table[:48]} == {"SH-02"}
    assert {row["single_use"] for row in table} == {"moving"}
    assert table[24]["print_batch"] == "moving:PL-3"
    assert table[36]["print_batch"] == "moving:PL-4"


@pytest.mark.parametrize("name", scenario_names())
def test_every_half_is_recorded_with_its_own_design(name, tmp_path):
    """With one design for all halves a fixed half would count among the lives of the moving ones' design."""
    scenario = load(name)
    path = tmp_path / "recording.csv"
    path.write_text(recorded(name), encoding="utf-8")
    mounted = {
        (press.name, act["serial"]): act["design"]
        for press in scenario.presses
        for _, act in acts(press, press.shots or scenario.shots)
        if act["do"] == "mount" and not act["single_use"]
    }
    found = {
        (shot.press, held.serial): held.design
        for shot in recording.read(path)
        for held in shot.halves.values()
        if not held.single_use
    }
    assert found == mounted


def test_the_truth_of_the_demo_press_is_the_published_one():
    found = {(row[1], row[4], row[5], row[6]) for row in truth(runs(load("demo"))[0])}
    assert found == {
        ("gate-erosion", "B-11", 59, 92),
        ("lot-change", "", 118, 345),
        ("core-loss", "B-12", 152, 168),
        ("parting-line", "A-07", 206, 282),
        ("check-ring", "", 297, 345),
    }


def test_the_truth_names_the_piece_and_not_its_series():
    found = {(row[1], row[4], row[5], row[6]) for row in truth(runs(load("demo"))[1])}
    assert found == {
        ("piece-crack", "S-19", 19, 19),
        ("swelling", "S-25", 25, 36),
        ("parting-line", "SH-02", 39, 48),
    }


def test_causes_are_listed_with_their_keys(capsys):
    assert main(["list", "--causes"]) == 0
    told = capsys.readouterr().out
    for name in CAUSES:
        assert f"\n{name} (" in f"\n{told}"
    assert "keys: rate = 0.0011" in told


@pytest.mark.parametrize("name", ["healthy_week", "bad_wires"])
def test_nothing_is_wrong_in_a_sound_scenario(name):
    bad = [row for run in runs(load(name)) for row in truth(run) if row[2] != "material" or row[7] != ""]
    assert bad == []


def test_every_other_scenario_has_a_cause_with_a_known_onset():
    for name in scenario_names():
        if name not in ("healthy_week", "bad_wires"):
            found = [row for run in runs(load(name)) for row in truth(run)]
            assert found, name
            assert all(1 <= row[5] <= row[6] for row in found), name


def test_the_files_of_the_command(tmp_path, capsys):
    paths = [tmp_path / name for name in ("f.csv", "t.csv", "l.csv", "p.png")]
    options = [
        str(word) for pair in zip(("--out", "--truth", "--levels", "--png"), paths, strict=True) for word in pair
    ]
    assert main(["record", "demo", "--shots", "160", *options]) == 0
    assert "320 shots on 2 presses" in capsys.readouterr().err
    told = rows(paths[1].read_text("utf-8"))
    assert told[0] == {
        "press": "P25",
        "cause": "gate-erosion",
        "group": "insert",
        "half": "moving",
        "insert": "B-11",
        "onset": "59",
        "last": "92",
        "first_bad": "86",
        "level_end": "0.0374",
        "unit": "mm radius",
    }
    levels = rows(paths[2].read_text("utf-8"))
    assert levels[57]["cause"] == ""
    assert (levels[58]["cause"], levels[58]["bad"], levels[85]["bad"]) == ("gate-erosion", "0", "1")
    assert float(levels[57]["cushion"]) == pytest.approx(4.94, abs=0.001)
    assert paths[3].read_bytes().startswith(b"\x89PNG")


def test_traces_of_the_command(tmp_path):
    out, folder = str(tmp_path / "f.csv"), tmp_path / "traces"
    assert (
        main(["record", "check_ring", "--shots", "2", "--out", out, "--traces", str(folder), "--trace-rate", "100"])
        == 0
    )
    assert sorted(path.name for path in folder.iterdir()) == ["P41_000001.csv", "P41_000002.csv"]


def test_list_names_every_scenario(capsys):
    assert main(["list"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == scenario_names()
    assert len(lines) >= 13


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("shots = 3", "given nothing, allowed: at least one [[press]]"),
        ('[[press]]\nname = "A1"\npreset = "glass"', "given 'glass', allowed: pa66-gf30"),
        ('[[press]]\nname = "A1"\nmount = [{ side = "moving" }]', "mount 1: given 'side', allowed: at_shot, half"),
        ('[[press]]\nname = "A1"\ncause = [{ kind = "rust" }]', "cause 1: kind: given 'rust', allowed: gate-erosion"),
        ('[[press]]\nname = "A1"\nedit = [{ key = "zones_degc" }]', "edit: given 'zones_degc', allowed: dose_mm"),
        ('[[press]]\nname = "A1"\nstop = [{ at_shot = 0 }]', "stop 1: at_shot: given 0, allowed: 1 or more"),
        (
            '[[press]]\nname = "A1"\nnoise = { fill_s = "wide" }',
            "fill_s: given 'wide', allowed: the same kind as 0.004",
        ),
        ('[[press]]\nname = "A1"\n[[press]]\nname = "A1"', "given A1, A1, allowed: each name once"),
        (
            '[[press]]\nname = "A1"\ncause = [{ kind = "drool", group = "press" }]',
            "(drool): given 'group', allowed: half",
        ),
        ("title = ", "allowed: TOML"),
    ],
)
def test_a_wrong_scenario_is_told_in_one_line(text, said):
    with pytest.raises(Exception, match="given") as told:
        read(text, "story")
    assert said in str(told.value)
    assert "\n" not in str(told.value)


def test_nothing_to_write_is_told(capsys):
    assert main(["record", "demo"]) == 2
    assert "given nothing to write, allowed: --out, --truth" in capsys.readouterr().err


def test_an_unknown_scenario_names_the_known_ones(capsys):
    assert main(["record", "nowhere", "--out", "x.csv"]) == 2
    assert "given 'nowhere', allowed: a TOML file or one of bad_wires" in capsys.readouterr().err
