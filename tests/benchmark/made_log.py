"""A log as a press makes it: a shot a transaction, judged a shot at a time, an insert mounted every eighty shots."""

from random import Random

from shotlog.clock import HandClock
from shotlog.recorder.judge import Judge
from shotlog.records import Insert, Mounting, Shot
from shotlog.store.log.log import open_log

__all__ = ["LIFE", "PRESS", "made", "shot"]

LIFE, PRESS = 80, "P25"


def shot(number: int, clock: HandClock, random: Random) -> Shot:
    """Return the next shot of a press that nothing happens on, 75 seconds after the one before."""
    clock.advance(75.0)
    values = {
        "cushion": round(random.gauss(4.94, 0.05), 2),
        "peak_pressure": round(random.gauss(540.0, 4.0), 1),
        "fill_time": round(random.gauss(0.72, 0.004), 3),
    }
    return Shot(PRESS, number, number, clock.now(), values)


def made(url: str, n_shots: int) -> None:
    """Make a new log of `n_shots`, on whichever database `url` names."""
    clock, random = HandClock(), Random(20261125)
    with open_log(url, read_only=False) as log:
        judge = Judge(log, PRESS, {}, clock)
        for number in range(1, n_shots + 1):
            if number % LIFE == 1:
                insert = Insert(f"B-{number // LIFE + 1:03d}", "cap-r2")
                log.append([Mounting(PRESS, "moving", insert, number, clock.now())])
            log.append([shot(number, clock, random)])
            judge.catch_up()
