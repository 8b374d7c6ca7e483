"""Judges a few short lives and prints what came of it, as JSON: run twice, with and without the compiler.

Not a test by itself: `test_without_the_compiler` runs it in two processes.
"""

import hashlib
import json
import sys
from types import FrameType

import numpy as np

from shotlog.evaluator import Evaluator
from shotlog.recorder.rehearsal import rehearse
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.compiled.compiler import KERNELS, compiles
from shotlog.wear.plain import to_plain
from tests.benchmark.examiner.histories import DESIGN, History
from tests.benchmark.examiner.press import draw_press

_LIFE, _ONSET = 20, 6


def history(n_channels: int) -> History:
    """Three sister inserts, the second of which wears, after a pause, a fourth that scatters more and more, and
    a fifth that wears as the second did."""
    rng = np.random.default_rng(n_channels)
    press = draw_press(rng, n_channels)
    limit = press.mean_of("peak_pressure") - 12.0 * press.spread[press.channels.index("peak_pressure")]
    design = DesignSettings(DESIGN, settling_shots=4, baseline_shots=5, limits={"peak_pressure": Bound(low=limit)})
    made = History(press, rng, design)
    since = np.maximum(np.arange(_LIFE) - _ONSET, 0.0)
    worn = press.vector({"peak_pressure": -1.0, "cushion": -0.3, "switchover_pressure": -1.0}) * press.spread
    late = np.full(_LIFE, press.cycle_s)
    late[4] *= 12.0
    made.life(_LIFE)
    made.life(_LIFE, added=since[:, None] * worn, cycle_s=late)
    made.life(_LIFE)
    wild = rng.standard_normal(_LIFE) * since * press.spread[press.channels.index("cushion")]
    made.life(_LIFE, added=wild[:, None] * press.vector({"cushion": 1.0}))
    made.life(_LIFE, added=since[:, None] * worn)
    return made


def judged(made: History) -> dict[str, object]:
    """Return what was said, in digests, and some of it in words for whoever has to find a difference."""
    evaluator = Evaluator("p", {DESIGN: made.design})
    said = [json.dumps([to_plain(one) for one in evaluator.step(shot)]) for shot in made.shots]
    called = [json.loads(line)[-1][8] for line in said]
    text = json.dumps(evaluator.save())
    return {
        "shots": [hashlib.sha256(line.encode()).hexdigest()[:12] for line in said],
        "state": hashlib.sha256(text.encode()).hexdigest(),
        "causes": sorted({cause for cause in called if cause}),
    }


def main() -> None:
    """Print what came of it, and which inner loops were entered."""
    rehearse()
    ready = {kernel.__name__: _variants(kernel) for kernel in KERNELS}
    entered: set[str] = set()
    by_code = {kernel.__code__: kernel.__name__ for kernel in KERNELS} if not compiles() else {}

    def enter(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code in by_code:
            entered.add(by_code[frame.f_code])

    found = {}
    for n in (3, 7):
        sys.setprofile(enter if by_code and n == 3 else None)  # looked at in the smaller: the others are as many
        found[str(n)] = judged(history(n))
    sys.setprofile(None)
    late = [kernel.__name__ for kernel in KERNELS if _variants(kernel) != ready[kernel.__name__]]
    missed = sorted({kernel.__name__ for kernel in KERNELS} - entered) if by_code else []
    print(json.dumps({"compiled": compiles(), "found": found, "late": late, "missed": missed}))


def _variants(kernel: object) -> int:
    """Return for how many kinds of arguments a loop is compiled."""
    return len(getattr(kernel, "signatures", ()))


if __name__ == "__main__":
    main()
