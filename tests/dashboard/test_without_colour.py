"""No two states differ by colour only: each also by shape, dash, pattern, edge or word, or as plainly as ink and paper.

What is plain is worked out as eyes see it that lack the red or the green cone (Machado, Oliveira and Fernandes 2009,
severity 1, from memory: each row of a matrix must add up to 1), with the contrast of WCAG 2.1.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from worn_trial import worn_trial

import dashboard
from dashboard import Source
from dashboard.press.standing import SIGNS
from dashboard.shared.figures.ink import INKS
from dashboard.shared.figures.strips import strips_figure
from dashboard.shared.views import DrawnLevel, DrawnMark, EventLine, Forecast, Strip, Strips
from dashboard.shift import Query, ShiftReader
from dashboard.shift.figures.lives import sisters_figure
from dashboard.shift.figures.timeline import timeline_figure
from dashboard.shift.life import MOST_SISTERS, SisterLine, Sisters
from dashboard.shift.whole import Shift
from shotlog.entries import KINDS
from shotlog.settings import Bound

Figure = dict[str, Any]

EYES = {
    "all cones": np.eye(3),
    "no red cone": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "no green cone": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
}
PLAIN = 3.0
"""The contrast that WCAG 2.1, 1.4.11, asks between what has to be told apart."""

READ = 4.5
"""What it asks, in 1.4.3, of words in their ground."""

ASSETS = Path(dashboard.__file__).parent / "assets"


def luminance(colour: str, paper: str, eyes: str) -> float:
    """Return the relative luminance of a colour, laid on the paper where it is see-through, as these eyes see it."""
    below = np.array([int(paper[n : n + 2], 16) for n in (1, 3, 5)]) / 255.0
    if colour.startswith("#"):
        shown = np.array([int(colour[n : n + 2], 16) for n in (1, 3, 5)]) / 255.0
    else:
        *parts, alpha = (float(part) for part in re.findall(r"[\d.]+", colour))
        shown = alpha * np.array(parts) / 255.0 + (1.0 - alpha) * below
    linear = np.where(shown <= 0.04045, shown / 12.92, ((shown + 0.055) / 1.055) ** 2.4)
    seen = np.clip(EYES[eyes] @ linear, 0.0, 1.0)
    return float(np.array([0.2126, 0.7152, 0.0722]) @ seen)


def contrast(one: str, other: str, paper: str, eyes: str) -> float:
    light = sorted((luminance(one, paper, eyes), luminance(other, paper, eyes)))
    return (light[1] + 0.05) / (light[0] + 0.05)


def alike(looks: dict[str, tuple[object, ...]]) -> list[tuple[str, str]]:
    return [(one, other) for one, other in combinations(looks, 2) if looks[one] == looks[other]]


@pytest.mark.parametrize("eyes", EYES)
def test_what_these_eyes_see_is_worked_out_rightly(eyes: str) -> None:
    assert EYES[eyes].sum(axis=1) == pytest.approx([1.0] * 3, abs=1e-5)
    assert contrast("#000000", "#ffffff", "#ffffff", eyes) == pytest.approx(21.0, abs=0.01)
    assert contrast("rgba(9, 9, 9, 0.0)", "#808080", "#808080", eyes) == pytest.approx(1.0)


def test_a_red_and_a_green_that_differ_in_nothing_else_would_be_found() -> None:
    assert contrast("#c00000", "#008000", "#ffffff", "no green cone") < PLAIN


@pytest.mark.parametrize("mode", INKS)
@pytest.mark.parametrize("eyes", EYES)
def test_every_ink_stands_out_from_its_paper(mode: str, eyes: str) -> None:
    ink = INKS[mode]
    for name in ("text", "quiet", "point", "level", "limit", "alarm"):
        assert contrast(getattr(ink, name), ink.paper, ink.paper, eyes) >= PLAIN, name


@pytest.mark.parametrize("mode", INKS)
def test_what_is_read_and_what_is_touched_stands_out_in_the_sheet_by_day_and_dark(mode: str) -> None:
    sheet = (ASSETS / "shotlog.css").read_text(encoding="utf-8")
    day, dark = (
        dict(re.findall(r"--([a-z-]+): (#\w+);", one)) for one in re.findall(r"(?s):root[^{]*\{(.*?)\}", sheet)
    )
    assert set(day) == set(dark)
    of = {"day": day, "dark": dark}[mode]

    def least(over: str, *below: str) -> float:
        return min(contrast(of[over], of[one], of[one], "all cones") for one in below)

    grounds = ("paper", "desk", "touch", "watch", "cut")
    assert min(least("text", *grounds), least("quiet", *grounds)) >= READ
    assert min(least("swap-text", "swap"), least("paper", "text")) >= READ
    assert min(least("touch-edge", "paper", "desk", "touch"), least("focus", *grounds)) >= PLAIN
    assert min(least("watch-edge", "watch", "paper", "desk"), least("swap", "paper", "desk")) >= PLAIN
    ink = INKS[mode]
    assert (ink.text, ink.quiet, ink.rule, ink.paper) == tuple(of[one] for one in ("text", "quiet", "rule", "paper"))
    words = (ink.text, ink.quiet, ink.level, ink.limit, ink.alarm)
    assert min(contrast(one, ink.paper, ink.paper, "all cones") for one in words) >= READ, "of figures as well"
    # the page to log in on loads no other sheet
    alone = (ASSETS / "log-in.css").read_text(encoding="utf-8")
    apart = [
        dict(re.findall(r"--([a-z-]+): (#\w+);", one)) for one in re.findall(r"(?s)\.log-in-page \{(.*?)\}", alone)
    ]
    assert apart[mode == "dark"].items() <= of.items()


def all_on_a_strip() -> Strips:
    """Return strips with everything on them that can be: settling, signals, limits, gap, event, onset, forecast."""
    shots = tuple(shot for shot in range(1, 41) if not 12 <= shot <= 14)
    marks = (DrawnMark(30, 5.4, "above", "a"), DrawnMark(31, 4.4, "below", "b"), DrawnMark(32, 4.9, "other", "c"))
    level = DrawnLevel(6, 40, 4.92, 4.5, 5.3, 8)
    cushion = Strip("cushion", tuple(4.9 for _ in shots), (level,), Bound(low=4.2), marks)
    view = Strips("B-12", 1, shots, frozenset(range(1, 6)), ((12, 14),), (), (24, 26, 28), (cushion,), held_from=24)
    return replace(
        view, events=(EventLine(18, "lot: L2", "lot: L2"),), forecast=Forecast(40, 43, 48, 60, "cushion", "low")
    )


def test_signs_on_the_strips_differ_by_shape() -> None:
    figure = strips_figure(all_on_a_strip())
    looks: dict[str, tuple[object, ...]] = {}
    for trace in figure["data"]:
        if trace["mode"] == "markers":
            symbols = trace["marker"]["symbol"]
            for symbol in [symbols] if isinstance(symbols, str) else symbols:
                looks[f"{trace['name']} {symbol}"] = (symbol,)
    assert len(looks) == 5
    assert alike(looks) == []


def test_lines_on_the_strips_differ_by_direction_dash_or_weight() -> None:
    shapes = strips_figure(all_on_a_strip())["layout"]["shapes"]
    lines = [one for one in shapes if one["type"] == "line" and one.get("ysizemode") != "pixel"]
    looks = [(one["x0"] == one["x1"], one["line"].get("dash", "solid"), one["line"]["width"]) for one in lines]
    coloured = {(look, one["line"]["color"]) for look, one in zip(looks, lines, strict=True)}
    assert len(set(looks)) == len(coloured) == 7


def test_missed_shots_and_shots_to_hold_differ_by_their_edge() -> None:
    bands = [one for one in strips_figure(all_on_a_strip())["layout"]["shapes"] if one["type"] == "rect"]
    assert (
        len({one["fillcolor"] for one in bands}) == len({one["line"]["width"] > 0 for one in bands}) == len(bands) == 2
    )


@pytest.fixture(scope="module")
def shift(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shift]:
    trial = worn_trial(tmp_path_factory.mktemp("without_colour"))
    source = Source(trial.settings, trial.clock)
    yield ShiftReader(source).read(Query())
    source.close()
    trial.close()


@pytest.mark.parametrize("mode", INKS)
@pytest.mark.parametrize("eyes", EYES)
def test_states_on_the_timeline_differ_by_pattern_or_as_ink_from_paper(shift: Shift, mode: str, eyes: str) -> None:
    bars = {trace["name"]: trace for trace in timeline_figure(shift, mode)["data"] if trace["type"] == "bar"}
    assert set(bars) == {"life", "keep", "settling", "watch", "swap", "doubt", "missed"}
    paper, lanes = INKS[mode].paper, {name: set(trace["y"]) for name, trace in bars.items()}
    for one, other in combinations(bars, 2):
        marks = [bars[name]["marker"] for name in (one, other)]
        plain = contrast(marks[0]["color"], marks[1]["color"], paper, eyes) >= PLAIN
        patterns = {mark["pattern"]["shape"] for mark in marks}
        assert len(patterns) == 2 or plain or not lanes[one] & lanes[other], (one, other)


def test_every_kind_of_event_has_its_own_shape() -> None:
    assert alike({name: (kind.mark.page,) for name, kind in KINDS.items()}) == []
    assert alike({name: (kind.mark.report,) for name, kind in KINDS.items()}) == []


def test_sister_lives_differ_by_dash_or_sign() -> None:
    numbers = tuple(range(1, 30))
    lives = tuple(
        SisterLine(f"B-{n}", "P25", n == MOST_SISTERS - 1, numbers, numbers, tuple(4.9 for _ in numbers))
        for n in range(MOST_SISTERS)
    )
    figure = sisters_figure(Sisters("cap-r2", "moving", "cushion", Bound(), lives, 0))
    looks: dict[str, tuple[object, ...]] = {
        trace["name"]: (trace["line"]["dash"], trace["marker"]["symbol"]) for trace in figure["data"]
    }
    assert len(looks) == MOST_SISTERS
    assert alike(looks) == []


def test_every_verdict_has_its_own_picture_drawn_in_one_ink() -> None:
    pictures = {sign: (ASSETS / f"sign-{sign}.svg").read_text(encoding="utf-8") for sign in SIGNS}
    assert len(set(pictures.values())) == len(SIGNS)
    assert {ink for picture in pictures.values() for ink in re.findall(r"#\w+", picture)} == {"#000"}


def test_every_verdict_field_has_its_own_edge_or_ground() -> None:
    """The word and the picture differ anyhow; the field is what is seen from across the hall."""
    sheet = (ASSETS / "shotlog.css").read_text(encoding="utf-8")
    watch, waiting, away = (
        re.search(rf"(?m)^\.standing\.{name}[^{{]*\{{([^}}]*)\}}", sheet)
        for name in ("watch", "waiting", "not-current")
    )
    assert watch is not None
    assert waiting is not None
    assert away is not None
    assert "border-left-width" in watch[1]
    assert "dotted" in waiting[1]
    assert "dashed" in away[1]
    for root in re.findall(r"(?s):root[^{]*\{(.*?)\}", sheet):
        colours = dict(re.findall(r"--([a-z-]+): (#\w+);", root))
        swap = [contrast(colours["swap"], colours["paper"], colours["paper"], eyes) for eyes in EYES]
        assert min(swap) >= PLAIN
