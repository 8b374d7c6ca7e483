"""Nine trials of ten come out with the stock said to be enough for that: 1000 shops each, standard error 0.01."""

import pytest

from tests.benchmark.lives.shops import KINDS, share_enough

pytestmark = pytest.mark.long

LEAST, MOST = 0.85, 0.975
"""What may come of a promise of 0.9: whole inserts round up; three lives and a form of life that is not the plan's."""


@pytest.mark.parametrize("k", [3, 5, 10, 30])
@pytest.mark.parametrize("kind", KINDS)
def test_the_stock_is_enough_in_nine_trials_of_ten(kind: str, k: int) -> None:
    share = share_enough(kind, k, 1000)
    print(f"{kind}, {k} lives: enough in {share:.3f}")
    assert LEAST <= share <= MOST


@pytest.mark.parametrize("k", [3, 10])
def test_it_is_so_where_inserts_were_taken_out_sound(k: int) -> None:
    share = share_enough("weibull 2.5", k, 1000, taken_out=True)
    print(f"{k} lives, some taken out sound: enough in {share:.3f}")
    assert LEAST <= share <= MOST


@pytest.mark.parametrize("parts", [100, 1500])
def test_it_is_so_for_a_small_and_a_large_trial(parts: int) -> None:
    share = share_enough("weibull 2.5", 5, 1000, parts=parts)
    print(f"{parts} parts: enough in {share:.3f}")
    assert LEAST <= share <= 0.98
