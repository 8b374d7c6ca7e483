"""What every chart promises; parametrised from the table, so that a new line in it is tested at once."""

import inspect
import json
import math
from typing import Any

import numpy as np
import pytest

from shotlog.charts import MISSING, Chart, ChartRun, VectorChart
from shotlog.charts.audit import CHARTS
from shotlog.charts.rules import RULES
from shotlog.errors import UsageError

KNOWN_TWO = {"mean": (10.0, 10.0), "covariance": ((1.0, 0.5), (0.5, 1.0))}
VARIANTS: list[tuple[str, dict[str, Any]]] = [(kind, {}) for kind in CHARTS] + [
    ("individuals", {"centre": 10.0, "sigma": 1.0, "rules": tuple(RULES)}),
    ("individuals", {"width": None, "estimate": "sd", "baseline": 5, "least": 0.3, "rules": tuple(RULES)}),
    ("individuals", {"centre": 10.0, "width": None}),
    ("mr", {"width": None, "baseline": 6}),
    ("mr", {"sigma": 1.0}),
    ("ewma", {"centre": 10.0, "sigma": 1.0, "lam": 0.05}),
    ("ewma", {"centre": 10.0, "sigma": 1.0, "varying": False, "head_start": 0.5}),
    ("cusum", {"centre": 10.0, "sigma": 1.0, "head_start": 2.5}),
    ("t2", {**KNOWN_TWO}),
    ("t2", {"n_channels": 3, "baseline": 10, "estimate": "sample"}),
    ("mewma", {**KNOWN_TWO, "varying": True, "h": 9.0}),
    ("q", {"centre": 10.0, "rules": tuple(RULES)}),
    ("self-starting", {"sigma": 1.0, "head_start": 2.0}),
    ("self-starting", {"least_sigma": 0.5}),
    ("deviation", {"sigma": 1.0, "freedom": 40, "start": 3}),
    ("deviation", {"sigma": 1.0, "freedom": 40, "target": 10.0}),
    ("changepoint", {"first": 3, "alpha": 0.005, "window": 20}),
    ("trend", {"width": 2.0, "baseline": 6}),
    ("residual", {"level": 10.0, "phi": 0.4, "spread": 1.0}),
]
NAMES = [f"{kind}-{i}" for i, (kind, _) in enumerate(VARIANTS)]


@pytest.fixture(params=VARIANTS, ids=NAMES)
def variant(request: pytest.FixtureRequest) -> tuple[str, dict[str, Any]]:
    return request.param


def build(variant: tuple[str, dict[str, Any]]) -> Any:
    kind, parameters = variant
    return CHARTS[kind](**parameters)


def data(chart: Any, n: int = 300, missing: bool = True) -> np.ndarray:
    rng = np.random.default_rng(20251125)
    shape = (n,) if isinstance(chart, Chart) else (n, chart.n_channels)
    xs = rng.normal(10.0, 1.0, shape).round(2)
    xs[n // 2 :] += 1.5
    if missing:
        xs[[0, 7, 8, 61, n - 1]] = np.nan
    return xs


def same(a: ChartRun, b: ChartRun) -> None:
    for name in ("value", "centre", "lower", "upper", "detail"):
        np.testing.assert_array_equal(getattr(a, name), getattr(b, name), err_msg=name)
    assert list(a.fired) == list(b.fired)
    for name, mask in a.fired.items():
        np.testing.assert_array_equal(mask, b.fired[name], err_msg=name)


def n_detail(chart: Any) -> int:
    return chart.n_detail if isinstance(chart, VectorChart) else len(chart.detail_names)


def test_array_form_is_the_loop_bit_for_bit(variant: tuple[str, dict[str, Any]]) -> None:
    loop, whole = build(variant), build(variant)
    xs = data(loop)
    same(ChartRun.of([loop.update(x) for x in xs], loop.rule_names, n_detail(loop)), whole.run(xs))
    assert loop.save() == whole.save()
    assert any(mask.any() for mask in whole.run(xs + 1e4).fired.values()), "the test would not see a signal"


@pytest.mark.parametrize("cut", [0, 1, 4, 13, 40, 150, 299, 300])
def test_run_in_two_parts_through_json_is_the_whole_run(variant: tuple[str, dict[str, Any]], cut: int) -> None:
    whole, first, second = build(variant), build(variant), build(variant)
    xs = data(whole)
    head = first.run(xs[:cut])
    second.restore(json.loads(json.dumps(first.save(), allow_nan=False)))
    same(ChartRun.join(head, second.run(xs[cut:])), whole.run(xs))
    assert second.save() == whole.save()


def test_restore_overwrites_whatever_was_there(variant: tuple[str, dict[str, Any]]) -> None:
    chart, other = build(variant), build(variant)
    empty = chart.save()
    other.run(data(other))
    other.restore(empty)
    assert other.save() == empty
    same(other.run(data(other)), chart.run(data(chart)))


def test_input_is_left_as_it_was(variant: tuple[str, dict[str, Any]]) -> None:
    chart = build(variant)
    xs = data(chart)
    before = xs.copy()
    chart.run(xs)
    np.testing.assert_array_equal(xs, before)
    assert xs.flags.writeable


def test_a_missing_value_skips_and_never_alarms(variant: tuple[str, dict[str, Any]]) -> None:
    gaps, plain = build(variant), build(variant)
    xs = data(gaps, missing=False)
    holes = np.insert(xs, [0, 3, 20, 20, 160, 300], math.nan, axis=0)
    present = ~np.isnan(holes.reshape(len(holes), -1)).any(axis=1)
    run, reference = gaps.run(holes), plain.run(xs)
    np.testing.assert_array_equal(run.value[present], reference.value)
    for name, mask in run.fired.items():
        assert not mask[~present].any()
        np.testing.assert_array_equal(mask[present], reference.fired[name])
    assert np.isnan(run.value[~present]).all()
    state = gaps.save()
    missing = math.nan if isinstance(gaps, Chart) else [math.nan] * gaps.n_channels
    assert gaps.update(missing) == MISSING or gaps.update(missing).rules == ()
    assert gaps.save() == state


def test_constant_data_divide_by_nothing_and_never_alarm(variant: tuple[str, dict[str, Any]]) -> None:
    chart = build(variant)
    run = chart.run(np.full_like(data(chart, missing=False), 10.0))
    run_rules = {"near-centre-15", "away-8"}
    assert not [hit for hit in run.signals if hit[1] not in run_rules]
    judged = ~np.isnan(run.upper)
    assert (run.upper[judged] > run.lower[judged]).all()
    assert not np.isinf(run.value[judged]).any()


def test_state_does_not_grow_with_the_history(variant: tuple[str, dict[str, Any]]) -> None:
    chart = build(variant)
    chart.run(data(chart, 600))
    size = len(chart.save())
    chart.run(data(chart, 600))
    assert len(chart.save()) == size


def test_a_state_is_flat_and_says_whose_it_is(variant: tuple[str, dict[str, Any]]) -> None:
    chart = build(variant)
    chart.run(data(chart))
    state = chart.save()
    assert state[0] == chart.kind == variant[0]
    assert all(type(entry) in (float, int, str, type(None)) for entry in state)
    with pytest.raises(UsageError, match="state of 'other'"):
        chart.restore(("other", *state[1:]))
    with pytest.raises(UsageError, match="allowed: "):
        chart.restore([])


@pytest.mark.parametrize("bad", [math.inf, -math.inf, 1e200])
def test_an_infinite_reading_is_refused_in_both_forms(variant: tuple[str, dict[str, Any]], bad: float) -> None:
    chart = build(variant)
    xs = data(chart)
    xs[30] = bad
    with pytest.raises(UsageError, match=f"{chart.kind}: (entry|row) 30.*allowed: finite"):
        chart.run(xs)
    with pytest.raises(UsageError, match=f"{chart.kind}: given .*allowed: finite"):
        chart.update(xs[30])


def test_an_array_of_the_wrong_shape_is_refused(variant: tuple[str, dict[str, Any]]) -> None:
    chart = build(variant)
    wrong = np.zeros((5, 7)) if isinstance(chart, Chart) else np.zeros(5)
    with pytest.raises(UsageError, match="array of"):
        chart.run(wrong)


@pytest.mark.parametrize("n", [0, 1, 2])
def test_few_readings_are_no_error_and_no_signal(variant: tuple[str, dict[str, Any]], n: int) -> None:
    chart = build(variant)
    xs = 10.0 + 0.1 * (data(chart, missing=False)[:n] - 10.0)
    run = chart.run(xs)
    assert len(run) == len(run.points()) == n
    assert run.signals == []


def test_huge_and_tiny_readings_give_numbers(variant: tuple[str, dict[str, Any]]) -> None:
    for factor in (1e-140, 1e120):
        chart = build(variant)
        run = chart.run(data(chart) * factor)
        assert not np.isinf(run.value).any()


def test_points_and_arrays_name_the_same_rules(variant: tuple[str, dict[str, Any]]) -> None:
    chart = build(variant)
    run = chart.run(data(chart))
    assert tuple(run.fired) == chart.rule_names
    hits = [(i, rule) for i, point in enumerate(run.points()) for rule in point.rules]
    assert hits == run.signals


@pytest.mark.parametrize("kind", CHARTS)
def test_docstring_has_its_sections(kind: str) -> None:
    text = inspect.getdoc(CHARTS[kind]) or ""
    sections = ["Parameters", "Returns", "Raises", "Notes", "Examples", "References"]
    places = [text.find(f"\n{name}\n{'-' * len(name)}\n") for name in sections]
    assert -1 not in places, dict(zip(sections, places, strict=True))
    assert places == sorted(places)
    assert "State:" in text
    assert "In control:" in text


@pytest.mark.parametrize("kind", CHARTS)
def test_parameters_are_described(kind: str) -> None:
    text = inspect.getdoc(CHARTS[kind]) or ""
    described = text[text.index("Parameters") : text.index("Returns")]
    for name in inspect.signature(CHARTS[kind]).parameters:
        assert name in described, name


@pytest.mark.parametrize("kind", CHARTS)
def test_kind_is_the_key_of_the_table(kind: str) -> None:
    assert CHARTS[kind].kind == kind


def test_importing_the_package_does_not_load_scipy() -> None:
    import subprocess
    import sys

    code = "import sys, shotlog.charts; print(any(name.split('.')[0] == 'scipy' for name in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
