"""Is a stock that is said to be enough in nine trials of ten enough in nine trials of ten?

Shops are made up whose lives the plan does not know: some lives end, the plan is made from them and from 40 inspected
parts, and the trial is then run with the stock it asks for. The whole of it is in `tests/long`.
"""

import pytest

from tests.benchmark.lives.shops import share_enough


@pytest.mark.parametrize(("kind", "k"), [("weibull 2.5", 5), ("lognormal 0.7", 10)])
def test_nine_trials_of_ten_come_out(kind: str, k: int) -> None:
    """300 shops: standard error 0.017; promised 0.9, whole inserts round up."""
    assert 0.85 <= share_enough(kind, k, 300) <= 0.985
