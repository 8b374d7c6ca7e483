"""Each state that people are told of: how it begins, lasts, ends, and keeps its name."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from shotlog.notify.held_spells import HeldPart, hold_spells
from shotlog.notify.spells import QUIET_SHOTS, Known, Spell, named
from shotlog.notify.states import JudgedShot, LinkRow, call_spells, limit_spells, lost_spells, withdrawn
from shotlog.parts.doubt import Doubt, Since
from shotlog.parts.part import Part
from shotlog.parts.standing import Decision, held_by_hand


def at(minutes: float) -> datetime:
    return datetime(2026, 1, 5, 6, 0, tzinfo=UTC) + timedelta(minutes=minutes)


LETTERS = {"k": "keep", "w": "watch", "s": "swap", "-": "keep"}


def judged(said: str, first: int = 1) -> list[JudgedShot]:
    """Shots by a sign each, of keep, watch or swap, or settling; a bar stands for another insert in the mould."""
    found, mould, shot = [], 0, first
    for letter in said:
        if letter == "|":
            mould = shot
            continue
        found.append(JudgedShot(shot, at(shot), LETTERS[letter], mould=mould, settling=letter == "-"))
        shot += 1
    return found


def told(spells: list[Spell]) -> list[tuple[str, int, int, int | None]]:
    """What, first and last shot, and the minute it was over."""
    return [
        (one.about, one.first, one.last, None if one.ended is None else int((one.ended - at(0)).total_seconds() // 60))
        for one in spells
    ]


CALLS = {
    "kkkk": [],
    "kww": [("watch", 2, 3, None)],
    "kwkwkkwkkkkw": [("watch", 2, 12, None)],  # wavers, and is one
    "wkkkkk": [("watch", 1, 1, 2)],
    "wkkkkkw": [("watch", 1, 1, 2), ("watch", 7, 7, None)],
    "w--------": [("watch", 1, 1, None)],  # a set-up, a lot or a wait: shown, and not judged
    "s--kk--kk": [("swap", 1, 1, None)],
    "s--kk--kkk": [("swap", 1, 1, 4)],  # over by the shots that were judged
    "s--|--": [("swap", 1, 1, 4)],  # another insert answers it, settled or not
    "wws": [("watch", 1, 2, 3), ("swap", 3, 3, None)],
    "swwwwwwww": [("swap", 1, 9, None)],  # better, and not over
    "s|kk": [("swap", 1, 1, 2)],  # answered by a swap: over with the next shot
    "s|ss": [("swap", 1, 1, 2), ("swap", 2, 3, None)],  # outlived it: said anew
    "wkk|kw": [("watch", 1, 1, 4), ("watch", 5, 5, None)],
}


@pytest.mark.parametrize("said", CALLS)
def test_calls_are_spells(said: str) -> None:
    assert told(call_spells("P25", judged(said))) == CALLS[said]


@pytest.mark.parametrize("said", CALLS)
def test_each_spell_is_told_once_while_shots_come(said: str) -> None:
    """Looked at after every shot, with what is known kept in between, as by a messenger that is started anew."""
    shots, known, begun, over = judged(said), {}, [], []
    for n in range(1, len(shots) + 1):
        spells = named(call_spells("P25", shots[:n]), [Known(*one) for one in known.items()], shots[n - 2].shot)
        for one in spells:
            if one.name not in known:
                begun.append((one.about, one.first))
                known[one.name] = False
            if one.ended is not None and not known[one.name]:
                over.append((one.about, one.first))
                known[one.name] = True
    assert begun == [one[:2] for one in CALLS[said]]
    assert over == [one[:2] for one in CALLS[said] if one[3] is not None]


def test_a_swap_that_ends_a_call_is_said_to() -> None:
    assert [one.swapped for one in call_spells("P25", judged("s|kk"))] == [True]
    assert [one.swapped for one in call_spells("P25", judged("skkkkk"))] == [False]
    assert [one.became for one in call_spells("P25", judged("ws"))] == ["swap", ""]


def test_a_call_judged_anew_keeps_its_name() -> None:
    """An entry in the past makes it begin a few shots earlier, or later; or nothing is called any more."""
    known = [Known("watch P25 7", is_over=False)]
    for said in ("kkkkwwwww", "kkkkkkkkkw"):
        assert [one.name for one in named(call_spells("P25", judged(said)), known, 10)] == ["watch P25 7"]
    assert named(call_spells("P25", judged("kkkkkkkkkk")), known, 10) == []


def test_a_call_that_was_over_and_goes_on_is_a_new_one() -> None:
    known = [Known("watch P25 2", is_over=True)]
    assert [one.name for one in named(call_spells("P25", judged("kwwwwwww")), known, 6)] == ["watch P25 2'"]
    known.append(Known("watch P25 2'", is_over=False))
    assert [one.name for one in named(call_spells("P25", judged("kwwwwwwww")), known, 7)] == ["watch P25 2'"]


def test_what_began_and_was_over_while_nobody_looked_is_found_once() -> None:
    spells = call_spells("P25", judged("kkkwwkkkkkk"))
    assert [one.name for one in named(spells, [], 2)] == ["watch P25 4"]
    assert named(spells, [Known("watch P25 4", is_over=True)], 2) == []
    assert named(spells, [], 11) == []  # it was over before anybody was to be told


def test_a_call_that_was_over_stays_so_where_an_archive_took_the_shots_without_it() -> None:
    shots = judged("kwwkkkkkkkkkk")
    thinned = [one for one in shots if one.shot in (1, 2, 3, 4, 13)]
    known = [Known("watch P25 2", is_over=True)]
    assert named(call_spells("P25", shots), known, 13) == named(call_spells("P25", thinned), known, 13) == []
    (again,) = named(call_spells("P25", [*thinned, *judged("w", first=14)]), known, 13)
    assert again.name == "watch P25 2'", "seen beyond what was looked at before"
    anew = named(call_spells("P25", judged("kwwwwwwwwwwkk")), known, 13)
    assert [one.name for one in anew] == ["watch P25 2'"], "judged anew, and called by now"


def test_a_limit_is_not_over_by_shots_that_settle() -> None:
    shots = [JudgedShot(n, at(n), "watch", ("cushion",)) for n in (1, 2)]
    shots += [JudgedShot(n, at(n), "keep", settling=n < 30) for n in range(3, 40)]
    assert [one.ended for one in limit_spells("P25", shots[:36])] == [None]
    assert [one.ended for one in limit_spells("P25", shots)] == [at(30)]


def test_a_call_before_shots_that_settle_is_told_by_who_looks_first_then() -> None:
    for said in ("kww--------", "kww-----kkkk"):
        assert [one.name for one in named(call_spells("P25", judged(said)), [], len(said))] == ["watch P25 2"]
    assert named(call_spells("P25", judged("kww-----kkkkk")), [], 13) == []


@pytest.mark.parametrize(
    ("said", "over"), [("kkkk", True), ("kk", True), ("k------", False), ("k---kkkk", False), ("k---kkkkk", True)]
)
def test_a_call_that_settles_by_now_is_not_withdrawn(said: str, over: bool) -> None:
    """A set-up that somebody enters in the past: its shots are judged anew, and what was called settles."""
    assert withdrawn(Known("swap P25 2", is_over=False), judged(said)) is over


def test_calls_of_another_press_are_another_spell() -> None:
    known = [Known("watch P15 2", is_over=False)]
    assert [one.name for one in named(call_spells("P25", judged("kww")), known)] == ["watch P25 2"]


def test_each_channel_beyond_a_limit_is_a_spell() -> None:
    limits = ["", "cushion", "cushion;fill_time", "fill_time", *[""] * 10]
    shots = [JudgedShot(n, at(n), "watch", tuple(filter(None, said.split(";")))) for n, said in enumerate(limits, 1)]
    found = limit_spells("P25", shots)
    assert [(one.of, one.first, one.last, one.ended is not None) for one in found] == [
        ("cushion", 2, 3, True), ("fill_time", 3, 4, True)
    ]  # fmt: skip
    assert [one.name for one in named(found, [], 1)] == ["limit P25 cushion 2", "limit P25 fill_time 3"]


def links(*changes: tuple[float, str]) -> list[LinkRow]:
    return [LinkRow(n, at(seconds / 60), state, "cable") for n, (seconds, state) in enumerate(changes, 1)]


LINKS = {
    "away": ([(0, "connected"), (60, "lost")], [(2, None)]),
    "back": ([(0, "lost"), (60, "connected")], [(1, 60)]),
    "back for a moment": ([(0, "lost"), (590, "connected")], [(1, None)]),
    "comes and goes": ([(0, "lost"), (9, "connected"), (12, "lost"), (30, "connected")], [(1, 30)]),
    "twice": ([(0, "lost"), (9, "connected"), (200, "lost")], [(1, 9), (3, None)]),
    "the logger ends and starts": ([(0, "lost"), (5, "stopped"), (90, "lost"), (95, "connected")], [(1, 95)]),
    "stops well": ([(0, "connected"), (50, "stopped")], []),
    "the clock is set back": ([(0, "lost"), (3600, "connected")], [(1, 3600)]),
}


@pytest.mark.parametrize("case", LINKS)
def test_a_lost_connection_is_a_spell(case: str) -> None:
    changes, expected = LINKS[case]
    found = lost_spells("P25", links(*changes), at(10))
    seconds = [None if one.ended is None else (one.ended - at(0)).total_seconds() for one in found]
    assert [(one.first, end) for one, end in zip(found, seconds, strict=True)] == expected


def doubt(first: int, last: int) -> Doubt:
    since = {shot: Since(shot, at(shot)) for shot in range(first, last + 1)}
    return Doubt("P25", "verdict", "B-12", first, last, since)


def parts(first: int, last: int, decided: int = 0) -> list[HeldPart]:
    """Parts that are held, the first `decided` of them released since."""
    return [
        HeldPart(shot, shot >= first + decided, at(500) if shot < first + decided else None)
        for shot in range(first, last + 1)
    ]


def test_parts_held_are_a_spell_that_grows_and_is_over_when_all_are_decided_on() -> None:
    grown: list[Known] = []
    for last in (152, 153, 160):
        (spell,) = named(hold_spells("P25", [doubt(150, last)], parts(150, last), [93]), grown, last - 1)
        assert (spell.name, spell.held[-1], spell.ended) == ("hold P25 150", last, None)
        grown = [Known(spell.name, is_over=False)]
    (half,) = hold_spells("P25", [doubt(150, 160)], parts(150, 160, decided=6), [93])
    assert (half.ended, half.held) == (None, (156, 157, 158, 159, 160))
    (done,) = named(hold_spells("P25", [doubt(150, 160)], parts(150, 160, decided=11), [93]), grown, 160)
    assert (done.name, done.ended) == ("hold P25 150", at(500))


def test_a_shot_far_out_is_not_held_before_it_was_made() -> None:
    """What speaks against it bears the time when its judging was opened, which may be at the start."""
    far = Doubt("P25", "far out", "B-12", 152, 152, {152: Since(1, at(0))})
    (spell,) = hold_spells("P25", [far], [HeldPart(152, True, made=at(152))], [])
    assert spell.began == at(152)


def test_parts_that_a_call_holds_further_back_are_told_once_each() -> None:
    known = [Known("hold P25 150", is_over=False)]
    spells = hold_spells("P25", [doubt(141, 160)], parts(141, 160), [], known)
    assert [one.name for one in named(spells, known, 159)] == ["hold P25 150", "hold P25 before 150 141"]
    assert spells[1].held == tuple(range(141, 150))
    known.append(Known("hold P25 before 150 141", is_over=False))
    spells = hold_spells("P25", [doubt(139, 161)], parts(139, 161), [], known)
    again = named(spells, known, 160)
    assert [(one.name, one.held[0], one.held[-1]) for one in again] == [
        ("hold P25 150", 139, 161),
        ("hold P25 before 150 141", 141, 149),
        ("hold P25 before 141 139", 139, 140),
    ]


@pytest.mark.parametrize(
    ("doubts", "moulds", "n"),
    [
        ([(10, 14), (16, 20)], [], 1),  # wavered
        ([(10, 14), (14 + QUIET_SHOTS + 1, 30)], [], 2),
        ([(10, 14), (16, 20)], [15], 2),  # another insert
        ([(10, 14), (15, 20)], [15], 2),
        ([(10, 14), (12, 20)], [15], 1),  # the call after the swap reaches back before it
    ],
)
def test_held_parts_belong_together(doubts: list[tuple[int, int]], moulds: list[int], n: int) -> None:
    assert len(hold_spells("P25", [doubt(*one) for one in doubts], parts(1, 40), moulds)) == n


def decision(number: int, first: int, last: int, what: str = "held", place: int = 0) -> Decision:
    return Decision(number, "P25", first, last, None, what, "short shot seen", "KM", at(500 + number), place or number)


def test_parts_that_a_person_newly_holds_are_a_spell_of_their_own() -> None:
    """Also beside parts that are held already, by hand or by a call: what was seen before says nothing of them."""
    one, two = decision(1, 20, 22), decision(2, 20, 32)
    held = [HeldPart(shot, True, at(502), by=one if shot <= 22 else two) for shot in range(20, 33)]
    spells = named(hold_spells("P25", [], held[:3], []), [], 20)
    known = [Known(spells[0].name, is_over=False)]
    spells = named(hold_spells("P25", [doubt(15, 19)], [*parts(15, 19), *held], [], known), known, 32)
    assert {spell.held: spell.name for spell in spells} == {
        (20, 21, 22): known[0].name,
        tuple(range(23, 33)): "hold P25 by hand 2026-01-05T14:22:00+00:00 23",
        tuple(range(15, 20)): "hold P25 15",
    }
    known = [Known(spell.name, is_over=False) for spell in spells]
    left = named(hold_spells("P25", [], held[8:], [], known), known, 32)  # the first of them are released
    assert [spell.name for spell in left] == ["hold P25 by hand 2026-01-05T14:22:00+00:00 23"]


@pytest.mark.parametrize(
    ("spoken", "decided", "by"),
    [
        (None, [(1, "held")], 1),
        (None, [(1, "held"), (2, "held")], 1),  # once more
        (0, [(1, "held")], None),  # a call held it before
        (5, [(1, "held")], 1),  # and said so later
        (0, [(1, "released"), (2, "held")], 2),
        (2, [(1, "released"), (3, "held")], None),  # newer evidence had held it again
        (2, [(1, "scrapped"), (3, "held")], 3),
        (None, [(1, "held"), (2, "released")], None),
    ],
)
def test_a_person_holds_what_nothing_held(spoken: int | None, decided: list[tuple[int, str]], by: int | None) -> None:
    against = [] if spoken is None else [replace(doubt(7, 7), since={7: Since(spoken, at(0))})]
    found = held_by_hand(Part("P25", 7), against, [decision(n, 7, 7, what) for n, what in decided])
    assert (None if found is None else found.entry_id) == by
