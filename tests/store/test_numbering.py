"""Which shot a typed number is: the log's own, or what the press's display shows after a rollover or a reset."""

from collections.abc import Iterable
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shotlog.collectors.base import Resume
from shotlog.collectors.counter import ShotCounter
from shotlog.errors import UsageError
from shotlog.records import Shot
from shotlog.store.log.log import Log
from shotlog.store.log.numbering import Numbering, TypedShot, read_numbering, shot_typed
from tests.made_shots import START

NUMBERS = count()


def made(log: Log, numbers: Iterable[tuple[int, int]]) -> str:
    """Put shots of a press of its own into the log: (shot, counter) of each; returns the press."""
    press = f"press-{next(NUMBERS)}"
    log.append([Shot(press, shot, counter, START, {"cushion": 5.0}) for shot, counter in numbers])
    return press


def typed(log: Log, press: str, text: str, made: bool = False) -> TypedShot:
    with log.reading() as connection:
        return shot_typed(connection, press, text, made=made)


def numbering(log: Log, press: str) -> Numbering:
    with log.reading() as connection:
        found = read_numbering(connection, press)
    assert found is not None
    return found


def rolled_over(log: Log) -> str:
    """A 16-bit counter that was at 65530 when logging began, and shows 3 now."""
    return made(log, [(shot, shot % 65536) for shot in range(65530, 65540)])


def test_the_number_on_the_display_is_the_shot_it_stands_for(log: Log) -> None:
    press = rolled_over(log)
    assert typed(log, press, "3") == TypedShot(65539, 3)
    assert typed(log, press, "4") == TypedShot(65540, 4)
    assert typed(log, press, " 65533 ") == TypedShot(65533)
    assert typed(log, press, "65540") == TypedShot(65540)


def test_a_number_that_no_shot_is_near_is_refused_with_the_last_shot(log: Log) -> None:
    press = rolled_over(log)
    for wrong in ("70000", "5", "60000", "65541"):
        with pytest.raises(UsageError, match=r"the last shot of press-\d+ is 65539, where it showed 3, allowed: 64530"):
            typed(log, press, wrong)
    with pytest.raises(UsageError, match=r"allowed: 65530 to 65539$"):
        typed(log, press, "65540", made=True)
    for wrong in ("", "-3", "3.5", "three", "s", "9" * 19):
        with pytest.raises(UsageError, match="allowed: a shot number"):
            typed(log, press, wrong)


def test_what_two_shots_may_be_meant_by_is_refused_with_both(log: Log) -> None:
    press = made(log, [*((shot, shot) for shot in range(1, 201)), *((200 + n, n) for n in range(1, 31))])
    refused = r"given 12, which may be shot 12 of the log or shot 212, at which press-\d+ shows 12; allowed: s12 or 212"
    with pytest.raises(UsageError, match=refused):
        typed(log, press, "12")
    assert typed(log, press, "s12") == TypedShot(12)
    assert typed(log, press, "212") == TypedShot(212)
    assert typed(log, press, "s31") == TypedShot(31)
    assert typed(log, press, "32") == TypedShot(32)


def test_an_insert_may_have_gone_in_before_anybody_logged(log: Log) -> None:
    press = made(log, [(shot, shot) for shot in range(5000, 5010)])
    assert typed(log, press, "4800") == TypedShot(4800)
    with pytest.raises(UsageError, match="allowed: 4000 to 5010, the next shot"):
        typed(log, press, "3999")
    again = made(log, [(118, 118), (119, 1), (120, 2)])
    assert typed(log, again, "2") == TypedShot(120, 2)
    assert typed(log, again, "s2") == TypedShot(2)


def test_no_shot_bears_the_number_nought(log: Log) -> None:
    with pytest.raises(
        UsageError, match=r"at shot: given 0; the last shot of .* is 60, allowed: 1 to 61, the next shot"
    ):
        typed(log, made(log, [(n, n) for n in range(1, 61)]), "0")


def test_a_press_without_a_shot_has_nothing_to_hold_a_number_against(log: Log) -> None:
    assert typed(log, "P25", "70000") == TypedShot(70000)


@st.composite
def watched(draw: st.DrawFn) -> tuple[int, list[tuple[int, int]], list[tuple[int, int]]]:
    """A counter of some width from some reading on: shots seen as (shot, counter), and those missed in rollovers."""
    top = draw(st.sampled_from([9_999, 2**16 - 1, 2**32 - 1]))
    begin = draw(st.one_of(st.integers(1, top), st.integers(top - 20, top)))
    counter = ShotCounter(top, None)
    seen: list[tuple[int, int]] = []
    missed: list[tuple[int, int]] = []
    raw = begin
    for what in draw(st.lists(st.sampled_from(["next", "next", "next", "skip", "reset"]), min_size=1, max_size=40)):
        known = counter.known or Resume(0, 0)
        if what == "reset" and seen:
            counter.take(0, counter.judge(0))
            raw = 1
        elif seen:
            raw = (raw + (4 if what == "skip" else 1)) % (top + 1)
        step = counter.judge(raw)
        if not step.new or step.doubtful:
            break
        if step.kind in ("next", "rollover") and seen:
            missed += [(step.shot - k, (raw - k) % (top + 1)) for k in range(1, step.missed + 1)]
        counter.take(raw, step)
        assert step.shot > known.shot or not seen
        seen.append((step.shot, raw))
    return top, seen, missed


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(watched())
def test_every_shot_is_meant_by_what_the_display_showed(
    log: Log, run: tuple[int, list[tuple[int, int]], list[tuple[int, int]]]
) -> None:
    _, seen, missed = run
    if not seen:
        return
    found = numbering(log, made(log, seen))
    last = seen[-1][0]
    assert (found.first, found.last) == (seen[0][0], last)
    for shot, shown in [*seen, *missed]:
        assert shot in found.meant(shown)
        assert shot in found.meant(shot)
    for shot, shown in seen:
        assert found.display(shot) == shown
    for number in {shown for _, shown in seen} | {0, 1, last + 1, last + 2, seen[0][0] - 1001}:
        assert all(max(0, seen[0][0] - 1000) <= shot <= last + 1 for shot in found.meant(number))
        assert all(seen[0][0] <= shot <= last for shot in found.meant(number, made=True))
