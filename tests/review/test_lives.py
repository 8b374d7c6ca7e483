"""Lives: how each ended, since when, and what a swap or a part found bad later makes of it."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import pytest

from shotlog.parts.ends import InsertEnd
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.records import Event, InForce, Mounting, Removal, Verdict
from shotlog.review.costs import PartCounts, bill_of, hindsight_of, rest_of_life
from shotlog.review.episodes import Episode, episodes
from shotlog.review.history import History
from shotlog.review.lives import Life, lives_of
from shotlog.review.source import PressRecord
from shotlog.review.swaps import Swap
from shotlog.store.asked.state import EntryRow
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.leaving import how_it_ended
from shotlog.wording.parts import life_text
from tests.review.made_up_press import at, mounting, record, removal, verdict

COSTS = {"part": 2.0, "insert": 18.0, "changeover": 12.0, "late_find": 8.0}


def history(
    mountings: Sequence[Mounting],
    removals: Sequence[Removal] = (),
    verdicts: Sequence[Verdict] = (),
    swaps: Sequence[Swap] = (),
    n_shots: int = 100,
) -> History:
    press = record(n_shots, lambda shot: 5.0, mountings, removals, verdicts)
    return History(press, tuple(swaps))


def calls(first: int, last: int, insert: str, onset: int, group: str = "insert", said: str = "swap") -> list[Verdict]:
    interval = {"onset": onset, "onset_low": onset - 2, "onset_high": onset + 3}
    return [verdict(shot, insert, said, group=group, **interval) for shot in range(first, last + 1)]


def a_swap(at_shot: int, out: str, outcome: str, called: Episode | None, half: str = "moving") -> Swap:
    return Swap("P1", at_shot, half, out, "", "", called, None, outcome, "", ())


def ends(press: PressRecord, bad: dict[str, int] | None = None) -> list[InsertEnd]:
    """Return ends as the log would, one for each serial, a bad part at the shot given."""
    found = []
    for serial in dict.fromkeys(stay.mounting.insert.serial for stay in press.timeline.stays):
        stays = tuple(stay for stay in press.timeline.stays if stay.mounting.insert.serial == serial)
        made = sum(press.timeline.n_taken(stay, int(min(stay.end, press.last_shot + 1))) for stay in stays)
        shot = (bad or {}).get(serial)
        part = None if shot is None else inspection(shot)
        last = stays[-1]
        found.append(
            InsertEnd(
                serial, last.mounting.insert.design, "", last.mounting.half, "P1", stays[0].first, made, made,
                "removed", None, part, stays,
            )
        )  # fmt: skip
    return found


def inspection(shot: int) -> Inspection:
    later = at(shot) + timedelta(days=1)
    return Inspection(1, Part("P1", shot), "look", None, None, None, "", "window missing", "", "", "", later, later)


def lives(given: History, bad: dict[str, int] | None = None) -> dict[str, Life]:
    return {life.serial: life for life in lives_of([given], ends(given.record, bad))}


def test_a_planned_swap_without_a_call_is_censored() -> None:
    life = lives(history([mounting("B-1", 1)], [removal("B-1", 51, "planned life")]))["B-1"]
    assert (life.failed, life.n_shots, life.sound, life.since_shot) == (False, 50, 50, None)


def test_a_call_to_swap_dates_the_life_at_its_onset() -> None:
    life = lives(history([mounting("B-1", 1)], [removal("B-1", 51, "planned life")], calls(40, 50, "B-1", 36)))["B-1"]
    assert (life.failed, life.n_shots, life.since_shot) == (True, 50, 36)
    assert (life.sound_low, life.sound, life.sound_high) == (33, 35, 38)
    assert life.dated_by == "onset of the change called"


def test_a_part_found_bad_later_dates_the_life_anew() -> None:
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "planned life")])
    assert not lives(given)["B-1"].failed
    life = lives(given, {"B-1": 44})["B-1"]
    assert (life.failed, life.sound, life.since_shot, life.dated_by) == (True, 43, 44, "first part found bad")


def test_a_bad_part_outweighs_the_onset() -> None:
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "flash")], calls(40, 50, "B-1", 36))
    assert lives(given, {"B-1": 30})["B-1"].sound == 29


@pytest.mark.parametrize(
    ("group", "said", "failed"), [("press", "swap", False), ("insert", "watch", False), ("insert", "swap", True)]
)
def test_only_a_call_to_swap_laid_to_the_insert_counts_against_it(group: str, said: str, failed: bool) -> None:
    verdicts = calls(40, 50, "B-1", 36, group, said)
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "end of shift")], verdicts)
    assert lives(given)["B-1"].failed is failed


@pytest.mark.parametrize(("group", "last", "failed"), [("press", 50, False), ("insert", 50, True), ("press", 44, True)])
def test_a_fault_of_the_press_ends_no_life(group: str, last: int, failed: bool) -> None:
    """The check ring leaked, the insert was swapped for it on a fault seen on the parts, and no level told which."""
    said = [*calls(30, last, "B-1", 30, group), *(verdict(n, "B-1") for n in range(last + 1, 51))]
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "cushion scatters")], said)
    life = lives(given)["B-1"]
    assert life.failed is failed
    assert failed or (life.ground, life.shots, life.sound) == ("laid elsewhere", "press or material", 50)


def test_a_fault_laid_to_the_press_that_went_with_the_insert_was_the_inserts() -> None:
    said = calls(30, 50, "B-1", 30, "press")
    swaps = [a_swap(51, "B-1", "came back", episodes(said)[0])]
    assert lives(history([mounting("B-1", 1)], [removal("B-1", 51, "cushion scatters")], said, swaps))["B-1"].failed


def test_a_call_withdrawn_does_not_count() -> None:
    said = [*calls(40, 45, "B-1", 36), *(verdict(n, "B-1") for n in range(46, 51))]
    assert not lives(history([mounting("B-1", 1)], [removal("B-1", 51, "planned")], said))["B-1"].failed


@pytest.mark.parametrize(("gone", "failed"), [(None, False), (46, True)])
def test_a_call_on_the_half_not_changed_last_was_withdrawn_only_while_it_was_in(gone: int | None, failed: bool) -> None:
    """While nothing is called the verdict is on B-1, changed last: it ends the call on A-1 without being on A-1."""
    mounted = [mounting("A-1", 1, "fixed"), mounting("B-1", 11)]
    said = [*calls(40, 45, "A-1", 36), *(verdict(n, "B-1") for n in range(46, 51))]
    given = history(mounted, [removal("A-1", gone, "planned")] if gone else [removal("A-1", 60, "planned")], said)
    assert given.record.episodes[0].withdrawn is not failed
    assert lives(given)["A-1"].failed is failed


def test_a_refuted_swap_hands_the_change_on_to_what_stayed() -> None:
    """B-1 was swapped in error: the level stayed, and came back when A-1 went out. The change was A-1's since 36."""
    mounted = [mounting("A-1", 1, "fixed"), mounting("B-1", 1), mounting("B-2", 51), mounting("A-2", 71, "fixed")]
    removed = [removal("B-1", 51, "flash"), removal("A-1", 71, "flash")]
    said = [*calls(40, 50, "B-1", 36), *calls(55, 70, "B-2", 53, "press", "watch")]
    first, second = episodes(said)
    swaps = [a_swap(51, "B-1", "stayed", first), a_swap(71, "A-1", "came back", second, "fixed")]
    found = lives(history(mounted, removed, said, swaps))
    assert not found["B-1"].failed
    assert (found["A-1"].failed, found["A-1"].sound, found["A-1"].n_shots) == (True, 35, 70)
    assert not found["B-2"].failed
    assert found["A-2"].ground == "mounted"


def test_stays_add_up_and_the_onset_counts_from_the_first() -> None:
    mounted = [mounting("B-1", 1), mounting("B-2", 21), mounting("B-1", 31)]
    removed = [removal("B-1", 21, "cleaning"), removal("B-2", 31, "swapped back"), removal("B-1", 71, "worn")]
    life = lives(history(mounted, removed, calls(60, 70, "B-1", 56)))["B-1"]
    assert life.stays == (("P1", 1, 20), ("P1", 31, 70))
    assert (life.n_shots, life.sound) == (60, 20 + 25)


def test_words_alone_date_the_life_at_the_removal() -> None:
    life = lives(history([mounting("B-1", 1)], [removal("B-1", 51, "core blade broken")]))["B-1"]
    assert (life.failed, life.sound, life.since_shot) == (True, 50, 51)
    assert "removal" in life.dated_by


def test_the_call_is_told_of_the_same_lives_as_the_ledger() -> None:
    """What the call keeps of an insert on the day, and what the ledger works out of the same verdicts and words."""
    for reason in ("planned life", "still good", "core blade broken", "", "flash"):
        for said in ([], calls(40, 50, "B-1", 36), calls(40, 50, "B-1", 36, "press", "watch")):
            given = history([mounting("B-1", 1)], [removal("B-1", 51, reason)] if reason else [], said)
            if not reason:
                given = history([mounting("B-1", 1), mounting("B-2", 51)], [], said)
            half = HalfState(InForce("B-1", "d"), 1, "d|0")
            for one in said:
                half.take_verdict(one.shot, one.verdict, one.group, one.onset)
            kept, ledger = how_it_ended(half, 50, reason, []), lives(given)["B-1"]
            assert (kept.failed, kept.n_shots) == (ledger.failed, ledger.sound), (reason, len(said))


def test_people_and_shots_that_differ_are_both_told() -> None:
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "precaution")], calls(40, 50, "B-1", 36))
    life = lives(given)["B-1"]
    assert (life.failed, life.sound, life.differ, life.called_since) == (True, 35, True, 36)
    assert life_text(life) == "a change was called on it (people: precaution; shots: gone off since 36)"
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "still good")], calls(40, 50, "B-1", 36))
    life = lives(given)["B-1"]
    assert (life.failed, life.sound, life.since_shot) == (False, 50, None)
    assert life_text(life).endswith("(people: found sound; shots: gone off since 36)")


def test_a_finding_noted_dates_the_life_unless_it_was_found_sound_since() -> None:
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "planned")])
    seen = EntryRow(1, Event("P1", 44, "finding", "flash", at(44)), False)
    taken_back = EntryRow(2, Event("P1", 12, "finding", "flash", at(12)), True)
    sound = EntryRow(3, Event("P1", 47, "sound", "R. K., parting line", at(47)), False)

    def with_entries(*rows: EntryRow) -> Life:
        return lives(replace(given, record=replace(given.record, entries=rows)))["B-1"]

    life = with_entries(taken_back, seen)
    assert (life.failed, life.ground, life.sound, life.dated_by) == (True, "finding", 43, "first finding noted")
    assert not with_entries(seen, sound).failed


def test_hindsight_counts_parts_made_after_the_insert_had_gone_off() -> None:
    given = history([mounting("B-1", 1)], [removal("B-1", 51, "worn")], calls(40, 50, "B-1", 36))
    seen = hindsight_of(lives(given)["B-1"], COSTS, None)
    assert seen is not None
    assert (seen.late, seen.late_low, seen.late_high, seen.late_cost) == (15, 12, 17, 150.0)


def test_hindsight_of_a_sound_insert_is_what_it_would_have_made_yet() -> None:
    """Shape 1 does not age: the rest is the same whenever it is pulled, 1 / (exp(1 / 40) - 1) whole shots."""
    life = lives(history([mounting("B-1", 1)], [removal("B-1", 51, "planned")]))["B-1"]
    seen = hindsight_of(life, COSTS, (1.0, 40.0))
    assert seen is not None
    assert seen.early == pytest.approx(39.5, abs=0.01)
    assert seen.early_cost == pytest.approx(30.0 * 39.5 / 89.5, abs=0.01)
    unknown = hindsight_of(life, COSTS, None)
    assert unknown is not None
    assert unknown.early is None
    assert rest_of_life(0, 2.5, 60.0) > rest_of_life(60, 2.5, 60.0) > rest_of_life(200, 2.5, 60.0)


def test_a_mounted_sound_insert_has_no_hindsight_yet() -> None:
    assert hindsight_of(lives(history([mounting("B-1", 1)]))["B-1"], COSTS, (2.0, 60.0)) is None


def test_a_bill_adds_up_and_spans_what_held_parts_may_turn_out_to_be() -> None:
    bill = bill_of(PartCounts(open=70, held=20, released=5, scrapped=5), COSTS, 36.0, 24.0)
    assert (bill.part, bill.late_find, bill.late_find_if_held_bad) == (200.0, 40.0, 160.0)
    assert bill.total == 300.0
    assert bill.per_accepted == pytest.approx(300.0 / 95)
    assert bill.per_accepted_if_held_bad == pytest.approx(460.0 / 75)


def test_a_bill_without_an_accepted_part_has_no_price_of_one() -> None:
    bill = bill_of(PartCounts(held=10), COSTS, 18.0, 12.0)
    assert (bill.per_accepted, bill.per_accepted_if_held_bad) == (5.0, None)
    assert bill_of(PartCounts(scrapped=10), COSTS, 18.0, 12.0).per_accepted is None


@pytest.mark.parametrize(
    ("half", "outcome", "failed"),
    [("", "stayed", False), ("moving", "stayed", True), ("", "came back", True), ("fixed", "came back", False)],
)
def test_a_finding_of_no_named_half_is_not_the_insert_s_that_a_swap_cleared(
    half: str, outcome: str, failed: bool
) -> None:
    """Flash was noted while B-1 was judged, B-1 swapped, and the flash went on: B-1 was "gone off" all the same."""
    mounted = [mounting("A-1", 1, "fixed"), mounting("B-1", 1), mounting("B-2", 51)]
    said = [verdict(n, "B-1") for n in range(1, 51)]
    given = history(mounted, (), said, [a_swap(51, "B-1", outcome, None)])
    seen = EntryRow(1, Event("P1", 44, "finding", "flash", at(44), half), False)
    found = lives(replace(given, record=replace(given.record, entries=(seen,))))["B-1"]
    assert (found.failed, found.ground == "finding") == (failed, failed)
