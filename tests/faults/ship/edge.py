"""``python -m tests.faults.ship.edge LOG PRESS N PAUSE_S SEED``: a process that logs shots, each stored, then judged.

What is judged is made up: this is about rows that come, of many tables, and nothing of what they say.
"""

import random
import sys
import time
from datetime import UTC, datetime, timedelta

from shotlog.records import Gap, Shot, Signal, Verdict
from shotlog.store.log import judgements
from shotlog.store.log.log import Log, open_log

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def log_shots(log: Log, press: str, first: int, last: int, pause_s: float, seed: int) -> None:
    """Store and judge shots, two transactions each, with something else now and then."""
    chance = random.Random(seed)
    judging = None
    for n in range(first, last + 1):
        at = START + timedelta(seconds=5 * n)
        values = {"cushion": 5 + chance.gauss(0, 0.02), "peak_pressure": float(500 + n % 7), "fill_time": 0.38}
        log.append([Shot(press, n, n % 65536, at, values)], origin=f"{press}-{seed}-{n}")
        with log.transaction() as work:
            time_said = at.isoformat().replace("+00:00", "Z")
            press_id = work.press_id(press, time_said)
            if judging is None:
                judging = judgements.open_judging(work, press_id, first, "a test", "begun", time_said)
            said: list[Verdict | Signal] = [Verdict(press, n, "M-1", n, n < 10, "keep", f"nothing seen at {n} µ")]
            if n % 20 == 0:
                said.append(Signal(press, n, "individuals", "cushion", "outside limits", 5.3, 5.0, 4.9, 5.1))
            judgements.record(work, press_id, judging, said)
        if n % 50 == 0:
            log.append([Gap(press, n, n, at, "made up")])
        if pause_s:
            time.sleep(pause_s)


if __name__ == "__main__":
    where, name, n_shots, pause, number = sys.argv[1:]
    with open_log(f"sqlite:///{where}", read_only=False) as opened:
        log_shots(opened, name, 1, int(n_shots), float(pause), int(number))
