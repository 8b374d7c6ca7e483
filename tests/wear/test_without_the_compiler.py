"""The same verdicts to the last bit with the compiler and without, and nothing compiled in front of a shot."""

import ast
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
LOOPS = sorted((ROOT / "shotlog/wear/compiled").glob("*.py"))
ALIKE = {"zeros", "ones", "empty", "int64", "float64", "bool_", "ndarray"}
"""What loops may ask NumPy for: arrays and their types, nothing that computes."""


COMPILES = {name: value for name, value in os.environ.items() if name != "NUMBA_DISABLE_JIT"}
PLAINLY = "import sys; sys.modules['numba'] = None; from tests.wear.judged_plainly import main; main()"
"""As on a machine for which there is no compiler: its import is refused."""


@pytest.fixture(scope="module")
def runs() -> list[dict[str, Any]]:
    """What a few short lives come to with the compiler, and in a process that cannot have it, side by side."""
    scripts = ["-m", "tests.wear.judged_plainly"], ["-c", PLAINLY]
    started = [
        subprocess.Popen(
            [sys.executable, "-W", "error", *one], cwd=ROOT, env=COMPILES, stdout=subprocess.PIPE, text=True
        )
        for one in scripts
    ]
    return [json.loads(one.communicate(timeout=300)[0]) for one in started]


def test_verdicts_and_state_are_the_same_to_the_last_bit(runs: list[dict[str, Any]]) -> None:
    compiled, plain = runs
    assert (compiled["compiled"], plain["compiled"]) == (True, False)
    for channels, found in compiled["found"].items():
        shots = [one == other for one, other in zip(found["shots"], plain["found"][channels]["shots"], strict=True)]
        assert all(shots), f"{channels} channels: first at shot {shots.index(False) + 1}"
    assert compiled["found"] == plain["found"]


def test_the_lives_call_and_enter_every_inner_loop(runs: list[dict[str, Any]]) -> None:
    _, plain = runs
    assert plain["missed"] == []
    assert all(found["causes"] for found in plain["found"].values())


def test_after_a_rehearsal_nothing_is_left_to_compile(runs: list[dict[str, Any]]) -> None:
    """Loops that only other loops enter are compiled with those."""
    compiled, _ = runs
    assert compiled["late"] == []


@pytest.mark.parametrize("file", LOOPS, ids=lambda file: file.stem)
def test_loops_compute_with_nothing_that_differs_without_the_compiler(file: Path) -> None:
    """NumPy's functions, matrix products and powers come to other last bits than what the compiler makes of them."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "np":
            assert node.attr in ALIKE, f"{file.name}, line {node.lineno}: np.{node.attr}"
        if isinstance(node, ast.Attribute):
            assert node.attr not in {"sum", "dot", "max", "min", "mean", "trace"}, f"{file.name}, line {node.lineno}"
        power = isinstance(node, ast.BinOp | ast.AugAssign) and isinstance(node.op, ast.Pow | ast.MatMult)
        assert not power, f"{file.name}, line {getattr(node, 'lineno', 0)}: a power or a matrix product"
