"""``shotlog chart``: one chart on any column of a CSV file, so that the engine can be audited without a press.

Limits come from --target and --sd; or from the first N readings with --baseline N, which are then not judged; or else,
as in the textbooks, from all readings of the column, each of which is judged by them.
"""

import argparse
import inspect
import json
import math
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shotlog.cli.chart_column import read_columns
from shotlog.cli.chart_rate import SignalRate, rate_in_words, rate_of
from shotlog.cli.opening import Subparsers
from shotlog.cli.place_of_output import file_for
from shotlog.errors import NotEnoughShots, UsageError
from shotlog.extras import need
from shotlog.outputs import written_aside

if TYPE_CHECKING:
    from shotlog.charts import ChartRun
    from shotlog.charts.base import Floats

__all__ = ["add"]


_PARAMETERS: Mapping[str, tuple[str, ...]] = {
    "target": ("centre", "target"),
    "sd": ("sigma",),
    "baseline": ("baseline", "start"),
    "estimate": ("estimate",),
    "width": ("width",),
    "alpha": ("alpha",),
    "lam": ("lam",),
    "asymptotic": ("varying",),
    "k": ("k",),
    "h": ("h",),
    "head_start": ("head_start",),
    "rules": ("rules",),
}
"""For each option the parameter it sets, by whichever name a chart has; a chart without any does not take it."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "audit one chart on any column of a CSV file, no press needed"
    parser = subparsers.add_parser("chart", help=text, description=__doc__.split("\n", 2)[2])
    parser.add_argument(
        "data", metavar="DATA.csv", type=Path, help="comma-separated, first row the names of the columns"
    )
    parser.add_argument("column", metavar="COLUMN", help="a column; for t2 and mewma several, COLUMN,COLUMN")
    parser.add_argument(
        "--kind", required=True, metavar="KIND", help="individuals, mr, ewma, cusum, t2, mewma, self-starting ..."
    )
    parser.add_argument("--target", type=float, help="level in control")
    parser.add_argument("--sd", type=float, help="spread in control")
    parser.add_argument("--baseline", type=int, metavar="N", help="learn level and spread from the first N readings")
    parser.add_argument(
        "--estimate", choices=["mr", "sd"], help="spread from moving ranges (as given) or standard deviation"
    )
    parser.add_argument("--width", type=float, help="half-width of the limits in sigma")
    parser.add_argument("--alpha", type=float, help="false-alarm probability of each shot, instead of a width")
    parser.add_argument("--lam", type=float, help="weight of the newest reading (ewma, mewma)")
    parser.add_argument(
        "--asymptotic", action="store_true", default=None, help="ewma: limits that do not widen from the start"
    )
    parser.add_argument("--k", type=float, help="cusum: reference value in sigma")
    parser.add_argument("--h", type=float, help="cusum: decision interval in sigma; mewma: limit")
    parser.add_argument("--head-start", type=float, help="cusum: where both sums start, in sigma")
    parser.add_argument(
        "--rules", nargs="+", metavar="RULE", help="run rules by name, or by number 1 to 8 as in ISO 7870-2"
    )
    parser.add_argument("--json", action="store_true", help="one JSON document on stdout")
    parser.add_argument("--png", type=Path, metavar="FILE", help="draw the chart, with the extra pictures installed")
    parser.set_defaults(run=_run)


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.charts.audit import CHARTS

    if arguments.kind not in CHARTS:
        raise UsageError(f"--kind: given {arguments.kind!r}, allowed: {', '.join(CHARTS)}")
    if arguments.png:
        file_for(arguments.png, "--png", (".png",), read=[arguments.data])
        need("pictures", f"--png {arguments.png}")
    columns = [name.strip() for name in arguments.column.split(",")]
    several = arguments.kind in ("t2", "mewma")
    if not several and len(columns) > 1:
        raise UsageError(f"COLUMN: given {len(columns)} columns, allowed: one, but for t2 and mewma")
    readings = read_columns(arguments.data, columns)
    run, rate, drivers = (_several if several else _single)(arguments, columns, readings)
    found = _document(arguments.kind, run, rate, drivers)
    if arguments.png:
        _draw(arguments.png, f"{arguments.kind} of {arguments.column}", run)
    print(json.dumps(found, allow_nan=False) if arguments.json else _text(found, arguments.column))
    return 0


def _taken(kind: str) -> dict[str, str]:
    """Option -> parameter, for the options a kind of chart takes.

    A chart whose spread goes with a level and an autocorrelation takes all three or none, and learns them here.
    """
    from shotlog.charts.audit import CHARTS

    has = inspect.signature(CHARTS[kind]).parameters
    chosen = {option: next((n for n in names if n in has), "") for option, names in _PARAMETERS.items()}
    refused = {"estimate"} if kind == "t2" else {"sd"} if "level" in has else set()
    return {option: name for option, name in chosen.items() if name and option not in refused}


def _parameters(arguments: argparse.Namespace) -> dict[str, Any]:
    """The chart's parameters from the options given; UsageError for one the kind does not take."""
    taken = _taken(arguments.kind)
    found: dict[str, Any] = {}
    for option in _PARAMETERS:
        value = getattr(arguments, option)
        if value is None:
            continue
        if option not in taken:
            allowed = ", ".join("--" + name.replace("_", "-") for name in taken)
            raise UsageError(f"--{option.replace('_', '-')}: not used by kind {arguments.kind}, allowed: {allowed}")
        found[taken[option]] = not value if option == "asymptotic" else value
    if arguments.alpha is not None and "width" in taken:
        if arguments.width is not None:
            raise UsageError("--width and --alpha: given both, allowed: one of them")
        found["width"] = None
    if arguments.rules is not None:
        found["rules"] = [name for word in arguments.rules for name in word.split(",") if name]
    if arguments.kind == "deviation" and arguments.sd is not None:
        found["freedom"] = None
    return found


_Outcome = tuple["ChartRun", SignalRate, Callable[[int], list[str]] | None]


def _single(arguments: argparse.Namespace, columns: list[str], readings: "Floats") -> _Outcome:
    import numpy as np

    from shotlog.charts import Chart
    from shotlog.charts.audit import CHARTS
    from shotlog.charts.baseline import spread_of

    xs = readings[:, 0]
    present = xs[~np.isnan(xs)].tolist()
    parameters, taken = _parameters(arguments), _taken(arguments.kind).values()
    given = dict(parameters)
    from_all = arguments.baseline is None and "baseline" in taken
    if not present:
        raise NotEnoughShots(f"{arguments.data}: column {columns[0]} holds no reading")
    if from_all and "sigma" in taken and "sigma" not in parameters:
        level = parameters.get("centre")
        spread = spread_of(present, parameters.get("estimate", "mr"), level) if len(present) > 1 else 0.0
        if not 0.0 < spread < math.inf:
            raise NotEnoughShots(
                f"{arguments.data}: {len(present)} readings in {columns[0]} without a spread, "
                "two that differ are needed, or --sd"
            )
        parameters["sigma"] = spread
    if from_all and "centre" in taken:
        parameters.setdefault("centre", math.fsum(present) / len(present))
    chart = CHARTS[arguments.kind](**parameters)
    if not isinstance(chart, Chart):
        raise UsageError(f"kind {arguments.kind}: given one column, allowed: several")
    if from_all and parameters != given:
        rate = rate_of(CHARTS[arguments.kind], given, len(present))
    else:
        rate = rate_of(CHARTS[arguments.kind], parameters, arguments.baseline or 0)
    run = chart.run(xs)
    _judged(arguments, run, chart.ready, len(present))
    return run, rate, None


def _several(arguments: argparse.Namespace, columns: list[str], readings: "Floats") -> _Outcome:
    import numpy as np

    from shotlog.charts.audit import HotellingT2, Mewma
    from shotlog.charts.audit.hotelling import phase_one
    from shotlog.charts.audit.multivariate import covariance_of

    if len(columns) < 2:
        raise UsageError(f"COLUMN: given {columns[0]}, allowed: two or more for {arguments.kind}, COLUMN,COLUMN")
    parameters: dict[str, Any] = {**_parameters(arguments), "n_channels": len(columns)}
    given = dict(parameters)
    complete = np.asarray(~np.isnan(readings).any(axis=1))
    if arguments.baseline is None:
        rows = readings[complete]
        if len(rows) < len(columns) + 3:
            raise NotEnoughShots(
                f"{arguments.data}: {len(rows)} complete rows, {len(columns) + 3} are needed for {len(columns)} columns"
            )
        estimate = "sample" if arguments.kind == "t2" else "differences"
        parameters |= {"mean": rows.mean(axis=0).tolist(), "covariance": covariance_of(rows, estimate)}
    made: type[HotellingT2 | Mewma] = HotellingT2 if arguments.kind == "t2" else Mewma
    chart = made(**parameters)
    if isinstance(chart, HotellingT2) and arguments.baseline is None:
        run = phase_one(readings[complete], alpha=chart.alpha).spread_over(complete)
    else:
        run = chart.run(readings)
    _judged(arguments, run, chart.ready, int(complete.sum()))
    points = run.points()
    # limits of the first phase hold for the very rows they come from: their rate is that of known ones
    from_all = arguments.baseline is None and isinstance(chart, Mewma)
    rate = rate_of(made, given, int(complete.sum())) if from_all else rate_of(made, parameters, arguments.baseline or 0)
    return run, rate, lambda index: [columns[i] for i in chart.drivers(points[index])]


def _judged(arguments: argparse.Namespace, run: "ChartRun", ready: bool, n: int) -> None:
    import numpy as np

    if ready and not np.isnan(run.upper).all():
        return
    wanted = f"a baseline of {arguments.baseline} is needed, and one more" if arguments.baseline else "more are needed"
    raise NotEnoughShots(f"{arguments.data}: {n} readings in {arguments.column}, {wanted}; equal ones have no spread")


def _document(
    kind: str, run: "ChartRun", rate: SignalRate, drivers: Callable[[int], list[str]] | None
) -> dict[str, Any]:
    """The JSON document; centre and limits are those of the last judged reading. An infinite average is null."""
    import numpy as np

    last = int(np.flatnonzero(~np.isnan(run.upper))[-1])
    two_sums = kind in ("cusum", "self-starting")
    points: list[Any] = [_plain(v) for v in run.value.tolist()]
    if two_sums:
        points = [{"high": _plain(row[0]), "low": _plain(row[1])} for row in run.detail.tolist()]
    signals: list[dict[str, Any]] = [{"index": index, "rule": rule} for index, rule in run.signals]
    if drivers is not None:
        for signal in signals:
            signal["drivers"] = drivers(signal["index"])
    return {
        "kind": kind,
        "n": len(run),
        "centre": _plain(float(run.centre[last])),
        "upper": _plain(float(run.upper[last])),
        "lower": _plain(float(run.lower[last])),
        "points": points,
        "signals": signals,
        "arl0": _plain(rate.average),
        "arl0_method": "infinite" if math.isinf(rate.average) else rate.how,
        "median_run": _plain(rate.median),
        "next_alarm": _plain(rate.next),
        "limits_from": rate.learnt,
    }


def _plain(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _text(found: Mapping[str, Any], column: str) -> str:
    lines = [
        f"{found['kind']} chart of {column}, {found['n']} rows",
        f"centre {found['centre']:.6g}   lower {found['lower']:.6g}   upper {found['upper']:.6g}   (last judged row)",
        rate_in_words(found),
    ]
    signals: Sequence[Mapping[str, Any]] = found["signals"]
    lines += [
        f"row {s['index']} (from 0): {s['rule']}"
        + (f", driven by {', '.join(s['drivers'])}" if s.get("drivers") else "")
        for s in signals
    ]
    return "\n".join(lines if signals else [*lines, "no signal"])


def _draw(path: Path, title: str, run: "ChartRun") -> None:
    from matplotlib.figure import Figure

    figure = Figure(figsize=(9.0, 4.0), layout="constrained")
    axes = figure.add_subplot()
    axes.plot(run.value, "o-", color="black", markersize=3, linewidth=0.8)
    axes.plot(run.centre, color="black", linewidth=0.6)
    for line in (run.lower, run.upper):
        axes.plot(line, "--", color="black", linewidth=0.9)
    at = sorted({index for index, _ in run.signals})
    axes.plot(at, run.value[at], "s", markersize=9, fillstyle="none", color="black")
    axes.set(title=title, xlabel="row, from 0")
    with written_aside(path) as aside:
        figure.savefig(aside, dpi=120, format="png")
