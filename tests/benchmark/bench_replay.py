"""How fast shots are judged, on three and seven channels; and beside another checkout, by turns on the same shots.

    python -m tests.benchmark.bench_replay [--beside CHECKOUT] [--rounds N]

Each code judges in a process of its own, by turns, a history at a time, so that whatever else the machine does
meanwhile falls on both alike. Shots a second of processor time, the best round of each history; ratios are medians of
neighbouring turns. Nothing is asserted.
"""

import argparse
import os
import pickle
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from tests.benchmark.examiner.cases.healthy import SOUND_3, SOUND_7
from tests.benchmark.examiner.cases.one_change import CHANGED_3
from tests.benchmark.examiner.histories import DESIGN

_SCENES = {"sound, 3 channels": SOUND_3, "one change, 3 channels": CHANGED_3, "sound, 7 channels": SOUND_7}
_HISTORIES = 2

_JUDGE = f"""
import pickle, sys, time
from pathlib import Path
from shotlog.evaluator import Evaluator
from shotlog.settings import DesignSettings
histories = pickle.loads(Path(sys.argv[1]).read_bytes())
for line in sys.stdin:
    shots = histories[int(line)]
    judge = Evaluator(shots[0].press, {{"{DESIGN}": DesignSettings(name="{DESIGN}")}})
    began = time.process_time()
    for shot in shots:
        judge.step(shot)
    print((time.process_time() - began) / len(shots), flush=True)
"""


class _Judge:
    """One code, in a process of its own."""

    def __init__(self, checkout: Path, histories: Path) -> None:
        environment = {**os.environ, "PYTHONPATH": str(checkout), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
        self._process = subprocess.Popen(
            [sys.executable, "-c", _JUDGE, str(histories)],
            cwd=checkout,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def seconds(self, which: int) -> float:
        """Judge a history and return the seconds a shot took."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        print(which, file=self._process.stdin, flush=True)
        return float(self._process.stdout.readline())

    def close(self) -> None:
        """End the process."""
        self._process.communicate()


def _measured(judges: Sequence[_Judge], which: Sequence[int], rounds: int) -> list[list[list[float]]]:
    """Return seconds a shot by judge, history and round; the round before the first compiles and is left out."""
    found: list[list[list[float]]] = [[[] for _ in which] for _ in judges]
    for nth in range(rounds + 1):
        for at, history in enumerate(which):
            for judge, own in zip(judges, found, strict=True):
                took = judge.seconds(history)
                if nth:
                    own[at].append(took)
    return found


def main() -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--beside", type=Path, help="another checkout, judged by turns with this one")
    parser.add_argument("--rounds", type=int, default=5)
    given = parser.parse_args()
    shots = [
        scene.make(np.random.default_rng([1, nth])).shots for scene in _SCENES.values() for nth in range(_HISTORIES)
    ]
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "histories"
        kept.write_bytes(pickle.dumps(shots))
        checkouts = [Path(__file__).parents[2], *([given.beside.resolve()] if given.beside else [])]
        judges = [_Judge(checkout, kept) for checkout in checkouts]
        for at, name in enumerate(_SCENES):
            own, *other = _measured(judges, range(at * _HISTORIES, (at + 1) * _HISTORIES), given.rounds)
            line = f"{name:<24} {1.0 / statistics.mean(min(one) for one in own):6.0f} shots/s"
            if other:
                ratios = [b / a for one, two in zip(own, other[0], strict=True) for a, b in zip(one, two, strict=True)]
                line += f"   {statistics.median(ratios):.2f} x the other ({min(ratios):.2f} to {max(ratios):.2f})"
            print(line, flush=True)
        for judge in judges:
            judge.close()


if __name__ == "__main__":
    main()
