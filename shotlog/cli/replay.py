"""``shotlog replay``: feed a recording through the very evaluator that judges live shots; nothing is stored."""

import argparse
import csv
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from shotlog.cells import as_cell
from shotlog.cli.opening import Subparsers, add_command, print_json, read_settings
from shotlog.cli.place_of_output import file_for
from shotlog.outputs import written_aside
from shotlog.records import Signal, Verdict
from shotlog.wording.numbers import some
from shotlog.wording.verdicts import VERDICT_WORDS, told

__all__ = ["VERDICT_COLUMNS", "add", "verdict_cells"]

VERDICT_COLUMNS = (
    "press", "shot", "insert", "shots_on_insert", "settling", "verdict", "signals", "cause", "group", "weight",
    "onset", "onset_low", "onset_high", "left_median", "left_low", "left_high", "statistic", "threshold",
    "others", "limits",
)  # fmt: skip


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "replay", "judge a recording as if its shots came in now; stores nothing", _run)
    parser.add_argument("recording", metavar="RECORDING.csv", type=Path)
    parser.add_argument("--verdicts", type=Path, metavar="OUT.csv", help="write one row a shot")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    settings = read_settings(arguments.config)

    from shotlog import recording
    from shotlog.evaluator import Evaluator

    if arguments.verdicts is not None:
        file_for(arguments.verdicts, "--verdicts", (".csv",), settings, [arguments.recording])
    evaluators: dict[str, Evaluator] = {}
    summaries: dict[str, dict[str, Any]] = {}
    with _verdict_writer(arguments.verdicts) as writer:
        for shot in recording.read(arguments.recording, lambda text: print(f"shotlog replay: {text}", file=sys.stderr)):
            if shot.press not in evaluators:
                evaluators[shot.press] = Evaluator(shot.press, settings.designs, settings.false_calls)
                summaries[shot.press] = {"press": shot.press, "shots": 0, "signals": 0, "changes": []}
            for item in evaluators[shot.press].step(shot):
                _count(summaries[shot.press], item)
                if writer is not None and isinstance(item, Verdict):
                    writer.writerow(verdict_cells(item))
    document = {"recording": str(arguments.recording), "presses": list(summaries.values())}
    if arguments.json:
        print_json(document)
    else:
        _print(document)
    return 0


def _count(summary: dict[str, Any], item: object) -> None:
    if isinstance(item, Signal):
        summary["signals"] += 1
    if isinstance(item, Verdict):
        summary["shots"] += 1
        summary["verdict"] = item.verdict
        changes = summary["changes"]
        before = changes[-1] if changes else {"verdict": "keep", "insert": item.insert, "cause": ""}
        if (before["verdict"], before["cause"]) != (item.verdict, item.cause):
            changes.append(
                {
                    "shot": item.shot,
                    "insert": item.insert,
                    "verdict": item.verdict,
                    "cause": item.cause,
                    "group": item.group,
                    "onset": item.onset,
                    "sentence": told(item),
                }
            )


def _print(document: dict[str, Any]) -> None:
    for summary in document["presses"]:
        print(f"press {summary['press']}: {some(summary['shots'], 'shot')}, {some(summary['signals'], 'signal')}")
        for change in summary["changes"]:
            print(f"  shot {change['shot']:>6}  {VERDICT_WORDS[change['verdict']]:<14}  {change['sentence']}")


@contextmanager
def _verdict_writer(path: Path | None) -> Iterator[Any]:
    if path is None:
        yield None
        return
    with written_aside(path) as aside, aside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(VERDICT_COLUMNS)
        yield writer


def verdict_cells(verdict: Verdict) -> list[object]:
    """Return the row of a verdict in `VERDICT_COLUMNS`; empty where there is nothing to say."""
    cells: list[object] = []
    for name in VERDICT_COLUMNS:
        value = getattr(verdict, name)
        if name in ("signals", "limits"):
            value = ";".join(value)
        elif name == "others":
            value = ";".join(other.name for other in value)
        elif isinstance(value, bool):
            value = str(value).lower()
        cells.append("" if value is None else as_cell(value))
    return cells
