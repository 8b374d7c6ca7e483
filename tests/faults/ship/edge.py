"""``python -m tests.faults.ship.edge LOG PRESS N SEED AT_ONCE``: a process that logs shots, stored, then judged.

What is judged is made up: this is about rows that come, of many tables, and nothing of what they say.
"""

import random
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from shotlog.clock import iso_utc
from shotlog.records import Gap, Shot, Signal, Verdict
from shotlog.store.log import judgements
from shotlog.store.log.log import Log, open_log

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def log_shots(log: Log, press: str, first: int, last: int, seed: int, at_once: int = 1) -> None:
    """Store and judge shots, `at_once` of them in a transaction each, with something else now and then."""
    chance = random.Random(seed)
    judging = None
    for begin in range(first, last + 1, at_once):
        numbers = range(begin, min(begin + at_once, last + 1))
        times = {n: START + timedelta(seconds=5 * n) for n in numbers}
        log.append([_shot(press, n, times[n], chance) for n in numbers], origin=f"{press}-{seed}-{begin}")
        with log.transaction() as work:
            time_said = iso_utc(times[begin])
            press_id = work.press_id(press, time_said)
            if judging is None:
                judging = judgements.open_judging(work, press_id, first, "a test", "begun", time_said)
            judgements.record(work, press_id, judging, [one for n in numbers for one in _said(press, n)])
        gaps = [Gap(press, n, n, times[n], "made up") for n in numbers if n % 50 == 0]
        if gaps:
            log.append(gaps)


def _shot(press: str, n: int, at: datetime, chance: random.Random) -> Shot:
    values = {"cushion": 5 + chance.gauss(0, 0.02), "peak_pressure": float(500 + n % 7), "fill_time": 0.38}
    return Shot(press, n, n % 65536, at, values)


def _said(press: str, n: int) -> Iterator[Verdict | Signal]:
    yield Verdict(press, n, "M-1", n, n < 10, "keep", f"nothing seen at {n} µ")
    if n % 20 == 0:
        yield Signal(press, n, "individuals", "cushion", "outside limits", 5.3, 5.0, 4.9, 5.1)


if __name__ == "__main__":
    where, name, n_shots, number, together = sys.argv[1:]
    with open_log(f"sqlite:///{where}", read_only=False) as opened:
        log_shots(opened, name, 1, int(n_shots), int(number), int(together))
