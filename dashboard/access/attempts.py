"""How trying names and passwords is slowed, without locking anybody out for good.

Tries are counted by account and by address; past the first few, each that goes wrong makes the next one wait, longer
each time and a minute at most. Whoever keeps trying a name could so keep its owner waiting: a browser in which that
account was logged in before is known again (a signed cookie), has a count of its own, and waits for no other. What is
tried while it has to wait is not looked at, and does not make the wait longer.

References
----------
OWASP, Slow Down Online Guessing Attacks with Device Cookies; OWASP ASVS 4.0.3, V2.2.1: at most 100 an hour an account.
"""

import ipaddress
import threading
from collections.abc import Sequence
from dataclasses import dataclass

from itsdangerous import BadSignature, URLSafeSerializer

from shotlog.clock import Clock

__all__ = ["Attempts", "Browser", "counted_by"]

_FREE = {"account": 5, "address": 20, "browser": 5}
"""Tries that may go wrong before one has to wait. Behind a proxy that does not say who asks, all have one address."""
_LONGEST_S = 60.0
_FORGOTTEN_S = 3600.0
_MOST_KEYS = 10_000
_MOST_NAMES = 12
"""Accounts that a browser is known by: those who share the screen at a press."""

Key = tuple[str, str]


@dataclass(slots=True)
class _Count:
    wrong: int = 0
    at_s: float = 0.0
    until_s: float = 0.0


class Attempts:
    """Counts tries by what they are counted by; see `counted_by`."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._counts: dict[Key, _Count] = {}

    def begin(self, keys: Sequence[Key]) -> float:
        """Take a try; return in how many seconds it may be made, 0 where now. Then it counts as wrong until `right`.

        A try that has to wait leaves nothing behind: else names made up by the thousand would push out the counts of
        others, and cost nothing.
        """
        now = self._clock.monotonic()
        with self._lock:
            wait_s = max(self._counts[key].until_s if key in self._counts else now for key in keys) - now
            if wait_s > 0:
                return wait_s
            for key in keys:
                count = self._count(key, now)
                count.wrong, count.at_s = count.wrong + 1, now
                over = count.wrong - _FREE[key[0]]
                count.until_s = now + min(2.0 ** min(over, 10), _LONGEST_S) if over >= 0 else now
        return 0.0

    def right(self, keys: Sequence[Key]) -> None:
        """Take that a try was right. An address has only that try forgiven: an account of one's own clears no other."""
        with self._lock:
            for key in keys:
                count = self._counts.get(key, _Count())
                if key[0] == "address":
                    count.wrong, count.until_s = max(count.wrong - 1, 0), 0.0
                else:
                    self._counts.pop(key, None)

    def _count(self, key: Key, now: float) -> _Count:
        """Return the count of a key as the newest of all; where there is no room, another goes."""
        count = self._counts.pop(key, None)
        if count is None or now - count.at_s > _FORGOTTEN_S:
            count = _Count()
        if len(self._counts) >= _MOST_KEYS:
            del self._counts[self._least(now)]
        self._counts[key] = count
        return count

    def _least(self, now: float) -> Key:
        """Return whose count is missed least: the oldest of those that slow nobody yet, else the oldest of all."""
        free = (key for key, one in self._counts.items() if one.wrong < _FREE[key[0]] or now - one.at_s > _FORGOTTEN_S)
        return next(free, next(iter(self._counts)))


@dataclass(frozen=True, slots=True)
class Browser:
    """A browser that is known again: a number of its own, and the accounts that were logged in there, newest last."""

    number: str = ""
    names: tuple[str, ...] = ()

    def knows(self, name: str) -> bool:
        """Say whether an account was logged in there before."""
        return name.casefold() in self.names

    def with_name(self, name: str) -> "Browser":
        """Return it after an account was logged in there."""
        rest = tuple(one for one in self.names if one != name.casefold())
        return Browser(self.number, (*rest, name.casefold())[-_MOST_NAMES:])

    def signed(self, key: str) -> str:
        """Return it as it is left in the browser."""
        return _serializer(key).dumps([self.number, *self.names])

    @classmethod
    def read(cls, text: str, key: str, new: str) -> "Browser":
        """Return what was left in a browser; one with the number `new` where that is nothing of ours."""
        try:
            number, *names = _serializer(key).loads(text)
        except (BadSignature, ValueError, TypeError):
            return cls(new)
        return cls(number, tuple(names))


def counted_by(name: str, address: str, browser: Browser) -> list[Key]:
    """Return what a try is counted by: a known browser by itself, others by the account and the address.

    Examples
    --------
    >>> counted_by("KB", "2001:db8::1:2", Browser("b1"))
    [('account', 'kb'), ('address', '2001:db8::/64')]
    >>> counted_by("KB", "192.168.1.7", Browser("b1", ("kb",)))
    [('browser', 'b1 kb')]
    """
    folded = name.casefold()
    if browser.knows(name):
        return [("browser", f"{browser.number} {folded}")]
    return [("account", folded), ("address", _network(address))]


def _network(address: str) -> str:
    """Return an address, or the network of one of which anybody has 2^64."""
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        return address
    return address if known.version == 4 else str(ipaddress.ip_network((known, 64), strict=False))


def _serializer(key: str) -> URLSafeSerializer:
    return URLSafeSerializer(key, salt="a browser that is known again")
