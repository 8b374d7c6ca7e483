"""Where parts are: the newest of place and bath in the order of the log, whatever the clocks said."""

from datetime import UTC, datetime, timedelta

import pytest

from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.settings import DesignSettings
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log
from shotlog.store.parts.baths import make_up
from shotlog.store.parts.places import due_from, places, put_at, where_is
from shotlog.store.parts.soaks import put_in, take_out
from shotlog.store.undo import take_back
from tests.made_shots import START, shots

DESIGNS = {"cap": DesignSettings(name="cap", dissolve_h=30.0, cavities=2)}
PART = Part("P15", 3)


def hour(n: float) -> datetime:
    return START + timedelta(hours=n)


@pytest.fixture
def bench(log: Log) -> Log:
    """A log with ten shots in single-use halves, and a bath."""
    entries.mount(log, "P15", "S-01", START, at_shot=1, design="cap", single_use=True)
    log.append(shots(1, 10, "P15"))
    make_up(log, "B1", hour(0))
    return log


def now_in(log: Log, part: Part = PART) -> str:
    where = where_is(log).of(part)
    return "" if where is None else f"{where.how} {where.name}"


def test_the_newest_of_place_and_bath_wins(bench: Log) -> None:
    assert now_in(bench) == ""
    put_at(bench, [PART], "bag-7", hour(1))
    assert now_in(bench) == "placed bag-7"
    put_in(bench, "B1", [PART], hour(2), DESIGNS)
    assert now_in(bench) == "in bath B1"
    take_out(bench, [PART], hour(33))
    assert now_in(bench) == "out of bath B1", "out of the bath asks nothing"
    put_at(bench, [PART], "box 2", hour(34))
    assert now_in(bench) == "placed box 2"
    assert where_is(bench).soaking == ()


def test_a_clock_that_was_set_back_changes_nothing(bench: Log) -> None:
    put_at(bench, [PART], "bag-7", hour(5))
    put_in(bench, "B1", [PART], hour(3), DESIGNS)
    assert now_in(bench) == "in bath B1"
    put_at(bench, [PART], "shelf", hour(2))
    assert now_in(bench) == "placed shelf"


def test_a_part_put_elsewhere_is_in_the_bath_no_more(bench: Log) -> None:
    put_in(bench, "B1", [PART, Part("P15", 4)], hour(2), DESIGNS)
    put_at(bench, [PART], "bag-7", hour(3))
    assert [soak.part.shot for soak in where_is(bench).soaking] == [4]


def test_one_entry_is_one_row_for_a_run_and_part_of_it_may_move(bench: Log) -> None:
    run = [Part("P15", shot) for shot in (4, 2, 3, 7)]
    assert [(one.first, one.last, one.cavity) for one in put_at(bench, run, "box", hour(1))] == [(2, 4, 1), (7, 7, 1)]
    put_at(bench, [PART], "bag", hour(2))
    where = where_is(bench)
    assert [[part.shot for part in where.still_at(one)] for one in where.places] == [[2, 4], [7], [3]]
    assert now_in(bench, Part("P15", 2, 2)) == "", "the other cavity was put nowhere"


def test_taken_back_the_place_before_it_holds_again(bench: Log) -> None:
    put_at(bench, [PART], "bag-7", hour(1))
    (wrong,) = put_at(bench, [PART], "bag-8", hour(2))
    take_back(bench, "places", wrong.entry_id, hour(3), "wrong bag")
    assert now_in(bench) == "placed bag-7"
    assert [one.place for one in places(bench)] == ["bag-7"]
    assert bench.verify()[0] > 0


def test_what_is_due_is_overdue_after_it(bench: Log) -> None:
    put_at(bench, [PART], "fridge", hour(1), due=hour(25), initials="ab")
    where = where_is(bench).of(PART)
    assert where is not None
    assert (where.overdue_h(hour(24)), where.overdue_h(hour(27))) == (0.0, 2.0)
    put_at(bench, [PART], "shelf", hour(26))
    assert where_is(bench).of(PART).overdue_h(hour(99)) == 0.0, "moved on, nothing is due"


@pytest.mark.parametrize(
    ("parts", "place", "due", "said"),
    [
        ([PART], " ", None, "place: given ' ', allowed: a word"),
        ([PART], "x" * 61, None, "60 characters"),
        ([PART], "bag\x00", None, "place: given"),
        ([PART], "B1", None, "is a bath, allowed: shotlog bath in B1"),
        ([Part("P15", 99)], "bag", None, "counted no such shot"),
        ([PART], "bag", hour(1), "due: given .* allowed: later"),
    ],
)
def test_what_cannot_be_is_refused_whole(
    bench: Log, parts: list[Part], place: str, due: datetime | None, said: str
) -> None:
    with pytest.raises(UsageError, match=said):
        put_at(bench, parts, place, hour(2), due=due)
    assert places(bench) == []


def test_due_times_as_people_type_them() -> None:
    now = datetime(2026, 3, 2, 12, tzinfo=UTC).astimezone()
    assert due_from("", now) is None
    assert due_from(" 24h ", now) == due_from("1d", now) == now + timedelta(days=1)
    assert due_from("1,5 h", now) == now + timedelta(minutes=90)
    later = now + timedelta(minutes=30)
    assert due_from(f"{later:%H:%M}", now) == later
    assert due_from(f"{now:%H:%M}", now) == now + timedelta(days=1), "the next one"
    assert due_from("2026-03-04T08:00+01:00", now) == datetime(2026, 3, 4, 7, tzinfo=UTC)
    for wrong in ("soon", "25:00", "24", "h"):
        with pytest.raises(UsageError, match="due: given"):
            due_from(wrong, now)
