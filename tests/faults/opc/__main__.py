"""``python -m tests.faults.opc``: a press on OPC UA examined from outside: its doors, each variant broken in each way,
and 10,000 shots under faults drawn from a seed, counted.

A run with anything wrong prints what, its seed, and where it left its folder.
"""

import argparse
import shutil
import sys
import tempfile
import time
from pathlib import Path

from tests.faults.opc.bench import LOST, Bench
from tests.faults.opc.cases import CASES
from tests.faults.opc.count import figures
from tests.faults.opc.doors import try_doors

COUNTERS = ("MachineCycleCounter", "JobCycleCounter")
HEAD = f"{'':34} {'offered':>8} {'stored':>8} {'in gaps':>8} {'wrong':>6}"


def main() -> int:
    """Run what is asked for; return 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--shots", type=int, default=10000, help="of each run")
    parser.add_argument("--seed", type=int, action="append", default=[], help="may be repeated")
    parser.add_argument("--counter", choices=COUNTERS, help="which counter numbers the shots (default: a run of each)")
    parser.add_argument("--every", type=int, default=60, help="shots between two faults, about")
    parser.add_argument("--pace", type=float, default=0.004, help="seconds from shot to shot")
    parser.add_argument("--only", choices=["doors", "cases", "shots"], help="only this part")
    options = parser.parse_args()
    wrong = 0
    if options.only in (None, "doors"):
        wrong += _doors()
    if options.only in (None, "cases"):
        folder = Path(tempfile.mkdtemp(prefix="opc-cases-"))
        wrong += _bench(Bench(folder, 1, 60, faults={LOST: 1}, cases=CASES), f"{len(CASES)} variants")
    if options.only in (None, "shots"):
        for seed in options.seed or [17]:
            for counter in [options.counter] if options.counter else COUNTERS:
                folder = Path(tempfile.mkdtemp(prefix=f"opc-{seed}-"))
                bench = Bench(folder, seed, options.shots, counter, options.every, pace_s=options.pace)
                wrong += _bench(bench, f"seed {seed}, {counter}")
    return 1 if wrong else 0


def _doors() -> int:
    folder = Path(tempfile.mkdtemp(prefix="opc-doors-"))
    tried = try_doors(folder)
    for door, status, said, wrong in tried:
        print(f"{door.name}: exit status {status}{'' if not wrong else '  WRONG: ' + '; '.join(wrong)}")
        print("    " + said.replace("\n", "\n    "), flush=True)
    shutil.rmtree(folder, ignore_errors=True)
    return sum(len(wrong) for *_, wrong in tried)


def _bench(bench: Bench, title: str) -> int:
    began = time.monotonic()
    bench.run()
    counted = figures(bench)
    print(HEAD)
    print(counted.row(title))
    print(f"  {counted.broken_values} values broken, {counted.uncertain} shots in gaps of uncertain size")
    print("  faults: " + ", ".join(f"{kind} {times}" for kind, times in sorted(bench.done.items())))
    print(f"  services asked for: {', '.join(f'{n} {c}' for n, c in sorted(bench.relay.asked.items()))}")
    print(f"  back after {max(bench.back_s, default=0.0):.1f} s at most; {time.monotonic() - began:.0f} s in all")
    print("\n".join(f"  WRONG {line}" for line in counted.wrong[:40]))
    if counted.wrong:
        print(f"  folder {bench.folder}", flush=True)
    else:
        shutil.rmtree(bench.folder, ignore_errors=True)
    return len(counted.wrong)


if __name__ == "__main__":
    sys.exit(main())
