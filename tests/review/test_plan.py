"""A plan: its figures are from the log, a person, or assumed, and it says which; and what follows from them."""

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from made_shots import START

from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.parts.plan import Plan, PlanFigure
from shotlog.records import Shot
from shotlog.review.plan import bath_hours, plan_of
from shotlog.review.plan_asked import PlanAsked
from shotlog.review.plan_facts import OnRecord, known_of
from shotlog.settings import Bound, DesignSettings, load
from shotlog.store.inserts import entries
from shotlog.store.log.log import open_log
from shotlog.store.parts.inspections import inspect
from shotlog.wording.plan import figure_text

CAP = DesignSettings("cap", settling_shots=5, cost={"part": 2.0, "insert": 20.0, "changeover": 10.0, "late_find": 8.0})
LIVED = OnRecord(
    "cap", False, "PP", (57, 59, 20, 94), (True, True, True, False), (8, 12, 10), 40, 2, 75.0, 300, 12.0, 3
)
GIVEN = PlanAsked(
    "cap",
    200,
    life=60.0,
    scrap=0.1,
    cycle_s=90.0,
    changeover_min=6.0,
    settling=5,
    late=3,
    breakage=0.02,
    dissolve_h=26.0,
)


def figure(plan: Plan, name: str, design: str = "cap") -> PlanFigure:
    return next(one for one in plan.figures if one.name == name and one.design in ("", design))


def test_figures_are_of_this_log_where_it_has_any() -> None:
    plan = plan_of(PlanAsked("cap", 1), [LIVED], {"cap": CAP})
    assert [(one.name, one.source, one.n) for one in plan.figures if not one.costs] == [
        ("life", "log", 4), ("late", "log", 3), ("settling", "configuration", 0), ("scrap", "log", 40),
        ("cycle_s", "log", 300), ("changeover_min", "log", 3),
    ]  # fmt: skip
    assert figure(plan, "late").value == 10
    assert figure(plan, "scrap").value == 0.05
    assert figure(plan, "scrap").low < 0.05 < figure(plan, "scrap").high
    assert 40 < figure(plan, "life").value < 80
    assert {one.source for one in plan.figures if one.costs} == {"configuration"}


@pytest.mark.parametrize(("n", "bad"), [(1, 0), (1, 1), (12, 0), (12, 12), (12, 5)])
def test_a_share_lies_within_what_it_may_be(n: int, bad: int) -> None:
    """Of none, and of all, as Brown, Cai and DasGupta (2001) end the interval after Jeffreys (from memory)."""
    one = figure(plan_of(PlanAsked("cap", 1), [replace(LIVED, inspected=n, bad=bad)], {"cap": CAP}), "scrap")
    assert one.low <= one.value <= one.high
    assert (one.low == 0.0, one.high == 1.0) == (bad == 0, bad == n)


def test_settling_shots_lose_what_was_seen_to_be_lost_in_them() -> None:
    """All of them until parts of such shots were looked at; then the share of those that was not accepted."""
    for looked_at, bad, lost in ((0, 0, 20), (2, 0, 20), (9, 0, 1), (9, 9, 19), (39, 20, 10)):
        known = replace(LIVED, settling=looked_at, settling_bad=bad)
        plan = plan_of(PlanAsked("cap", 1), [known], {"cap": replace(CAP, settling_shots=20)})
        assert figure(plan, "settling").value == lost
        assert figure(plan, "settling").source == ("log" if looked_at > 2 else "configuration")


def test_a_figure_that_a_person_gives_goes_before_those_of_the_log() -> None:
    plan = plan_of(replace(GIVEN, parts=1), [LIVED], {"cap": CAP})
    assert {one.source for one in plan.figures if not one.costs} == {"given"}
    assert figure(plan, "life").value == pytest.approx(60.0)
    assert figure(plan, "scrap").low == figure(plan, "scrap").high == 0.1


def test_a_life_given_without_its_scatter_says_that_the_scatter_is_assumed() -> None:
    plan = plan_of(replace(GIVEN, parts=1), [LIVED], {"cap": CAP})
    assert figure_text(figure(plan, "life")).endswith(", given by hand, Weibull shape 2.5, which is ASSUMED")
    alike = plan_of(replace(GIVEN, parts=1, shape=8.0), [LIVED], {"cap": CAP})
    assert figure_text(figure(alike, "life")).endswith(", given by hand, Weibull shape 8")
    assert figure(alike, "life").low > 40.0
    with pytest.raises(UsageError, match="shape: given without a life"):
        plan_of(replace(GIVEN, life=None, shape=8.0), [LIVED], {"cap": CAP})


def test_of_a_design_nobody_knows_everything_is_assumed_and_named() -> None:
    plan = plan_of(PlanAsked("new", 100), [OnRecord("new", False, "")], {})
    assert not plan.on_record
    assert {one.source for one in plan.figures} == {"assumed"}
    assert plan.chosen.cost is not None
    assert plan.chosen.stocks[1].inserts["new"] > plan.chosen.stocks[0].inserts["new"] > 0


def test_what_is_not_known_costs_inserts() -> None:
    """The same middle figures, once as given and once from four lives: the second stock is larger."""
    sure = plan_of(replace(GIVEN, parts=400, life=60.0), [LIVED], {"cap": CAP}).chosen.stocks[1]
    unsure = plan_of(replace(GIVEN, parts=400, life=None), [LIVED], {"cap": CAP}).chosen.stocks[1]
    assert unsure.inserts["cap"] > sure.inserts["cap"]


def test_hours_and_costs_follow_from_shots_and_changes() -> None:
    plan = plan_of(replace(GIVEN, life=1e6, scrap=0.0), [LIVED], {"cap": CAP})
    for stock in plan.chosen.stocks:
        assert (stock.inserts, stock.pieces, stock.shots) == ({"cap": 1}, {}, 205)
        assert stock.press_h == pytest.approx(205 * 90.0 / 3600.0)
        assert stock.bath_h == pytest.approx(stock.press_h + 26.0)
    assert plan.chosen.cost == pytest.approx((205 * 2.0 + 20.0 + 10.0) / 200)
    assert plan.cost_high == pytest.approx(plan.chosen.cost)


def test_parts_that_settle_do_not_go_into_the_bath() -> None:
    """200 parts in loads of 50: the first goes in when 50 are moulded, three more after it."""
    plan = plan_of(replace(GIVEN, life=1e6, scrap=0.0, bath_parts=50), [LIVED], {"cap": CAP})
    press_h = 205 * 90.0 / 3600.0
    assert plan.chosen.stocks[1].bath_h == pytest.approx(press_h / 4 + 4 * 26.0)


def test_a_planned_swap_is_counted_to_the_shot() -> None:
    """Lives without end, swapped after 45 shots of which 5 settle: 40 accepted an insert, five inserts for 200."""
    row = plan_of(replace(GIVEN, life=1e6, scrap=0.0, planned=45), [LIVED], {"cap": CAP}).chosen
    assert row.planned == 45
    assert row.stocks[1].inserts == {"cap": 5}
    assert row.stocks[1].shots == 225
    assert row.stocks[1].press_h == pytest.approx(225 * 90.0 / 3600.0 + 4 * 6.0 / 60.0)
    assert row.cost == pytest.approx((225 * 2.0 + 5 * 30.0) / 200)


def test_planned_lives_are_compared_and_the_cheapest_is_marked() -> None:
    plan = plan_of(replace(GIVEN, parts=2000, late=30, planned=33), [LIVED], {"cap": CAP})
    planned = [row.planned for row in plan.rows]
    assert 33 in planned
    assert planned[-1] is None
    assert planned[:-1] == sorted(planned[:-1])
    (best,) = (row for row in plan.rows if row.cheapest)
    assert best.cost == min(row.cost for row in plan.rows)
    assert best.planned not in (planned[0], None), "thirty bad shots a failure, yet each swap costs as well"
    assert plan.chosen == replace(plan.rows[planned.index(33)], cheapest=False)


def test_single_use_pieces_go_with_the_half_that_stays() -> None:
    once = OnRecord("piece", True, "PP", cycle_s=150.0, n_cycles=48)
    plan = plan_of(replace(GIVEN, design="piece", parts=48, breakage=0.0, scrap=0.0), [once, LIVED], {"cap": CAP})
    assert (plan.single_use, plan.swapped, plan.beside) == (("piece",), "cap", ("cap",))
    stock = plan.chosen.stocks[1]
    assert stock.pieces["piece"] >= stock.shots >= 53
    assert stock.inserts["cap"] >= 1


def test_two_halves_of_one_design_are_printed_together() -> None:
    one = plan_of(replace(GIVEN, parts=400), [LIVED], {"cap": CAP}).chosen.stocks[1].inserts["cap"]
    both = plan_of(replace(GIVEN, parts=400), [LIVED, LIVED], {"cap": CAP})
    assert both.chosen.stocks[1].inserts["cap"] > 1.7 * one
    assert len([figure for figure in both.figures if figure.name == "late"]) == 1


def test_cavities_of_the_mould_make_fewer_shots() -> None:
    four = replace(CAP, cavities=4)
    assert plan_of(GIVEN, [LIVED], {"cap": four}).chosen.stocks[1].shots < 100
    assert plan_of(GIVEN, [LIVED], {"cap": CAP}).chosen.stocks[1].shots > 220


def test_parts_that_must_not_go_into_a_bath_have_no_time_out_of_it() -> None:
    plan = plan_of(replace(GIVEN, dissolve_h=None), [LIVED], {"cap": replace(CAP, dissolve_h=None)})
    assert plan.chosen.stocks[0].bath_h is None


@pytest.mark.parametrize("at_once", [1, 7, 48, 100, None])
@pytest.mark.parametrize("press_h", [0.5, 4.0, 60.0])
def test_the_bath_is_loaded_as_parts_come_and_it_is_free(at_once: int | None, press_h: float) -> None:
    """Load by load: the next goes in when it is moulded and the one before is out."""
    parts, soak, out = 48, 10.0, 0.0
    for n in range(0, parts, at_once or parts):
        moulded = min(n + (at_once or parts), parts) / parts * press_h
        out = max(out, moulded) + soak
    assert bath_hours(press_h, parts, soak, at_once) == pytest.approx(out)


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [("parts", 0, "parts: given 0"), ("parts", 200_000, "allowed: 1 to 20000"), ("scrap", 1.0, "scrap: given 1"),
     ("life", 0.0, "life"), ("cycle_s", 0.0, "cycle_s"), ("planned", 0, "planned life"), ("bath_parts", 0, "bath"),
     ("life", float("nan"), "life"), ("late", -1, "late")],
)  # fmt: skip
def test_a_figure_that_cannot_be_is_refused(name: str, value: float, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        plan_of(replace(GIVEN, **{name: value}), [LIVED], {})


CONFIG = """
[log]
store = "sqlite:///trial.db"
[trial]
name = "caps"
resin = "PA66-GF30"
[[press]]
name = "P1"
  [press.collector]
  kind = "recording"
[design.cap]
settling_shots = 3
"""


def at(shot: int) -> datetime:
    """A cycle of 80 s; 10 minutes more before shot 31 and shot 81."""
    return START + timedelta(seconds=80 * shot + 600 * ((shot >= 31) + (shot >= 81)))


def test_the_log_says_how_long_they_lived_and_what_was_looked_at(tmp_path: Path) -> None:
    """Three inserts: worn after 30 and 50 shots, and one with 20 that is mounted; parts inspected the next day."""
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    settings = load(tmp_path / "trial.toml")
    with open_log(settings.store, read_only=False) as log:
        for serial, first in (("B-1", 1), ("B-2", 31), ("B-3", 81)):
            if first > 1:
                before = f"B-{int(serial[2:]) - 1}"
                entries.remove(log, "P1", before, at(first - 1), reason="gate worn", at_shot=first)
            entries.mount(log, "P1", serial, at(first - 1), design="cap", at_shot=first)
        log.append([Shot("P1", n, n, at(n), {"cushion": 5.0}) for n in range(1, 101)])
        for shot in (2, 31, 32, 83, 40, 50, 60, 85, 90, 95):
            inspect(log, Part("P1", shot), at(5000), quantity="part_weight", value=8.0, tolerance=Bound(7.0, 9.0))
        inspect(log, Part("P1", 99), at(5000), quantity="part_weight", value=6.0, tolerance=Bound(7.0, 9.0))
        (known,) = known_of(log, settings, "cap")
    assert sorted(zip(known.sound, known.gone_off, strict=True)) == [(18, True), (30, True), (50, True)]
    assert (known.inspected, known.bad) == (6, 0), "99 ended its insert"
    assert (known.settling, known.settling_bad) == (4, 0), "2, 31, 32, 83"
    assert known.late == (0, 0, 2)
    assert known.cycle_s == pytest.approx(80.0)
    assert (known.changeover_min, known.n_changes) == (pytest.approx(10.0), 2)
    assert not known.single_use


def test_lives_of_other_presses_count_by_how_far_presses_differ() -> None:
    """Three presses whose lives differ leave the next one wider than three that are alike; own lives decide."""
    sound, gone = (60, 70, 80, 65, 75, 85, 70, 80), (True,) * 8
    places = ("P1", "P1", "P2", "P2", "P2", "P3", "P3", "P3")
    alike = replace(LIVED, sound=sound, gone_off=gone, places=places, press="P1")
    other = replace(alike, sound=(60, 70, 20, 25, 22, 220, 250, 240))
    lives = [figure(plan_of(PlanAsked("cap", 1), [one], {"cap": CAP}), "life") for one in (alike, other)]
    assert lives[0].high / lives[0].low < lives[1].high / lives[1].low
    assert 45 < lives[1].value < 95
    assert lives[0].elsewhere == 6
    assert "8 gone off, 6 of them on other presses" in figure_text(lives[0])
    assert "8 gone off, all of them on other presses" in figure_text(replace(lives[0], elsewhere=8))


def test_lives_of_one_press_are_taken_as_ever() -> None:
    one = replace(LIVED, places=("P1",) * 4, press="P1")
    plans = [plan_of(PlanAsked("cap", 50), [known], {"cap": CAP}) for known in (LIVED, one)]
    assert plans[0] == plans[1]
