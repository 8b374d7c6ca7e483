"""``python -m tests.faults.opc``: 10,000 shots of a press on OPC UA under faults drawn from a seed, counted.

A run with anything wrong prints what, its seed, and where it left its folder.
"""

import argparse
import shutil
import sys
import tempfile
import time
from pathlib import Path

from tests.faults.opc.bench import Bench
from tests.faults.opc.count import figures


def main() -> int:
    """Run the seeds; return 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shots", type=int, default=10000, help="of each run")
    parser.add_argument("--seed", type=int, action="append", default=[], help="may be repeated")
    parser.add_argument("--counter", default="MachineCycleCounter", choices=["MachineCycleCounter", "JobCycleCounter"])
    parser.add_argument("--every", type=int, default=60, help="shots between two faults, about")
    parser.add_argument("--pace", type=float, default=0.004, help="seconds from shot to shot")
    options = parser.parse_args()
    status = 0
    head = f"{'':34} {'offered':>8} {'stored':>8} {'in gaps':>8} {'wrong':>6}"
    for seed in options.seed or [17]:
        folder = Path(tempfile.mkdtemp(prefix=f"opc-{seed}-"))
        bench = Bench(folder, seed, options.shots, options.counter, options.every, pace_s=options.pace)
        began = time.monotonic()
        bench.run()
        counted = figures(bench)
        print(head)
        print(counted.row(f"seed {seed}, {options.counter}"))
        print(f"  {counted.broken_values} values broken, {counted.uncertain} shots in gaps of uncertain size")
        print("  faults: " + ", ".join(f"{kind} {times}" for kind, times in sorted(bench.done.items())))
        print(f"  services asked for: {', '.join(f'{n} {c}' for n, c in sorted(bench.relay.asked.items()))}")
        print(f"  back after {max(bench.back_s, default=0.0):.1f} s at most; {time.monotonic() - began:.0f} s in all")
        if counted.wrong:
            status = 1
            print("\n".join(f"  WRONG {line}" for line in counted.wrong[:40]))
            print(f"  folder {folder}", flush=True)
        else:
            shutil.rmtree(folder, ignore_errors=True)
    return status


if __name__ == "__main__":
    sys.exit(main())
