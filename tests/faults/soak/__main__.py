"""``python -m tests.faults.soak``: 72 hours of three presses in fast time, faults drawn from a seed, figures.

The same seed draws the same faults. A bench that ends with something lost, doubled, changed or unsaid prints its seed
and leaves its folder.
"""

import argparse
import shutil
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.faults.soak.bench import Bench
from tests.faults.soak.faults import draw
from tests.faults.soak.figures import figures

HOURS, CYCLE_S = 72, 75.0


def main() -> int:
    """Run one bench; return 1 where a promise was broken."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=20261128)
    parser.add_argument("--hours", type=float, default=HOURS, help="of press time at 75 s a shot")
    parser.add_argument("--cycle", type=float, default=0.3, help="seconds of a shot in fast time")
    parser.add_argument("--pause", type=float, default=8.0, help="seconds between faults, about")
    parser.add_argument("--longest", type=float, default=60.0, help="longest fault, s")
    parser.add_argument("--no-pages", action="store_true")
    parser.add_argument("--plan", action="store_true", help="print the faults of this seed and end")
    parser.add_argument("--only", action="append", default=[], help="only faults of this kind")
    options = parser.parse_args()
    whole_s = options.hours * 3600.0 / CYCLE_S * options.cycle * 1.1
    plan = draw(options.seed, whole_s, options.pause, options.longest)
    plan = [planned for planned in plan if not options.only or planned.kind in options.only]
    if options.plan:
        print("\n".join(map(str, plan)))
        return 0
    folder = Path(tempfile.mkdtemp(prefix=f"soak-{options.seed}-"))
    bench = Bench(folder, options.seed, plan, options.cycle, whole_s, pages=not options.no_pages)
    bench.run()
    text = figures(bench)
    print(text)
    (folder / "figures.txt").write_text(text, encoding="utf-8")
    broken = [*bench.verdict.broken, *bench.notes]
    kept = folder / "kept"
    if broken:
        shutil.copytree(bench.work, kept, ignore=shutil.ignore_patterns("eaten"))
    bench.disk.close()
    if not broken:
        shutil.rmtree(folder, ignore_errors=True)
        return 0
    kinds = Counter(line.split(":")[0] for line in broken)
    print(f"BROKEN ({dict(kinds)}); seed {options.seed}, folder {folder}")
    return 1


if __name__ == "__main__":
    sys.exit(main())
