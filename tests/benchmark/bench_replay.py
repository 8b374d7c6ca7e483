"""What judging a shot costs, on three and seven channels and after long histories; nothing is asserted.

Run by `make bench`; and beside another checkout, by turns on the same shots:

    python -m tests.benchmark.bench_replay [--beside CHECKOUT] [--rounds N]

Then each code judges in a process of its own, by turns, a history at a time, so that whatever else the machine does
meanwhile falls on both alike. Shots a second of processor time, the best round of each history; ratios are medians of
neighbouring turns.
"""

import argparse
import os
import pickle
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np

from shotlog.evaluator import Evaluator
from shotlog.records import LoggedShot
from shotlog.settings import DesignSettings
from tests.benchmark.bench import Bench
from tests.benchmark.examiner.cases.healthy import SOUND_3, SOUND_7
from tests.benchmark.examiner.cases.one_change import CHANGED_3
from tests.benchmark.examiner.histories import DESIGN, History
from tests.benchmark.examiner.press import draw_press
from tests.benchmark.row import Row, by_turns

_SCENES = {"sound, 3 channels": SOUND_3, "one change, 3 channels": CHANGED_3, "sound, 7 channels": SOUND_7}
_HISTORIES = 2
_LIFE, _LIVES = 90, 20
_WANTED_S = 1 / 5000
"""What a shot may cost: a press that shoots every ten seconds for a year is judged anew in ten minutes."""

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


def rows(_: Bench) -> Iterator[Row]:
    """Yield what a shot costs to judge, and whether that stays so."""
    for name, scene in _SCENES.items():
        shots = scene.make(np.random.default_rng([1, 0])).shots
        took = by_turns({"judged": lambda shots=shots: _judged(_evaluator(), shots)}, 5, time.process_time, len(shots))
        yield Row(f"a shot judged: {name}", "s", took["judged"], [_WANTED_S], "5,000 shots a second", "", goal=1.0)
    yield from flatness((1_000, 10_000, 100_000))


def flatness(before: Sequence[int]) -> Iterator[Row]:
    """Yield what a shot costs after long histories against a short one; all judge the same further lives, by turns."""
    history = History(draw_press(np.random.default_rng(3), 3), np.random.default_rng(4))
    for _ in range(max(before) // _LIFE + _LIVES + 1):
        history.life(_LIFE)
    further = history.shots[-_LIFE * _LIVES :]
    judges = {str(n): _evaluator() for n in before}
    for n in before:
        _judged(judges[str(n)], history.shots[-len(further) - n : -len(further)])
    lives = iter([further[at : at + _LIFE] for at in range(0, len(further), _LIFE) for _ in before])
    works: dict[str, Callable[[], object]] = {
        name: lambda judge=judge: _judged(judge, next(lives)) for name, judge in judges.items()
    }
    took = by_turns(works, _LIVES - 1, time.process_time, _LIFE)
    for n in before[1:]:
        yield Row(
            f"a shot judged after {n}", "s", took[str(n)], took[str(before[0])], f"after {before[0]}", "", goal=1.2
        )


def _evaluator() -> Evaluator:
    return Evaluator("p", {DESIGN: DesignSettings(name=DESIGN)})


def _judged(judge: Evaluator, shots: Sequence[LoggedShot]) -> None:
    for shot in shots:
        judge.step(shot)


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
