"""A log of years, written straight into its tables: lives of eighty shots, judged, inspected, in baths, decided on.

Only as true as the benchmark needs: the numbers of rows and how they lie are right, what the links of the chain name as
well; the values are noise, the digests are none.
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
"""The names of the presses where nobody says how many; of more, the others are numbered."""

HELD_PARTS = 10_000
"""Parts, the newest called, that nobody has decided on yet; all before were let go or scrapped, life by life."""

DESIGNS = ("cap-r2", "cap-r3", "clip-r1")
LIFE, CYCLE_S, CHUNK = 80, 75, 20_000
CALLED_FROM = 53
"""Shots of a life before those that a call names."""

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


def presses_of(n: int) -> tuple[str, ...]:
    return (*PRESSES, *(f"P{number:03d}" for number in range(101, 101 + n)))[:n]


def config(n_presses: int = len(PRESSES)) -> str:
    return CONFIG.format(presses="".join(_PRESS.format(name=name) for name in presses_of(n_presses)))


def write(log: Log, n_shots: int, end: datetime, n_presses: int = len(PRESSES)) -> None:
    """Fill a new log with `n_shots`, the last of them at `end`; every press makes the same number."""
    names = presses_of(n_presses)
    each = n_shots // n_presses
    undecided = HELD_PARTS // (LIFE - CALLED_FROM) // n_presses
    random = Random(20261125)
    start = end - timedelta(seconds=each * CYCLE_S)
    with log.transaction() as work:
        fill = _Filler(work.connection)
        long_ago = iso_utc(start)
        fill(schema.presses, ({"id": p, "name": name, "time": long_ago} for p, name in enumerate(names, 1)))
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
        for press_id in range(1, n_presses + 1):
            press = _Press(press_id, each, undecided, start, random)
            fill(schema.judgings, [press.judging()])
            for table, rows in press.tables():
                fill(table, rows)


_NO_DIGEST = "0" * 64


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

    def __init__(self, press_id: int, n: int, undecided: int, start: datetime, random: Random) -> None:
        self._id, self._n, self._start, self._random = press_id, n, start, random
        self._lives = range(0, n, LIFE)
        self._decided = self._lives[: max(0, len(self._lives) - undecided)]
        self._first_insert = self._before = press_id * 1_000_000

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
        yield schema.soaks, (self._soak(shot) for shot in range(200, self._n + 1, 200))
        yield schema.soak_ends, (self._soak_end(shot) for shot in range(200, self._n - 4000, 200))
        yield schema.dispositions, (self._decision(n) for n in self._decided)
        yield schema.ledger, self._links_of_the_chain()

    def _row(self, at: int) -> int:
        """Return the number of the row of a press's shot, verdict or entry at a shot."""
        return self._before + at

    def _links_of_the_chain(self) -> Iterable[dict[str, Any]]:
        """Yield what the chain names in the order it came: each shot, its verdict, then what people entered."""
        swaps = set(self._lives)
        for shot in range(1, self._n + 1):
            named = [f"shots:{self._row(shot)}", f"verdicts:{self._row(shot)}"]
            named += [f"removals:{self._row(shot)}"] * (shot - 1 in swaps and shot > 1)
            named += [f"mountings:{self._row(shot)}"] * (shot - 1 in swaps)
            named += [f"events:{self._row(shot)}", f"inspections:{self._row(shot)}"] * (shot % 100 == 0)
            named += [f"dispositions:{self._row(shot)}"] * (shot % LIFE == 0 and shot - LIFE in self._decided)
            named += [f"soaks:{self._row(shot)}"] * (shot % 200 == 0)
            for rows in named:
                yield {"rows": rows, "digest": _NO_DIGEST, "origin": None}

    def _insert(self, n: int) -> dict[str, Any]:
        at = n // LIFE
        return {
            "id": self._first_insert + at, "serial": self._serial(n + 1), "design_id": at % len(DESIGNS) + 1,
            "print_batch": f"PB-{at // 12}", "time": self._time(n),
        }  # fmt: skip

    def _mounting(self, n: int) -> dict[str, Any]:
        insert_id = self._first_insert + n // LIFE
        what = {"insert_id": insert_id, "half": "moving", "single_use": False}
        return self._of(id=self._row(n + 1), at_shot=n + 1, time=self._time(n), **what)

    def _removal(self, n: int) -> dict[str, Any]:
        reason = ("flash", "crack", "planned")[n // LIFE % 3]
        insert_id = self._first_insert + n // LIFE - 1
        row = self._row(n + 1)
        return self._of(id=row, insert_id=insert_id, at_shot=n + 1, reason=reason, time=self._time(n))

    def _shot(self, shot: int) -> dict[str, Any]:
        noise = self._random.gauss
        return self._of(
            id=self._row(shot),
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
        onset = shot - on_insert + CALLED_FROM + 5 if worn else None
        return self._judged(
            id=self._row(shot),
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
        return self._of(id=self._row(shot), at_shot=shot, kind=kind, text=text, time=self._time(shot))

    def _inspection(self, shot: int) -> dict[str, Any]:
        measured = {"quantity": "diameter", "value": 12.0, "low": 11.9, "high": 12.1, "unit": "mm", "given": "12.00"}
        when = self._time(shot)
        who = {"finding": "", "half": "", "instrument": "gauge", "initials": "AB", "inspected": when, "time": when}
        return self._of(id=self._row(shot), shot=shot, cavity=1, **measured, **who)

    def _bath(self) -> dict[str, Any]:
        ranges = {
            "concentration_low": 1.0,
            "concentration_high": 3.0,
            "temperature_low": 40.0,
            "temperature_high": 60.0,
        }
        return {"id": 1, "name": "bath 1", **ranges, "made_up": self._time(0), "initials": "AB", "time": self._time(0)}

    def _soak(self, shot: int) -> dict[str, Any]:
        in_, due = self._time(shot), self._time(shot + 24 * 3600 // CYCLE_S)
        return self._of(
            id=self._row(shot), bath_id=1, shot=shot, cavity=1, went_in=in_, due=due, initials="AB", time=in_
        )

    def _soak_end(self, shot: int) -> dict[str, Any]:
        out = self._time(shot + 25 * 3600 // CYCLE_S)
        return {
            "soak_id": self._row(shot), "came_out": out, "cleared": True, "remark": "", "initials": "AB",
            "time": out,
        }  # fmt: skip

    def _decision(self, n: int) -> dict[str, Any]:
        last = min(n + LIFE, self._n)
        said = {"decision": ("released", "scrapped")[n // LIFE % 2], "reason": "looked at, all of it", "initials": "AB"}
        return self._of(id=self._row(n + LIFE), first=n + 1, last=last, cavity=None, time=self._time(last), **said)
