"""Trying names and passwords is slowed, and its owner is not locked out by whoever tries."""

import pytest

from dashboard.access.attempts import Attempts, Browser, counted_by
from shotlog.clock import HandClock

KEY = "a secret of the file of accounts"


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


def test_past_the_first_few_each_try_waits_longer_and_a_minute_at_most(clock: HandClock) -> None:
    attempts, keys = Attempts(clock), [("account", "kb")]
    waits = []
    for _ in range(15):
        while (wait_s := attempts.begin(keys)) > 0:
            waits.append(wait_s)
            clock.advance(wait_s)
    assert waits == [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 60.0, 60.0, 60.0, 60.0]


def test_an_hour_of_trying_an_account_is_less_than_a_hundred_tries(clock: HandClock) -> None:
    """OWASP ASVS 4.0.3, V2.2.1; and what is tried while it waits does not make it longer."""
    attempts, n, browser = Attempts(clock), 0, Browser("b")
    for second in range(3600):
        n += attempts.begin(counted_by("kb", f"10.0.{second % 200}.7", browser)) == 0
        clock.advance(1.0)
    assert 60 <= n < 100


def test_one_address_that_tries_many_names_is_slowed_too(clock: HandClock) -> None:
    attempts = Attempts(clock)
    made = [attempts.begin(counted_by(f"name {n}", "10.0.0.7", Browser("b"))) == 0 for n in range(40)]
    assert sum(made) == 20


def test_whoever_was_logged_in_in_a_browser_waits_for_no_other(clock: HandClock) -> None:
    attempts = Attempts(clock)
    for n in range(200):
        attempts.begin(counted_by("kb", f"10.0.0.{n}", Browser("stranger")))
    own = Browser("own").with_name("KB")
    assert attempts.begin(counted_by("kb", "10.0.0.7", Browser("new"))) > 0
    assert attempts.begin(counted_by("kb", "10.0.0.7", own)) == 0
    assert attempts.begin(counted_by("other", "10.0.0.7", own)) == 0, "that name was not logged in there"


def test_a_right_password_forgives_its_account_and_only_that_try_of_its_address(clock: HandClock) -> None:
    """Else an account of one's own, logged in between tries, would clear the count of an address again and again."""
    attempts, made = Attempts(clock), 0
    for _ in range(30):
        own = counted_by("insider", "10.0.0.7", Browser("b"))
        if attempts.begin(own) == 0:
            attempts.right(own)
        made += attempts.begin(counted_by(f"victim {made}", "10.0.0.7", Browser("b"))) == 0
    assert made == 20


def test_what_went_wrong_is_forgotten_after_an_hour(clock: HandClock) -> None:
    attempts, keys = Attempts(clock), [("account", "kb")]
    for _ in range(5):
        assert attempts.begin(keys) == 0
    clock.advance(3601.0)
    assert [attempts.begin(keys) for _ in range(5)] == [0.0] * 5


def test_counts_do_not_grow_without_end(clock: HandClock) -> None:
    attempts = Attempts(clock)
    for n in range(10_100):
        attempts.begin([("account", str(n))])
    assert len(attempts._counts) == 10_000


def test_names_made_up_by_the_thousand_push_out_no_count(clock: HandClock) -> None:
    """What has to wait anyway is refused at once: it pushed out the count of whom it guessed at, again and again."""
    attempts, looked_at = Attempts(clock), 0
    for n in range(25):
        attempts.begin(counted_by(f"n{n}", "192.168.1.66", Browser("x")))
    for turn in range(3):
        while attempts.begin(counted_by("kb", "192.168.1.67", Browser("x"))) == 0:
            looked_at += 1
        for n in range(10_000):
            assert attempts.begin(counted_by(f"{turn}.{n}", "192.168.1.66", Browser("x"))) > 0
    assert looked_at == 5


def test_where_there_is_no_room_those_that_are_slowed_stay(clock: HandClock) -> None:
    attempts, guessed = Attempts(clock), [("account", "kb")]
    for _ in range(5):
        attempts.begin(guessed)
    for n in range(10_100):
        assert attempts.begin([("account", str(n))]) == 0
    assert attempts.begin(guessed) > 0


def test_a_browser_is_known_again_by_what_was_left_in_it_and_by_nothing_else() -> None:
    browser = Browser("b1")
    for name in ("Ann", "kb", "ANN"):
        browser = browser.with_name(name)
    assert browser.names == ("kb", "ann")
    assert Browser.read(browser.signed(KEY), KEY, "new") == browser
    for left in ("", "x.y", browser.signed("another secret"), browser.signed(KEY) + "x"):
        assert Browser.read(left, KEY, "new") == Browser("new")
    for n in range(30):
        browser = browser.with_name(f"p{n}")
    assert len(browser.names) == 12
