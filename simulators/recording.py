"""A scenario as a recording (CSV), and what was true in it.

Columns of a recording: press, shot, time, fixed, moving, core, design (one, or one a half, `;`-separated), event,
single_use, print_batch, then the channels in the order and with the decimals of the channel table. It holds what the
operator logged, not what happened: the truth is a file of its own.
"""

import csv
from collections.abc import Iterator
from datetime import UTC
from io import StringIO
from pathlib import Path
from typing import TextIO

import numpy as np

from shotlog.channels import CHANNELS
from simulators.causes import CAUSES
from simulators.operator import Act, acts
from simulators.planned import next_serial
from simulators.press import PressRun, mould
from simulators.story import Press, Scenario

__all__ = ["runs", "truth", "write_levels", "write_recording", "write_truth"]

_HALVES = ("fixed", "moving", "core")
_DIGITS = {"peak_pressure": 1, "switchover_pressure": 1, "back_pressure": 1}


def runs(scenario: Scenario, shots: int | None = None, seed: int | None = None, quiet: bool = False) -> list[PressRun]:
    """Make every press's shots: `shots` each, or as many as the scenario says."""
    return [
        mould(press, shots or press.shots or scenario.shots, scenario.seed if seed is None else seed, quiet)
        for press in scenario.presses
    ]


def write_recording(scenario: Scenario, made: list[PressRun], out: TextIO) -> None:
    """Write the runs, press after press, as one recording."""
    channels = [name for name in CHANNELS if name in made[0].channels]
    out.write("press,shot,time,fixed,moving,core,design,event,single_use,print_batch," + ",".join(channels) + "\n")
    for run in made:
        out.writelines(_rows(scenario, run, channels))


def _rows(scenario: Scenario, run: PressRun, channels: list[str]) -> Iterator[str]:
    """The lines of one press, whole columns at once and one format a line: here recording spends its time."""
    form = ",".join(f"%.{_DIGITS.get(name, CHANNELS[name].decimals)}f" for name in channels)
    values = np.column_stack([run.channels[name] for name in channels]).tolist()
    start = np.datetime64(scenario.start.astimezone(UTC).replace(tzinfo=None), "ms")
    times = np.datetime_as_string(start + np.round(run.seconds * 1000.0).astype("timedelta64[ms]"), unit="ms").tolist()
    first = run.press.first_count + 1
    name, middle = run.press.name, _logged(run.press, len(run))
    for shot, (moment, logged, row) in enumerate(zip(times, middle, values, strict=True), first):
        yield f"{name},{shot},{moment}Z,{logged},{form % tuple(row)}\n"


def _logged(press: Press, shots: int) -> Iterator[str]:
    """The columns from `fixed` to `print_batch` at each shot, as the log would hold them.

    An entry holds from its `at_shot` on, whenever it was made.
    """
    events: dict[int, list[str]] = {}
    mounts: dict[int, list[Act]] = {}
    for _, act in acts(press, shots):
        at_shot = int(str(act["at_shot"]))
        if act["do"] == "note":
            half = f"@{act['half']}" if "half" in act else ""
            events.setdefault(at_shot, []).append(f"{act['kind']}{half}:{str(act['text']).replace(';', ',')}")
        elif act["do"] == "mount":
            mounts.setdefault(at_shot, []).append(act)
    in_force: dict[str, Act] = {}
    starts = sorted({1, *mounts, *events, *(shot + 1 for shot in events)})
    for start, end in zip(starts, [*starts[1:], shots + 1], strict=True):
        in_force.update({str(act["half"]): act for act in mounts.get(start, [])})
        yield from _stretch(in_force, events.get(start, []), start, min(end, shots + 1))


def _stretch(in_force: dict[str, Act], events: list[str], start: int, end: int) -> Iterator[str]:
    """The columns of the shots `start` to `end` - 1, over which only the serials of single-use pieces change."""
    single = [half for half, act in in_force.items() if act["single_use"]]
    cells = {half: f"\0{half}" if half in single else str(act["serial"]) for half, act in in_force.items()}
    designs = [str(in_force[half]["design"]) for half in _HALVES if half in in_force]
    design = ";".join(designs) if len(set(designs)) > 1 else "".join(designs[:1])
    batches = [f"{half}:{act['print_batch']}" for half, act in in_force.items() if act["print_batch"]]
    halves = [cells.get(half, "") for half in _HALVES]
    text = StringIO()
    row = [*halves, design, ";".join(events), ";".join(single), ";".join(batches)]
    csv.writer(text, lineterminator="").writerow(row)
    form = text.getvalue()
    for shot in range(start, end):
        line = form
        for half in single:
            act = in_force[half]
            line = line.replace(f"\0{half}", next_serial(str(act["serial"]), shot - int(str(act["at_shot"]))))
        yield line


def write_truth(made: list[PressRun], path: Path) -> None:
    """Write what was true: one row for each cause on each insert it acted on.

    Columns: press, cause, group, half, insert, onset and last (shots), first_bad (first shot whose part is bad, empty
    if none), level_end and unit. Nothing the logger sees holds any of this.
    """
    with path.open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["press", "cause", "group", "half", "insert", "onset", "last", "first_bad", "level_end", "unit"])
        for run in made:
            out.writerows(truth(run))


def write_levels(made: list[PressRun], quiet: list[PressRun], path: Path) -> None:
    """Write the true level of every channel at every shot: the same runs without any random part, and what acts there.

    Columns: press, shot, cause (those acting, `;`-separated), bad (1 where the part is bad), then the channels.
    """
    channels = [name for name in CHANNELS if name in made[0].channels]
    form = ",".join(f"%.{CHANNELS[name].decimals + 1}f" for name in channels)
    names = {cause: name for name, cause in CAUSES.items()}
    with path.open("w", newline="", encoding="utf-8") as file:
        file.write("press,shot,cause,bad," + ",".join(channels) + "\n")
        for run, calm in zip(made, quiet, strict=True):
            acting: list[list[str]] = [[] for _ in range(len(run))]
            bad = np.zeros(len(run), bool)
            for cause, level in zip(run.press.causes, run.levels, strict=True):
                for index in np.flatnonzero(level).tolist():
                    acting[index].append(names[type(cause)])
                bad |= level >= cause.bad_level
            values = np.column_stack([calm.channels[name] for name in channels]).tolist()
            first = run.press.first_count + 1
            for shot, (causes, wrong, row) in enumerate(zip(acting, bad.tolist(), values, strict=True), first):
                file.write(f"{run.press.name},{shot},{';'.join(causes)},{int(wrong)},{form % tuple(row)}\n")


def truth(run: PressRun) -> list[tuple[object, ...]]:
    """Return the rows of the truth file for one press."""
    names = {cause: name for name, cause in CAUSES.items()}
    rows: list[tuple[object, ...]] = []
    for cause, level in zip(run.press.causes, run.levels, strict=True):
        acting = level != 0.0
        half = run.line.halves.get(cause.half)
        life = half.insert if half is not None else np.zeros(len(run), np.int64)
        for number in np.unique(life[acting]).tolist():
            shots = run.line.shot[acting & (life == number)]
            bad = shots[level[shots - 1] >= cause.bad_level]
            insert = half.serials()[int(shots[0]) - 1] if half is not None else ""
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
