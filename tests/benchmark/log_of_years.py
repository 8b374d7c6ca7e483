"""A log of years, written straight into its tables: lives of eighty shots, judged, inspected, in baths, decided on.

Only as true as the benchmark needs: the numbers of rows and how they lie are right, the presses take turns, and the
chain holds over all of it, so that who verifies has to read it all; the values are noise, and nobody signed.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from itertools import islice
from random import Random
from typing import Any

from sqlalchemy import Connection, Table, insert

from shotlog.clock import iso_utc
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, linked
from shotlog.store.log.covered import archived, covered_texts
from shotlog.store.log.identity import read_head
from shotlog.store.log.log import Log

PRESSES = ("P25", "P15", "P40", "P60")
"""The names of the presses where nobody says how many; of more, the others are numbered."""

HELD_PARTS = 10_000
"""Parts, the newest called, that nobody has decided on yet; all before were let go or scrapped, life by life."""

DESIGNS = ("cap-r2", "cap-r3", "clip-r1")
LIFE, CYCLE_S, CHUNK = 80, 75, 20_000
CALLED_FROM = 53
"""Shots of a life before those that a call names."""
_LEARNT = 22
"""The shot of an insert at which its levels are known."""

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
    presses = [_Press(number, n_presses, each, undecided, start, random) for number in range(1, n_presses + 1)]
    with log.transaction() as work:
        fill = _Filler(work.connection)
        known = _known_before(names, iso_utc(start))
        for table, rows in known.items():
            fill(table, rows)
        fill(schema.judgings, (press.judging() for press in presses))
        fill(schema.baths, [presses[0].bath()])
        for table, of_shot, shots in presses[0].tables():
            fill(table, (row for shot in shots for press in presses for row in of_shot(press, shot)))
        first = [f"{table.name}:{row['id']}" for table, rows in known.items() for row in rows]
        first += [f"judgings:{number}" for number in range(1, n_presses + 1)] + ["baths:1"]
        fill(schema.ledger, _chained(work.connection, _links([" ".join(first)], presses, each)))


def _known_before(names: Sequence[str], time: str) -> dict[Table, list[dict[str, Any]]]:
    trials = [
        {"id": t, "name": f"T-{t:03d}", "part": "cap", "resin": ("PP", "PA66")[t % 2], "time": time}
        for t in range(1, 41)
    ]
    designs = [{"id": n, "name": name, "resin_family": "acrylate", "time": time} for n, name in enumerate(DESIGNS, 1)]
    presses = [{"id": p, "name": name, "time": time} for p, name in enumerate(names, 1)]
    return {schema.presses: presses, schema.designs: designs, schema.trials: trials}


def _links(first: Iterable[str], presses: Sequence["_Press"], each: int) -> Iterator[str]:
    """Yield what the links of the chain name, in the order it came: the presses made their shots by turns."""
    yield from first
    for shot in range(1, each + 1):
        for press in presses:
            yield from press.links(shot)


def _chained(connection: Connection, links: Iterator[str]) -> Iterator[dict[str, Any]]:
    """Yield the links of the chain with their digests, over rows that are there already."""
    head, gone = read_head(connection), archived(connection)
    before = GENESIS if head is None else head.digest
    while some := list(islice(links, CHUNK // 10)):
        texts_of = covered_texts(connection, [(0, rows) for rows in some], "years", gone)
        for rows, texts in zip(some, texts_of, strict=True):
            before = linked(before, texts or ())
            yield {"rows": rows, "digest": before, "origin": None}


class _Filler:
    def __init__(self, connection: Connection) -> None:
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


Rows = Iterable[dict[str, Any]]


class _Press:
    """The rows of one press of several, each made up to `n` shots. Rows are numbered in the order in which they came
    from all of them; inserts, `LIFE` shots each, as well.
    """

    def __init__(self, press_id: int, n_presses: int, n: int, undecided: int, start: datetime, random: Random) -> None:
        self._id, self._n_presses, self._n = press_id, n_presses, n
        self._start, self._random = start, random
        self._lives, self._missed = range(0, n, LIFE), range(3000, 3000 * (n // 4000) + 1, 3000)
        self._decided = self._lives[: max(0, len(self._lives) - undecided)]

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

    def tables(self) -> Iterator[tuple[Table, Callable[["_Press", int], Rows], range]]:
        """Yield each table, what makes its rows of a shot of a press, and of which shots there are any.

        They come in the order that their references ask for, and are the same of every press.
        """
        n, first = self._n, range(1, self._n + 1, LIFE)
        yield schema.inserts, lambda press, shot: [press._insert(shot - 1)], first
        yield schema.mountings, lambda press, shot: [press._mounting(shot - 1)], first
        yield schema.removals, lambda press, shot: [press._removal(shot - 1)], first[1:]
        yield schema.shots, lambda press, shot: [press._shot(shot)], range(1, n + 1)
        yield schema.verdicts, lambda press, shot: [press._verdict(shot)], range(1, n + 1)
        yield schema.signals, lambda press, shot: [press._signal(shot)], range(50, n + 1, 50)
        yield schema.baselines, lambda press, shot: press._baselines(shot), range(1, n - _LEARNT + 2, LIFE)
        yield schema.faults, lambda press, shot: [press._fault(shot)], range(400, n + 1, 400)
        yield schema.gaps, lambda press, shot: [press._gap(shot)], self._missed
        yield schema.links, lambda press, shot: [press._link(shot)], range(1, n, 2000)
        yield schema.events, lambda press, shot: [press._event(shot)], range(100, n + 1, 100)
        yield schema.inspections, lambda press, shot: [press._inspection(shot)], range(100, n + 1, 100)
        yield schema.soaks, lambda press, shot: [press._soak(shot)], range(200, n + 1, 200)
        yield schema.soak_ends, lambda press, shot: [press._soak_end(shot)], range(200, n - 4000, 200)
        yield schema.dispositions, lambda press, shot: [press._decision(shot - 1)], first[: len(self._decided)]

    def _row(self, at: int) -> int:
        """Return the number of the row of a press's shot, verdict or entry at a shot."""
        return at * self._n_presses + self._id

    def links(self, shot: int) -> Iterator[str]:
        """Yield what the links of a shot name: the shot, its verdict, then what people entered."""
        row, on_insert, n = self._row(shot), (shot - 1) % LIFE + 1, self._n
        if on_insert == 1:
            yield from [f"removals:{row}"] * (shot > 1)
            yield f"inserts:{self._insert_id(shot - 1)} mountings:{row}"
        yield from [f"links:{row}"] * (shot % 2000 == 1 and shot < n)
        yield from [f"gaps:{row}"] * (shot in self._missed)
        yield f"shots:{row}" + f" faults:{row}" * (shot % 400 == 0)
        learnt = f" baselines:{2 * self._row(shot - _LEARNT + 1)} baselines:{2 * self._row(shot - _LEARNT + 1) + 1}"
        yield f"verdicts:{row}" + f" signals:{row}" * (shot % 50 == 0) + learnt * (on_insert == _LEARNT)
        if shot % 100 == 0:
            yield from (f"events:{row}", f"inspections:{row}")
        if shot % 200 == 0:
            yield f"soaks:{row}"
        into = shot - 25 * 3600 // CYCLE_S
        if into > 0 and into % 200 == 0 and into < n - 4000:
            yield f"soak_ends:{self._row(into)}"
        life = shot - on_insert
        if (on_insert == LIFE or shot == n) and life in self._decided:
            yield f"dispositions:{self._row(life + 1)}"

    def _insert(self, n: int) -> dict[str, Any]:
        at = n // LIFE
        return {
            "id": self._insert_id(n), "serial": self._serial(n + 1), "design_id": at % len(DESIGNS) + 1,
            "print_batch": f"PB-{at // 12}", "time": self._time(n),
        }  # fmt: skip

    def _insert_id(self, n: int) -> int:
        return n // LIFE * self._n_presses + self._id

    def _mounting(self, n: int) -> dict[str, Any]:
        what = {"insert_id": self._insert_id(n), "half": "moving", "single_use": False}
        return self._of(id=self._row(n + 1), at_shot=n + 1, time=self._time(n), **what)

    def _removal(self, n: int) -> dict[str, Any]:
        reason = ("flash", "crack", "planned")[n // LIFE % 3]
        who = {"id": self._row(n + 1), "insert_id": self._insert_id(n - 1)}
        return self._of(**who, at_shot=n + 1, reason=reason, time=self._time(n))

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
        return self._judged(
            id=self._row(shot), shot=shot, chart="individuals", channel="cushion", rule="below", **limits
        )

    def _baselines(self, shot: int) -> Rows:
        of = {"insert": self._serial(shot), "first": shot + 10, "last": shot + _LEARNT - 1, "n_shots": 12}
        level = {"centre": 4.94, "spread": 0.05, "lower": 4.79, "upper": 5.09}
        for n, channel in enumerate(("cushion", "fill_time")):
            yield self._judged(id=2 * self._row(shot) + n, channel=channel, **of, **level)

    def _fault(self, shot: int) -> dict[str, Any]:
        kind = ("range", "bad line", "not measured")[shot // 400 % 3]
        return self._of(
            id=self._row(shot), shot=shot, kind=kind, detail="as it came", raw=b"1;2;3", time=self._time(shot)
        )

    def _gap(self, shot: int) -> dict[str, Any]:
        said = {"reason": "the counter jumped", "time": self._time(shot)}
        return self._of(id=self._row(shot), first=shot, last=shot + 2, **said)

    def _link(self, shot: int) -> dict[str, Any]:
        return self._of(id=self._row(shot), state="connected", detail="the press answers", time=self._time(shot))

    def _event(self, shot: int) -> dict[str, Any]:
        kind, text = (("lot", f"L-{shot}"), ("pause", "pause"), ("finding", "flash"))[shot // 100 % 3]
        return self._of(id=self._row(shot), at_shot=shot, kind=kind, text=text, time=self._time(shot))

    def _inspection(self, shot: int) -> dict[str, Any]:
        measured = {"quantity": "diameter", "value": 12.0, "low": 11.9, "high": 12.1, "unit": "mm", "given": "12.00"}
        when = self._time(shot)
        who = {"finding": "", "half": "", "instrument": "gauge", "initials": "AB", "inspected": when, "time": when}
        return self._of(id=self._row(shot), shot=shot, cavity=1, **measured, **who)

    def bath(self) -> dict[str, Any]:
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
        said = {"came_out": out, "cleared": True, "remark": "", "initials": "AB", "time": out}
        return {"id": self._row(shot), "soak_id": self._row(shot), **said}

    def _decision(self, n: int) -> dict[str, Any]:
        last = min(n + LIFE, self._n)
        said = {"decision": ("released", "scrapped")[n // LIFE % 2], "reason": "looked at, all of it", "initials": "AB"}
        return self._of(id=self._row(n + 1), first=n + 1, last=last, cavity=None, time=self._time(last), **said)
