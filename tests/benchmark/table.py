"""`make bench`: every claim of speed and size as a row with its limit beside it, measured in the same run, by turns.

    python -m tests.benchmark.table [--only NAME] [--json] [--folder FOLDER]

Each benchmark is a module `bench_NAME` with a function `rows(bench)` that yields rows, run in a process of its own, so
that none finds what another one left in memory. Nothing is asserted. What a module prints beside its rows, it prints
when it is run by itself.
"""

import argparse
import importlib
import json
import subprocess
import sys
import tempfile
import textwrap
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from tests.benchmark.bench import Bench
from tests.benchmark.machine import Load, described
from tests.benchmark.row import Row, digits, figure, middle
from tests.postgres import Server, start_server

__all__ = ["BENCHES", "printed"]

BENCHES = (
    "modbus", "charts", "store", "size", "arrays", "files", "verify", "replay", "review", "start", "memory", "pages",
    "fifty", "centre",
)  # fmt: skip
"""What is measured, in the order of the table: each the name of a module here, after ``bench_``."""

_WIDTH = 120
_MEANS = """\
A row: what it costs here, what it costs beside, and how many times as much that is: medians of n rounds that were taken
by turns, in brackets where the middle half lies. A goal that is not reached is marked !. Less is better throughout."""


def measured(name: str, bench: Bench) -> list[Row]:
    """Return the rows of one benchmark, run in a process of its own; one that breaks off is a row that says so."""
    asked = [
        name,
        str(bench.folder),
        bench.postgres,
        bench.no_postgres,
        str(bench.shots),
        str(bench.logs or bench.folder),
    ]
    command = [sys.executable, "-m", "tests.benchmark.table", "--rows", *asked]
    came = subprocess.run(command, stdout=subprocess.PIPE, text=True)
    rows = [Row(**json.loads(line)) for line in came.stdout.splitlines()]
    if came.returncode:
        rows.append(Row.without(name, f"broke off with exit status {came.returncode}: what it said stands above"))
    return rows


def server(until: ExitStack) -> Server | str:
    """Start a PostgreSQL server that writes to the disk as it should, or return why there is none."""
    try:
        cluster = until.enter_context(start_server({}))
    except (pytest.skip.Exception, pytest.fail.Exception) as why:
        return str(why)
    made = Server(cluster.url())
    until.callback(made.close)
    return made


def _version_of(server: Server) -> str:
    engine = create_engine(server.url)
    with engine.connect() as connection:
        version = connection.execute(text("SHOW server_version")).scalar_one()
    engine.dispose()
    return str(version)


def _rows_of(name: str, folder: str, postgres: str, no_postgres: str, shots: str, logs: str) -> None:
    """In that process: print each row as a line of JSON, as soon as it is there."""
    module = importlib.import_module(f"tests.benchmark.bench_{name}")
    for row in module.rows(Bench(Path(folder), postgres, no_postgres, int(shots), Path(logs))):
        print(json.dumps(asdict(row)), flush=True)


def printed(rows: Sequence[Row]) -> Iterator[str]:
    """Yield the lines of the table, without its heading."""
    for row in rows:
        if row.missing:
            yield f"{row.what:<46}  not measured here: {row.missing}"
            continue
        ours, beside, times = (middle(one) for one in (row.ours, row.beside, row.ratios))
        mark = "" if row.goal is None else f"{row.goal:g}" if row.reached else f"{row.goal:g} !"
        spread = f"{digits(times[0])} ({digits(times[1])} to {digits(times[2])})"
        told = f"{figure(ours[0], row.unit):>18}{figure(beside[0], row.unit):>18}"
        yield f"{row.what:<46}{told}{spread:>24}{mark:>9}{row.n:>5}"
        said = f"beside: {row.than}" + (f"; {row.why}" if row.why else "")
        yield from textwrap.wrap(said, _WIDTH, initial_indent="    ", subsequent_indent="    ")


def main() -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--only", action="append", choices=BENCHES, help="this benchmark only; may be given again")
    parser.add_argument("--json", action="store_true", help="print one JSON document, with every round")
    parser.add_argument("--folder", type=Path, help="write here, and keep the long logs for the next run")
    parser.add_argument("--shots", type=int, default=1_000_000, help="of the long log (default: a million)")
    parser.add_argument("--rows", nargs=6, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.rows:
        _rows_of(*given.rows)
        return
    build = given.folder or Path(__file__).parents[2] / "build"
    build.mkdir(parents=True, exist_ok=True)
    with ExitStack() as until:
        scratch = Path(until.enter_context(tempfile.TemporaryDirectory(prefix="bench-", dir=build)))
        postgres = server(until)
        no_postgres = postgres if isinstance(postgres, str) else ""
        bench = Bench(scratch, no_postgres=no_postgres, shots=given.shots, logs=given.folder)
        machine = described(bench.folder, bench.no_postgres or _version_of(postgres))
        load, began, found = Load(), time.perf_counter(), {}
        for name in given.only or BENCHES:
            since = time.perf_counter()
            own = "" if isinstance(postgres, str) else postgres.make().render_as_string(hide_password=False)
            found[name] = measured(name, replace(bench, postgres=own))
            print(f"{name}: {time.perf_counter() - since:.0f} s", file=sys.stderr, flush=True)
        machine["meanwhile"] = f"other work took {load.told()}; {time.perf_counter() - began:.0f} s in all"
    if given.json:
        print(json.dumps({"machine": machine, "rows": {name: [asdict(row) for row in found[name]] for name in found}}))
        return
    for name, said in machine.items():
        print(f"{name + ':':<14}{said}")
    print(f"\n{_MEANS}\n\n{'':<46}{'here':>18}{'beside':>18}{'times as much':>24}{'goal':>9}{'n':>5}")
    for name, rows in found.items():
        print("\n".join([f"\n{name}", *printed(rows)]))


if __name__ == "__main__":
    main()
