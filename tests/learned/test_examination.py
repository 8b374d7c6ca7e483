"""The examination of `learn` tells a right configuration from wrong ones, on presses of both peers and on a printer."""

import os
from dataclasses import replace
from pathlib import Path

import pytest

from tests.learned.examine import Score, examined
from tests.learned.lines import PRINTERS, LinePress
from tests.learned.odd_press import OddPress
from tests.learned.playing import c_peer
from tests.learned.presses import PRESSES

RIGHT = -1
"""What stands for the number of shots seen where the right configuration is followed and nothing is learnt."""


def named(word: str, cycle_s: float = 0.3) -> OddPress | LinePress:
    (press,) = (press for press in (*PRESSES, *PRINTERS) if word in press.name)
    if isinstance(press, OddPress) and press.peer == "libmodbus" and c_peer() is None:
        missing = "needs a C compiler and libmodbus (Debian: apt install gcc libmodbus-dev)"
        if os.environ.get("CI") == "true":
            pytest.fail(missing)
        pytest.skip(missing)
    return replace(press, cycle_s=cycle_s)


@pytest.mark.parametrize("word", ["cavities, dry", "low word first, set-points", "semicolon"])
def test_a_right_configuration_follows_its_press(word: str, tmp_path: Path) -> None:
    score = examined(named(word, cycle_s=1.0), RIGHT, tmp_path, followed=4)  # slow: misses none on a busy machine
    assert score.whole, score
    assert score.forbidden == []


def test_a_wrong_one_is_told(tmp_path: Path) -> None:
    def spoiled(text: str) -> str:
        text = text.replace("address = 20", "address = 21").replace("scale = 0.001", "scale = 0.01")
        return text.replace("shot_counter = { address = 8", "shot_counter = { address = 2")

    score = examined(named("cavities, dry", cycle_s=1.0), RIGHT, tmp_path, followed=5, change=spoiled)
    assert (score.wrong, score.right) == (["cushion", "fill_time"], ["peak_pressure", "switchover_pressure"])
    assert score.extra == 1, "the dry cycle after the third shot"
    assert not score.whole


def test_none_at_all_finds_nothing(tmp_path: Path) -> None:
    score = examined(named("plain"), RIGHT, tmp_path, followed=5, change=lambda _: "")
    assert (score.right, len(score.missed), score.whole) == ([], 6, False)
    assert "does not read" in score.trouble


def test_a_score_is_whole_only_where_every_shot_was_stored() -> None:
    whole = Score("p", 0, right=["cushion"], offered=8, stored=8)
    assert whole.whole
    assert not replace(whole, stored=7).whole
    assert not replace(whole, extra=1).whole
    assert not replace(whole, wrong=["fill_time"]).whole
