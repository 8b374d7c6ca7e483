"""Would a test notice? Make one small mistake at a time, in lines drawn by chance, and run the tests that reach it.

`make mutants ARGS="--seed 5 --n 200"`. Everything happens in copies of the tree under a temporary folder. The first run
asks all tests which lines they run, under coverage, and keeps the answer in build/; later runs ask the tests that
changed. A mistake that no test notices is printed as the line before and after: it is a hole, or it does no harm.
"""

import argparse
import random
import shutil
import subprocess
import tempfile
import threading
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import SimpleQueue

from tests.mutants.mutation import Mutation, mutated, mutations
from tests.mutants.reach import COMPILED, Reach
from tests.mutants.trial import HUNG, NOTICED, ORDER, UNNOTICED, UNTESTED, control, tried

ROOT = Path(__file__).parents[2]


def drawn(tree: Path, folders: list[str], n: int, seed: int) -> list[Mutation]:
    """n lines by chance, out of all that something can be done to, and one of the things that can be done to each."""
    chance = random.Random(seed)
    files = sorted(path for folder in folders for path in ((tree / folder).rglob("*.py")))
    sources = {path.relative_to(tree).as_posix(): path.read_bytes() for path in files}
    by_line: dict[tuple[str, int], list[Mutation]] = {}
    for path, source in sources.items():
        for each in mutations(path, source):
            by_line.setdefault((each.path, each.line), []).append(each)
    places = sorted(by_line)
    chance.shuffle(places)
    chosen: list[Mutation] = []
    for place in places:
        possible = by_line[place]
        chance.shuffle(possible)
        change = next((each for each in possible if mutated(sources[each.path], each) is not None), None)
        chosen += [change] if change else []
        if len(chosen) == n:
            break
    return chosen


def every(tree: Path, places: list[str]) -> list[Mutation]:
    """All that can be done to lines named FILE:LINE."""
    chosen: list[Mutation] = []
    for path, _, line in (place.rpartition(":") for place in places):
        source = (tree / path).read_bytes()
        chosen += [each for each in mutations(path, source) if each.line == int(line) and mutated(source, each)]
    return chosen


def copied(folder: Path) -> Path:
    """A copy of all that git follows or would follow, as it is in the working tree."""
    listed = subprocess.run(
        ["git", "ls-files", "-co", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    for name in listed:
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)
    kept = f"{COMPILED}__pycache__"
    if (ROOT / kept).exists():  # what is compiled once a machine takes a minute
        shutil.copytree(ROOT / kept, folder / kept, ignore=shutil.ignore_patterns("*.pyc"))
    return folder


def room(path: str) -> str:
    """`shotlog/wear/life/half.py` is of `shotlog/wear`, `shotlog/units.py` of `shotlog`."""
    return "/".join(path.split("/")[:-1][:2])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folders", nargs="*", default=["shotlog", "dashboard"], help="where to draw lines from")
    parser.add_argument("--at", metavar="FILE:LINE", action="append", help="all that can be done to one line instead")
    parser.add_argument("--n", type=int, default=200, help="how many lines (200)")
    parser.add_argument("--seed", type=int, default=1, help="another seed draws other lines (1)")
    parser.add_argument("--jobs", type=int, default=2, help="how many at a time (2)")
    parser.add_argument("--afresh", action="store_true", help="ask all tests again which lines they run")
    given = parser.parse_args()
    kept = ROOT / "build" / "mutants" / "reach.json"
    if given.afresh:
        kept.unlink(missing_ok=True)
    outcomes: Counter[tuple[str, str]] = Counter()
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        trees: SimpleQueue[Path] = SimpleQueue()
        copies = [copied(Path(folder) / f"tree-{job}") for job in range(given.jobs)]
        for tree in copies:
            trees.put(tree)
        reach = Reach(copies[0], kept)
        reach.renew()
        chosen = drawn(copies[0], given.folders, given.n, given.seed) if not given.at else every(copies[0], given.at)
        print(f"{len(chosen)} mistakes" + ("" if given.at else f", seed {given.seed}"), flush=True)
        for tree, change in zip(copies, chosen, strict=False):
            control(tree, change.path, reach.of(change.path, change.line)[:5])
        saying = threading.Lock()

        def one(change: Mutation) -> None:
            tree = trees.get()
            try:
                source = (tree / change.path).read_bytes()
                outcome = tried(tree, change, reach.of(change.path, change.line))
            finally:
                trees.put(tree)
            with saying:
                outcomes[room(change.path), outcome] += 1
                print(f"{sum(outcomes.values()):4} {outcome}: {change.path}:{change.line}", flush=True)
                if outcome not in (NOTICED, HUNG):
                    for sign, text in (("-", source), ("+", mutated(source, change) or source)):
                        print(f"     {sign} {text.splitlines()[change.line - 1].decode().strip()}", flush=True)

        with ThreadPoolExecutor(given.jobs) as pool:
            list(pool.map(one, chosen))
    _print_shares(outcomes)


def _print_shares(outcomes: Counter[tuple[str, str]]) -> None:
    print(f"\n{'':24}{'lines':>8}{NOTICED:>10}{HUNG:>8}{UNNOTICED:>14}{UNTESTED:>10}{'share':>8}")
    for name in [*sorted({name for name, _ in outcomes}), "all"]:
        of = {
            kind: sum(n for (each, k), n in outcomes.items() if k == kind and name in (each, "all")) for kind in ORDER
        }
        total = sum(of.values())
        share = (of[NOTICED] + of[HUNG]) / total if total else 0.0
        print(f"{name:24}{total:8}{of[NOTICED]:10}{of[HUNG]:8}{of[UNNOTICED]:14}{of[UNTESTED]:10}{share:8.2f}")


if __name__ == "__main__":
    main()
