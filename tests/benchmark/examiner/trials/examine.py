"""The two trials of the trade notes, live: what is demanded, and in how many of the trials drawn it was said.

    python -m tests.benchmark.examiner.trials [--seed N] [--trials N] [--told NTH] [--processes N]

Prints a table in markdown for each trial: a row a demand, a column a variant. `--told` prints instead what was said of
the NTH trial of each variant. Seed 1 is for building; figures that count are of another seed, run once.
"""

import argparse
import multiprocessing
import os
import time
import zlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from tests.benchmark.examiner.figures import Figure, mean_of, median_of
from tests.benchmark.examiner.trials import manifold, manifold_demands, pawl, pawl_demands
from tests.benchmark.examiner.trials.demand import Demand
from tests.benchmark.examiner.trials.trial import Trial
from tests.benchmark.examiner.trials.watched import Watched, told, watch

__all__ = ["BUILDING_SEED", "TRIALS", "figure_of", "main", "play_one"]

BUILDING_SEED = 1


@dataclass(frozen=True, slots=True)
class Kind:
    """One of the two trials: its variants by name, what it demands, and its length in shots."""

    name: str
    variants: Mapping[str, Callable[[np.random.Generator], Trial]]
    demands: Sequence[Demand]
    n_shots: int


TRIALS = (
    Kind(
        "S1",
        {
            "lot noted, no sisters": partial(pawl.draw, lot_noted=True, sisters=0),
            "lot noted, 4 sisters": partial(pawl.draw, lot_noted=True, sisters=4),
            "lot unnoted, no sisters": partial(pawl.draw, lot_noted=False, sisters=0),
            "lot unnoted, 4 sisters": partial(pawl.draw, lot_noted=False, sisters=4),
        },
        pawl_demands.DEMANDS,
        pawl.N_SHOTS,
    ),
    Kind(
        "S2",
        {
            "crack a finding, no plates": partial(manifold.draw, crack="finding", plates=0),
            "crack a finding, 8 plates": partial(manifold.draw, crack="finding", plates=8),
            "crack a note, no plates": partial(manifold.draw, crack="note", plates=0),
            "crack a note, 8 plates": partial(manifold.draw, crack="note", plates=8),
        },
        manifold_demands.DEMANDS,
        manifold.N_SHOTS,
    ),
)


def play_one(name: str, variant: str, seed: int, nth: int) -> Watched:
    """Draw and watch one trial; the same noise for every variant that makes the same shots."""
    rng = np.random.default_rng([seed, zlib.crc32(name.encode()), nth])
    kind = next(one for one in TRIALS if one.name == name)
    return watch(kind.variants[variant](rng))


def figure_of(demand: Demand, watched: Sequence[Watched]) -> Figure:
    """Return the figure of a demand over trials drawn alike."""
    scores = [demand.score(one) for one in watched]
    kept = [[score] for score in scores if score is not None]
    return median_of(kept) if demand.middle else mean_of(kept)


def _table(kind: Kind, played: Mapping[str, Sequence[Watched]]) -> str:
    lines = [
        f"| {kind.name} | wanted | {' | '.join(played)} | best possible |",
        "|---" * (len(played) + 3) + "|",
    ]
    for demand in kind.demands:
        figures = [figure_of(demand, watched) for watched in played.values()]
        cells = [_cell(demand, figure, len(next(iter(played.values())))) for figure in figures]
        best = "" if demand.best is None else f"{demand.best:.2f}"
        lines.append(f"| {demand.name} | {demand.goal or ''} | {' | '.join(cells)} | {best} |")
    return "\n".join(lines)


def _cell(demand: Demand, figure: Figure, n: int) -> str:
    """Show a figure; a star where it misses its goal, and its n where that is not the number of trials."""
    if not figure.n:
        return "none"
    digits = 0 if demand.middle else 2
    missed = " *" if demand.goal is not None and not demand.goal.met(figure) else ""
    some = f" (n {figure.n})" if figure.n != n else ""
    return f"{figure.value:.{digits}f} +- {figure.error:.{digits if digits else 1}f}{missed}{some}"


def main() -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--seed", type=int, default=BUILDING_SEED)
    parser.add_argument("--trials", type=int, default=20, help="of each variant")
    parser.add_argument("--told", type=int, metavar="NTH", help="print what was said of one trial of each variant")
    parser.add_argument("--processes", type=int, default=min(2, os.cpu_count() or 1))
    given = parser.parse_args()
    os.environ.update(dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1"))
    if given.told is not None:
        for kind in TRIALS:
            for variant in kind.variants:
                watched = play_one(kind.name, variant, given.seed, given.told)
                print(f"\n{kind.name}, {variant}:\n" + told(watched, 1, kind.n_shots).replace("; ", "\n"))
        return
    began = time.perf_counter()
    with multiprocessing.get_context("spawn").Pool(given.processes) as pool:
        for kind in TRIALS:
            played = {
                variant: pool.map(partial(play_one, kind.name, variant, given.seed), range(given.trials), chunksize=2)
                for variant in kind.variants
            }
            print(_table(kind, played) + "\n")
    print(f"n {given.trials} a variant where not told, * misses its goal; seed {given.seed}, "
          f"{time.perf_counter() - began:.0f} s")  # fmt: skip
