"""The door: takes a name and a password, and gives the token of a log-in; or says why not, which never names the one
that was wrong.
"""

import threading
from dataclasses import dataclass
from math import ceil
from secrets import token_hex

from dashboard.access.attempts import Attempts, Browser, counted_by
from dashboard.access.sessions import Sessions
from shotlog.access.accounts import Account, Accounts
from shotlog.access.passwords import kept_of, matches
from shotlog.clock import Clock
from shotlog.errors import UsageError
from shotlog.settings import Settings
from shotlog.wording.logged_out import logged_out

__all__ = ["Door", "LetIn", "NotLetIn"]

_MOST_NAME = 100
_AT_ONCE, _WAITS_S = 2, 0.5
"""Passwords looked at, or waiting for that, at once: however many are tried, other pages are answered meanwhile."""


class NotLetIn(UsageError):
    """Nobody is let in by this name and password; `wait_s`: for how long none is looked at, `known`: whose name it is.

    `known` is for the log alone, and empty where nobody has that name: people type a password where the name belongs.
    """

    def __init__(self, said: str, wait_s: float, known: str) -> None:
        self.wait_s, self.known = wait_s, known
        super().__init__(said)


@dataclass(frozen=True, slots=True)
class LetIn:
    """Somebody who was let in: the account, the token of the log-in, and the browser as it is known from now on."""

    account: Account
    token: str
    browser: Browser


class Door:
    """The accounts, the log-ins that are going on, and what was tried."""

    def __init__(self, settings: Settings, clock: Clock) -> None:
        login = settings.login
        self.accounts = Accounts(settings.accounts, clock)
        self.sessions = Sessions(clock, login.idle_min * 60.0, login.hours * 3600.0)
        self._lasts = login
        self._attempts = Attempts(clock)
        self._looking = threading.BoundedSemaphore(_AT_ONCE)
        self._nobodys = kept_of(token_hex())
        """A password that nobody has: a name that nobody has takes as long to refuse as another."""

    def browser(self, left: str) -> Browser:
        """Return the browser in which that was left."""
        return Browser.read(left, self.accounts.key, token_hex(8))

    def let_in(self, name: str, password: str, address: str, browser: Browser) -> LetIn:
        """Let somebody in by name and password.

        Raises
        ------
        NotLetIn
            One of them is wrong, or it has to wait.
        AccountsUnreadable
            The file of accounts does not read.
        """
        account = self._right(name.strip()[:_MOST_NAME], password, address, browser)
        return LetIn(account, self.sessions.begin(account), browser.with_name(account.name))

    def confirm(self, name: str, password: str, address: str, browser: Browser) -> None:
        """Make sure that it is still the owner of an account who asks, by the password; it is tried as at a log-in.

        Raises
        ------
        NotLetIn
            The password is wrong, or it has to wait.
        """
        self._right(name, password, address, browser)

    def why_logged_out(self, token: str) -> str:
        """Return what ended a log-in, and what to do, in words; empty for one that goes on."""
        why = self.sessions.why_ended(token)
        return logged_out(why, self._lasts.idle_min, self._lasts.hours) if why else ""

    def change_password(self, account: Account, password: str, new: str, address: str, browser: Browser) -> str:
        """Give an account another password, by the one that it has; return the token of a new log-in. All others end.

        Raises
        ------
        NotLetIn
            The password is wrong, or it has to wait.
        UsageError
            The new one is not taken.
        """
        self._right(account.name, password, address, browser)
        return self.sessions.begin(self.accounts.set_password(account.name, new, account.name))

    def _right(self, name: str, password: str, address: str, browser: Browser) -> Account:
        account = self.accounts.find(name)
        known = "" if account is None else account.name
        keys = counted_by(name, address, browser)
        if not self._looking.acquire(timeout=_WAITS_S):
            raise NotLetIn("Others are logging in just now. Try again.", 1.0, known)
        try:
            if (wait_s := self._attempts.begin(keys)) > 0:
                raise NotLetIn(f"Too many tries went wrong. Try again in {ceil(wait_s)} s.", wait_s, known)
            right = matches(password, self._nobodys if account is None else account.kept)
        finally:
            self._looking.release()
        if account is None or not right:
            raise NotLetIn("Name or password is wrong.", 0.0, known)
        self._attempts.right(keys)
        return account
