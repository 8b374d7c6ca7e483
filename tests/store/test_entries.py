"""Mounted, removed, noted, corrected: which insert made which shot, also when it is entered late."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from shotlog.errors import UsageError
from shotlog.records import Shot
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.parts.parts import made_parts
from shotlog.store.undo import take_back
from tests.made_shots import shots

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def make(log: Log, last: int, press: str = "P25") -> None:
    """Add the shots up to `last`."""
    first = (log.last_shot(press) or (0, 0))[0] + 1
    log.append(shots(first, last, press))


def made_with(log: Log, half: str = "moving", press: str = "P25") -> str:
    """Say which insert made which shots of one half, e.g. ``M-1:1-5 M-2:6-9``; nothing where the half was empty."""
    runs: list[list[Any]] = []
    for shot in log.logged(press):
        serial = shot.halves[half].serial if half in shot.halves else "-"
        if not runs or runs[-1][0] != serial:
            runs.append([serial, shot.shot, shot.shot])
        runs[-1][2] = shot.shot
    return " ".join(f"{serial}:{first}-{last}" for serial, first, last in runs)


def mount(log: Log, serial: str, at_shot: int | None = None, **more: Any) -> Any:
    return entries.mount(log, more.pop("press", "P25"), serial, NOW, at_shot=at_shot, **more).record


def remove(log: Log, serial: str, at_shot: int | None = None, reason: str = "flash", press: str = "P25") -> Any:
    return entries.remove(log, press, serial, NOW, reason=reason, at_shot=at_shot).record


def test_an_insert_counts_from_the_next_shot_until_it_is_replaced(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    assert mount(log, "M-2").at_shot == 6
    make(log, 9)
    assert made_with(log) == "M-1:1-5 M-2:6-9"


def test_an_insert_taken_out_leaves_the_half_empty(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    assert remove(log, "M-1").at_shot == 6
    make(log, 8)
    mount(log, "M-1")
    make(log, 9)
    assert made_with(log) == "M-1:1-5 -:6-8 M-1:9-9"


def test_halves_are_independent_and_an_insert_goes_back_to_its_half(log: Log) -> None:
    mount(log, "F-1", half="fixed")
    mount(log, "M-1")
    make(log, 3)
    remove(log, "F-1")
    make(log, 4)
    assert mount(log, "F-1").half == "fixed"
    make(log, 6)
    assert made_with(log, "fixed") == "F-1:1-3 -:4-4 F-1:5-6"
    assert made_with(log) == "M-1:1-6"


def test_a_mounting_entered_late_reattributes_the_shots_since(log: Log) -> None:
    mount(log, "M-1")
    make(log, 20)
    mount(log, "M-2", 8)
    make(log, 22)
    assert made_with(log) == "M-1:1-7 M-2:8-22"


def test_a_mounting_between_two_others_ends_at_the_later_one(log: Log) -> None:
    mount(log, "M-1")
    make(log, 10)
    mount(log, "M-3", 8)
    mount(log, "M-2", 4)
    assert made_with(log) == "M-1:1-3 M-2:4-7 M-3:8-10"


def test_a_removal_entered_late(log: Log) -> None:
    mount(log, "M-1")
    make(log, 10)
    remove(log, "M-1", 6)
    assert made_with(log) == "M-1:1-5 -:6-10"
    remove(log, "M-1", 4)
    assert made_with(log) == "M-1:1-3 -:4-10"


@pytest.mark.parametrize(("at_shot", "expected"), [(1, "M-1:1-10"), (3, "-:1-2 M-1:3-10"), (9, "-:1-8 M-1:9-10")])
def test_a_mounting_is_redated(log: Log, at_shot: int, expected: str) -> None:
    make(log, 4)
    mount(log, "M-1")
    make(log, 10)
    mount(log, "M-1", at_shot)
    assert made_with(log) == expected


def test_redating_an_earlier_stay_leaves_the_later_one(log: Log) -> None:
    """It took both stays back and left one: shots made with the insert were attributed to nothing."""
    make(log, 2)
    mount(log, "M-1", 3)
    make(log, 10)
    remove(log, "M-1", 6)
    mount(log, "M-1", 9)
    assert made_with(log) == "-:1-2 M-1:3-5 -:6-8 M-1:9-10"
    mount(log, "M-1", 8)
    assert made_with(log) == "-:1-2 M-1:3-5 -:6-7 M-1:8-10"
    with pytest.raises(UsageError, match="M-1 is already mounted: P25 moving, shot 8 to now"):
        mount(log, "M-1", 2)
    assert made_with(log) == "-:1-2 M-1:3-5 -:6-7 M-1:8-10"


def test_an_insert_entered_for_the_same_shot_corrects_the_other(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    mount(log, "M-2", 1)
    assert made_with(log) == "M-2:1-5"
    assert mount(log, "M-1").at_shot == 6


@pytest.mark.parametrize("at_shot", [None, 1])
def test_an_insert_cannot_be_mounted_twice(log: Log, at_shot: int | None) -> None:
    mount(log, "M-1")
    make(log, 5)
    with pytest.raises(UsageError, match="insert M-1 is already mounted: P25 moving, shot 1 to now; remove it there"):
        mount(log, "M-1", at_shot)
    with pytest.raises(UsageError, match="already mounted: P25 moving"):
        mount(log, "M-1", at_shot, half="fixed")
    with pytest.raises(UsageError, match="already mounted: P25 moving"):
        mount(log, "M-1", at_shot, press="P50")
    remove(log, "M-1")
    mount(log, "M-1", press="P50")
    with pytest.raises(UsageError, match="already mounted: P50 moving, shot 1 to now"):
        mount(log, "M-1")
    assert made_with(log) == "M-1:1-5"


def test_a_mounting_in_the_wrong_half_is_undone_by_removing_it_at_its_own_shot(log: Log) -> None:
    mount(log, "M-1", half="fixed")
    make(log, 5)
    remove(log, "M-1", 1, reason="entered for the wrong half")
    mount(log, "M-1", 1, half="moving")
    assert made_with(log) == "M-1:1-5"
    assert made_with(log, "fixed") == "-:1-5"


@pytest.mark.parametrize(
    ("serial", "at_shot", "said"),
    [
        ("M-9", None, "insert M-9 was not mounted in P25 at shot 11 \\(mounted: never\\)"),
        ("M-1", None, "M-1 was not mounted in P25 at shot 11 \\(mounted: P25 moving, shot 3 to shot 7\\)"),
        ("M-1", 2, "M-1 was not mounted in P25 at shot 2"),
        ("M-2", 7, "M-2 was not mounted in P25 at shot 7 \\(mounted: P25 moving, shot 8 to now\\)"),
    ],
)
def test_what_was_not_mounted_cannot_be_removed(log: Log, serial: str, at_shot: int | None, said: str) -> None:
    make(log, 2)
    mount(log, "M-1")
    make(log, 7)
    mount(log, "M-2")
    make(log, 10)
    with pytest.raises(UsageError, match=said):
        remove(log, serial, at_shot)


def test_a_removal_can_give_the_reason_of_a_replacement(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    mount(log, "M-2")
    remove(log, "M-1", 6, reason="vent cracked")
    assert [(stay.mounting.insert.serial, stay.reason) for stay in log.timeline("P25").stays] == [
        ("M-1", "vent cracked"),
        ("M-2", ""),
    ]


def test_a_single_use_half_takes_the_next_piece_each_shot(log: Log) -> None:
    mount(log, "S-098", single_use=True)
    make(log, 3)
    log.append([Shot("P25", 5, 5, NOW, {})])
    assert made_with(log) == "S-098:1-1 S-099:2-2 S-100:3-3 S-102:5-5"
    assert all(shot.halves["moving"].single_use for shot in log.logged("P25"))


def test_a_series_of_pieces_is_not_begun_twice(log: Log) -> None:
    """The second entry began the series again: two shots with one piece that leaves the press with its part."""
    mount(log, "S-001", single_use=True)
    make(log, 5)
    with pytest.raises(UsageError, match="S-001 is already mounted"):
        mount(log, "S-001", single_use=True)
    mount(log, "S-001", 3, single_use=True)
    assert made_with(log) == "-:1-2 S-001:3-3 S-002:4-4 S-003:5-5"
    remove(log, "S-001", 5)
    assert made_with(log) == "-:1-2 S-001:3-3 S-002:4-4 -:5-5"


def test_a_series_needs_a_number_at_its_end(log: Log) -> None:
    with pytest.raises(UsageError, match="allowed: one that ends in a number"):
        mount(log, "pawl", single_use=True)


@pytest.mark.parametrize(
    ("first", "second", "said"),
    [
        ({"design": "cap-r2"}, {"design": "cap-r3"}, "given design 'cap-r3', on record as 'cap-r2'"),
        ({}, {"design": "cap-r3"}, "given design 'cap-r3', on record as 'no design'"),
        ({"print_batch": "B1"}, {"print_batch": "B2"}, "given print batch 'B2', on record as 'B1'"),
    ],
)
def test_an_insert_keeps_its_design_and_print_batch(
    log: Log, first: dict[str, str], second: dict[str, str], said: str
) -> None:
    """A print batch given again differently was dropped without a word."""
    mount(log, "M-1", **first)
    make(log, 3)
    remove(log, "M-1")
    with pytest.raises(UsageError, match=said):
        mount(log, "M-1", **second)
    mount(log, "M-1")
    make(log, 4)
    last = list(log.logged("P25"))[-1].halves["moving"]
    assert (last.design, last.print_batch) == (first.get("design", ""), first.get("print_batch", ""))


@pytest.mark.parametrize("at_shot", [-1, 2**63])
def test_an_entry_for_an_impossible_shot_changes_nothing(log: Log, at_shot: int) -> None:
    mount(log, "M-1")
    make(log, 3)
    before = state.change_mark(log)
    for attempt in (
        lambda: mount(log, "M-2", at_shot),
        lambda: remove(log, "M-1", at_shot),
        lambda: entries.note(log, "P25", "lot", "L2", NOW, at_shot=at_shot) if at_shot > 0 else mount(log, "M-2", -2),
    ):
        with pytest.raises(UsageError):
            attempt()
    assert state.change_mark(log) == before


def test_an_event_counts_from_its_shot_and_a_finding_at_the_shot_just_seen(log: Log) -> None:
    make(log, 3)
    assert entries.note(log, "P25", "lot", "L2", NOW).record.at_shot == 4
    assert entries.note(log, "P25", "finding", "flash at the gate", NOW).record.at_shot == 3
    assert entries.note(log, "P50", "note", "nothing made yet", NOW).record.at_shot == 0
    make(log, 4)
    assert [shot.events for shot in log.logged("P25")] == [
        (),
        (),
        (("finding", "flash at the gate"),),
        (("lot", "L2"),),
    ]


def test_an_event_in_a_gap_belongs_to_the_next_shot_seen(log: Log) -> None:
    make(log, 2)
    entries.note(log, "P25", "lot", "L2", NOW, at_shot=4)
    log.append([Shot("P25", 6, 6, NOW, {})])
    whole = [shot.events for shot in log.logged("P25")]
    assert whole == [(), (), (("lot", "L2"),)]
    assert [shot.events for shot in log.logged("P25", after=2)] == whole[2:]


def test_an_event_of_the_wrong_kind_or_without_words(log: Log) -> None:
    with pytest.raises(UsageError, match="kind of event: given 'lunch'"):
        entries.note(log, "P25", "lunch", "soup", NOW)
    with pytest.raises(UsageError, match="text of lot: given nothing"):
        entries.note(log, "P25", "lot", "  ", NOW)
    with pytest.raises(UsageError, match="reason: given nothing"):
        remove(log, "M-1", reason=" ")


@pytest.mark.either
def test_what_was_entered_comes_back_with_the_number_that_takes_it_back(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    mounted = entries.mount(log, "P25", "M-2", NOW, half="moving", design="cap", print_batch="B7", single_use=True)
    removed = entries.remove(log, "P25", "M-2", NOW, reason="flash", at_shot=9)
    noted = entries.note(log, "P25", "lot", "L2", NOW)
    for table, entered in (("removals", removed), ("events", noted), ("mountings", mounted)):
        assert take_back(log, table, entered.entry_id, NOW, "wrong press") == entered.record
    assert log.timeline("P25").halves(9)["moving"].serial == "M-1"
    assert log.timeline("P25").events_between(0, 9) == ()


def test_an_entry_taken_back_stays_on_record_and_is_out_of_force(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    mount(log, "M-2", 3)
    entries.note(log, "P25", "lot", "L2", NOW, at_shot=2)
    take_back(log, "mountings", 2, NOW, "was never in")
    take_back(log, "events", 1, NOW, "wrong press")
    assert made_with(log) == "M-1:1-5"
    assert all(not shot.events for shot in log.logged("P25"))
    assert [row.taken_back for row in state.entries(log, "P25")] == [True]
    with pytest.raises(UsageError, match="entry 2 of mountings: was taken back before"):
        take_back(log, "mountings", 2, NOW, "again")
    with pytest.raises(UsageError, match="entry 9 of mountings: there is none"):
        take_back(log, "mountings", 9, NOW, "again")
    with pytest.raises(UsageError, match="entry: given 'shots', allowed: mountings, removals, events"):
        take_back(log, "shots", 1, NOW, "again")
    with log.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM mountings").scalar() == 2


def test_a_removal_taken_back_puts_the_insert_in_again(log: Log) -> None:
    mount(log, "M-1")
    make(log, 5)
    remove(log, "M-1", 3)
    take_back(log, "removals", 1, NOW, "it was the other press")
    assert made_with(log) == "M-1:1-5"


def test_an_entry_reaching_back_opens_a_new_judging_in_the_same_transaction(log: Log) -> None:
    """Without verdicts nothing has to be judged again; a judging is opened by an entry only where there are some."""
    make(log, 5)
    mount(log, "M-1", 2)
    with log.reading() as connection:
        assert connection.execute(schema.judgings.select()).all() == []


def test_the_same_mounting_is_found_by_the_pandas_frame(log: Log) -> None:
    mount(log, "M-1", design="cap-r2", print_batch="B7")
    make(log, 5)
    mount(log, "M-2")
    make(log, 6)
    frame = log.inserts()
    assert frame[
        ["serial", "design", "print_batch", "first", "last", "shots", "mounted", "reason"]
    ].values.tolist() == [
        ["M-1", "cap-r2", "B7", 1, 5, 5, False, "replaced by M-2"],
        ["M-2", "", "", 6, 6, 1, True, ""],
    ]


def test_a_clock_set_back_between_two_entries_turns_nothing_round(log: Log) -> None:
    """An insert put in again at the shot it came out at vanished when the second entry carried the earlier time."""
    mount(log, "M-1")
    make(log, 5)
    entries.remove(log, "P25", "M-1", NOW + timedelta(hours=1), reason="cleaned")
    entries.mount(log, "P25", "M-1", NOW)
    make(log, 8)
    assert made_with(log) == "M-1:1-8"
    entries.mount(log, "P25", "M-2", NOW + timedelta(hours=2))
    entries.remove(log, "P25", "M-2", NOW, reason="cracked")
    make(log, 9)
    assert made_with(log) == "M-1:1-8 -:9-9"


def test_a_shot_from_before_is_kept_and_makes_no_part_until_somebody_says_it_did(log: Log) -> None:
    mount(log, "A-07", half="fixed")
    mount(log, "S-01", single_use=True)
    before, *after = shots(118, 120)
    log.append([replace(before, no_part="stood there at first contact"), *after])
    assert made_with(log) == "-:118-118 S-01:119-119 S-02:120-120"
    assert made_with(log, "fixed") == "-:118-118 A-07:119-120"
    assert [one.part.shot for one in made_parts(log, "P25", {})] == [119, 120]
    (entry,) = state.entries(log, "P25")
    assert (entry.event.kind, entry.event.at_shot, entry.event.text) == ("dry", 118, "stood there at first contact")
    log.append([replace(before, no_part="stood there at first contact")])
    assert len(state.entries(log, "P25")) == 1
    take_back(log, "events", entry.entry_id, NOW, "it was ours")
    assert made_with(log) == "S-01:118-118 S-02:119-119 S-03:120-120"
    assert [one.part.shot for one in made_parts(log, "P25", {})] == [118, 119, 120]
