import argparse
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from reference_data import example

from shotlog.charts.audit import CHARTS
from shotlog.cli import chart
from shotlog.errors import NotEnoughShots, RecordingError, ShotlogError, UsageError


def call(*words: object) -> int:
    parser = argparse.ArgumentParser()
    chart.add(parser.add_subparsers(dest="command"))
    arguments = parser.parse_args(["chart", *map(str, words)])
    return int(arguments.run(arguments))


@pytest.fixture
def csv_file(tmp_path: Path) -> Any:
    def write(text: str) -> Path:
        path = tmp_path / "data.csv"
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture
def document(csv_file: Any, capsys: pytest.CaptureFixture[str]) -> Any:
    def run(xs: list[float], *words: object) -> dict[str, Any]:
        path = csv_file("shot,x\n" + "".join(f"{i},{'' if x is None else x}\n" for i, x in enumerate(xs)))
        assert call(path, "x", *words, "--json") == 0
        found: dict[str, Any] = json.loads(capsys.readouterr().out)
        return found

    return run


def test_individuals_example_of_the_handbook(document: Any) -> None:
    known = example("individuals_flowrate_6_3_2_2")
    found = document(known["inputs"]["x"], "--kind", "individuals")
    assert list(found) == [
        "kind", "n", "centre", "upper", "lower", "points", "signals", "arl0", "arl0_method", "median_run", "next_alarm",
        "limits_from",
    ]  # fmt: skip
    assert (found["kind"], found["n"], found["signals"]) == ("individuals", 10, [])
    assert found["points"] == known["inputs"]["x"]
    assert found["upper"] == pytest.approx(known["results"]["ucl_exact_d2"], abs=1e-8)
    assert found["lower"] == pytest.approx(known["results"]["lcl_exact_d2"], abs=1e-8)
    assert (found["arl0"], found["arl0_method"], found["limits_from"]) == (None, "infinite", 10)
    assert found["next_alarm"] == pytest.approx(0.023448, rel=0.01), "by limits from ten readings, not by known ones"
    assert found["median_run"] == 131
    ranges = document(known["inputs"]["x"], "--kind", "mr")
    assert ranges["points"][0] is None
    assert ranges["points"][1:] == pytest.approx(known["results"]["moving_ranges"])
    assert ranges["upper"] == pytest.approx(known["results"]["mr_ucl_exact"], abs=1e-8)


def test_ewma_example_of_the_handbook(document: Any) -> None:
    known = example("ewma_6_3_2_4")
    options = ("--kind", "ewma", "--target", 50, "--sd", 2.0539, "--lam", 0.3, "--width", 3)
    for found in (document(known["inputs"]["x"], *options), document(known["inputs"]["x"], *options, "--asymptotic")):
        assert found["points"] == pytest.approx(known["results"]["ewma"], abs=1e-8)
        assert found["upper"] == pytest.approx(known["published"]["ucl"], abs=1e-4)
        assert found["signals"] == []


def test_cusum_example_of_the_handbook(document: Any) -> None:
    known = example("cusum_6_3_2_3")
    for sd in (1.0, 0.635):
        found = document(
            known["inputs"]["x"], "--kind", "cusum", "--target", 325, "--sd", sd, "--k", 0.3175 / sd, "--h", 4.1959 / sd
        )
        assert [p["high"] for p in found["points"]] == pytest.approx(known["results"]["s_high"], abs=1e-8)
        assert [p["low"] for p in found["points"]] == pytest.approx(known["results"]["s_low"], abs=1e-8)
        assert found["signals"] == [{"index": i, "rule": "above"} for i in range(13, 20)]
        assert found["upper"] == pytest.approx(4.1959)


def test_self_starting_example(document: Any) -> None:
    known = example("self_starting_cusum")
    found = document(known["inputs"]["x"], "--kind", "self-starting", "--k", 0.5, "--h", 4)
    assert found["points"][:2] == [{"high": None, "low": None}] * 2
    assert [p["high"] for p in found["points"][2:]] == pytest.approx(known["results"]["cusum_high"][2:], abs=1e-8)
    assert found["signals"][0] == {"index": 14, "rule": "above"}


def test_t2_example_and_its_drivers(csv_file: Any, capsys: pytest.CaptureFixture[str]) -> None:
    known = example("hotelling_two_methods_15")
    rows = known["inputs"]["x"]
    path = csv_file("a,b\n" + "".join(f"{a},{b}\n" for a, b in rows))
    assert call(path, "a,b", "--kind", "t2", "--alpha", 0.05, "--json") == 0
    found = json.loads(capsys.readouterr().out)
    assert found["points"] == pytest.approx(known["results"]["t2"], abs=1e-8)
    assert found["upper"] == pytest.approx(known["results"]["phase1_beta_limit"]["0.05"], abs=1e-8)
    path = csv_file("a,b\n" + "".join(f"{a},{b}\n" for a, b in [*rows, [10.0, 19.0]]))
    for kind in ("t2", "mewma"):
        assert call(path, "a,b", "--kind", kind, "--baseline", 15, "--json") == 0
        found = json.loads(capsys.readouterr().out)
        assert found["points"][:15] == [None] * 15
        if kind == "mewma":
            assert 120 < found["arl0"] < 220, "a level learnt from 15 shots, not a known one"
        assert found["signals"][0]["index"] == 15
        assert "b" in found["signals"][0]["drivers"]


def test_baseline_is_not_judged_and_limits_are_its_own(document: Any) -> None:
    found = document([1.0, 2.0, 1.0, 2.0, 1.0, 90.0], "--kind", "individuals", "--baseline", 5)
    assert found["signals"] == [{"index": 5, "rule": "above"}]
    assert found["centre"] == pytest.approx(1.4)
    prediction = document([1.0, 2.0, 1.0, 2.0, 1.0, 90.0], "--kind", "individuals", "--baseline", 5, "--alpha", 0.01)
    assert prediction["upper"] > found["upper"]


def test_a_missing_cell_is_a_gap_not_a_zero(document: Any) -> None:
    found = document([10.0, None, 11.0, 10.0], "--kind", "individuals", "--target", 10, "--sd", 1)
    assert found["n"] == 4
    assert found["points"] == [10.0, None, 11.0, 10.0]
    assert found["signals"] == []


def test_known_limits_have_the_run_length_of_the_textbook(document: Any) -> None:
    found = document([0.1, 0.2], "--kind", "individuals", "--target", 0, "--sd", 1)
    assert found["arl0"] == pytest.approx(370.398, abs=1e-3)
    assert (found["median_run"], found["next_alarm"]) == (257, pytest.approx(0.0026998, abs=1e-7))
    assert (found["arl0_method"], found["limits_from"]) == ("computed", 0)


@pytest.mark.parametrize("kind", ["individuals", "mr", "ewma", "cusum"])
def test_limits_from_all_readings_are_no_known_ones(kind: str, document: Any) -> None:
    """All kinds claimed the run length of known limits, from ten readings as from a thousand."""
    x = np.random.default_rng(4).normal(size=12).tolist()
    found = document(x, "--kind", kind)
    known = document(x, "--kind", kind, *(("--target", 0) if kind != "mr" else ()), "--sd", 1)
    assert found["limits_from"] == 12
    assert found["median_run"] < 0.8 * known["median_run"]
    if kind in ("individuals", "mr"):
        assert found["next_alarm"] > 2.0 * known["next_alarm"]


def test_two_readings_tell_no_rate(document: Any) -> None:
    found = document([1.0, 2.0], "--kind", "individuals")
    assert (found["arl0"], found["next_alarm"], found["arl0_method"]) == (None, None, "unknown")


def test_rules_by_number_and_name(document: Any) -> None:
    x = [0.1] * 9
    base = ("--kind", "individuals", "--target", 0, "--sd", 1, "--rules")
    assert document(x, *base, 1, 2)["signals"] == [{"index": 8, "rule": "same-side-9"}]
    assert document(x, *base, "beyond,same-side-8")["signals"][0] == {"index": 7, "rule": "same-side-8"}
    assert document(x, *base, 1)["signals"] == []
    we = document(x, *base, "beyond", "two-of-three", "four-of-five", "same-side-8")
    assert we["arl0"] == pytest.approx(91.75, abs=0.005)


@pytest.mark.parametrize("kind", CHARTS)
def test_every_kind_runs_from_a_file_and_draws(
    kind: str, csv_file: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rng = np.random.default_rng(2)
    path = csv_file("a,b\n" + "".join(f"{a:.3f},{b:.3f}\n" for a, b in rng.normal(size=(30, 2))))
    picture = tmp_path / "chart.png"
    assert call(path, "a,b" if kind in ("t2", "mewma") else "a", "--kind", kind, "--png", picture) == 0
    text = capsys.readouterr().out
    assert text.startswith(f"{kind} chart of a")
    assert "false alarm" in text
    assert picture.read_bytes().startswith(b"\x89PNG")


BAD: list[tuple[str, tuple[object, ...], type[ShotlogError], str]] = [
    ("", ("x", "--kind", "ewma"), RecordingError, "the file is empty"),
    ("x\n", ("x", "--kind", "ewma"), NotEnoughShots, "column x holds no reading"),
    ("x\n\n\n", ("x", "--kind", "self-starting"), NotEnoughShots, "column x holds no reading"),
    ("x\n5\n", ("x", "--kind", "individuals"), NotEnoughShots, "1 readings in x without a spread"),
    ("x\n5\n5\n5\n", ("x", "--kind", "cusum"), NotEnoughShots, "3 readings in x without a spread"),
    ("x\n5\n5\n5\n5\n", ("x", "--kind", "q"), NotEnoughShots, "4 readings in x, more are needed; equal ones"),
    ("x\n5\n6\n7\n", ("x", "--kind", "individuals", "--baseline", 12), NotEnoughShots, "a baseline of 12 is needed"),
    ("x\n5\n6\n7\n", ("x", "--kind", "ewma", "--baseline", 3), NotEnoughShots, "and one more"),
    ("x\n5\n6\n", ("x", "--kind", "self-starting"), NotEnoughShots, "2 readings in x, more are needed"),
    ("x\n5\nsix\n", ("x", "--kind", "ewma"), RecordingError, "line 3, x: given 'six', allowed: a finite number"),
    ("x\n5\ninf\n", ("x", "--kind", "ewma"), RecordingError, "line 3, x: given 'inf'"),
    ("x\n5\n1e999\n", ("x", "--kind", "ewma"), RecordingError, "line 3, x: given '1e999'"),
    ("x\n5\n1e200\n6\n", ("x", "--kind", "ewma", "--target", 1, "--sd", 1), UsageError, "entry 1 is a reading"),
    ("y,x\n5,6\n5\n", ("x", "--kind", "ewma"), RecordingError, "line 3 is too short for column x"),
    ("x,x\n5,6\n", ("x", "--kind", "ewma"), UsageError, "given column 'x', allowed: one of x, x, named once"),
    ("x\n5\n", ("z", "--kind", "ewma"), UsageError, "given column 'z', allowed: one of x"),
    ("x\n5\n6\n", ("x", "--kind", "pareto"), UsageError, "given 'pareto', allowed: individuals, mr"),
    ("x\n5\n6\n", ("x", "--kind", "ewma", "--k", 1), UsageError, "--k: not used by kind ewma, allowed: --target"),
    ("x\n5\n6\n", ("x", "--kind", "ewma", "--lam", 2), UsageError, "given lam 2.0"),
    ("x\n5\n6\n", ("x", "--kind", "mr", "--sd", 0), UsageError, "given sigma 0.0"),
    ("x\n5\n6\n", ("x", "--kind", "mr", "--baseline", 1), UsageError, "given a baseline of 1 shots"),
    ("x\n5\n6\n", ("x", "--kind", "mr", "--width", 3, "--alpha", 0.01), UsageError, "given both"),
    ("x,y\n5,6\n", ("x,y", "--kind", "mr"), UsageError, "given 2 columns, allowed: one"),
    ("x,y\n5,6\n", ("x", "--kind", "t2"), UsageError, "allowed: two or more for t2"),
    ("x,y\n5,6\n6,7\n", ("x,y", "--kind", "t2"), NotEnoughShots, "2 complete rows, 5 are needed for 2 columns"),
    ("x,y\n" + "".join(f"{i},{i}\n" for i in range(9)), ("x,y", "--kind", "t2"), UsageError, "channel 2 has no spread"),
    (
        "x,y\n" + "".join(f"{i},{i}\n" for i in range(9)),
        ("x,y", "--kind", "t2", "--baseline", 6),
        NotEnoughShots,
        "9 read",
    ),
    ("x\n5\n6\n7\n", ("x", "--kind", "mr", "--png", "chart.jpg"), UsageError, "given 'chart.jpg', allowed: a name"),
    ("x\n5\n6\n7\n", ("x", "--kind", "individuals", "--rules", "9"), UsageError, "run rules: given 9"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words", "error", "said"), BAD, ids=[f"{i}-{b[3][:24]}" for i, b in enumerate(BAD)])
def test_bad_input_is_one_clear_sentence(
    text: str, words: tuple[object, ...], error: type[ShotlogError], said: str, csv_file: Any
) -> None:
    with pytest.raises(error) as caught:
        call(csv_file(text), *words)
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "data.csv"
    path.write_bytes(b"x\n\xff\xfe\x00")
    with pytest.raises(RecordingError, match="does not read as CSV"):
        call(path, "x", "--kind", "ewma")


def test_a_byte_order_mark_is_not_part_of_the_first_name(csv_file: Any) -> None:
    assert call(csv_file("\ufeffx\n1\n2\n1\n"), "x", "--kind", "individuals") == 0
