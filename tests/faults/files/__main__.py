"""``python -m tests.faults.files``: 10,000 shots of presses that give files, under faults drawn from a seed, counted.

A run with anything wrong prints what, its seed, and where it left its folder.
"""

import argparse
import shutil
import sys
import tempfile
import time
from pathlib import Path

from tests.faults.files.bench import FAULTS, KINDS, Bench
from tests.faults.files.count import HEAD, Figures, figures, leftover


def main() -> int:
    """Run the seeds; return 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shots", type=int, default=10000, help="of each run, all presses together")
    parser.add_argument("--seed", type=int, action="append", default=[], help="may be repeated")
    parser.add_argument("--every", type=int, default=12, help="steps between two faults, about")
    parser.add_argument("--pace", type=float, default=0.05, help="seconds from step to step")
    parser.add_argument("--press", action="append", default=[], choices=list(KINDS), help="only these")
    parser.add_argument("--fault", action="append", default=[], choices=list(FAULTS), help="only these")
    parser.add_argument("--keep", action="store_true", help="leave the folder")
    options = parser.parse_args()
    status = 0
    for seed in options.seed or [17]:
        root = Path(tempfile.mkdtemp(prefix=f"files-{seed}-"))
        kinds = {name: kind for name, kind in KINDS.items() if not options.press or name in options.press}
        faults = {kind: weight for kind, weight in FAULTS.items() if not options.fault or kind in options.fault}
        bench = Bench(root, seed, options.shots, options.every, pace_s=options.pace, kinds=kinds, faults=faults)
        began = time.monotonic()
        bench.run()
        counted = figures(bench)
        print(f"seed {seed}\n{HEAD}")
        presses = [counted[name] for name in kinds]
        for name in kinds:
            print(counted[name].row(name))
        whole = Figures(
            *(sum(getattr(one, what) for one in presses) for what in ("offered", "stored", "in_gaps", "uncertain")),
            [line for one in presses for line in one.unread],
            [line for one in counted.values() for line in one.wrong],
        )
        print(whole.row("all"))
        print(f"  {len(bench.broken)} values broken; faults: " + ", ".join(f"{k} {n}" for k, n in bench.done.items()))
        back = {name: max(waits) for name, waits in bench.back_s.items()}
        print("  back after at most: " + ", ".join(f"{name} {wait:.1f} s" for name, wait in back.items()))
        print(f"  files left: {leftover(bench)}; {time.monotonic() - began:.0f} s in all")
        for name, one in counted.items():
            for title, lines in (("WRONG", one.wrong), ("UNREAD", one.unread)):
                print("".join(f"  {title} {name}: {line}\n" for line in lines[:12]), end="")
        if whole.wrong:
            status = 1
        if whole.wrong or options.keep:
            (root / "said.txt").write_text("\n".join(line.line for line in bench.logger.said), "utf-8")
            print(f"  folder {root}", flush=True)
        else:
            shutil.rmtree(root, ignore_errors=True)
    return status


if __name__ == "__main__":
    sys.exit(main())
