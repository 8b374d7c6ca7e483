"""Parts, decisions on them, and lives that end at the first bad part."""

from datetime import datetime, timedelta
from random import Random

import hypothesis
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import func, select

from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.facts import Facts, SwapFinding
from shotlog.parts.ends import blamed_half
from shotlog.parts.part import Part, parts_named
from shotlog.parts.standing import DECISIONS, PartStanding
from shotlog.records import Gap, Shot, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.store.inserts import entries
from shotlog.store.log import judgements, schema
from shotlog.store.log.log import Log
from shotlog.store.parts.dispositions import decisions, enter_decision, held_parts, part_standings
from shotlog.store.parts.doubts import held_for_call, said_of_parts
from shotlog.store.parts.ends import insert_ends
from shotlog.store.parts.inspections import inspect, inspections
from shotlog.store.parts.parts import made_parts
from shotlog.store.undo import take_back
from shotlog.wording.parts import doubt_text, result_text, why_stands
from tests.made_shots import START, moulded, shots

LATER = START + timedelta(days=1)
DESIGNS = {"cap": DesignSettings(name="cap", cavities=2)}


def say(
    log: Log,
    shot: int,
    verdict: str,
    onset_low: int | None,
    insert: str = "B-1",
    again: datetime | None = None,
    high: int | None = None,
    facts: Facts | None = None,
) -> None:
    """Store a verdict as a judge would; `again`: under a new judging opened then; `high`: late edge of the onset."""
    with log.transaction() as work:
        time = iso_utc(again or START)
        press_id = work.press_id("P25", time)
        judging = work.connection.execute(select(func.max(schema.judgings.c.id))).scalar()
        if again is not None or judging is None:
            judging = judgements.open_judging(work, press_id, shot, "b", "r", time)
        dated = {"onset": onset_low, "onset_low": onset_low, "onset_high": high}
        spoken = Verdict("P25", shot, insert, shot, False, verdict, "s", facts=facts, **dated)
        judgements.record(work, press_id, judging, [spoken])


def held(log: Log) -> list[int]:
    return [one.part.shot for one in held_parts(log, "P25", {})]


def test_a_shot_nobody_saw_made_parts_as_well_and_a_dry_one_none(log: Log) -> None:
    log.append(shots(1, 3))
    log.append([Gap("P25", 4, 5, moulded(6), "the counter jumped")])
    log.append(shots(6, 7))
    entries.note(log, "P25", "dry", "cycle without melt", LATER, at_shot=6)
    made = made_parts(log, "P25", {})
    assert [one.part.shot for one in made] == [1, 2, 3, 4, 5, 7]
    assert [one.part.shot for one in made if one.time is None] == [4, 5]


def test_a_part_knows_what_made_it_however_late_that_was_entered(log: Log) -> None:
    log.append(shots(1, 4))
    entries.mount(log, "P25", "B-1", LATER, at_shot=1, design="cap")
    entries.note(log, "P25", "lot", "L7", LATER, at_shot=3)
    made = made_parts(log, "P25", DESIGNS, 2, 3)
    assert [(one.part.shot, one.part.cavity, one.lot) for one in made] == [
        (2, 1, ""),
        (2, 2, ""),
        (3, 1, "L7"),
        (3, 2, "L7"),
    ]
    assert {one.halves["moving"].serial for one in made} == {"B-1"}


def test_parts_are_named_as_people_write_them() -> None:
    assert parts_named("P25", "7", 2) == [Part("P25", 7, 1), Part("P25", 7, 2)]
    assert parts_named("P25", "7-8/2", 2) == [Part("P25", 7, 2), Part("P25", 8, 2)]
    for wrong, said in (
        ("x", "given 'x'"),
        ("8-7", "later last"),
        ("7/3", "cavity: given 3, allowed: 1 to 2"),
        ("", "SHOT"),
    ):
        with pytest.raises(UsageError, match=said):
            parts_named("P25", wrong, 2)


def test_parts_are_held_from_the_early_edge_until_the_verdict_ends(log: Log) -> None:
    log.append(shots(1, 9))
    say(log, 4, "watch", 3)
    say(log, 5, "swap", 2)
    say(log, 6, "keep", None)
    assert held(log) == [2, 3, 4, 5]


def test_verdicts_put_out_of_force_hold_nothing_and_are_still_told_of(log: Log) -> None:
    log.append(shots(1, 6))
    say(log, 4, "swap", 2)
    say(log, 4, "keep", None, again=LATER)
    assert held(log) == []
    once = {one.part.shot: why_stands(one) for one in part_standings(log, "P25", {}) if one.lifted}
    assert list(once) == [2, 3, 4]
    assert once[2] == "no longer in doubt by swap at shot 4 with onset 2; judged again: r"


def test_a_later_date_of_a_change_lets_no_part_go_and_is_said(log: Log) -> None:
    log.append(shots(1, 30))
    for shot, low, high in ((20, 5, 19), (21, 9, 19), (22, 14, 18)):
        say(log, shot, "swap", low, high=high)
    assert held(log) == list(range(5, 23))
    (doubt,), once = said_of_parts(log, "P25")
    assert once == []
    assert doubt_text(doubt).endswith("; held from 5 as dated at shot 20, onset 5; dated from 14 on since")


@pytest.mark.parametrize(("outcome", "was"), [("confirmed", "was"), ("refuted", "was not")])
def test_what_a_swap_showed_since_is_said_of_what_stays_held(log: Log, outcome: str, was: str) -> None:
    """Called on A-1 until two shots after B-1 came out at 21; at 40 the shots told, and nothing is let go by that."""
    log.append(shots(1, 40))
    for shot in range(15, 21):
        say(log, shot, "swap", 10, "B-1", high=12)
    for shot in range(21, 24):
        say(log, shot, "watch", 10, "A-1", high=12)
    say(log, 40, "keep", None, "A-1", facts=Facts("quiet", swap=SwapFinding("P25", "B-1", 21, outcome, -3.0, 0.0)))
    assert held(log) == list(range(10, 24))
    told = {doubt.serial: doubt_text(doubt) for doubt in said_of_parts(log, "P25")[0]}
    shown = f"; since then: the swap at shot 21 showed it {was} B-1"
    assert told["B-1"].endswith(shown)
    assert told["A-1"].endswith(shown) is (outcome == "confirmed"), "that it was not B-1 tells nothing of A-1"
    assert told == {doubt.serial: doubt_text(doubt) for doubt in said_of_parts(log, "P25", 12, 12)[0]}


def test_a_change_that_began_with_the_new_insert_is_not_answered_by_its_swap(log: Log) -> None:
    log.append(shots(1, 40))
    for shot in range(21, 24):
        say(log, shot, "watch", 21, "B-2", high=22)
    say(log, 40, "keep", None, "B-2", facts=Facts("quiet", swap=SwapFinding("P25", "B-1", 21, "confirmed", -3.0, 0.0)))
    (doubt,) = said_of_parts(log, "P25")[0]
    assert "since then" not in doubt_text(doubt)


def test_a_second_change_does_not_let_the_parts_of_the_first_go(log: Log) -> None:
    """Erosion is dated 8 to 12; a core breaks at 30: the newest date is of the break, the eroded parts stay held."""
    log.append(shots(1, 40))
    for shot in range(15, 30):
        say(log, shot, "swap", 8, high=12)
    for shot in range(30, 35):
        say(log, shot, "swap", 29, high=30)
    assert held(log) == list(range(8, 35))


def test_what_was_held_once_stays_held_however_its_change_is_dated(log: Log) -> None:
    log.append(shots(1, 60))
    before: set[int] = set()
    for shot, low, high in ((40, 10, 20), (41, 15, 28), (42, 22, 36), (43, 43, 43), (44, 8, 40), (45, 45, 45)):
        say(log, shot, "swap", low, high=high)
        assert before <= set(held(log))
        before = set(held(log))
    assert before == set(range(8, 46))


def test_missed_shots_end_no_run_and_their_parts_are_held_too(log: Log) -> None:
    log.append(shots(1, 6))
    log.append([Gap("P25", 7, 9, moulded(10), "the counter jumped")])
    log.append(shots(10, 12))
    for shot, low in ((5, 4), (6, 4), (10, 10), (11, 10)):
        say(log, shot, "swap", low, high=max(5, low))
    assert held(log) == list(range(4, 12))


@pytest.mark.parametrize("seed", range(4))
def test_what_is_said_of_a_few_parts_is_what_is_said_of_them_among_all(log: Log, seed: int) -> None:
    """Only the calls about them are read; calls hang together over missed shots, early edges and later judgings."""
    random, last = Random(seed), 40
    missed = sorted(random.sample(range(5, last), 10))
    seen = [shot for shot in range(1, last + 1) if shot not in missed]
    log.append(one for n in seen for one in shots(n, n))
    log.append([Gap("P25", shot, shot, moulded(shot), "the counter jumped") for shot in missed])
    for n, since in enumerate((1, random.randrange(8, 30))):
        for place, shot in enumerate(shot for shot in seen if shot >= since):
            verdict = random.choice(("keep", "keep", "keep", "watch", "swap"))
            low = None if verdict == "keep" else random.choice((None, shot, max(1, shot - 2), max(1, shot - 6)))
            again = LATER + timedelta(hours=n) if n and place == 0 else None
            if verdict == "keep" and again is None:
                continue  # says nothing against a part
            say(log, shot, verdict, low, insert=f"B-{(shot + n) // 17}", again=again)
    whole = [told(one) for one in part_standings(log, "P25", {})]
    assert {state for _, state, *_ in whole} == {"made", "held"}
    for first in range(1, last + 1, 3):
        for length in (0, 1, 10):
            few = [told(one) for one in part_standings(log, "P25", {}, first, first + length)]
            assert few == whole[first - 1 : first + length]


@given(st.data())
@hypothesis.settings(max_examples=15, suppress_health_check=[hypothesis.HealthCheck.function_scoped_fixture])
def test_what_people_found_and_decided_is_cut_to_a_window_too(log: Log, data: st.DataObject) -> None:
    """Bad parts before a window, whose insert reaches into it or stayed again, and decisions that begin before it."""
    made, press = st.integers(1, 30), f"P{len(log.presses())}"
    log.append([Shot(press, n, n, moulded(n), {"cushion": 3.0}) for n in range(1, 31)])
    for n, shot in enumerate(sorted(data.draw(st.sets(made, min_size=1, max_size=4)))):
        entries.mount(log, press, f"{press}-{n % 2}", START + timedelta(hours=n), half="moving", at_shot=shot)
    for shot in data.draw(st.lists(made, max_size=3)):
        inspect(log, Part(press, shot), LATER, finding="flash")
    for first in data.draw(st.lists(made, max_size=2)):
        parts = parts_named(press, f"{first}-{min(first + 6, 30)}", 1)
        enter_decision(
            log, parts, data.draw(st.sampled_from(DECISIONS)), LATER + timedelta(hours=1), reason="seen", initials="QA"
        )
    whole = [told(one) for one in part_standings(log, press, {})]
    first = data.draw(made)
    last = data.draw(st.integers(first, 30))
    assert [told(one) for one in part_standings(log, press, {}, first, last)] == whole[first - 1 : last]


def test_a_run_over_missed_shots_is_known_whole_from_any_part_of_it(log: Log) -> None:
    for shot in (2, 4, 6, 8, 10, 12):
        log.append(shots(shot, shot))
        log.append([Gap("P25", shot + 1, shot + 1, moulded(shot), "the counter jumped")])
    for shot in (4, 6, 8, 10):
        say(log, shot, "watch", None)
    whole = {shot: told(one) for one in part_standings(log, "P25", {}) for shot in [one.part.shot]}
    assert [shot for shot, (_, state, *_) in whole.items() if state == "held"] == list(range(4, 11))
    for shot, said in whole.items():
        assert [told(one) for one in part_standings(log, "P25", {}, shot, shot)] == [said]


def told(standing: PartStanding) -> tuple[object, ...]:
    shot = standing.part.shot
    against = [(doubt.first, doubt.last, doubt_text(doubt), doubt.since[shot]) for doubt in standing.doubts]
    return shot, standing.state, why_stands(standing), against, standing.lifted


def test_only_a_person_releases_and_newer_evidence_holds_again(log: Log) -> None:
    log.append(shots(1, 12))
    say(log, 4, "watch", 2)
    enter_decision(log, parts_named("P25", "1-4", 1), "released", moulded(5), reason="all looked at", initials="AB")
    assert held(log) == []
    say(log, 5, "watch", 3)
    assert held(log) == [5], "the same change seen once more is nothing new about 3 and 4"
    say(log, 6, "keep", None)
    say(log, 8, "swap", 4)
    stands = {one.part.shot: one for one in part_standings(log, "P25", {})}
    assert held(log) == [4, 5, 6, 7, 8]
    assert stands[4].again
    assert stands[3].state == "released"
    assert stands[9].state == "made"


def test_judging_again_does_not_undo_a_release(log: Log) -> None:
    log.append(shots(1, 6))
    say(log, 4, "swap", 2)
    enter_decision(log, parts_named("P25", "2-4", 1), "released", moulded(6), reason="inspected", initials="QA")
    say(log, 4, "swap", 2, again=LATER)
    assert held(log) == []


def test_a_decision_that_is_taken_back_leaves_the_part_as_it_was(log: Log) -> None:
    log.append(shots(1, 6))
    say(log, 4, "swap", 3)
    (made,) = enter_decision(log, parts_named("P25", "3-4", 1), "scrapped", LATER, reason="flash", initials="QA")
    assert held(log) == []
    with pytest.raises(UsageError, match="only by somebody who says who"):
        take_back(log, "dispositions", made.entry_id, LATER, "wrong tray")
    take_back(log, "dispositions", made.entry_id, LATER, "wrong tray", "QA")
    assert held(log) == [3, 4]
    assert decisions(log, "P25") == []
    with pytest.raises(UsageError, match="was taken back before"):
        take_back(log, "dispositions", made.entry_id, LATER, "again")


def test_a_release_needs_a_reason_and_a_part_that_exists(log: Log) -> None:
    log.append(shots(1, 3))
    with pytest.raises(UsageError, match="reason: given nothing"):
        enter_decision(log, [Part("P25", 1)], "released", LATER, initials="QA")
    with pytest.raises(UsageError, match="shot 4 of P25: the press has counted no such shot"):
        enter_decision(log, [Part("P25", 4)], "held", LATER)
    with pytest.raises(UsageError, match="allowed: held, released, scrapped"):
        enter_decision(log, [Part("P25", 1)], "good", LATER, initials="QA")
    assert decisions(log, "P25") == []


def test_one_row_for_an_unbroken_span_of_one_cavity(log: Log) -> None:
    log.append(shots(1, 9))
    made = enter_decision(log, [*parts_named("P25", "1-3", 2), *parts_named("P25", "7", 1)], "held", LATER)
    assert [(one.first, one.last, one.cavity) for one in made] == [(1, 3, 1), (7, 7, 1), (1, 3, 2)]


def test_a_bad_part_found_a_day_later_ends_the_life_at_that_part(log: Log) -> None:
    entries.mount(log, "P25", "B-1", START, at_shot=1, design="cap")
    entries.mount(log, "P25", "B-2", START, at_shot=9)
    log.append(shots(1, 12))
    entries.note(log, "P25", "dry", "x", LATER, at_shot=2)
    assert [(end.serial, end.ended, end.shots) for end in insert_ends(log)] == [
        ("B-1", "removed", 7),
        ("B-2", "mounted", 4),
    ]
    inspect(log, Part("P25", 6), LATER, quantity="wall", value=1.4, tolerance=Bound(1.1, 1.3))
    first = insert_ends(log)[0]
    assert (first.ended, first.shots, first.shots_made, first.at_shot) == ("bad part", 4, 7, 6)
    assert held(log) == [6, 7, 8], "its own part and those after it; the next one's are not"
    entries.note(log, "P25", "unsure", "none known", LATER)
    assert held(log) == [1, 3, 4, 5, 6, 7, 8], (
        "all that the insert made is held with its bad part; the next one's is not"
    )
    inspect(log, Part("P25", 5), LATER, finding="flash")
    assert insert_ends(log)[0].at_shot == 5


def test_an_inspection_taken_back_gives_the_life_back(log: Log) -> None:
    entries.mount(log, "P25", "B-1", START, at_shot=1)
    log.append(shots(1, 5))
    result = inspect(log, Part("P25", 3), LATER, finding="flash")
    take_back(log, "inspections", result.entry_id, LATER, "other part")
    assert insert_ends(log)[0].ended == "mounted"
    assert held(log) == []
    assert inspections(log, "P25") == []


def test_a_person_may_name_the_half_to_blame(log: Log) -> None:
    entries.mount(log, "P25", "F-1", START, half="fixed", at_shot=1)
    entries.mount(log, "P25", "B-1", START, half="moving", at_shot=1)
    log.append(shots(1, 5))
    inspect(log, Part("P25", 3), LATER, finding="crack", half="fixed")
    assert {end.serial: end.ended for end in insert_ends(log)} == {"F-1": "bad part", "B-1": "mounted"}


@pytest.mark.either
def test_a_single_use_piece_to_blame_leaves_the_reused_life_alone(log: Log) -> None:
    entries.mount(log, "P25", "F-1", START, half="fixed", at_shot=1)
    entries.mount(log, "P25", "S-01", START, half="moving", at_shot=1, single_use=True)
    log.append(shots(1, 5))
    inspect(log, Part("P25", 3), LATER, finding="print crack", half="moving")
    assert [(end.serial, end.ended) for end in insert_ends(log)] == [("F-1", "mounted")]
    assert held(log) == [3]


def test_the_insert_judged_is_to_blame_unless_somebody_says_otherwise(log: Log) -> None:
    entries.mount(log, "P25", "F-1", START, half="fixed", at_shot=1)
    entries.mount(log, "P25", "B-1", START, half="moving", at_shot=1)
    log.append(shots(1, 3))
    halves = log.timeline("P25").halves(2)
    assert blamed_half(halves, "", "F-1", {"fixed": 1, "moving": 1}) == "fixed"
    assert blamed_half(halves, "", "", {"fixed": 1, "moving": 1}) == "moving"
    assert blamed_half(halves, "", "", {"fixed": 2, "moving": 1}) == "fixed"
    assert blamed_half(halves, "core", "F-1", {}) == ""


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (
            {"quantity": "part_weight", "value": 5.0, "unit": "mm"},
            "part_weight: given 5 mm, allowed: a unit that converts to g",
        ),
        ({"quantity": "wall", "value": 5.0, "unit": "g"}, "wall: given 5 g, allowed: a unit that converts to mm"),
        ({"quantity": "wall", "value": float("nan")}, "allowed: a finite number"),
        ({"value": 5.0}, "the quantity is missing"),
        ({"quantity": "wall"}, "wall: the value is missing"),
        ({"half": "left"}, "half: given 'left'"),
        ({"finding": "x", "inspected": LATER + timedelta(days=1)}, "inspected: given .* allowed: not after now"),
    ],
)
def test_a_result_that_cannot_be_is_refused_and_leaves_nothing(log: Log, given: dict[str, object], said: str) -> None:
    log.append(shots(1, 3))
    with pytest.raises(UsageError, match=said):
        inspect(log, Part("P25", 2), LATER, **given)  # type: ignore[arg-type]
    assert inspections(log, "P25") == []


def test_values_are_kept_in_one_unit(log: Log) -> None:
    log.append(shots(1, 3))
    assert inspect(log, Part("P25", 1), LATER, quantity="wall", value=0.05, unit="inch").value == pytest.approx(1.27)
    assert inspect(log, Part("P25", 1), LATER, quantity="part_weight", value=10203, unit="mg").value == pytest.approx(
        10.203
    )


def test_nothing_found_is_a_result_and_no_bad_one(log: Log) -> None:
    log.append(shots(1, 3))
    result = inspect(log, Part("P25", 1), LATER)
    assert (result_text(result), result.bad) == ("looked at, nothing found", False)
    at_the_end = inspect(log, Part("P25", 1), LATER, quantity="wall", value=1.3, tolerance=Bound(1.1, 1.3))
    assert not at_the_end.bad


def test_the_chain_covers_what_is_said_of_parts(log: Log) -> None:
    log.append(shots(1, 3))
    before, _ = log.verify()
    inspect(log, Part("P25", 1), LATER, finding="flash")
    enter_decision(log, [Part("P25", 1)], "scrapped", LATER, reason="flash", initials="QA")
    assert log.verify()[0] == before + 2


@pytest.mark.parametrize("seed", range(4))
def test_what_the_newest_call_holds_is_what_the_log_holds_for_it(log: Log, seed: int) -> None:
    """It is read from the last shot that was kept on: inserts change, shots are missed, some are judged again."""
    random = Random(seed)
    for shot in range(1, 40):
        if random.random() < 0.1:
            continue
        log.append(shots(shot, shot))
        insert, verdict = f"B-{shot // 15}", random.choice(("keep", "watch", "watch", "watch", "swap"))
        low = None if verdict == "keep" else max(1, shot - random.randint(0, 9))
        say(log, shot, verdict, low, insert, LATER if random.random() < 0.1 else None, low and low + 3)
        found = [one.first for one in said_of_parts(log, "P25")[0] if one.first <= shot <= one.last]
        assert (verdict == "keep") == (found == [])
        assert held_for_call(log, "P25", shot) == min(found, default=None)
