"""The file of accounts: who there is, with which initials and role, and what is kept of each password.

It lies beside the log, and never in it: a log is copied, exported and handed on. What changes in it is told to the log,
without the password; until the log has taken that, it waits here (`Accounts.tell`), so that an account can be closed
while no log can be written. A closed account stays in the file, without a password: its name and initials sign what it
entered, and nobody else gets them, nor those that an account signed with earlier.
"""

import json
import os
import re
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from secrets import token_hex
from typing import Any

from shotlog.access.passwords import check_new, kept_of
from shotlog.access.roles import ROLES
from shotlog.clock import Clock, iso_utc, parse_utc
from shotlog.errors import AccountsUnreadable, UsageError
from shotlog.outputs import written_aside
from shotlog.records import AccountChange

__all__ = ["Account", "Accounts"]

_FORMAT = 1
_MOST_BYTES = 2_000_000
_LOCK_S = 10.0
_NAME = re.compile(r"[^\W_](?:[\w .@'-]{0,38}[\w.])?")
_INITIALS = re.compile(r"\w{1,8}")
_ADMIN = ROLES[-1]


@dataclass(frozen=True, slots=True)
class Account:
    """One account; `kept` is what is kept of its password, empty where it is closed.

    `earlier`: the initials it signed with before those it has now.
    """

    name: str
    initials: str
    role: str
    kept: str = field(repr=False)
    earlier: tuple[str, ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether somebody can log in with it."""
        return bool(self.kept)


@dataclass(frozen=True, slots=True)
class _Held:
    """What the file holds. `key`: a secret of this file, by which a browser is known again."""

    key: str = field(repr=False)
    accounts: tuple[Account, ...] = ()
    untold: tuple[AccountChange, ...] = ()


class Accounts:
    """The accounts of a configuration, read again whenever their file was changed.

    Every method raises `AccountsUnreadable` where there is a file that does not read; where there is none, there are no
    accounts. What changes one raises `UsageError` for what cannot be, and `OutputError` where the file cannot be
    written. `by`: who makes the change.
    """

    def __init__(self, path: Path, clock: Clock) -> None:
        self.path = path
        self._clock = clock
        self._reading = threading.Lock()
        self._read: tuple[tuple[int, ...], _Held] | None = None

    def all(self) -> tuple[Account, ...]:
        """Return every account, in the order they were made; closed ones too."""
        return self._now().accounts

    def find(self, name: str) -> Account | None:
        """Return the account of a name, in whichever case it was typed; None where there is none, or it is closed."""
        wanted = name.strip().casefold()
        return next((one for one in self._now().accounts if one.is_open and one.name.casefold() == wanted), None)

    def is_any(self) -> bool:
        """Say whether there is an account that is not closed."""
        return any(one.is_open for one in self._now().accounts)

    @property
    def key(self) -> str:
        """A secret that only this file holds; empty where there is none."""
        return self._now().key

    def add(self, name: str, initials: str, role: str, password: str, by: str) -> Account:
        """Make an account, or open again one that was closed."""
        _check(name, initials, role)
        check_new(password, name)
        with self._changing() as held:
            there = next((one for one in held.accounts if one.name.casefold() == name.casefold()), None)
            if there is not None and there.is_open:
                raise UsageError(f"account {there.name}: there is one already; see: shotlog account CONFIG list")
            _check_free(held, initials, there)
            made = Account(name if there is None else there.name, initials, role, kept_of(password))
            made = replace(made, earlier=_earlier(there, initials))
            kept = tuple(one for one in held.accounts if one is not there)
            if role != _ADMIN:
                _check_admin(kept, f"the first account has to be {_ADMIN}: --role {_ADMIN}")
            self._write(held, (*kept, made), made, "made" if there is None else "opened again", by)
        return made

    def close(self, name: str, by: str) -> Account:
        """Close an account: it is out at once, and what it entered stays signed by it."""
        return self._change(name, "closed", by, kept="")

    def set_role(self, name: str, role: str, by: str) -> Account:
        """Give an account another role; it holds from the next touch on."""
        return self._change(name, "role", by, role=role)

    def set_initials(self, name: str, initials: str, by: str) -> Account:
        """Let an account sign with other initials from now on."""
        return self._change(name, "initials", by, initials=initials)

    def set_password(self, name: str, password: str, by: str) -> Account:
        """Give an account another password; whoever is logged in with it has to log in anew."""
        check_new(password, name)
        return self._change(name, "password", by, kept=kept_of(password))

    def tell(self, write: Callable[[Sequence[AccountChange]], None]) -> None:
        """Hand what the log has not been told yet to `write`, and forget it once that returns."""
        if not self._now().untold:
            return
        with self._changing() as held:
            if held.untold:
                write(held.untold)
                self._put(replace(held, untold=()))

    def _change(self, name: str, change: str, by: str, **fields: Any) -> Account:
        with self._changing() as held:
            there = next((one for one in held.accounts if one.is_open and one.name.casefold() == name.casefold()), None)
            if there is None:
                raise UsageError(f"account: given {name!r}, allowed: {_names(held)}")
            made = replace(there, **fields)
            made = replace(made, earlier=_earlier(there, made.initials))
            _check(made.name, made.initials, made.role)
            _check_free(held, made.initials, there)
            rest = tuple(made if one is there else one for one in held.accounts)
            if there.role == _ADMIN:
                _check_admin(rest, f"account {there.name}: it is the last {_ADMIN}; make another one first")
            self._write(held, rest, made, change, by)
        return made

    def _write(self, held: _Held, accounts: tuple[Account, ...], of: Account, change: str, by: str) -> None:
        told = AccountChange(of.name, of.initials, of.role, change, by, self._clock.now())
        self._put(_Held(held.key, accounts, (*held.untold, told)))

    @contextmanager
    def _changing(self) -> Iterator[_Held]:
        """Hold the file against other programs that change it, and yield what it holds now."""
        from filelock import FileLock, Timeout

        try:
            with FileLock(f"{self.path}.lock", timeout=_LOCK_S):
                held = self._now()
                yield held if held.key else replace(held, key=token_hex(32))
        except Timeout as error:
            raise AccountsUnreadable(f"accounts {self.path}: another program is changing them; try again") from error
        except OSError as error:
            raise AccountsUnreadable(f"accounts {self.path}: {error.strerror or error}") from error

    def _now(self) -> _Held:
        with self._reading:
            try:
                seen = self.path.stat()
                stamp = (seen.st_ino, seen.st_mtime_ns, seen.st_size)
                if self._read is None or self._read[0] != stamp:
                    self._read = stamp, _read(self.path)
            except FileNotFoundError:
                return _Held("")
            except (OSError, ValueError, LookupError, TypeError, AttributeError) as error:
                self._read = None
                why = error.strerror if isinstance(error, OSError) and error.strerror else "it is no file of accounts"
                raise AccountsUnreadable(f"accounts {self.path}: cannot be read: {why}; nobody is let in") from error
            return self._read[1]

    def _put(self, held: _Held) -> None:
        text = json.dumps(
            {
                "format": _FORMAT,
                "key": held.key,
                "accounts": [asdict(one) for one in held.accounts],
                "untold": [asdict(one) | {"time": iso_utc(one.time)} for one in held.untold],
            },
            indent=1,
            ensure_ascii=False,
        )
        with written_aside(self.path) as aside:
            self._close_to_others()
            with os.fdopen(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
                file.write(text)
            self._leave_owner(aside)

    def _close_to_others(self) -> None:
        """Take everybody else's rights from the file, where the system has such: the new one gets its rights."""
        with suppress(OSError):
            self.path.chmod(self.path.stat().st_mode & 0o640)

    def _leave_owner(self, aside: Path) -> None:
        """Let the file belong to whom it did: changed by an administrator, the service must still read it."""
        if hasattr(os, "chown"):
            with suppress(OSError):
                owner = self.path.stat()
                os.chown(aside, owner.st_uid, owner.st_gid)


def _read(path: Path) -> _Held:
    with path.open("rb") as file:
        found: Mapping[str, Any] = json.loads(file.read(_MOST_BYTES))
    if found["format"] != _FORMAT:
        raise ValueError
    accounts = tuple(Account(**(one | {"earlier": tuple(one.get("earlier", ()))})) for one in found["accounts"])
    for one in accounts:
        if not all(isinstance(text, str) for text in (one.name, one.initials, one.role, one.kept, *one.earlier)):
            raise ValueError
    untold = tuple(AccountChange(**(one | {"time": parse_utc(one["time"])})) for one in found["untold"])
    return _Held(str(found["key"]), accounts, untold)


def _check(name: str, initials: str, role: str) -> None:
    if not _NAME.fullmatch(name):
        raise UsageError(
            f"account: given {name!r}, allowed: 1 to 40 letters, digits, blanks and . - _ @ ' between them"
        )
    if not _INITIALS.fullmatch(initials):
        raise UsageError(f"initials: given {initials!r}, allowed: 1 to 8 letters or digits")
    if role not in ROLES:
        raise UsageError(f"role: given {role!r}, allowed: {', '.join(ROLES)}")


def _check_free(held: _Held, initials: str, own: Account | None) -> None:
    """Refuse initials that another account signs with, or ever did, also a closed one: they sign what it entered."""
    for one in held.accounts:
        if one is not own and initials.casefold() in map(str.casefold, (*one.earlier, one.initials)):
            closed = "" if one.is_open else ", which is closed"
            raise UsageError(f"initials: given {initials!r}, allowed: others than those of {one.name}{closed}")


def _earlier(account: Account | None, initials: str) -> tuple[str, ...]:
    """Return what an account that signs with `initials` from now on signed with before."""
    return () if account is None else tuple(one for one in (*account.earlier, account.initials) if one != initials)


def _check_admin(accounts: Sequence[Account], otherwise: str) -> None:
    if not any(one.is_open and one.role == _ADMIN for one in accounts):
        raise UsageError(otherwise)


def _names(held: _Held) -> str:
    return ", ".join(one.name for one in held.accounts if one.is_open) or "none, there is no account yet"
