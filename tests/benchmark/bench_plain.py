"""Whole days judged with the compiler and in a process that cannot load it: the same to the last bit, and what a shot
then costs.

    python -m tests.benchmark.bench_plain [STORY ...] [--shots N]

For each press of each story (`python -m simulators list`): whether signals, verdicts and kept state are equal, and the
milliseconds of processor time a shot takes, as mean, 95 % and longest. Ends with 1 where anything differs. Takes some
minutes, nearly all without the compiler. Run by `make bench-plain`.
"""

import argparse
import hashlib
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

STORIES = ("demo", "gate_erosion", "erosion_and_lot", "softening")
REFUSED = "import sys; sys.modules['numba'] = None; "
JUDGE = "from tests.benchmark.bench_plain import judge; judge()"
ROOT = Path(__file__).parents[2]


def judge() -> None:
    """Be one of the two processes: judge a recording, print digests and costs by press as JSON."""
    from shotlog import recording
    from shotlog.cli.demo import configuration
    from shotlog.evaluator import Evaluator
    from shotlog.recorder.rehearsal import rehearse
    from shotlog.settings import load
    from shotlog.wear.compiled.compiler import compiles
    from shotlog.wear.plain import to_plain

    file = Path(sys.argv[1])
    config = file.with_suffix(".toml")
    collector = '  [press.collector]\n  kind = "recording"\n'
    config.write_text(configuration({"P25": {"config": collector}}, 1.0), encoding="utf-8")
    designs = load(config).designs
    rehearse()
    evaluators: dict[str, Evaluator] = {}
    found: dict[str, dict[str, list[Any]]] = {}
    for shot in recording.read(file):
        evaluator = evaluators.setdefault(shot.press, Evaluator(shot.press, designs))
        mine = found.setdefault(shot.press, {"said": [], "ms": []})
        began = time.process_time()
        judged = evaluator.step(shot)
        mine["ms"].append(1e3 * (time.process_time() - began))
        mine["said"].append(hashlib.sha256(json.dumps([to_plain(one) for one in judged]).encode()).hexdigest())
    for press, evaluator in evaluators.items():
        found[press]["said"].append(hashlib.sha256(json.dumps(evaluator.save()).encode()).hexdigest())
    print(json.dumps({"compiled": compiles(), "found": found}))


def judged(recording: Path, start: str) -> dict[str, Any]:
    """Judge a recording in a process begun with `start`."""
    environment = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-c", start + JUDGE, str(recording)]
    done = subprocess.run(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True, check=True)
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer


def cost(ms: list[float]) -> str:
    return f"{statistics.mean(ms):7.1f} {statistics.quantiles(ms, n=20)[-1]:7.1f} {max(ms):7.1f}"


def main() -> int:
    from simulators.recording import runs, write_recording
    from simulators.story import load

    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("stories", nargs="*", default=STORIES)
    parser.add_argument("--shots", type=int, help="only the first so many of each press")
    arguments = parser.parse_args()
    print("ms a shot (mean, 95 %, longest)                          compiled                   plain")
    differ = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in arguments.stories:
            story, file = load(name), Path(folder) / f"{name}.csv"
            with file.open("w", encoding="utf-8") as out:
                write_recording(story, runs(story, arguments.shots), out)
            compiled, plain = judged(file, ""), judged(file, REFUSED)
            assert (compiled["compiled"], plain["compiled"]) == (True, False)
            for press, one in compiled["found"].items():
                other = plain["found"][press]
                same = one["said"] == other["said"]
                differ += not same
                told = f"{name} {press}, {len(one['ms'])} shots: {'equal' if same else 'DIFFERENT'}"
                print(f"{told:<50} {cost(one['ms'])}   {cost(other['ms'])}", flush=True)
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main())
