"""Which register is which channel: settled by figures off the screen, never guessed where two fit."""

import threading
from collections.abc import Sequence

import pytest

from shotlog.clock import HandClock
from shotlog.learning.figures_said import figures_said, odd_said
from shotlog.learning.history import WordHistory
from shotlog.learning.proposal import RegisterFound, RegisterProposal, propose
from shotlog.learning.reading import RegisterReader, ranges_in
from shotlog.learning.screen import ScreenShot, seen_in
from tests.learning.played import LEVELS, PlayedPress, Word, made_shots

DECIMALS = {"peak_pressure": 0, "cycle_time": 1, "melt_temperature": 0, "fill_time": 3}
COUNTER = Word(9, "counter")


def watched(rows: Sequence[Word], seed: int = 3) -> tuple[PlayedPress, WordHistory]:
    """Watch a press for 9 shots."""
    clock = HandClock()
    press = PlayedPress(clock, [COUNTER, *rows], made_shots(12, seed))
    reader = RegisterReader(press, clock, ranges_in("0-79"), threading.Event(), 4.0)
    history = WordHistory()
    reader.find()
    while press.index(clock.monotonic()) < 9:
        reader.round(history)
    for _ in range(44):
        reader.round(history)
    return press, history


def learnt(
    rows: Sequence[Word], at: Sequence[int] = (), channels: Sequence[str] = (), seed: int = 3
) -> RegisterProposal:
    """Watch a press; its screen is read at the shots `at` after the first."""
    press, history = watched(rows, seed)
    return propose(history, [screen(press, press.first_count + n, channels) for n in at], 0.25)


def screen(press: PlayedPress, count: int, channels: Sequence[str]) -> ScreenShot:
    shot = press.on_screen(count)
    shown = (f"{name}={shot[name]:.{DECIMALS.get(name, 2)}f}" for name in channels)
    return seen_in(f"shot={count}," + ",".join(shown))


def found(proposal: RegisterProposal, channel: str) -> RegisterFound:
    return next(one for one in proposal.channels if one.channel == channel)


MAP = [
    Word(20, "cushion", "int16", 0.01),
    Word(21, "peak_pressure", "uint16", 0.1),
    Word(22, "fill_time", "float32"),
    Word(24, "cycle_time", "uint32", 0.001, word_order="little"),
    Word(26, "melt_temperature", "int16", 0.1),
    Word(40, lambda now, shot: 512),
    Word(41, lambda now, shot: 8150),
    Word(42, lambda now, shot: 300 + 7 * (now % 11)),
]


def test_two_shots_off_the_screen_settle_the_map() -> None:
    names = ("cushion", "peak_pressure", "fill_time", "cycle_time", "melt_temperature")
    proposal = learnt(MAP, (2, 5), names)
    for channel, row in zip(names, MAP, strict=False):
        one = found(proposal, channel)
        assert one.guess.cell.span.address == row.address
        assert one.guess.scale == pytest.approx(row.scale)
        assert one.sure == "settled"
    assert proposal.unmatched == ()


@pytest.mark.parametrize("kind", ["float32", "uint32", "bcd16", "float64"])
@pytest.mark.parametrize("word_order", ["big", "little"])
def test_every_type_and_order_is_found(kind: str, word_order: str) -> None:
    scale = 1.0 if kind.startswith("float") else 0.001 if kind == "uint32" else 0.1
    rows = [Word(20, "cushion", "int16", 0.01), Word(30, "peak_pressure", kind, scale, word_order=word_order)]
    one = found(learnt(rows, (2, 5), ("cushion", "peak_pressure")), "peak_pressure")
    assert (one.guess.cell.kind.name, one.guess.cell.span.address, one.guess.scale) == (kind, 30, pytest.approx(scale))
    assert one.guess.cell.kind.words == 1 or one.guess.cell.word_order == word_order


@pytest.mark.parametrize(
    ("channel", "unit", "factor", "scale"),
    [
        ("peak_pressure", "psi", 14.503774, 1.0),
        ("cushion", "inch", 1 / 25.4, 0.001),
        ("melt_temperature", "degF", 0, 0.1),
    ],
)
def test_a_press_that_sends_another_unit_than_its_screen_shows(
    channel: str, unit: str, factor: float, scale: float
) -> None:
    shots = made_shots(12, 3)
    sent = [shot[channel] * factor if factor else shot[channel] * 1.8 + 32 for shot in shots]
    rows = [Word(20, "fill_time", "uint16", 0.001), Word(33, lambda now, shot: sent[shot], "uint16", scale)]
    one = found(learnt(rows, (1, 3, 5, 7), ("fill_time", channel)), channel)
    assert (one.guess.cell.span.address, one.guess.unit, one.guess.scale) == (33, unit, pytest.approx(scale))


def test_a_set_point_beside_its_actual_value_is_not_taken_for_it() -> None:
    shots = made_shots(12, 3)
    shown = round(shots[4]["cushion"], 2)
    rows = [Word(20, lambda now, shot: shown, "int16", 0.01), Word(50, "cushion", "int16", 0.01)]
    one = found(learnt([*rows, *MAP[1:3]], (4,), ("cushion", "peak_pressure")), "cushion")
    assert one.guess.cell.span.address == 50


def test_one_value_in_two_places_is_said_to_be_in_both() -> None:
    one = found(learnt([*MAP, Word(60, "cushion", "int16", 0.01)], (2, 5), ("cushion",)), "cushion")
    assert {one.guess.cell.span.address, *(same.cell.span.address for same in one.same)} == {20, 60}


def test_without_the_screen_two_that_look_alike_are_both_said() -> None:
    rows = [
        *MAP[1:4],
        Word(26, "cushion", "int16", 0.01),
        Word(27, lambda now, shot: 4.8 + 0.03 * (shot % 3), "int16", 0.01),
    ]
    one = found(learnt(rows), "cushion")
    assert one.sure == "possible"
    assert {26, 27} <= {one.guess.cell.span.address, *(rival.cell.span.address for rival in one.rivals)}


def test_without_the_screen_the_cycle_is_told_by_the_clock() -> None:
    one = found(learnt(MAP), "cycle_time")
    assert (one.guess.cell.span.address, one.guess.scale, one.timed) == (24, 0.001, True)


def test_values_written_at_their_count_are_not_held_to_be_of_two_shots() -> None:
    """Read in one block a change showed before the count, in another after it, and the second was left out."""
    rows = [*MAP[:2], Word(70, "fill_time", "float32")]
    clock = HandClock()
    press = PlayedPress(clock, [Word(29, "counter"), *rows], made_shots(12, 3), illegal=frozenset(range(40, 60)))
    reader = RegisterReader(press, clock, ranges_in("0-79"), threading.Event(), 4.0)
    history = WordHistory()
    reader.find()
    while press.index(clock.monotonic()) < 10:
        reader.round(history)
    names = ("cushion", "peak_pressure", "fill_time")
    seen = [screen(press, press.first_count + n, names) for n in (2, 5)]
    proposal = propose(history, seen, 0.5)
    assert {found(proposal, name).guess.cell.span.address for name in names} == {20, 21, 70}


def cycle_of(row: Word, spread_s: float) -> RegisterFound:
    """Watch a press that shoots every 4 s or so, without a look at its screen."""
    shots = made_shots(16, 3, {**LEVELS, "cycle_time": (4.0, spread_s)})
    clock = HandClock()
    press = PlayedPress(clock, [COUNTER, *MAP[:2], row], shots)
    reader = RegisterReader(press, clock, ranges_in("0-79"), threading.Event(), 10.0)
    history = WordHistory()
    reader.find()
    while press.index(clock.monotonic()) < 12:
        reader.round(history)
    return found(propose(history, [], 0.1), "cycle_time")


def test_a_cycle_of_any_length_is_told_by_the_clock() -> None:
    """Four seconds are no usual cycle, and were never held against the clock for that."""
    one = cycle_of(Word(5, "cycle_time", "uint16", 0.01), 0.25)
    assert (one.guess.cell.span.address, one.guess.scale, one.sure) == (5, 0.01, "likely")


def test_what_is_only_about_as_long_as_a_cycle_is_not_taken_for_it() -> None:
    """A clamp force of 400, read as 4.00 s where a shot came every 4 s, was written as the cycle."""
    shots = made_shots(16, 3, {**LEVELS, "cycle_time": (4.0, 0.03)})
    with pytest.raises(StopIteration):
        cycle_of(Word(5, lambda now, shot: shots[shot]["clamp_force"] + 196), 0.03)


def test_a_figure_that_no_register_shows_is_said_and_not_bent() -> None:
    proposal = learnt(MAP[1:], (2, 5), ("cushion", "peak_pressure"))
    assert proposal.unmatched == ("cushion",)
    assert all(one.channel != "cushion" for one in proposal.channels)


def test_one_figure_of_several_that_is_misread_is_named() -> None:
    """All of a channel was lost to a slip in one of its figures, and it was not said in which."""
    press, history = watched(MAP)
    seen = [screen(press, press.first_count + n, ("cushion", "peak_pressure")) for n in (2, 5, 7)]
    slip = seen_in("shot=1043,peak_pressure=455").figures["peak_pressure"]
    seen[1] = ScreenShot(1043, {**seen[1].figures, "peak_pressure": slip})
    proposal = propose(history, seen, 0.25)
    one = found(proposal, "peak_pressure")
    assert (one.guess.cell.span.address, one.sure) == (21, "possible")
    said = odd_said("peak_pressure", "register 21", one.guess, proposal.doubt.odd["peak_pressure"], 1043)
    shown = press.on_screen(1043)["peak_pressure"]
    assert f"but for shot 1043, where it showed {shown:.1f} bar and 455 was read" in said
    assert found(proposal, "cushion").sure == "settled"


@pytest.mark.parametrize(("ahead", "said"), [(1, "fit the shot before the one"), (-1, "fit the shot after the one")])
def test_a_screen_that_is_a_shot_ahead_or_behind_is_said_and_nothing_is_written_on_it(ahead: int, said: str) -> None:
    press, history = watched(MAP)
    names = ("cushion", "peak_pressure", "fill_time")
    seen = [screen(press, press.first_count + n, names) for n in (3, 6)]
    proposal = propose(history, [ScreenShot((one.shot or 0) + ahead, one.figures) for one in seen], 0.25)
    (note,) = figures_said(proposal.unmatched, proposal.doubt, "register")
    assert said in note
    assert {one.sure for one in proposal.channels if one.channel in names} <= {"possible"}


def test_a_shot_that_was_never_counted_settles_nothing() -> None:
    proposal = propose(WordHistory(), [ScreenShot(7)], 0.1)
    assert (proposal.counter, proposal.unseen) == (None, (7,))


@pytest.mark.parametrize(("late_s", "settle"), [(0.0, False), (1.2, True), (-1.5, False)])
def test_values_that_come_after_the_count_are_waited_for(late_s: float, settle: bool) -> None:
    names = ("cushion", "peak_pressure", "fill_time")
    rows = [Word(row.address, row.what, row.kind, row.scale, late_s) for row in MAP[:3]]
    proposal = learnt(rows, (2, 5), names)
    assert [found(proposal, name).guess.cell.span.address for name in names] == [20, 21, 22]
    assert found(proposal, "cushion").guess.series.timing.early == (late_s < 0)
    assert (proposal.settle_s >= 1.2) == settle
    assert settle or proposal.settle_s == 0.0


@pytest.mark.parametrize("late_s", [-13.0, -9.0, 8.0, 13.0])
def test_values_written_far_from_their_count_are_laid_to_the_right_shot(late_s: float) -> None:
    """A press that writes the fill while it fills and counts at the end looked as if all were the next shot's."""
    names = ("cushion", "peak_pressure", "fill_time")
    rows = [Word(row.address, row.what, row.kind, row.scale, late_s) for row in MAP[:3]]
    proposal = learnt(rows, (2, 4, 6), names)
    assert {found(proposal, name).sure for name in names} == {"settled"}
    timing = found(proposal, "cushion").guess.series.timing
    assert timing.early == (late_s < 0)
    assert proposal.settle_s == (0.0 if late_s < 0 else 10.0 if late_s > 9 else pytest.approx(10.0, abs=0.6))


def test_a_value_below_zero_is_taken_with_its_sign() -> None:
    levels = {**LEVELS, "cushion": (0.0, 0.4)}
    shots = made_shots(12, 3, levels)
    rows = [Word(20, lambda now, shot: shots[shot]["cushion"], "int16", 0.01), *MAP[1:3]]
    clock = HandClock()
    press = PlayedPress(clock, [COUNTER, *rows], shots)
    reader = RegisterReader(press, clock, ranges_in("0-79"), threading.Event(), 4.0)
    history = WordHistory()
    reader.find()
    while press.index(clock.monotonic()) < 10:
        reader.round(history)
    names = ("cushion", "peak_pressure")
    one = found(propose(history, [screen(press, 1040, names), screen(press, 1043, names)], 0.1), "cushion")
    assert (one.guess.cell.span.address, one.guess.cell.kind.name) == (20, "int16")
    assert min(one.guess.measured) < 0
