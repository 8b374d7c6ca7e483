"""What people and swaps say of a change is learnt from: its cause, and how it moved the channels on this press."""

from dataclasses import replace

import numpy as np
import pytest
from wear.made import ALL, THREE, life, prior_of, sisters

from shotlog.records import LoggedShot
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.hypotheses import Hypotheses, hypotheses
from shotlog.wear.change.labelled import Labelled, taught
from shotlog.wear.change.told import INSERT, NOT_INSERT, WORDS, causes_told
from shotlog.wear.constants import MOST_LABELLED, TABLE_WORTH
from shotlog.wear.life.pool import Pool
from shotlog.wear.monitor import Monitor
from shotlog.wording.verdicts import weights_rest_on
from tests.benchmark.lives.own_ways import LABELS, OwnWay, last_call, lives_of

SIGMA = np.array([0.05, 4.0, 0.004])
EROSION = Labelled("A-1", 80, {"gate erosion": 1.0}, {"cushion": 0.0, "peak_pressure": -24.0, "fill_time": -0.012})


def share_of(table: Hypotheses, cause: str) -> float:
    at = table.names.index(cause)
    return float(table.share[table.cause == at].sum() + table.spread_share[table.spread_cause == at].sum())


@pytest.mark.parametrize(
    ("text", "causes"),
    [
        ("flash on the fixed half", ("parting-line wear",)),
        ("worn gate, resin residue", ("gate erosion", "vent clogging", "lot change")),
        ("core blade cracked, no flash", ("crack or breakage",)),
        ("worn", INSERT),
        ("insert intact", NOT_INSERT),
        ("sound, a new lot", ("lot change",)),
        ("planned", ()),
        ("planned, lot 7 used up, nozzle cleaned", ()),
        ("planned, worn gate", ("gate erosion",)),
        ("a lot of parts made, bagged for inspection", ()),
        ("next lot came in", ("lot change",)),
        ("plugged gate, operator feedback", ()),
        ("dimension out", ()),
        ("", ()),
    ],
)
def test_words_name_causes(text: str, causes: tuple[str, ...]) -> None:
    assert causes_told(text) == causes


def test_every_cause_that_people_name_is_in_the_table() -> None:
    assert set(WORDS) <= set(CAUSES)
    assert {CAUSES[name].group for name in INSERT} == {"insert"}
    assert "insert" not in {CAUSES[name].group for name in NOT_INSERT}


def test_a_label_that_leaves_several_causes_open_goes_by_the_weights_the_change_had() -> None:
    one = Labelled.of("A-1", 80, INSERT, {"gate erosion": 0.3, "vent clogging": 0.1, "lot change": 0.6}, {})
    assert one.shares == pytest.approx({"gate erosion": 0.75, "vent clogging": 0.25})
    either = ("lot change", "vent clogging")
    unweighed = Labelled.of("A-1", 80, either, {"gate erosion": 1.0}, {})
    lot, vents = (CAUSES[name].prior for name in either)
    assert unweighed.shares == pytest.approx(
        {"lot change": lot / (lot + vents), "vent clogging": vents / (lot + vents)}
    )
    mostly = Labelled.of("A-1", 80, either, {"lot change": 0.9, "vent clogging": 0.1}, {})
    assert mostly.shares == {"lot change": 1.0}


def test_without_labels_the_table_is_the_table() -> None:
    table = hypotheses(prior_of())
    assert taught(table, THREE, SIGMA, []) is table


def test_labels_count_for_themselves_and_the_table_for_many() -> None:
    table = hypotheses(prior_of())
    whole = float(table.share.sum() + table.spread_share.sum())
    three = taught(table, THREE, SIGMA, [EROSION] * 3)
    expected = (TABLE_WORTH * share_of(table, "gate erosion") + 3.0) / (TABLE_WORTH + 3.0)
    assert share_of(three, "gate erosion") == pytest.approx(expected)
    assert share_of(three, "lot change") == pytest.approx(
        share_of(table, "lot change") * TABLE_WORTH / (TABLE_WORTH + 3)
    )
    grown = float(three.share.sum() + three.spread_share.sum())
    assert grown == pytest.approx((TABLE_WORTH * whole + 3.0) / (TABLE_WORTH + 3.0))
    assert (np.diff(three.shape) >= 0).all()  # the weighing goes by rows sorted by shape


def test_a_label_that_leaves_many_causes_open_is_lost_by_none() -> None:
    table = hypotheses(prior_of())
    four = dict.fromkeys(("gate erosion", "softening or creep", "parting-line wear", "crack or breakage"), 0.25)
    one = taught(table, THREE, SIGMA, [replace(EROSION, shares=four)])
    whole = float(table.share.sum() + table.spread_share.sum())
    found = float(one.share.sum() + one.spread_share.sum())
    assert found == pytest.approx((TABLE_WORTH * whole + 1.0) / (TABLE_WORTH + 1.0))


def test_a_labelled_direction_is_a_row_of_its_own_whatever_the_spreads() -> None:
    table = hypotheses(prior_of())
    for sigma in (SIGMA, SIGMA * [1.0, 2.0, 0.5]):
        rows = taught(table, THREE, sigma, [EROSION])
        new = [d for d in rows.direction.tolist() if d not in table.direction.tolist()]
        moved = np.array([0.0, -24.0, -0.012]) / sigma
        assert new
        assert np.allclose(new, moved / np.abs(moved).max())


def test_the_noise_of_a_small_change_teaches_no_direction() -> None:
    table = hypotheses(prior_of())
    small = replace(EROSION, effect={"peak_pressure": -2.0, "fill_time": 0.002})
    rows = taught(table, THREE, SIGMA, [small])
    own = np.array([d not in table.direction.tolist() for d in rows.direction.tolist()])
    assert rows.share[own].sum() < 0.1 / (TABLE_WORTH + 1.0)


def test_a_cause_that_may_run_either_way_is_learnt_either_way() -> None:
    up = Labelled("A-1", 80, {"lot change": 1.0}, {"peak_pressure": 24.0, "fill_time": 0.02})
    down = replace(up, effect={name: -size for name, size in up.effect.items()})
    table = hypotheses(prior_of())
    both, twice = taught(table, THREE, SIGMA, [up, down]), taught(table, THREE, SIGMA, [up, up])
    assert both.direction.tolist() == twice.direction.tolist()
    own = [d for d in both.direction.tolist() if d not in table.direction.tolist()]
    assert [-d for d in own[0]] in own


def test_few_are_kept_and_a_swap_speaks_to_what_people_said() -> None:
    pool = Pool()
    for n in range(MOST_LABELLED + 3):
        pool.label("d", replace(EROSION, serial=f"A-{n}"))
    assert [one.serial for one in pool.labelled["d"]] == [f"A-{n}" for n in range(3, MOST_LABELLED + 3)]

    worn = Labelled.of("B-1", 90, INSERT, {"gate erosion": 0.5, "vent clogging": 0.5}, {})
    stays = Labelled.of("B-1", 90, NOT_INSERT, {"lot change": 0.9}, {})
    pool.labelled = {"d": [EROSION, worn]}
    pool.answer("d", stays, NOT_INSERT, stayed=True)
    assert pool.labelled["d"] == [EROSION]  # it stayed when the insert had gone: it was not worn by that

    ring = Labelled.of("B-1", 90, ("check-ring leak",), {}, {})
    pool.labelled = {"d": [ring]}
    pool.answer("d", worn, INSERT, stayed=False)
    assert pool.labelled["d"] == [ring]  # mended at the same stop

    pool.labelled = {}
    pool.answer("d", worn, INSERT, stayed=False)
    assert pool.labelled["d"] == [worn]  # nobody had said anything


def played(reason: str, *, finding: str = "", sound: bool = False) -> tuple[Monitor, list[LoggedShot]]:
    """Return a monitor after three sisters and one that erodes, and the life after it, still to come."""
    monitor = Monitor("p", {})
    events = {45: (("finding", finding),)} if finding else {44: (("sound", "M. Berger, gate"),)} if sound else {}
    worn = life(7, "W", 50, first=181, change={"peak_pressure": ("ramp", -0.5)}, onset=25, hours=9.0, events=events)
    for shot in [*sisters(3), *worn]:
        monitor.step(shot)
    following = life(8, "N", 30, first=231, hours=12.0)
    if reason:
        following[0] = replace(following[0], removed=(("W", reason),))
    return monitor, following


def labelled(monitor: Monitor) -> list[Labelled]:
    return monitor._mounted.pool.labelled.get("d", [])


def test_a_reason_labels_the_change_it_was_taken_out_with() -> None:
    monitor, following = played("gate worn")
    monitor.step(following[0])
    (one,) = labelled(monitor)
    assert (one.serial, one.at_shot, one.shares) == ("W", 231, {"gate erosion": 1.0})
    assert one.effect["peak_pressure"] == pytest.approx(-0.5 * 4.0 * 26, rel=0.2)


def test_a_finding_labels_it_where_nobody_gave_a_reason() -> None:
    monitor, following = played("", finding="flash")
    monitor.step(following[0])
    assert [one.shares for one in labelled(monitor)] == [{"parting-line wear": 1.0}]


def test_found_sound_says_that_it_was_not_the_insert() -> None:
    monitor, _ = played("", sound=True)
    (one,) = labelled(monitor)
    assert one.shares
    assert all(CAUSES[cause].group != "insert" for cause in one.shares)


def test_a_swap_that_answers_labels_it_where_people_said_nothing() -> None:
    monitor, following = played("")
    monitor.step(following[0])
    assert labelled(monitor) == []
    for shot in following[1:]:
        monitor.step(shot)
    (one,) = labelled(monitor)
    assert one.serial == "W"
    assert all(CAUSES[cause].group == "insert" for cause in one.shares)


def test_the_verdicts_after_a_restart_are_the_same_to_the_last_bit() -> None:
    monitor, following = played("vents clogged")
    again = life(9, "M", 60, first=261, change={"peak_pressure": ("ramp", -0.5)}, onset=20, hours=15.0)
    shots = [*following, *again]
    for at, shot in enumerate(shots):
        if at % 7 == 0:
            other = Monitor("p", {})
            other.restore(monitor.save())
            assert other.save() == monitor.save()
            monitor = other if at % 14 == 0 else monitor
        mine = monitor.step(shot)
        if at % 7 == 0 and monitor is not other:
            assert other.step(shot) == mine
    assert monitor.evidence().labelled == 1


def right(press: OwnWay, seed: int, said: list[str]) -> bool:
    verdict = last_call(lives_of(press, np.random.default_rng(seed), said))
    return verdict is not None and verdict.group == press.group


@pytest.mark.long
def test_a_fault_in_its_own_way_is_known_after_three_labels_and_a_wrong_one_does_little_harm() -> None:
    """Ten presses whose fault is in no table: without labels a coin; with three, most are right.

    One wrong label among four may cost two of them, no more.
    """
    wrong = {"insert": "other lot of resin", "press": "gate worn", "material": "flash all round"}
    groups = {say: group for group, say in LABELS}
    counts = {"none": 0, "three": 0, "one wrong": 0}
    for n in range(10):
        press = OwnWay.draw(np.random.default_rng([41, n]), 7)
        assert groups[press.say] == press.group
        other = wrong[press.group]
        counts["none"] += right(press, n, ["", "", ""])
        counts["three"] += right(press, n, [press.say] * 3)
        counts["one wrong"] += right(press, n, [press.say, other, press.say, press.say])
    assert counts["three"] >= 8
    assert counts["three"] >= counts["none"] + 3
    assert counts["one wrong"] >= counts["three"] - 2


@pytest.mark.parametrize(
    ("n", "words"),
    [
        (1, "weights from the table of causes, and from 1 change of this design that people or a swap explained"),
        (3, "weights from the table of causes, and from 3 changes of this design that people or a swap explained"),
    ],
)
def test_it_is_said_what_the_weights_rest_on(n: int, words: str) -> None:
    assert weights_rest_on(n) == words


LOT = {"peak_pressure": ("step", 7.0), "recovery_time": ("step", -4.0), "cushion": ("step", 0.8)}
EROSION_RAMP = {"peak_pressure": ("ramp", -0.3), "cushion": ("ramp", -0.06), "part_weight": ("ramp", 0.06)}


@pytest.mark.parametrize(
    ("before", "word"), [(LOT, "other lot of resin"), (EROSION_RAMP, "gate worn"), (EROSION_RAMP, "")]
)
def test_a_note_of_a_bag_does_not_decide_whatever_was_labelled_before(
    before: dict[str, tuple[str, float]], word: str
) -> None:
    """Erosion with "next bag" noted three shots before it, after three ends that were lots, erosion, or unsaid."""
    monitor, first = Monitor("p", {}), 0
    lives: list[list[LoggedShot]] = [sisters(3, ALL)]
    first = len(lives[0]) + 1
    for n in range(3):
        lives.append(life(50 + n, f"L-{n}", 60, first, ALL, before, onset=30, hours=9.0 + 3 * n))
        first += 60
        if word and n:
            lives[-1][0] = replace(lives[-1][0], removed=((f"L-{n - 1}", word),))
    noted = {27: (("lot", "next bag"),)}
    lives.append(life(60, "E", 70, first, ALL, EROSION_RAMP, onset=30, hours=20.0, events=noted))
    if word:
        lives[-1][0] = replace(lives[-1][0], removed=(("L-2", word),))
    verdicts = [monitor.step(shot) for made in lives for shot in made]
    assert len(labelled(monitor)) >= (3 if word else 1)
    assert verdicts[-1].group == "insert"
