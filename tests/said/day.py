"""One made-up day, typed command by command on a clock driven by hand: what each command answers, word for word.

The shots are simulated, imported and judged by the program itself; a second press has single-use pieces, a balance and
baths. Refusals are typed as well.
"""

import re
import shlex
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.clock import SystemClock
from shotlog.records import Fault, Gap, Link, Shot, Weighing
from shotlog.settings import load
from shotlog.store.asked.presence import touch
from shotlog.store.log.log import open_log
from simulators.recording import runs, write_recording
from simulators.story import load as scenario

__all__ = ["END", "day"]

EVENING = datetime(2026, 3, 2, 12, tzinfo=UTC)
"""The simulated shots end at 11:15."""
END = EVENING + timedelta(hours=48)

CONFIG = """
[log]
store = "sqlite:///trial.db"
[trial]
name = "strap trial 2"
part = "strap"
resin = "PA66-GF30"
[[press]]
name = "P58"
  [press.collector]
  kind = "recording"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.strap-moving-r1]
resin_family = "acrylate photopolymer"
  [design.strap-moving-r1.limits]
  cushion = { low = 2.0 }
  peak_pressure = { high = 990.0 }
  [design.strap-moving-r1.cost]
  part = 2.0
  insert = 18.0
  changeover = 12.0
  late_find = 8.0
[design.clip-core]
cavities = 2
dissolve_h = 24
tolerance = { wall = { low = 1.1, high = 1.3 } }
"""

DAY = """
0    import shots.csv --dry-run
0    import shots.csv
0    import shots.csv
0    status
0    parts P58
0    note P58 setup "hold 40 bar lower" --at-shot 200
0    note P58 finding "flash at the gate" --at-shot 119
0    note P58 finding flash --at-shot 900
5    inspect P58 112 --finding flash --half moving --initials ab
0    inspect P58 20-22 --weight 12.3 --initials ab
0    inspect P58 60 --dimension wall=1,25 --tolerance 1.1..1.3 --instrument caliper
0    inspect P58 61 --dimension wall=1.35 --tolerance 1.1..1.3
0    inspect P58 999
0    parts P58
0    parts P58 20-22 115-122
0    parts P58 95 --release
0    parts P58 95-100 --release --reason "measured, within tolerance" --initials cd
0    parts P58 118-119 --scrap --reason flash
0    parts P58 118-119 --scrap --reason flash --initials cd
0    part P58 112
0    part P58 95
0    part P58 999
0    undo decision 1 --reason "wrong tray"
0    undo decision 1 --reason "wrong tray" --initials cd
0    undo decision 99 --reason "wrong tray"
0    parts P58 --all
0    inserts
0    inserts --design nothing-r9
0    insert M-01 F-01
0    insert M-01 --cost 25
0    insert M-02 --print-batch N4 --resin "resin 3" --layer-um 50 --dimension gate=1,02 --cured 2026-03-01T20:00+00:00
0    insert X-99
0    remove P58 M-02 --reason "planned life"
0    remove P58 M-02 --reason "planned life"
0    mount P58 M-03 --half moving --design strap-moving-r1 --print-batch N4
0    mount P58 M-03 --half fixed
0    explain P58 110
0    explain P58 30
0    explain P58 900
0    status --press P58
0    mount P25 F-7 --half fixed --design clip-fixed
0    queue P25 C-01..C-06 --half core --design clip-core --print-batch B7 --plate plate-3 --positions A,B,C,D,E,F
0    queue P25 C-03 --half core
0    note P25 lot L-77
shots
0    queue P25
0    weights P25
0    weights P25 --match 1=3 --reason "taken from the tray" --initials ab
0    queue P25 --drop C-02 --reason "fell down" --half core
0    queue P25 C-07 C-08 --half core
0    bath check caustic --temperature 50
0    bath make-up caustic --concentration 0.8..1.2 --temperature 40..60
10   bath check caustic --concentration 1.0 --temperature 71
0    bath in caustic P25 1-3
0    bath in caustic P25 1/1
300  bath out P25 1
0    bath list
1800 bath check caustic --concentration 0.7
0    bath list
0    bath out P25 2/1 --not-cleared --remark "core left in the corner"
0    part P25 2
0    parts P25
0    inspect P25 2/2 --dimension wall=1.02
0    parts P25
0    undo inspection 7 --reason "other part"
0    insert C-01 C-02
0    mount P25 M-02 --half moving --at-shot 4
0    inspect P25 7/1 --finding flash --half moving
0    inserts --design strap-moving-r1
0    insert M-02
0    status
0    check
0    chart shots.csv fill_time --kind individuals --baseline 20 --rules 1,5
0    chart shots.csv cushion --kind cusum --target 4.88 --sd 0.1
0    chart shots.csv cushion --kind ewma --lam 0.2 --png day.jpg
0    chart shots.csv nothing --kind mr
0    chart shots.csv cushion --kind mr --lam 0.2
0    labels C-01 M-02 --out labels.html
0    labels C-01 --out labels.pdf
0    export --out day.csv
0    export --out day.xml
0    export --out trials
0    review --out shift.html --since 2026-03-02T10:00+00:00
0    review --since yesterday
0    replay shots.csv --verdicts verdicts.csv
0    replay pauses.csv --verdicts pauses-verdicts.csv
0    note P58 party cake
0    note P99 lot L3
0    mount P99 M-09
0    remove P99 M-09 --reason worn
0    queue P99
0    weights P99
0    parts P99
0    part P99 1
0    explain P99 1
0    inspect P99 1
0    bath in caustic P99 1
0    status --press P99
0    nothing-of-the-kind
"""


def typed(words: str, capsys: pytest.CaptureFixture[str]) -> str:
    """Return a command as it was typed, and all it answered; what went to stderr is marked."""
    command, *rest = shlex.split(words)
    try:
        status = main([command, *([] if command == "chart" else ["day.toml"]), *rest])
    except SystemExit as ended:
        status = int(ended.code or 0)
    said = capsys.readouterr()
    # how far long work is, is said on a slow machine only
    aside = [line for line in said.err.splitlines() if not re.search(r"drawing life \d+ of \d+$", line)]
    told = "".join(f"! {line}\n" for line in aside) + said.out
    return f"$ {words}\n{told.replace(str(Path.cwd()), '.')}" + (f"exit {status}\n" if status else "")


def day(patch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> str:
    """Type the whole day in the folder one is in; returns what was typed and what was answered."""
    at = EVENING
    patch.setattr(SystemClock, "now", lambda self: at)
    patch.setattr("getpass.getuser", lambda: "technician")
    patch.setattr("platform.node", lambda: "press-pc")
    patch.delenv("SHOTLOG_INITIALS", raising=False)
    Path("day.toml").write_text(CONFIG, encoding="utf-8")
    for name, file, n in (("erosion_and_lot", "shots.csv", None), ("gate_erosion", "pauses.csv", 330)):
        plan = scenario(name)
        with Path(file).open("w", encoding="utf-8", newline="") as out:
            write_recording(plan, runs(plan, n), out)
    said = []
    for line in DAY.strip().splitlines():
        minutes, _, words = line.partition(" ")
        if words:
            at += timedelta(minutes=int(minutes))
            said.append(typed(words.strip(), capsys))
        else:
            _single_use_shots(at)
    return "\n".join(said)


def _single_use_shots(at: datetime) -> None:
    settings = load(Path("day.toml"))
    with open_log(settings.store, read_only=False) as log:
        for minutes, state, why in (
            (60.0, "connected", "the press answers"), (50.0, "lost", "timed out"), (48.5, "connected", "it answers"),
            (40.0, "lost", "timed out"), (30.0, "connected", "it answers"),
        ):  # fmt: skip
            log.append([Link("P25", at - timedelta(minutes=minutes), state, why)])
        for n in (1, 2, 3, 4, 6, 7, 8):
            made = at - timedelta(minutes=20) + timedelta(seconds=75 * n)
            values = {
                "cushion": round(4.9 + 0.01 * n, 2),
                "peak_pressure": 500.0 + n,
                "fill_time": round(0.7 + 0.001 * n, 3),
            }
            log.append([Shot("P25", n, n, made, values)])
            log.append([Gap("P25", 5, 5, made, "counter went on from 4 to 6")] if n == 6 else [])
            if n in (2, 3, 7):
                log.append([Weighing("P25", "bench", 4.1 + 0.01 * n, made + timedelta(seconds=40), 60.0)])
        log.append([Fault("P25", at, "torn", "values changed while they were read", b"\x01\x02", 8)])
        touch(log, "run", "2 presses", at)
