"""``python -m tests.fuzz.fuzz [KIND...] [--inputs N] [--seed S] [--only NUMBER]``: try odd inputs by the million.

The same seed makes the same inputs. Each finding is printed with its smallest input, and with the words that play it
again. Ctrl-C ends the kind that runs and prints the figures so far.
"""

import argparse
import sys
import time
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.fuzz.kind import Figures, Kind, run, run_one
from tests.fuzz.of_configurations import Configurations
from tests.fuzz.of_entries import Entries, Typed
from tests.fuzz.of_lines import Lines
from tests.fuzz.of_modbus import Modbus
from tests.fuzz.of_recordings import Imports, Recordings
from tests.fuzz.of_requests import Requests

__all__ = ["KINDS", "main"]

KINDS: dict[str, type[Kind]] = {
    kind.name: kind for kind in (Lines, Modbus, Recordings, Imports, Configurations, Typed, Entries, Requests)
}
"""Every kind, in the order in which they are tried."""


def main(words: list[str] | None = None) -> int:
    """Try inputs; return 1 where something was found."""
    parser = argparse.ArgumentParser(prog="make fuzz", description=__doc__.split("\n\n")[1])
    parser.add_argument("kinds", nargs="*", metavar="KIND", help=f"of {', '.join(KINDS)} (default: all)")
    parser.add_argument("--inputs", type=int, default=1_000_000, metavar="N", help="of each kind (default: 1,000,000)")
    parser.add_argument("--seed", type=int, default=1, metavar="S")
    parser.add_argument("--only", type=int, metavar="NUMBER", help="this input alone, with its whole traceback")
    given = parser.parse_args(words)
    unknown = [name for name in given.kinds if name not in KINDS]
    if unknown:
        parser.error(f"KIND: given {unknown[0]!r}, allowed: {', '.join(KINDS)}")
    found = 0
    for name in given.kinds or KINDS:
        begun = time.monotonic()
        with TemporaryDirectory() as folder, closing(KINDS[name](Path(folder))) as kind:
            if given.only is not None:
                print(f"{run_one(kind, given.seed, given.only, Figures(name))}")
                continue
            figures = run(kind, given.inputs, given.seed, lambda text: print(text, file=sys.stderr, flush=True))
        print(f"{figures}; {time.monotonic() - begun:.0f} s, seed {given.seed}", flush=True)
        for one in figures.findings:
            found += 1
            print(f"\nFOUND {one.kind}, {one.said}: make fuzz ARGS='{one.kind} --seed {one.seed} --only {one.number}'")
            print(f"smallest: {one.smallest!r}"[:4000])
            print(one.told[-3000:], flush=True)
        if figures.stopped:
            break
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
