"""A log on disk with one afternoon in it: worn, refuted and mounted inserts, a gap, a fault, a lot, parts judged later.

Verdicts are written as given, so that these tests stand whatever the monitor makes of the shots.
"""

import sqlite3
from datetime import timedelta
from pathlib import Path

import numpy as np

from shotlog.clock import iso_utc
from shotlog.parts.part import Part
from shotlog.records import Baseline, Fault, Gap, Shot, Signal, Verdict
from shotlog.settings import Settings, load
from shotlog.store.inserts import entries
from shotlog.store.log import judgements
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts import baths, dispositions, inspections, soaks
from tests.review.made_up_press import START, at

CONFIG = """
[log]
store = "sqlite:///trial.db"
[trial]
name = "cap trial 7"
part = "cap"
resin = "PP"
[[press]]
name = "P1"
  [press.collector]
  kind = "recording"
[[press]]
name = "P2"
  [press.collector]
  kind = "recording"
[design.cap-r2]
resin_family = "acrylate photopolymer"
  [design.cap-r2.limits]
  cushion = { low = 4.4 }
  [design.cap-r2.cost]
  part = 2.0
  insert = 18.0
  changeover = 12.0
  late_find = 8.0
  [design.cap-r2.tolerance]
  wall = { low = 1.1, high = 1.3 }
"""

N_SHOTS = 120
LATER = START + timedelta(days=1)


def settings_in(folder: Path) -> Settings:
    """Write the configuration and read it."""
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    return load(folder / "trial.toml")


def fill(settings: Settings) -> None:
    """Make the log."""
    with open_log(settings.store, read_only=False) as log:
        log.use_trial("cap trial 7", "cap", "PP", iso_utc(START))
        _mount(log)
        log.append(_shots())
        log.append([Gap("P1", 70, 71, at(72), "counter went on from 69 to 72")])
        log.append([Fault("P1", at(30), "torn", "values changed while they were read", b"\x01\x02", 30)])
        _judge(log)
        _look_at(log, settings)


def _mount(log: Log) -> None:
    entries.mount(log, "P1", "A-1", START, half="fixed", at_shot=1, design="cap-r2")
    entries.mount(log, "P1", "S-1", START, half="core", at_shot=1, design="core-s", single_use=True, print_batch="PL-1")
    for serial, at_shot, reason in (("B-1", 1, ""), ("B-2", 41, "flash <at the gate>"), ("B-3", 81, "planned life")):
        if at_shot > 1:
            entries.remove(log, "P1", f"B-{int(serial[2:]) - 1}", at(at_shot - 1), reason=reason, at_shot=at_shot)
        entries.mount(log, "P1", serial, at(at_shot - 1), half="moving", at_shot=at_shot, design="cap-r2")
    entries.note(log, "P1", "lot", "L2 & more", at(85), at_shot=86)
    entries.note(log, "P1", "finding", "flash", at(40), at_shot=40)


def _shots() -> list[Shot]:
    rng = np.random.default_rng(5)
    shots = []
    for n in range(1, N_SHOTS + 1):
        cushion = 5.0 - 0.04 * max(0, n - 25) * (n <= 40) + rng.normal(0.0, 0.03)
        values = {
            "cushion": cushion,
            "peak_pressure": 540.0 + rng.normal(0.0, 3.0),
            "fill_time": 0.72 + rng.normal(0.0, 0.004),
        }
        if n not in (70, 71):
            shots.append(Shot("P1", n, n, at(n), values))
    return shots


def _judge(log: Log) -> None:
    judged: list[Verdict | Signal | Baseline] = []
    for n in [n for n in range(1, N_SHOTS + 1) if n not in (70, 71)]:
        insert, since = ("B-1", 1) if n <= 40 else ("B-2", 41) if n <= 80 else ("B-3", 81)
        on_insert = n - since + 1
        if 30 <= n <= 40:
            said = "swap" if n >= 32 else "watch"
            more = {
                "onset": 27,
                "onset_low": 24,
                "onset_high": 29,
                "cause": "gate erosion",
                "group": "insert",
                "weight": 0.9,
            }
            judged.append(Verdict("P1", n, insert, on_insert, False, said, "cushion down since shot 27", **more))
        else:
            judged.append(Verdict("P1", n, insert, on_insert, on_insert <= 5, "keep", "no change seen in these values"))
    judged.append(Signal("P1", 33, "individuals", "cushion", "below", 4.6, 5.0, 4.8, 5.2))
    judged += [Baseline("P1", f"B-{k}", "cushion", f, f + 11, 12, 5.0, 0.03, 4.88, 5.12) for k, f in ((1, 6), (2, 46))]
    with log.transaction() as work:
        press_id = work.press_id("P1", iso_utc(START))
        judging = judgements.open_judging(work, press_id, 0, "made up", "first judging", iso_utc(START))
        judgements.record(work, press_id, judging, judged)


def _look_at(log: Log, settings: Settings) -> None:
    rng = np.random.default_rng(6)
    for shot in range(45, 65):
        wall = 1.2 + float(rng.normal(0.0, 0.02))
        bound = settings.designs["cap-r2"].tolerance["wall"]
        inspections.inspect(log, Part("P1", shot), LATER, quantity="wall", value=wall, unit="mm", tolerance=bound)
    inspections.inspect(log, Part("P1", 100), LATER, finding="window missing", half="fixed", initials="ab")
    baths.make_up(log, "bath 1", START, made_up=START)
    soaks.put_in(log, "bath 1", [Part("P1", n) for n in (3, 4, 5, 9)], at(60), settings.designs, went_in=at(60))
    held = [Part("P1", n) for n in range(24, 41)]
    dispositions.enter_decision(log, held[:2], "released", LATER, reason="measured, within tolerance", initials="ab")
    dispositions.enter_decision(log, held[-3:], "scrapped", LATER, reason="flash", initials="ab")


def spoil(store: str) -> None:
    """Change a row behind the log's back."""
    connection = sqlite3.connect(store.removeprefix("sqlite:///"))
    connection.execute("UPDATE events SET text = 'another lot' WHERE kind = 'lot'")
    connection.commit()
    connection.close()
