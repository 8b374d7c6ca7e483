"""Which register counts the shots, among everything else that counts on a press."""

import threading
from collections.abc import Callable

import pytest

from shotlog.clock import HandClock
from shotlog.learning.counting import Counting, counters, refused_counters
from shotlog.learning.history import WordHistory
from shotlog.learning.proposal import chosen_counter
from shotlog.learning.reading import RegisterReader, ranges_in
from shotlog.learning.screen import ScreenShot
from tests.learning.played import PlayedPress, Word, made_shots

VALUES = [Word(30, "cushion", "int16", 0.01), Word(31, "peak_pressure"), Word(32, "fill_time", "uint16", 0.001)]


def watched(rows: list[Word], n: int = 9, first_count: int = 1038) -> WordHistory:
    """Read a press for `n` shots."""
    clock = HandClock()
    press = PlayedPress(clock, [*rows, *VALUES], made_shots(n + 2, 4), first_count)
    reader = RegisterReader(press, clock, ranges_in("0-49"), threading.Event(), 4.0)
    history = WordHistory()
    reader.find()
    while press.index(clock.monotonic()) < n:
        reader.round(history)
    for _ in range(44):
        reader.round(history)
    return history


def best(history: WordHistory, *shots: int) -> Counting:
    found = chosen_counter(counters(history), [ScreenShot(shot) for shot in shots])
    assert found is not None
    return found.counting


DECOYS: dict[str, tuple[Callable[[float, int], float], str]] = {
    "uptime in seconds": (lambda now, shot: 500 + int(now), "a clock"),
    "seconds of a clock": (lambda now, shot: int(now) % 60, ""),
    "parts of four cavities": (lambda now, shot: 4 * (700 + shot), "4 cavities"),
    "energy": (lambda now, shot: int(9000 + 21.7 * shot), "a sum"),
    "what is left of an order": (lambda now, shot: 400 - shot, "counts down"),
    "alarms": (lambda now, shot: 3 + shot // 2, ""),
    "movements of the mould": (lambda now, shot: 2 * shot + (now % 20 > 10), ""),
    "step of the cycle": (lambda now, shot: int(now / 2) % 5, ""),
}


@pytest.mark.parametrize("decoy", sorted(DECOYS))
def test_what_counts_something_else_is_no_shot_counter(decoy: str) -> None:
    does, why = DECOYS[decoy]
    history = watched([Word(3, does), Word(9, "counter")])
    assert {one.cell.span.address for one in counters(history)} == {9}
    told = {one.cell.span.address: one.why for one in refused_counters(history, counters(history))}
    assert why in told.get(3, "")


@pytest.mark.parametrize("kind", ["uint16", "uint32", "bcd16", "bcd32"])
@pytest.mark.parametrize("word_order", ["big", "little"])
@pytest.mark.parametrize("byte_order", ["big", "little"])
def test_a_counter_is_found_as_it_is_written(kind: str, word_order: str, byte_order: str) -> None:
    first = 123_456 if kind.endswith("32") else 4567
    row = Word(9, "counter", kind, word_order=word_order, byte_order=byte_order)
    found = best(watched([row], first_count=first), first + 3)
    assert found.cell.kind.name == kind
    assert found.cell.span.address == 9
    assert found.shown[0] == first
    assert found.cell.byte_order == byte_order
    if found.cell.kind.words > 1:
        assert found.cell.word_order == word_order


def test_a_carry_proves_a_counter_of_two_words() -> None:
    found = best(watched([Word(9, "counter", "uint32")], first_count=65_531))
    assert found.cell.kind.name == "uint32"
    assert found.shown[-1] == 65_540


def test_a_counter_that_rolls_over_at_its_digits_says_where() -> None:
    found = best(watched([Word(9, lambda now, shot: (9996 + shot) % 10_000)]))
    assert found.last_count == 9999


def test_a_counter_that_was_set_to_zero_is_one_still() -> None:
    found = best(watched([Word(9, lambda now, shot: 5000 + shot if shot < 4 else shot - 3)]))
    assert (found.last_count, found.resets) == (None, 1)


def test_two_counts_of_the_same_shots_are_both_said_and_the_screen_decides() -> None:
    history = watched([Word(9, "counter"), Word(12, lambda now, shot: 77 + shot)])
    undecided = chosen_counter(counters(history), [])
    assert undecided is not None
    assert undecided.sure == "possible"
    assert {undecided.counting.cell.span.address, *(one.cell.span.address for one in undecided.rivals)} == {9, 12}
    for shot, address in ((1041, 9), (80, 12)):
        decided = chosen_counter(counters(history), [ScreenShot(shot)])
        assert decided is not None
        assert (decided.sure, decided.counting.cell.span.address) == ("settled", address)


def test_nothing_is_said_of_a_press_that_stands() -> None:
    assert counters(watched([Word(9, lambda now, shot: 12)], n=1)) == []


def history_of(step: int, lost: bool) -> WordHistory:
    """Return a count that was seen to go up by `step` nine times; a request before each went unanswered if `lost`."""
    history = WordHistory()
    for n in range(10):
        for at in range(10):
            history.note(3, [700 + step * n, *((815 + (7 * n + k) % 5) for k in range(3))], 20.0 * n + 2 * at)
        if lost:
            history.failed(20.0 * n + 19.0)
    return history


def test_a_count_that_jumps_while_the_press_did_not_answer_says_nothing_of_cavities() -> None:
    assert "parts of 2 cavities" in refused_counters(history_of(2, lost=False), [])[0].why
    assert refused_counters(history_of(2, lost=True), []) == []


def test_shots_that_went_by_while_the_press_did_not_answer_are_missed_and_spoil_no_counter() -> None:
    history = history_of(1, lost=False)
    history.failed(199.0)
    history.note(3, [716, 821, 822, 823], 200.0)
    assert best(history).missed == 1
