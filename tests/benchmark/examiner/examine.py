"""The examination: every case with its figure, its goal, and what the best possible would reach.

    python -m tests.benchmark.examiner.examine [--seed N] [--case NAME ...] [--lives N] [--fast] [--without PART ...]

Prints one table in markdown. `BUILDING_SEED` is for building; figures that count are of another seed, run once.
"""

import argparse
import multiprocessing
import os
import time
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from tests.benchmark.examiner.best import BestDetector
from tests.benchmark.examiner.cases import CASES
from tests.benchmark.examiner.cases.base import Case, Scene
from tests.benchmark.examiner.figures import Figure
from tests.benchmark.examiner.play import Played, play
from tests.benchmark.examiner.without import PARTS, without

__all__ = ["BUILDING_SEED", "examine", "play_one"]

BUILDING_SEED = 1

_ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
"""Each process calculates in one thread: there are as many processes as are wanted."""

_FAST = 0.2
"""Share of the usual lives that a fast examination plays."""


def play_one(scene: Scene, seed: int, nth: int, parts_out: Sequence[str] = ()) -> Played:
    """Draw and play one history of a scene; the same for the same seed and number. `parts_out`: see `without`."""
    drawn_as = zlib.crc32((scene.drawn_as or scene.name).encode())
    rng = np.random.default_rng([seed, drawn_as, nth])
    history = scene.make(rng)
    with without(parts_out):
        played = play(history)
    if not scene.best:
        return played
    press = history.press.strange() if scene.strange else history.press
    best = tuple(
        BestDetector(press, said.life.n_shots, rng, off_table=scene.off_table, odd=scene.odd).watch(said.life.values)
        for said in played.said
    )
    return replace(played, best=best)


def examine(
    cases: Iterable[Case],
    seed: int,
    *,
    lives: int | None = None,
    share: float = 1.0,
    processes: int = 1,
    parts_out: Sequence[str] = (),
) -> list[tuple[Case, Figure, Figure | None]]:
    """Play every scene that the cases need, once, and read their figures.

    `lives`: histories of each scene, its own number times `share` by default. `parts_out`: see `without`.
    """
    cases = list(cases)
    scenes = {scene.name: scene for case in cases for scene in case.scenes}
    played: dict[str, Sequence[Played]] = {}
    with multiprocessing.get_context("spawn").Pool(processes) as pool:
        for name, scene in scenes.items():
            n = lives or max(4, round(scene.n * share))
            played[name] = pool.map(partial(play_one, scene, seed, parts_out=parts_out), range(n), chunksize=2)
    rows = []
    for case in cases:
        given = [played[scene.name] for scene in case.scenes]
        rows.append((case, case.score(*given), case.best(*given) if case.best else None))
    return rows


def _table(rows: Iterable[tuple[Case, Figure, Figure | None]]) -> str:
    lines = ["| case | n | now | goal | met | best possible |", "|---|---|---|---|---|---|"]
    for case, figure, best in rows:
        met = "" if case.goal is None or not figure.n else "yes" if case.goal.met(figure) else "no"
        ideal = _shown(best) if best is not None else ""
        lines.append(f"| {case.name} | {figure.n} | {_shown(figure)} | {case.goal or ''} | {met} | {ideal} |")
    return "\n".join(lines)


def _shown(figure: Figure) -> str:
    digits = 0 if figure.value > 100 else 2
    return f"{figure.value:.{digits}f} +- {figure.error:.{digits}f}" if figure.n else "none"


def main() -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--seed", type=int, default=BUILDING_SEED)
    parser.add_argument("--case", nargs="+", choices=list(CASES), metavar="NAME", default=list(CASES))
    parser.add_argument("--lives", type=int, help="histories of each scene, in place of its own number")
    parser.add_argument("--fast", action="store_true", help="a fifth of the lives")
    parser.add_argument("--without", nargs="+", choices=list(PARTS), metavar="PART", default=[], dest="parts_out")
    parser.add_argument("--processes", type=int, default=min(2, os.cpu_count() or 1))
    given = parser.parse_args()
    os.environ.update(dict.fromkeys(_ONE_THREAD, "1"))
    began = time.perf_counter()
    rows = examine(
        [CASES[name] for name in given.case],
        given.seed,
        lives=given.lives,
        share=_FAST if given.fast else 1.0,
        processes=given.processes,
        parts_out=given.parts_out,
    )
    print(_table(rows))
    print(f"\nseed {given.seed}, {time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
