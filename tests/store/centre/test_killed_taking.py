"""`shotlog ship` is killed at any instant while it takes in what was entered at the centre: each goes in once."""

import os
import random
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from shotlog.store.asked.entries_made import entries_made
from shotlog.store.log.log import open_log
from tests.made_shop import Shop

ROUNDS, EACH = 12, 4
"""Kills, and entries made at the centre before each."""


@pytest.mark.long
def test_what_waits_goes_in_once_whenever_ship_is_killed(tmp_path: Path, centre_url: str) -> None:
    """The edge is away while they are entered; the instants are drawn (seed 18)."""
    shop, chance = Shop(tmp_path, centre_url), random.Random(18)
    shop.ship()
    command = [sys.executable, "-m", "shotlog", "ship", str(shop.edge), "--to", centre_url, "--as", "hall-2"]
    for n in range(ROUNDS):
        for k in range(EACH):
            reason = f"number {n * EACH + k}"
            assert shop.there("parts", "P25", str(1 + k), "--hold", "--reason", reason, "--initials", "MR") == 0
        with subprocess.Popen(
            command, stderr=subprocess.PIPE, text=True, env=os.environ | {"PYTHONUNBUFFERED": "1"}
        ) as ship:
            assert ship.stderr is not None
            assert ship.stderr.readline().startswith("shipping")
            with suppress(subprocess.TimeoutExpired):
                ship.wait(timeout=chance.uniform(0.0, 0.8))
            ship.kill()
    shop.ship()
    assert shop.states() == ["taken"] * ROUNDS * EACH
    with open_log(shop.at_edge) as log:
        log.verify()
        said = [one.text for one in entries_made(log, "P25") if one.kind == "decision"]
    assert said == [f"number {n}" for n in range(ROUNDS * EACH)], "each once, in the order they were made"
