"""A plan holds in shops it does not assume: lognormal lives, and lives some of which end early by a flaw of the print.

Each of 16 shops a law has known a dozen inserts of about 14 shots and asks what 120 parts take. Then fresh inserts of
the same shop are drawn: how often are as many as the plan says enough, and how often would one fewer have been? Inserts
come whole, so that the certainty a plan states lies between the two. Over 16 shops each mean is known to about 0.03.
"""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from random import Random

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.examined.shop import Row, Shop, sound_values

Lives = Callable[[np.random.Generator, int], NDArray[np.float64]]

pytestmark = pytest.mark.long

N_SHOPS, N_KNOWN, N_PARTS, N_TRIALS = 16, 12, 120, 4000
TOLERANCE = 0.06


def lognormal(chance: np.random.Generator, n: int) -> NDArray[np.float64]:
    return np.maximum(1, np.floor(chance.lognormal(np.log(14), 0.5, n)))


def mixture(chance: np.random.Generator, n: int) -> NDArray[np.float64]:
    """One in ten ends within three shots; the others wear out within a third of each other."""
    early = chance.random(n) < 0.1
    worn = np.floor(chance.normal(16, 2.5, n))
    return np.maximum(1, np.where(early, chance.integers(1, 4, n), worn))


def log_of(lives: list[NDArray[np.float64]]) -> list[Row]:
    """Return every shop as a press with a design of its own; each life ends with a crack that is seen."""
    noise = Random(2)
    rows = []
    for shop, known in enumerate(lives):
        begins = np.concatenate([[1], 1 + np.cumsum(known + 1)]).astype(int)
        for n, (first, end) in enumerate(pairwise(begins)):
            for shot in range(first, end):
                event = [f"removed:{shop}-{n - 1}:crack"] if n and shot == first else []
                event += ["finding:crack"] if shot == end - 1 else []
                row = Row(shot, sound_values(shot, noise, first), "", f"{shop}-{n}", design=f"pin-r{shop}")
                row.press, row.event = f"P{shop}", ";".join(event)
                rows.append(row)
    return rows


def shares_enough(shop: int, law: Lives, count: int) -> tuple[float, float]:
    """Return how often so many fresh inserts make enough sound shots, and how often one fewer does."""
    chance = np.random.default_rng([77, shop])
    lives = np.array([law(chance, count) for _ in range(N_TRIALS)])
    return float(np.mean(lives.sum(axis=1) >= N_PARTS)), float(np.mean(lives[:, 1:].sum(axis=1) >= N_PARTS))


@pytest.mark.parametrize("law", [lognormal, mixture])
def test_the_certainty_is_what_it_says(law: Lives, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    chance = np.random.default_rng(20261128)
    shop = Shop(tmp_path, monkeypatch)
    presses = "".join(f'[[press]]\nname = "P{n}"\n  [press.collector]\n  kind = "recording"\n' for n in range(N_SHOPS))
    designs = "".join(f"[design.pin-r{n}]\nsettling_shots = 2\n" for n in range(N_SHOPS))
    shop.config.write_text(f'[log]\nstore = "sqlite:///trial.db"\n{presses}{designs}', encoding="utf-8")
    shop.take(log_of([law(chance, N_KNOWN) for _ in range(N_SHOPS)]))
    found: dict[float, list[tuple[float, float]]] = {0.5: [], 0.9: []}
    for n in range(N_SHOPS):
        hand = ("--scrap", 0, "--settling", 0, "--late", 1)
        for stock in shop.asked("plan", "--design", f"pin-r{n}", "--parts", N_PARTS, *hand)["chosen"]["stocks"]:
            found[stock["certainty"]].append(shares_enough(n, law, stock["inserts"][f"pin-r{n}"]))
    for certainty, shares in found.items():
        enough, fewer = np.mean(shares, axis=0)
        print(f"{law.__name__}: {certainty} is said; enough in {enough:.2f}, and one insert fewer in {fewer:.2f}")
        assert enough >= certainty - TOLERANCE
        assert fewer <= certainty + TOLERANCE
