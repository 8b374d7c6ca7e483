"""What it is worth that set-points are read: lives in which somebody edits one and notes nothing.

Every insert is sound. Each life has one edit of one set-point, at a shot and of a size drawn by chance; nobody enters
it. The same shots go through the log and the evaluator three times: without the edits at all, with them and no
set-points read, and with them and the set-points read from the demo map, so that the logger makes the entry. Counted
are the lives in which anything was called from the edit on, and in which the insert was blamed: each is a false call.

    python -m tests.benchmark.bench_set_points [--presses 12] [--seed 1]
"""

import argparse
from collections import Counter
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from shotlog.channels import CHANNELS
from shotlog.evaluator import Evaluator
from shotlog.records import SetPoint, Shot, Verdict
from shotlog.store.inserts.entries import mount
from shotlog.store.log.log import Log, open_log
from simulators.press import PressRun, mould, set_point
from simulators.registers import set_point_entries
from simulators.story import read

LIFE, LIVES = 90, 4
CHANNELS_READ = ("cushion", "peak_pressure", "fill_time", "recovery_time", "cycle_time", "switchover_pressure")
START = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
SIZES: Mapping[str, tuple[float, ...]] = {
    "hold_bar": (-60.0, -30.0, 30.0, 60.0),
    "switchover_mm": (-0.6, -0.3, 0.3, 0.6),
    "speed_mm_s": (-6.0, -3.0, 3.0, 6.0),
    "cooling_s": (-10.0, 10.0, 15.0),
    "back_pressure_bar": (-20.0, 20.0, 30.0),
    "barrel_shift_degc": (-8.0, -5.0, 5.0, 8.0),
    "dose_mm": (-0.5, 0.5, 1.0),
}
"""By how much each is set otherwise, in its unit: what people do by hand at a press of this size (own)."""

USUAL = {
    "hold_bar": 380.0, "switchover_mm": 9.0, "speed_mm_s": 30.0, "cooling_s": 45.0, "back_pressure_bar": 50.0,
    "barrel_shift_degc": 0.0, "dose_mm": 27.0,
}  # fmt: skip

ARMS = {
    "no edit": (False, False),
    "edit, set-points not read": (True, False),
    "edit, set-points read": (True, True),
}
"""Whether there are edits, and whether set-points are read."""


def scenario(random: Random, edits: bool) -> tuple[str, list[tuple[int, str]]]:
    """Return the scenario of one press, and the edits in it: shot and set-point."""
    told, rows, now = [], [], dict(USUAL)
    for life in range(LIVES):
        at, key = life * LIFE + random.randint(40, 65), random.choice(list(SIZES))
        now[key] = round(USUAL[key] + random.choice(SIZES[key]), 2)
        told.append((at, key))
        rows.append(f'{{ at_shot = {at}, key = "{key}", value = {now[key]}, logged = false }}')
    text = f"""
shots = {LIFE * LIVES}
[[press]]
name = "P"
preset = "pa66-gf30"
noise = {{ sister_bar = 6.0, sister_mm = 0.04 }}
replace = {{ moving = {LIFE} }}
mount = [{{ half = "moving", serial = "M-01", design = "nut-r1" }}]
edit = [{", ".join(rows if edits else [])}]
"""
    return text, told


def verdicts(log: Log, run: PressRun, with_set_points: bool) -> list[Verdict]:
    """Log the shots of a run, set-points as the demo map holds them, and return what is said of each."""
    for life in range(LIVES):
        mount(log, "P", f"M-{life + 1:02d}", START, half="moving", at_shot=life * LIFE + 1, design="nut-r1")
    entries = set_point_entries() if with_set_points else ()
    shots = []
    for n in range(len(run)):
        values = {name: round(float(run.channels[name][n]), CHANNELS[name].decimals) for name in CHANNELS_READ}
        said = {
            entry.set_point: SetPoint(round(round(set_point(run, n, entry.set_point) / entry.scale) * entry.scale, 6))
            for entry in entries
        }
        time = START + timedelta(seconds=float(run.seconds[n]))
        shots.append(Shot("P", n + 1, n + 1, time, values, set_points=said))
    log.append(shots)
    evaluator = Evaluator("P", {})
    return [each for shot in log.logged("P") for each in evaluator.step(shot) if isinstance(each, Verdict)]


def count(said: list[Verdict], edits: list[tuple[int, str]]) -> Counter[str]:
    """Count the lives with a call from their edit on, by the group that is blamed."""
    found: Counter[str] = Counter(lives=len(edits))
    for at, _ in edits:
        end = (at // LIFE + 1) * LIFE
        after = [one for one in said if at <= one.shot <= end and one.verdict != "keep"]
        found["called"] += bool(after)
        found["insert blamed"] += any(one.group == "insert" for one in after)
        found["swap advised"] += any(one.verdict == "swap" for one in after)
        found["shots with a call"] += len(after)
    return found


def main() -> None:
    """Print what was counted."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--presses", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    total: dict[str, Counter[str]] = {}
    for seed in range(options.seed, options.seed + options.presses):
        for arm, (edits, reads) in ARMS.items():
            text, told = scenario(Random(seed), edits)
            (press,) = read(text, "edits").presses
            run = mould(press, LIFE * LIVES, seed)
            with (
                TemporaryDirectory() as folder,
                open_log(f"sqlite:///{Path(folder, 'log.db')}", read_only=False) as log,
            ):
                total.setdefault(arm, Counter()).update(count(verdicts(log, run, reads), told))
    names = ("lives", "called", "insert blamed", "swap advised", "shots with a call")
    print(f"{'':<28}" + "".join(f"{name:>20}" for name in names))
    for arm, found in total.items():
        print(f"{arm:<28}" + "".join(f"{found[name]:>20}" for name in names))


if __name__ == "__main__":
    main()
