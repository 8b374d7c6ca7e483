"""A log of years, written straight into its tables: lives of eighty shots on four presses, judged, inspected, in baths.

Only as true as the benchmark needs: the numbers of rows and how they lie are right, the values are noise.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from random import Random
from typing import Any

from sqlalchemy import Table, insert

from shotlog.clock import iso_utc
from shotlog.store.log import schema
from shotlog.store.log.log import Log

PRESSES = ("P25", "P15", "P40", "P60")
DESIGNS = ("cap-r2", "cap-r3", "clip-r1")
LIFE, CYCLE_S, CHUNK = 80, 75, 20_000

CONFIG = """
[log]
store = "sqlite:///years.db"
{presses}
[design.cap-r2.limits]
cushion = {{ low = 4.2 }}
[design.cap-r2.cost]
part = 4.0
insert = 18.0
changeover = 12.0
late_find = 9.0
"""
_PRESS = '[[press]]\nname = "{name}"\n  [press.collector]\n  kind = "recording"\n'


def config() -> str:
    return CONFIG.format(presses="".join(_PRESS.format(name=name) for name in PRESSES))


def write(log: Log, n_shots: int, end: datetime) -> None:
    """Fill a new log with `n_shots`, the last of them at `end`; every press makes the same number."""
    each = n_shots // len(PRESSES)
    random = Random(20261125)
    start = end - timedelta(seconds=each * CYCLE_S)
    with log.transaction() as work:
        fill = _Filler(work.connection)
        long_ago = iso_utc(start)
        fill(schema.presses, ({"id": p, "name": name, "time": long_ago} for p, name in enumerate(PRESSES, 1)))
        fill(
            schema.designs,
            (
                {"id": n, "name": name, "resin_family": "acrylate", "time": long_ago}
                for n, name in enumerate(DESIGNS, 1)
            ),
        )
        trials = [
            {"id": t, "name": f"T-{t:03d}", "part": "cap", "resin": ("PP", "PA66")[t % 2], "time": long_ago}
            for t in range(1, 41)
        ]
        fill(schema.trials, trials)
        for press_id in range(1, len(PRESSES) + 1):
            press = _Press(press_id, each, start, random)
            fill(schema.judgings, [press.judging()])
            for table, rows in press.tables():
                fill(table, rows)


class _Filler:
    def __init__(self, connection: Any) -> None:
        self._connection = connection

    def __call__(self, table: Table, rows: Iterable[dict[str, Any]]) -> None:
        waiting: list[dict[str, Any]] = []
        for row in rows:
            waiting.append(row)
            if len(waiting) >= CHUNK:
                self._connection.execute(insert(table), waiting)
                waiting = []
        if waiting:
            self._connection.execute(insert(table), waiting)


class _Press:
    """The rows of one press. Inserts are numbered over all presses, `LIFE` shots each."""

    def __init__(self, press_id: int, n: int, start: datetime, random: Random) -> None:
        self._id, self._n, self._start, self._random = press_id, n, start, random
        self._lives = range(0, n, LIFE)
        self._first_insert = press_id * 1_000_000

    def _time(self, shot: int) -> str:
        return iso_utc(self._start + timedelta(seconds=shot * CYCLE_S))

    def judging(self) -> dict[str, Any]:
        return {
            "id": self._id, "press_id": self._id, "from_shot": 0, "basis": "b", "reason": "first judging",
            "time": self._time(0),
        }  # fmt: skip

    def _of(self, **values: Any) -> dict[str, Any]:
        return {"press_id": self._id, **values}

    def _judged(self, **values: Any) -> dict[str, Any]:
        return {"press_id": self._id, "judging_id": self._id, **values}

    def _serial(self, shot: int) -> str:
        return f"B{self._id}-{(shot - 1) // LIFE + 1:05d}"

    def tables(self) -> Iterable[tuple[Table, Iterable[dict[str, Any]]]]:
        """Yield the rows of every table, in the order that their references ask for."""
        yield schema.inserts, (self._insert(n) for n in self._lives)
        yield schema.mountings, (self._mounting(n) for n in self._lives)
        yield schema.removals, (self._removal(n) for n in self._lives[1:])
        yield schema.shots, (self._shot(shot) for shot in range(1, self._n + 1))
        yield schema.verdicts, (self._verdict(shot) for shot in range(1, self._n + 1))
        yield schema.signals, (self._signal(shot) for shot in range(50, self._n + 1, 50))
        yield schema.baselines, (self._baseline(n, name) for n in self._lives for name in ("cushion", "fill_time"))
        yield schema.faults, (self._fault(shot) for shot in range(400, self._n + 1, 400))
        yield schema.gaps, (self._gap(shot) for shot in range(self._n + 1, self._n + 1 + self._n // 4000))
        yield schema.links, (self._link(shot) for shot in range(1, self._n, 2000))
        yield schema.events, (self._event(shot) for shot in range(100, self._n + 1, 100))
        yield schema.inspections, (self._inspection(shot) for shot in range(100, self._n + 1, 100))
        if self._id == 1:
            yield schema.baths, [self._bath()]
        yield schema.soaks, (self._soak(n, shot) for n, shot in enumerate(range(200, self._n + 1, 200)))
        yield schema.soak_ends, (self._soak_end(n, shot) for n, shot in enumerate(range(200, self._n - 4000, 200)))

    def _insert(self, n: int) -> dict[str, Any]:
        at = n // LIFE
        return {
            "id": self._first_insert + at, "serial": self._serial(n + 1), "design_id": at % len(DESIGNS) + 1,
            "print_batch": f"PB-{at // 12}", "time": self._time(n),
        }  # fmt: skip

    def _mounting(self, n: int) -> dict[str, Any]:
        insert_id = self._first_insert + n // LIFE
        return self._of(insert_id=insert_id, half="moving", at_shot=n + 1, single_use=False, time=self._time(n))

    def _removal(self, n: int) -> dict[str, Any]:
        reason = ("flash", "crack", "planned")[n // LIFE % 3]
        insert_id = self._first_insert + n // LIFE - 1
        return self._of(insert_id=insert_id, at_shot=n + 1, reason=reason, time=self._time(n))

    def _shot(self, shot: int) -> dict[str, Any]:
        noise = self._random.gauss
        return self._of(
            shot=shot,
            counter=shot,
            time=self._time(shot),
            trial_id=shot * 40 // (self._n + 1) + 1,
            cushion=round(4.94 + noise(0, 0.03), 2),
            peak_pressure=round(542 + noise(0, 3), 1),
            fill_time=round(0.72 + noise(0, 0.003), 3),
        )

    def _verdict(self, shot: int) -> dict[str, Any]:
        on_insert = (shot - 1) % LIFE + 1
        worn = on_insert > 60
        onset = shot - on_insert + 58 if worn else None
        return self._judged(
            shot=shot,
            insert=self._serial(shot),
            shots_on_insert=on_insert,
            settling=on_insert <= 10,
            verdict="watch" if worn else "keep",
            sentence=f"no change seen in these values since shot {shot - on_insert + 11}; shot {on_insert}",
            signals="",
            cause="gate erosion" if worn else "",
            group="insert" if worn else "",
            weight=0.8 if worn else None,
            onset=onset,
            onset_low=onset and onset - 4,
            onset_high=onset and onset + 3,
            left_median=20.0 if worn else None,
            facts=None if worn else f'{{"stage":"quiet","quiet_since":{shot - on_insert + 11},"n_sisters":3}}',
            left_low=8.0 if worn else None,
            left_high=50.0 if worn else None,
            statistic=8.0 if worn else -1.0,
            threshold=5.0,
        )

    def _signal(self, shot: int) -> dict[str, Any]:
        limits = {"value": 4.6, "centre": 4.94, "lower": 4.7, "upper": 5.2}
        return self._judged(shot=shot, chart="individuals", channel="cushion", rule="below", **limits)

    def _baseline(self, n: int, channel: str) -> dict[str, Any]:
        level = {"centre": 4.94, "spread": 0.05, "lower": 4.79, "upper": 5.09}
        serial = self._serial(n + 1)
        return self._judged(insert=serial, channel=channel, first=n + 11, last=n + 22, n_shots=12, **level)

    def _fault(self, shot: int) -> dict[str, Any]:
        kind = ("range", "bad line", "not measured")[shot // 400 % 3]
        return self._of(shot=shot, kind=kind, detail="as it came", raw=b"1;2;3", time=self._time(shot))

    def _gap(self, shot: int) -> dict[str, Any]:
        missed = (shot - self._n) * 3000
        return self._of(first=missed, last=missed + 2, reason="the counter jumped", time=self._time(missed))

    def _link(self, shot: int) -> dict[str, Any]:
        return self._of(state="connected", detail="the press answers", time=self._time(shot))

    def _event(self, shot: int) -> dict[str, Any]:
        kind, text = (("lot", f"L-{shot}"), ("pause", "pause"), ("finding", "flash"))[shot // 100 % 3]
        return self._of(at_shot=shot, kind=kind, text=text, time=self._time(shot))

    def _inspection(self, shot: int) -> dict[str, Any]:
        measured = {"quantity": "diameter", "value": 12.0, "low": 11.9, "high": 12.1, "unit": "mm", "given": "12.00"}
        when = self._time(shot)
        who = {"finding": "", "half": "", "instrument": "gauge", "initials": "AB", "inspected": when, "time": when}
        return self._of(shot=shot, cavity=1, **measured, **who)

    def _bath(self) -> dict[str, Any]:
        ranges = {
            "concentration_low": 1.0,
            "concentration_high": 3.0,
            "temperature_low": 40.0,
            "temperature_high": 60.0,
        }
        return {"id": 1, "name": "bath 1", **ranges, "made_up": self._time(0), "initials": "AB", "time": self._time(0)}

    def _soak(self, n: int, shot: int) -> dict[str, Any]:
        in_, due = self._time(shot), self._time(shot + 24 * 3600 // CYCLE_S)
        number = self._first_insert + n
        return self._of(id=number, bath_id=1, shot=shot, cavity=1, went_in=in_, due=due, initials="AB", time=in_)

    def _soak_end(self, n: int, shot: int) -> dict[str, Any]:
        out = self._time(shot + 25 * 3600 // CYCLE_S)
        return {
            "soak_id": self._first_insert + n, "came_out": out, "cleared": True, "remark": "", "initials": "AB",
            "time": out,
        }  # fmt: skip
