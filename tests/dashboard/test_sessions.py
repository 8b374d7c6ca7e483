"""Log-ins by their token: how long one lasts, and what ends it before."""

import pytest

from dashboard.access.sessions import Sessions
from shotlog.access.accounts import Account
from shotlog.clock import HandClock

KB = Account("kb", "KB", "operator", "scrypt$1")


class Known:
    """The accounts as they stand now."""

    def __init__(self, *accounts: Account) -> None:
        self.accounts = {one.name: one for one in accounts}

    def __call__(self, name: str) -> Account | None:
        return self.accounts.get(name)


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def sessions(clock: HandClock) -> Sessions:
    return Sessions(clock, idle_s=600.0, longest_s=3600.0)


def test_a_log_in_that_nobody_touches_ends_and_stays_ended(sessions: Sessions, clock: HandClock) -> None:
    token, known = sessions.begin(KB), Known(KB)
    for _ in range(4):
        clock.advance(599.0)
        assert sessions.account_of(token, known, touched=True) == KB
    for _ in range(2):
        clock.advance(299.0)
        assert sessions.account_of(token, known, touched=False) == KB
    clock.advance(2.0)
    assert sessions.account_of(token, known, touched=False) is None
    assert sessions.account_of(token, known, touched=True) is None


def test_it_ends_after_its_longest_whatever_is_touched(sessions: Sessions, clock: HandClock) -> None:
    token, known = sessions.begin(KB), Known(KB)
    for _ in range(7):
        clock.advance(500.0)
        assert sessions.account_of(token, known, touched=True) == KB
    clock.advance(100.0)
    assert sessions.account_of(token, known, touched=True) is None


def test_time_goes_on_while_the_computer_sleeps(sessions: Sessions, clock: HandClock) -> None:
    token = sessions.begin(KB)
    clock.sleep(601.0)
    assert sessions.account_of(token, Known(KB), touched=True) is None


def test_a_screen_that_only_shows_is_not_ended_because_nobody_touches_it(sessions: Sessions, clock: HandClock) -> None:
    wall = Account("wall", "W", "viewer", "scrypt$2")
    token, known = sessions.begin(wall), Known(wall)
    clock.advance(3599.0)
    assert sessions.account_of(token, known, touched=False) == wall
    clock.advance(1.0)
    assert sessions.account_of(token, known, touched=False) is None


@pytest.mark.parametrize("now", [None, Account("kb", "KB", "operator", "scrypt$other")])
def test_it_ends_when_the_account_is_closed_or_has_another_password(sessions: Sessions, now: Account | None) -> None:
    token, known = sessions.begin(KB), Known(KB)
    known.accounts = {} if now is None else {"kb": now}
    assert sessions.account_of(token, known, touched=True) is None
    known.accounts = {"kb": KB}
    assert sessions.account_of(token, known, touched=True) is None


def test_another_role_holds_from_the_next_touch_on(sessions: Sessions) -> None:
    token, quality = sessions.begin(KB), Account("kb", "KB", "quality", "scrypt$1")
    assert sessions.account_of(token, Known(quality), touched=True) == quality


def test_a_token_that_was_logged_out_or_made_up_is_nobodys(sessions: Sessions) -> None:
    token, known = sessions.begin(KB), Known(KB)
    sessions.end(token)
    sessions.end(token)
    for one in (token, "", "x", "\udcff"):
        assert sessions.account_of(one, known, touched=True) is None


def test_of_many_log_ins_of_one_account_the_oldest_ends(sessions: Sessions) -> None:
    tokens, known = [sessions.begin(KB) for _ in range(21)], Known(KB)
    going_on = [sessions.account_of(token, known, touched=True) is not None for token in tokens]
    assert going_on == [False] + [True] * 20
    assert len(set(tokens)) == 21
