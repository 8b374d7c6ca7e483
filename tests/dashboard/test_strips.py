"""The strips figure: plain, whole, and saying by shape what it says by colour."""

import json
from dataclasses import replace
from typing import Any

import pytest

from dashboard.press.page import _rate
from dashboard.shared.figures.ink import INKS
from dashboard.shared.figures.strips import strips_figure, strips_in_words
from dashboard.shared.views import DrawnLevel, DrawnMark, EventLine, Forecast, Strip, Strips
from shotlog.channels import ALWAYS_CHARTED
from shotlog.settings import Bound


def a_strips(n: int = 30, *, missing: tuple[int, int] | None = (12, 14), action: Bound | None = None) -> Strips:
    shots = tuple(s for s in range(101, 101 + n) if missing is None or not missing[0] <= s - 100 <= missing[1])
    values = tuple(4.9 + 0.01 * (s % 5) for s in shots)
    level = DrawnLevel(106, 100 + n, 4.92, 4.85, 4.99, 8)
    cushion = Strip("cushion", values, (level,) if n > 8 else (), action or Bound(), ())
    others = [Strip(name, values, (), Bound(), ()) for name in ALWAYS_CHARTED[1:]]
    gaps = ((100 + missing[0], 100 + missing[1]),) if missing is not None and n > missing[1] else ()
    return Strips("B-12", 101, shots, frozenset(range(101, 106)), gaps, (), None, (cushion, *others))


def trace(figure: dict[str, Any], name: str, axis: str = "y") -> dict[str, Any]:
    return next(t for t in figure["data"] if t.get("name") == name and t["yaxis"] == axis)


def texts(figure: dict[str, Any]) -> list[str]:
    return [annotation["text"] for annotation in figure["layout"]["annotations"]]


def lines_at(figure: dict[str, Any], value: float) -> list[dict[str, Any]]:
    return [s for s in figure["layout"]["shapes"] if s["type"] == "line" and s["y0"] == s["y1"] == value]


@pytest.mark.parametrize("n", [0, 1, 3, 30, 500])
@pytest.mark.parametrize("mode", INKS)
def test_a_figure_is_plain_data_at_any_length(n: int, mode: str) -> None:
    """Arrays would reach the browser packed, and later updates of such a figure lose its points (first seen in a trial
    of the library): everything must already be lists, dicts, text and numbers."""

    def plain(what: Any) -> bool:
        if isinstance(what, dict):
            return all(isinstance(key, str) and plain(value) for key, value in what.items())
        if type(what) is list:
            return all(plain(value) for value in what)
        return what is None or type(what) in (str, int, float, bool)

    figure = strips_figure(a_strips(n), mode)
    assert type(figure) is dict
    assert plain(figure)
    json.dumps(figure, allow_nan=False)


def test_the_line_is_broken_where_shots_are_missing() -> None:
    line = next(t for t in strips_figure(a_strips())["data"] if t["mode"] == "lines")
    assert line["x"][11:13] == [None, 115]
    assert line["connectgaps"] is False
    assert "3 missed" in texts(strips_figure(a_strips()))


def test_a_missing_value_breaks_the_line_too_and_gets_no_marker() -> None:
    view = a_strips(20, missing=None)
    holed = Strip("cushion", (*view.strips[0].values[:9], None, *view.strips[0].values[10:]), (), Bound(), ())
    figure = strips_figure(Strips("B-12", 101, view.shots, frozenset(), (), (), None, (holed,)))
    assert next(t for t in figure["data"] if t["mode"] == "lines")["y"][9] is None
    assert 110 not in trace(figure, "judged")["x"]


def test_settling_shots_are_open_and_judged_ones_filled() -> None:
    figure = strips_figure(a_strips())
    assert trace(figure, "settling")["x"] == [101, 102, 103, 104, 105]
    assert trace(figure, "settling")["marker"]["symbol"] == "circle-open"
    assert trace(figure, "judged")["marker"]["symbol"] == "circle"
    assert trace(figure, "judged")["x"][0] == 106


def test_signals_differ_by_shape() -> None:
    view = a_strips()
    marks = (DrawnMark(120, 5.1, "above", "a"), DrawnMark(121, 4.7, "below", "b"), DrawnMark(122, 4.9, "other", "c"))
    cushion = Strip("cushion", view.strips[0].values, view.strips[0].levels, Bound(), marks)
    figure = strips_figure(Strips("B-12", 101, view.shots, frozenset(), (), (), None, (cushion,)))
    assert trace(figure, "signals")["marker"]["symbol"] == ["triangle-up", "triangle-down", "diamond-open"]


def test_level_and_limits_start_with_the_shots_they_were_taken_from() -> None:
    figure = strips_figure(a_strips())
    level, lower, upper = (lines_at(figure, value)[0] for value in (4.92, 4.85, 4.99))
    assert {line["x0"] for line in (level, lower, upper)} == {105.5}
    assert (level["line"]["dash"], lower["line"]["dash"], upper["line"]["dash"]) == ("solid", "dash", "dash")


def test_limits_lie_within_the_picture() -> None:
    bottom, top = strips_figure(a_strips())["layout"]["yaxis"]["range"]
    assert bottom < 4.85
    assert top > 4.99


def test_a_near_action_limit_is_drawn_and_a_far_one_only_named() -> None:
    near = strips_figure(a_strips(action=Bound(low=4.8)))
    assert lines_at(near, 4.8)
    assert "action limit 4.80" in texts(near)
    far = strips_figure(a_strips(action=Bound(low=2.0)))
    assert not lines_at(far, 2.0)
    assert "action limit 2.00 \N{DOWNWARDS ARROW}" in texts(far)
    assert far["layout"]["yaxis"]["range"] == strips_figure(a_strips())["layout"]["yaxis"]["range"]


def test_events_are_labelled_lines() -> None:
    view = a_strips()
    told = Strips("B-12", 101, view.shots, frozenset(), (), (EventLine(118, "lot: L2", "lot: L2"),), None, view.strips)
    figure = strips_figure(told)
    assert any(s["type"] == "line" and s["x0"] == s["x1"] == 117.5 for s in figure["layout"]["shapes"])
    assert "lot: L2" in texts(figure)


def test_onset_and_suspect_shots_are_drawn_and_named() -> None:
    view = a_strips()
    told = Strips("B-12", 101, view.shots, frozenset(), (), (), (119, 121, 124), view.strips, held_from=118)
    figure = strips_figure(told)
    rects = [s for s in figure["layout"]["shapes"] if s["type"] == "rect"]
    assert [(r["x0"], r["x1"]) for r in rects] == [(117.5, 130.5)]
    assert any(s["type"] == "line" and s["x0"] == 120.5 == s["x1"] for s in figure["layout"]["shapes"])
    assert any(s["type"] == "line" and (s["x0"], s["x1"]) == (118.5, 124.5) for s in figure["layout"]["shapes"])
    assert "held for this" in texts(figure), "one figure for what is held: that of the banner"


def test_the_axis_counts_shots_on_the_insert_and_gives_the_counter() -> None:
    axis = strips_figure(a_strips())["layout"]["xaxis"]
    assert axis["ticktext"][:2] == ["<b>1</b><br>101", "<b>5</b><br>105"]
    assert axis["tickvals"] == sorted(set(axis["tickvals"]))
    assert len(axis["tickvals"]) <= 12


def test_three_shots_do_not_fill_the_axis() -> None:
    low, high = strips_figure(a_strips(3))["layout"]["xaxis"]["range"]
    assert high - low > 20


def test_a_listener_is_told_the_same() -> None:
    said = strips_in_words(a_strips())
    assert "27 shots on B-12" in said
    assert "Cushion: last 4.90 mm, level 4.92, limits 4.85 to 4.99" in said
    assert "3 shots missed" in said
    assert "no values" in strips_in_words(a_strips(0))


AHEAD = Forecast(made_at=130, first=133, likely=138, last=150, channel="cushion", end="low")


def bars(figure: dict[str, Any]) -> list[dict[str, Any]]:
    return [s for s in figure["layout"]["shapes"] if s.get("x0") == 133.0 and s.get("y0") == s.get("y1")]


def test_the_forecast_lies_on_the_action_limit_and_the_axis_reaches_it() -> None:
    figure = strips_figure(replace(a_strips(action=Bound(low=4.8)), forecast=AHEAD))
    (bar,) = bars(figure)
    assert (bar["yref"], bar["y0"], bar["x1"]) == ("y", 4.8, 150.0)
    assert figure["layout"]["xaxis"]["range"][1] > 150
    assert "<b>action limit</b><br>about shot 138<br>(133 to 150)" in texts(figure)
    ticks = [s["x0"] for s in figure["layout"]["shapes"] if s.get("ysizemode") == "pixel"]
    assert ticks == [133.0, 138.0, 150.0]


def test_a_forecast_to_a_limit_that_is_not_drawn_lies_on_its_edge() -> None:
    figure = strips_figure(replace(a_strips(action=Bound(low=1.0)), forecast=AHEAD))
    (bar,) = bars(figure)
    assert bar["y0"] == figure["layout"]["yaxis"]["range"][0]


def test_a_forecast_without_a_limit_belongs_to_no_strip() -> None:
    figure = strips_figure(replace(a_strips(), forecast=replace(AHEAD, channel="", end="")))
    (bar,) = bars(figure)
    assert bar["yref"] == "paper"
    assert "<b>parts bad from</b><br>about shot 138<br>(133 to 150)" in texts(figure)


def test_a_forecast_far_ahead_leaves_room_for_the_shots_there_are() -> None:
    far = replace(AHEAD, likely=190, last=None)
    view = replace(a_strips(), forecast=far)
    figure = strips_figure(view)
    low, high = figure["layout"]["xaxis"]["range"]
    assert high - 130 < 130 - low
    assert bars(figure)[0]["x1"] == high
    assert "about shot 190 (133 on)" in strips_in_words(view)


def test_a_limit_that_is_reached_is_said() -> None:
    view = replace(a_strips(action=Bound(low=4.8)), forecast=replace(AHEAD, first=130, likely=130, last=130))
    assert "action limit reached now" in strips_in_words(view)


def test_plain_limits_say_that_they_are_configured(monkeypatch: pytest.MonkeyPatch) -> None:
    """The caption told the rate and never why it was so high."""
    level = DrawnLevel(1, 30, 4.9, 4.7, 5.1, 15, per_100=63)
    strip = Strip("cushion", (4.9,), (level,), Bound(), ())
    strips = Strips("B-11", 1, (1,), frozenset(), (), (), None, (strip,))
    rate = "of 100 sound inserts about 63 show any signal in 90 shots"
    assert _rate(strips) == f"Limits: {rate}"
    assert _rate(replace(strips, chart_limits="3-sigma")) == f"Limits: 3-sigma, as configured; {rate}"
    assert _rate(replace(strips, chart_limits="per-life")) == f"Limits: {rate}"
