"""A scenario as a recording (CSV), and what was true in it.

Columns of a recording: press, shot, time, fixed, moving, core, design, event, single_use, print_batch, then the
channels in the order and with the decimals of the channel table. It holds what the operator logged, not what
happened: the truth is a file of its own.
"""

import csv
from collections.abc import Iterator
from datetime import timedelta
from io import StringIO
from pathlib import Path
from typing import TextIO

import numpy as np

from shotlog.channels import CHANNELS
from simulators.causes import CAUSES
from simulators.operator import acts
from simulators.press import Run, mould
from simulators.story import Press, Scenario, next_serial

__all__ = ["runs", "write_recording", "write_truth"]

_HALVES = ("fixed", "moving", "core")
_DIGITS = {"peak_pressure": 1, "switchover_pressure": 1, "back_pressure": 1}


def runs(scenario: Scenario, shots: int | None = None, seed: int | None = None, quiet: bool = False) -> list[Run]:
    """Make every press's shots: `shots` each, or as many as the scenario says."""
    return [
        mould(press, shots or press.shots or scenario.shots, scenario.seed if seed is None else seed, quiet)
        for press in scenario.presses
    ]


def write_recording(scenario: Scenario, made: list[Run], out: TextIO) -> int:
    """Write the runs, press after press, as one recording; return the number of shots written."""
    channels = [name for name in CHANNELS if name in made[0].channels]
    out.write("press,shot,time,fixed,moving,core,design,event,single_use,print_batch," + ",".join(channels) + "\n")
    for run in made:
        out.writelines(_rows(scenario, run, channels))
    return sum(len(run) for run in made)


def _rows(scenario: Scenario, run: Run, channels: list[str]) -> Iterator[str]:
    logged = _logged(run.press, len(run))
    columns = [_text(run.channels[name], _DIGITS.get(name, CHANNELS[name].decimals)) for name in channels]
    name, count = run.press.name, run.press.first_count
    start, second = scenario.start, timedelta(seconds=1)
    seconds = np.round(run.seconds, 1).tolist()
    for index, values in enumerate(zip(*columns, strict=True)):
        moment = (start + second * seconds[index]).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        yield f"{name},{count + index + 1},{moment},{logged[index]},{','.join(values)}\n"


def _text(values: np.ndarray, decimals: int) -> list[str]:
    form = f"%.{decimals}f"
    return [form % value for value in values.tolist()]


def _logged(press: Press, shots: int) -> list[str]:
    """The middle columns at each shot as the log would hold them: from each entry's `at_shot` on, whenever it was
    made.
    """
    events: dict[int, list[str]] = {}
    changes: dict[int, dict[str, dict[str, object] | None]] = {}
    for _, act in acts(press, shots):
        at_shot = int(str(act["at_shot"]))
        if act["do"] == "note":
            text = str(act["text"]).replace(";", ",")
            events.setdefault(at_shot, []).append(f"{act['kind']}:{text}")
        elif act["do"] == "mount":
            changes.setdefault(at_shot, {})[str(act["half"])] = act
    in_force: dict[str, dict[str, object]] = {}
    out = []
    fixed_text = ""
    for shot in range(1, shots + 1):
        for half, act in changes.get(shot, {}).items():
            if act is not None:
                in_force[half] = act
        single = [act for act in in_force.values() if act["single_use"]]
        if shot in changes or shot in events or single or not fixed_text:
            fixed_text = _csv(_cells(in_force, shot, events.get(shot, [])))
        out.append(fixed_text)
        if shot in events:
            fixed_text = ""
    return out


def _cells(in_force: dict[str, dict[str, object]], shot: int, events: list[str]) -> list[str]:
    serials = {
        half: next_serial(str(act["serial"]), shot - int(str(act["at_shot"])))
        if act["single_use"]
        else str(act["serial"])
        for half, act in in_force.items()
    }
    judged = next((in_force[half] for half in ("moving", "core", "fixed") if half in in_force), None)
    batches = [f"{half}:{act['print_batch']}" for half, act in in_force.items() if act["print_batch"]]
    single = [half for half, act in in_force.items() if act["single_use"]]
    design = "" if judged is None else str(judged["design"])
    halves = [serials.get(half, "") for half in _HALVES]
    return [*halves, design, ";".join(events), ";".join(single), ";".join(batches)]


def _csv(cells: list[str]) -> str:
    text = StringIO()
    csv.writer(text, lineterminator="").writerow(cells)
    return text.getvalue()


def write_truth(made: list[Run], path: Path) -> None:
    """Write what was true: one row for each cause on each insert it acted on.

    Columns: press, cause, group, half, insert, onset and last (shots), first_bad (first shot whose part is bad, empty
    if none), level_end and unit. Nothing the logger sees holds any of this.
    """
    with path.open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["press", "cause", "group", "half", "insert", "onset", "last", "first_bad", "level_end", "unit"])
        for run in made:
            out.writerows(truth(run))


def truth(run: Run) -> list[tuple[object, ...]]:
    """Return the rows of the truth file for one press."""
    names = {cause: name for name, cause in CAUSES.items()}
    rows: list[tuple[object, ...]] = []
    for cause, level in zip(run.press.causes, run.levels, strict=True):
        acting = level != 0.0
        half = run.line.halves.get(cause.half)
        life = half.life if half is not None else np.zeros(len(run), np.int64)
        for number in np.unique(life[acting]).tolist():
            shots = run.line.shot[acting & (life == number)]
            bad = shots[level[shots - 1] >= cause.bad_level]
            insert = half.mounts[number].serial if half is not None else ""
            first_bad = int(bad[0]) + run.press.first_count if len(bad) else ""
            first, last = int(shots[0]) + run.press.first_count, int(shots[-1]) + run.press.first_count
            end = f"{level[shots[-1] - 1]:.4g}"
            row = (
                run.press.name,
                names[type(cause)],
                cause.group,
                cause.half,
                insert,
                first,
                last,
                first_bad,
                end,
                cause.unit,
            )
            rows.append(row)
    return sorted(rows, key=lambda row: int(str(row[5])))
