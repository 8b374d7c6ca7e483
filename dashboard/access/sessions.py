"""Log-ins that are going on: a random token in the browser, and here what it stands for.

Of a token only its digest is kept. A log-in ends when it is logged out, when nobody touched the page for long, when it
has lasted long, and as soon as its account is closed or has another password. It does not outlive the process. What
ended the latest is remembered, for whoever comes with its token.
"""

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from secrets import token_urlsafe

from shotlog.access.accounts import Account
from shotlog.access.roles import ROLES
from shotlog.clock import Clock

__all__ = ["Sessions"]

_BYTES = 32
_MOST_ENDED = 1000
_MOST = 20
"""Log-ins of one account at a time; the oldest ends for a new one. A person has a phone, a tablet, and screens."""


@dataclass(slots=True)
class _Session:
    account: str
    kept: str = field(repr=False)
    began_s: float
    touched_s: float


class Sessions:
    """Begins log-ins, finds them by their token, and ends them.

    Parameters
    ----------
    idle_s
        How long a log-in lasts that nobody touches, in seconds. One of the least role, which only looks, is not ended
        for that: its screen may hang on a wall.
    longest_s
        How long one lasts at most, in seconds.
    """

    def __init__(self, clock: Clock, idle_s: float, longest_s: float) -> None:
        self._clock, self._idle_s, self._longest_s = clock, idle_s, longest_s
        self._lock = threading.Lock()
        self._sessions: dict[str, _Session] = {}
        self._ended: dict[str, str] = {}

    def begin(self, account: Account) -> str:
        """Return the token of a new log-in."""
        token, now = token_urlsafe(_BYTES), self._now()
        with self._lock:
            own = [key for key, one in self._sessions.items() if one.account == account.name]
            for key in own[: max(len(own) - _MOST + 1, 0)]:
                self._end(key, "many")
            self._sessions[_digest(token)] = _Session(account.name, account.kept, now, now)
        return token

    def account_of(self, token: str, find: Callable[[str], Account | None], *, touched: bool) -> Account | None:
        """Return whose log-in a token is, None where it is none or has ended. `touched`: somebody touched the page."""
        now, key = self._now(), _digest(token)
        with self._lock:
            session = self._sessions.get(key)
            if session is None:
                return None
            account = find(session.account)
            if account is None or account.kept != session.kept:
                self._end(key, "closed" if account is None else "password")
                return None
            why, left_s = self._left(session, account, now)
            if left_s <= 0:
                self._end(key, why)
                return None
            if touched:
                session.touched_s = now
            return account

    def left(self, token: str, account: Account) -> tuple[str, float]:
        """Return by what the log-in of an account ends next, ``idle`` or ``over``, and in how many seconds."""
        with self._lock:
            session = self._sessions.get(_digest(token))
            return ("over", 0.0) if session is None else self._left(session, account, self._now())

    def why_ended(self, token: str) -> str:
        """Return what ended a log-in (a key of `shotlog.wording.logged_out`), empty for one that goes on.

        One that is not known is of a process before this one.
        """
        with self._lock:
            return "" if _digest(token) in self._sessions else self._ended.get(_digest(token), "restarted")

    def end(self, token: str) -> None:
        """End a log-in; one that has ended stays so."""
        with self._lock:
            if _digest(token) in self._sessions:
                self._end(_digest(token), "left")

    def _left(self, session: _Session, account: Account, now: float) -> tuple[str, float]:
        over_s = session.began_s + self._longest_s - now
        idle_s = session.touched_s + self._idle_s - now
        looks_only = account.role == ROLES[0]
        return ("over", over_s) if looks_only or over_s < idle_s else ("idle", idle_s)

    def _end(self, key: str, why: str) -> None:
        del self._sessions[key]
        self._ended[key] = why
        if len(self._ended) > _MOST_ENDED:
            del self._ended[next(iter(self._ended))]

    def _now(self) -> float:
        """Seconds that go on while the computer sleeps."""
        return self._clock.monotonic() + self._clock.suspended()


def _digest(token: str) -> str:
    return sha256(token.encode("utf-8", "replace")).hexdigest()
