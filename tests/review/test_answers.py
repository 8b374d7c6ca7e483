"""What became of each call: acted on or not, and what the swap and the parts said."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from shotlog.answers.outcome import acted
from shotlog.parts.inspection import Inspection
from shotlog.records import Verdict
from shotlog.review.answers import ANSWERS, Answer, answers_of
from shotlog.review.history import History
from shotlog.review.swaps import Swap
from tests.review.made_up_press import mounting, record, verdict
from tests.review.test_shared import looked_at
from tests.review.test_suspects import calls


def answer(
    verdicts: Sequence[Verdict], outcome: str | None = None, results: Sequence[Inspection] = ()
) -> tuple[Answer, ...]:
    press = record(100, lambda shot: 5.0, [mounting("B-1", 1), mounting("B-2", 51)], verdicts=verdicts)
    called = press.episodes
    swaps = ()
    if outcome is not None:
        swaps = (Swap("P1", 51, "moving", "B-1", "B-2", "", called[0], 11, outcome, "", ()),)
    found = answers_of(History(press, swaps), results)
    assert all(one.answer in ANSWERS for one in found)
    return found


SOUND, BAD = [looked_at(38), looked_at(45)], [looked_at(38), looked_at(45, "flash")]


@pytest.mark.parametrize(
    ("outcome", "results", "expected"),
    [
        ("came back", (), "confirmed"),
        ("stayed", (), "not this insert"),
        ("nothing had moved", (), "nothing found"),
        ("not resolved", (), "open"),
        ("not resolved", SOUND, "nothing found"),
        ("nothing had moved", BAD, "confirmed"),
        ("not resolved", [looked_at(20, "flash")], "open"),
        (None, (), "open"),
        (None, BAD, "confirmed"),
    ],
)
def test_the_answer_follows_from_what_came_after(
    outcome: str | None, results: Sequence[Inspection], expected: str
) -> None:
    (one,) = answer(calls(40, 50), outcome, results)
    assert one.answer == expected
    assert (one.acted_at, one.lag) == ((None, None) if outcome is None else (51, 11))


def test_a_part_looked_at_twice_counts_once() -> None:
    (one,) = answer(calls(40, 50), None, [looked_at(45), looked_at(45, "flash"), looked_at(46)])
    assert (one.n_looked_at, one.n_bad) == (2, 1)


def test_a_call_withdrawn_is_open_until_a_part_was_looked_at() -> None:
    given = [*calls(40, 44), *(verdict(shot, "B-1") for shot in range(45, 50))]
    (one,) = answer(given)
    assert (one.answer, one.acted_at) == ("open", None)
    (one,) = answer(given, None, [looked_at(42)])
    assert one.answer == "nothing found"


def by_swap(outcome: str, out: str, group: str) -> tuple[str, int | None]:
    """Return the answer to a call on B-1 laid to a group, where `out` came out, and the shot it was acted on at."""
    press = record(100, lambda shot: 5.0, [mounting("B-1", 1), mounting("B-2", 51)], verdicts=calls(40, 50))
    (call,) = press.episodes
    laid = replace(call, group=group)
    press = replace(press, episodes=(laid,))
    swap = Swap("P1", 51, "moving", out, "X-9", "", laid, None, outcome, "", ())
    (one,) = answers_of(History(press, (swap,)), ())
    return one.answer, one.acted_at


@pytest.mark.parametrize(
    ("outcome", "out", "group", "answer", "acted"),
    [
        ("stayed", "B-1", "press", "confirmed", None),
        ("came back", "B-1", "material", "the insert after all", None),
        ("came back", "A-1", "insert", "not this insert", 51),
        ("stayed", "A-1", "insert", "open", None),
        ("stayed", "B-1", "insert", "not this insert", 51),
    ],
)
def test_a_swap_answers_a_call_by_what_it_was_laid_to(
    outcome: str, out: str, group: str, answer: str, acted: int | None
) -> None:
    """The press was blamed and tallied "not this insert", and the swap of one half credited to the other."""
    assert by_swap(outcome, out, group) == (answer, acted)


@pytest.mark.parametrize(("pointed", "answer"), [(("A-1", "B-1"), "confirmed"), (("A-1",), "not this insert")])
def test_a_call_that_outlived_the_swap_is_of_the_insert_the_swap_showed(pointed: tuple[str, ...], answer: str) -> None:
    """B-1 was swapped at 51 for what was called on A-1 since 40, and the call went three shots later.

    The lists of calls said A-1 and "not yet" where the report and the lives said B-1.
    """
    said = [*calls(40, 53, "A-1"), *(verdict(shot, "A-1") for shot in range(54, 60))]
    mounted = [mounting("A-1", 1, "fixed"), mounting("B-1", 1), mounting("B-2", 51)]
    press = record(100, lambda shot: 5.0, mounted, verdicts=said)
    (call,) = press.episodes
    assert call.withdrawn
    press = replace(press, episodes=(replace(call, pointed=pointed),))
    swap = Swap("P1", 51, "moving", "B-1", "B-2", "", None, None, "came back", "", ())
    (one,) = answers_of(History(press, (swap,)), ())
    assert (one.insert, one.acted_at, one.lag, one.answer) == ("B-1", 51, 11, answer)
    (one,) = answers_of(History(press, (replace(swap, outcome="stayed"),)), ())
    assert (one.insert, one.acted_at, one.answer) == ("A-1", None, "open")


@pytest.mark.parametrize(
    ("group", "first", "last", "after", "said"),
    [
        ("material", 51, 55, 0, "nothing to do, it was out since shot 51"),
        ("material", 40, 50, 0, "it came out before shot 51"),
        ("insert", 40, 50, 0, "swapped before shot 51"),
        ("material", 60, 64, 3, "nothing to do, withdrawn"),
        ("material", 60, 64, 0, "not yet"),
    ],
)
def test_only_what_is_still_to_do_was_not_acted_on_yet(
    group: str, first: int, last: int, after: int, said: str
) -> None:
    """Of an insert that was out already, and of a call taken back, it was said "not yet", like a duty."""
    on = "B-1" if first < 60 else "B-2"
    given = [*calls(first, last, on, 36 if first < 60 else 58), *(verdict(last + n, on) for n in range(1, after + 1))]
    press = record(100, lambda shot: 5.0, [mounting("B-1", 1), mounting("B-2", 51)], verdicts=given)
    (call,) = press.episodes
    laid = replace(call, group=group)
    swap = Swap("P1", 51, "moving", "B-1", "B-2", "", laid if first < 51 else None, None, "came back", "", ())
    (one,) = answers_of(History(replace(press, episodes=(laid,)), (swap,)), ())
    assert acted(one) == said
