"""Of a long log only what may be held is worked out: the parts that are held, and why, are those of all of it."""

from datetime import timedelta
from random import Random

import pytest
from test_parts import DESIGNS, LATER, say

from shotlog.facts import Facts
from shotlog.parts.against import by_found
from shotlog.parts.part import Part, parts_named
from shotlog.parts.standing import DECISIONS, PartStanding
from shotlog.records import Gap
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log
from shotlog.store.parts import parts, undecided
from shotlog.store.parts.dispositions import decisions, enter_decision, part_standings
from shotlog.store.parts.doubts import said_of_parts
from shotlog.store.parts.found import found_on
from shotlog.store.parts.inspections import inspect
from shotlog.store.parts.parts import made_parts, parts_of_shots
from shotlog.store.parts.undecided import holding_doubts, undecided_doubts
from shotlog.store.undo import take_back
from tests.made_shots import START, moulded, shots

LAST = 40


def held(log: Log, design: str, *, whole: bool) -> list[tuple[object, ...]]:
    """Return what is held and why, from all that is said of parts, or from what is not passed over."""
    designs, timeline = {design: DESIGNS["cap"]} if design else {}, log.timeline("P25")
    said = (
        said_of_parts(log, "P25", timeline=timeline, designs=designs)
        if whole
        else undecided_doubts(log, "P25", LAST, timeline, designs)
    )
    return [_told(one) for one in part_standings(log, "P25", designs, said=said) if one.state == "held"]


def holding(log: Log, design: str) -> list[tuple[object, ...]]:
    """Return what is held, from what may hold a part alone: the shots that are named for it, or held by a person."""
    designs, timeline = {design: DESIGNS["cap"]} if design else {}, log.timeline("P25")
    found = by_found("P25", found_on(log, "P25", timeline, designs))
    doubts, shots = holding_doubts(log, "P25", decisions(log, "P25"), found, designs)
    stands = [one for one in part_standings(log, "P25", designs, said=(doubts, ())) if one.state == "held"]
    by_hand = {one.part for one in stands if one.decision is not None and one.decision.decision == "held"}
    assert {one.part for one in stands} <= by_hand | set(parts_of_shots(log, "P25", designs, shots, timeline))
    return [_told(one)[:3] for one in stands]


def _told(one: PartStanding) -> tuple[object, ...]:
    shot = one.part.shot
    against = sorted((repr(doubt.about), repr(doubt.since[shot])) for doubt in one.doubts)
    return one.part, one.again, one.decision, against


@pytest.mark.parametrize("design", ["", "cap"])
@pytest.mark.parametrize("seed", [0, 1, pytest.param(2, marks=pytest.mark.long)])
def test_what_is_held_is_what_is_held_among_all(
    log: Log, seed: int, design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Calls judged again, findings, bad parts, odd shots, decisions of each kind before and after them, taken back."""
    monkeypatch.setattr(undecided, "_NEWEST", 2)
    monkeypatch.setattr(undecided, "_TOGETHER", 1)
    random = Random(seed)
    missed = sorted(random.sample(range(5, LAST), 6))
    seen = [shot for shot in range(1, LAST + 1) if shot not in missed]
    log.append(one for n in seen for one in shots(n, n))
    log.append([Gap("P25", shot, shot, moulded(shot), "the counter jumped") for shot in missed])
    for n, at in enumerate((1, 15, 27)):
        entries.mount(log, "P25", f"B-{n % 2}", START + timedelta(minutes=n), at_shot=at, design=design)
    for step in range(20):
        shot, time = random.choice(seen), LATER + timedelta(hours=step)
        match random.choice(("call", "call", "again", "odd", "found", "bad", "decide", "decide", "decide", "back")):
            case "call":
                low = random.choice((None, shot, max(1, shot - 6)))
                _once(log, shot, random.choice(("watch", "swap")), low)
            case "again":
                say(log, shot, random.choice(("keep", "watch")), max(1, shot - 3), again=time)
            case "odd":
                _once(log, shot, "keep", None, Facts("quiet", odd_shot=shot, odd_channel="cushion", odd_by=9.0))
            case "found":
                entries.note(log, "P25", "finding", "flash", time, at_shot=shot)
            case "bad":
                inspect(log, Part("P25", shot), time, finding="burn")
            case "decide":
                last = min(shot + random.choice((0, 8, 30)), LAST)
                parts = parts_named("P25", f"{shot}-{last}", random.choice((1, 2)) if design else 1)
                enter_decision(log, parts, random.choice(DECISIONS), time, reason="seen", initials="QA")
            case "back" if said := decisions(log, "P25"):
                take_back(log, "dispositions", random.choice(said).entry_id, time, "wrong tray", "QA")
        whole = held(log, design, whole=True)
        assert held(log, design, whole=False) == whole
        assert holding(log, design) == [one[:3] for one in whole]


def test_parts_of_some_shots_are_those_of_all(log: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    """Missed, dry and uncounted shots among them, and a design of two cavities for some."""
    monkeypatch.setattr(parts, "_AT_ONCE", 3)
    log.append([*shots(1, 6), Gap("P25", 7, 9, moulded(9), "the counter jumped"), *shots(10, 14)])
    entries.mount(log, "P25", "B-1", START, at_shot=4, design="cap")
    entries.note(log, "P25", "dry", "purge", LATER, at_shot=11)
    timeline = log.timeline("P25")
    for designs in ({}, {"cap": DESIGNS["cap"]}):
        every = [one.part for one in made_parts(log, "P25", designs)]
        assert parts_of_shots(log, "P25", designs, range(30), timeline) == every
        some = {2, 5, 8, 11, 14, 99}
        wanted = [part for part in every if part.shot in some]
        assert parts_of_shots(log, "P25", designs, some, timeline) == wanted


@pytest.mark.either
def test_what_was_let_go_is_passed_over_until_newer_evidence_speaks_against_it(
    log: Log, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(undecided, "_NEWEST", 2)
    log.append(shots(1, LAST))
    say(log, 12, "swap", 8)
    say(log, 13, "keep", None)
    say(log, 20, "watch", 18)
    enter_decision(log, parts_named("P25", "8-20", 1), "released", LATER, reason="seen", initials="QA")
    timeline = log.timeline("P25")
    assert undecided_doubts(log, "P25", LAST, timeline, {}) == ([], [])
    assert len(said_of_parts(log, "P25")[0]) == 2
    say(log, 21, "swap", 19)
    ((call,), _) = undecided_doubts(log, "P25", LAST, timeline, {})
    assert (call.first, call.last) == (18, 21)


def _once(log: Log, shot: int, verdict: str, low: int | None, facts: Facts | None = None) -> None:
    """Say a verdict under a judging of its own: a shot has one in each."""
    say(log, shot, verdict, low, again=LATER, facts=facts)
