"""When nobody was looking: outages from what the logger noted of its connections."""

from datetime import timedelta

from shotlog.records import Gap, Link
from shotlog.review.outages import Outage, outages_of
from tests.review.made_up_press import CYCLE_S, START, at

SHOTS = [1, 2, 3, 7, 8]


def link(state: str, minutes: float, detail: str = "") -> Link:
    return Link("P1", START + timedelta(minutes=minutes), state, detail)


def found(*links: Link) -> list[tuple[str, bool, int]]:
    gaps = [Gap("P1", 4, 6, at(7), "the counter went on")]
    outages = outages_of(links, [at(shot) for shot in SHOTS], SHOTS, gaps)
    return [(one.how, one.end is not None, one.n_missed) for one in outages]


def after(shot: float) -> float:
    return shot * CYCLE_S / 60.0


def test_a_lost_connection_counts_the_shots_missed_meanwhile() -> None:
    links = [link("connected", 0), link("lost", after(3.5), "timed out"), link("connected", after(6.5))]
    assert found(*links) == [("connection lost", True, 3)]


def test_an_outage_between_two_shots_missed_nothing() -> None:
    assert found(link("connected", 0), link("lost", after(1.2)), link("connected", after(1.8))) == [
        ("connection lost", True, 0)
    ]


def test_several_words_of_one_outage_are_one() -> None:
    links = [link("lost", after(3.2)), link("stopped", after(3.4)), link("lost", after(5)), link("connected", after(6))]
    assert found(*links) == [("connection lost", True, 3)]


def test_logging_that_broke_off_is_told_by_its_beginning_anew() -> None:
    (one,) = outages_of([link("connected", 0), link("connected", after(6.5))], [at(s) for s in SHOTS], SHOTS, [])
    assert isinstance(one, Outage)
    assert (one.how, one.start) == ("logging broke off", at(3))


def test_what_lasts_has_no_end() -> None:
    assert found(link("connected", 0), link("stopped", after(9))) == [("logging stopped", False, 0)]
    assert found(link("lost", 0)) == [("connection lost", False, 3)]
    assert found() == []
