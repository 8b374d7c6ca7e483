"""`learn`, as a process beside an odd press of each kind, in short; `make bench-learn` has the whole table.

What it wrote is loaded, the press goes on, and every value that comes is held against what the press showed.
"""

from dataclasses import replace
from pathlib import Path

from tests.learned.examine import examined
from tests.learned.test_examination import named


def test_a_press_in_registers_with_figures_of_one_shot(tmp_path: Path) -> None:
    press = replace(named("cavities, dry"), registers="0-63", cycle_s=0.4, stand_s=1.0, seen=(4, 6))
    score = examined(press, 1, tmp_path, followed=4, shots=6)
    assert {"cushion", "peak_pressure", "fill_time"} <= set(score.right), score
    assert (score.wrong, score.extra, score.trouble, score.count, score.forbidden) == ([], 0, "", "", [])
    assert score.stored == score.offered == 4


def test_a_press_that_prints_headings_without_help(tmp_path: Path) -> None:
    score = examined(replace(named("semicolon"), cycle_s=1.2, stand_s=2.0), 0, tmp_path, followed=4, shots=6)
    assert score.right == sorted(named("semicolon").places), score
    assert (score.wrong, score.extra, score.trouble) == ([], 0, "")
    assert score.stored == score.offered == 4
