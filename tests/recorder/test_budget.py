"""The first faults in full, then how many more: never shots, never silence."""

from datetime import timedelta

from shotlog.clock import HandClock
from shotlog.recorder.budget import FaultBudget, LinkBudget
from shotlog.records import Fault, Gap, Link, SetPointChange, Shot, Weighing

Records = list[Shot | Gap | Fault | Link | Weighing | SetPointChange]


def fault(clock: HandClock, kind: str = "damaged", shot: int | None = None) -> Fault:
    return Fault("P25", clock.now(), kind, "holds a byte that is no text", b"\xff", shot)


def faults(records: Records) -> list[tuple[str, int]]:
    return [(record.detail, record.more) for record in records if isinstance(record, Fault)]


def test_a_chattering_line_is_told_five_times_and_then_counted() -> None:
    """It wrote 3,300 rows a second, as long as it chattered."""
    clock = HandClock()
    budget = FaultBudget(clock)
    found: Records = []
    for _ in range(2 * 3600):
        found += budget.take([fault(clock) for _ in range(4)])
        clock.advance(1.0)
    found += budget.close()
    told = faults(found)
    assert sum(1 + more for _, more in told) == 2 * 3600 * 4
    assert len(told) < 25
    assert [more for _, more in told[:5]] == [0] * 5
    assert told[5] == ("and 243 more in 60 s; the last: holds a byte that is no text", 242)
    assert "in 10 min" in told[-2][0]


def test_shots_gaps_and_faults_of_the_numbering_are_never_held_back() -> None:
    clock = HandClock()
    budget = FaultBudget(clock)
    came: Records = []
    for n in range(1, 200):
        came += [Gap("P25", 2 * n, 2 * n, clock.now(), "x"), Shot("P25", 2 * n + 1, 0, clock.now())]
        came.append(fault(clock, "counter reset", 2 * n + 1))
    assert budget.take(came) == came
    assert budget.close() == []


def test_kinds_do_not_share_a_budget_and_one_that_was_quiet_begins_anew() -> None:
    clock = HandClock()
    budget = FaultBudget(clock)
    assert len(budget.take([fault(clock) for _ in range(9)])) == 5
    assert len(budget.take([fault(clock, "torn")])) == 1
    clock.advance(3600.0)
    again = budget.take([fault(clock)])
    assert faults(again) == [
        ("and 4 more in 60 min; the last: holds a byte that is no text", 3),
        ("holds a byte that is no text", 0),
    ]


def test_what_a_channel_came_as_is_told_once_with_its_shots() -> None:
    clock = HandClock()
    budget = FaultBudget(clock)
    found = [one for shot in range(31, 45) for one in budget.take([fault(clock, "cushion as text", shot)])]
    assert [(one.detail, one.shot) for one in found if isinstance(one, Fault)] == [("holds a byte that is no text", 31)]
    assert faults(budget.close()) == [
        ("and 13 more in 0 s, shots 32 to 44; the last: holds a byte that is no text", 12)
    ]


def test_a_set_point_that_is_not_read_is_told_once_as_a_channel_is() -> None:
    clock = HandClock()
    kinds = ["set-point hold_pressure not taken", "set-point changes"]
    told = [len(FaultBudget(clock).take([fault(clock, kind, n) for n in range(1, 9)])) for kind in kinds]
    assert told == [1, 5]


def test_a_connection_that_comes_and_goes_is_told_ten_times_and_then_counted() -> None:
    """Each of ten thousand reconnects made two rows."""
    clock = HandClock()
    budget = LinkBudget("P25", clock)
    found: Records = []
    for _ in range(10_000):
        for state in ("connected", "lost"):
            found += budget.say(state, "reset by peer" if state == "lost" else "the press answers")
            clock.advance(0.5)
    told = [one for one in found if isinstance(one, Link)]
    assert 10 < len(told) < 40
    assert "it came and went: 1,200 changes in 10 min" in told[-1].detail
    for _ in range(10):
        found = budget.say("lost", "no connection")
        if found:
            break
        clock.advance(30.0)
    assert [(one.state, one.detail[:13]) for one in found if isinstance(one, Link)] == [("lost", "no connection")]


def test_a_connection_that_stands_is_told_once() -> None:
    clock = HandClock()
    budget = LinkBudget("P25", clock)
    found = [one for _ in range(100) for one in budget.say("connected", "the press answers")]
    assert [type(one) for one in found] == [Link]
    clock.advance(timedelta(days=2).total_seconds())
    assert budget.say("connected", "the press answers") == []
    assert len(budget.say("stopped", "logging ended")) == 1
