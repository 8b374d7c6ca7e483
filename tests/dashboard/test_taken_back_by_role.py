"""Who may take back what holds parts: whoever entered it, and quality; by everybody else it would let parts go."""

from collections.abc import Iterator

import flask
import pytest
from hand_filled import Trial

from dashboard import Source
from dashboard.parts.desk import PartsDesk
from dashboard.press.desk import Desk
from dashboard.shared.held import HeldReader
from dashboard.shared.person import NotAllowed, Person, set_person
from dashboard.shared.stored import Stored

REFUSED = "You are logged in as operator: taking back what another found that holds parts takes the role quality"


@pytest.fixture
def pages(trial: Trial, source: Source) -> Iterator[Source]:
    """Where the pages enter; whoever asks is said by `who`."""
    trial.mount("B-11")
    trial.shots(30)
    with flask.Flask("pages").test_request_context():
        yield source


def who(account: str, role: str = "operator") -> None:
    set_person(Person(account, account[:2].upper(), role))


def n_held(pages: Source) -> int:
    held = HeldReader(pages).now("P25")
    return 0 if held is None else held.n_parts


def finding(pages: Source) -> Stored:
    return Desk(pages).note("P25", "finding", "flash", "5")


def removal(pages: Source) -> Stored:
    return Desk(pages).remove("P25", "moving", "crack", "21")


def swap(pages: Source) -> Stored:
    return Desk(pages).swap("P25", "B-12", "moving", at_shot="21", reason="crack")


def none_good(pages: Source) -> Stored:
    finding(pages)
    return Desk(pages).note("P25", "unsure", "none known good", "5")


ENTERED = {"finding": finding, "removal": removal, "swap": swap, "none known good": none_good}


@pytest.mark.parametrize("name", ENTERED)
def test_what_holds_parts_is_taken_back_by_who_entered_it_and_by_quality(pages: Source, name: str) -> None:
    who("kb")
    desk, stored = Desk(pages), ENTERED[name](pages)
    n = n_held(pages)
    desk.undo(stored.entry)
    assert n_held(pages) < n
    stored = desk.again(stored.entry)
    assert n_held(pages) == n
    who("mr")
    for ask in (desk.asked_of, desk.undo):
        with pytest.raises(NotAllowed, match=REFUSED):
            ask(stored.entry)
    assert n_held(pages) == n
    who("qs", "quality")
    desk.undo(stored.entry)
    assert n_held(pages) < n


def test_a_bad_inspection_is_as_a_finding(pages: Source) -> None:
    who("kb")
    desk = PartsDesk(pages)
    part = desk.find("P25", "7").part
    bad = desk.inspect(part, {}, {}, finding="short")
    fine = desk.inspect(desk.find("P25", "3").part, {"wall": 10.0}, {})
    who("mr")
    with pytest.raises(NotAllowed, match=REFUSED):
        desk.undo(bad.entry)
    assert n_held(pages) > 0
    desk.undo(fine.entry)
    who("kb")
    desk.undo(bad.entry)
    assert n_held(pages) == 0


def test_an_entry_of_which_no_log_in_is_known_is_not_ones_own(trial: Trial, pages: Source) -> None:
    """Initials that were typed say who somebody says he is."""
    trial.note("finding", "flash", at_shot=5)
    who("kb")
    with pytest.raises(NotAllowed, match=REFUSED):
        Desk(pages).undo("events:1")


def test_what_holds_nothing_is_taken_back_by_everybody_who_enters(pages: Source) -> None:
    who("kb")
    desk = Desk(pages)
    stored = desk.note("P25", "note", "vents cleaned", "5")
    who("mr")
    assert desk.undo(stored.entry).taken_back


def test_where_nobody_logs_in_everybody_takes_back(pages: Source) -> None:
    who("kb")
    stored = finding(pages)
    set_person(None)
    assert Desk(pages).undo(stored.entry).taken_back
