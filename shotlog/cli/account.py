"""``shotlog account``: who may log in to the pages, with which role. A password is asked, or read from stdin."""

import argparse
import getpass
import platform
import sys
import warnings
from collections.abc import Sequence
from typing import TYPE_CHECKING

from shotlog.access.roles import ROLES
from shotlog.cli.opening import Subparsers, add_command, print_json
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import StoreError, UsageError
from shotlog.records import AccountChange
from shotlog.settings import Settings, load
from shotlog.wording.accounts import account_said, change_said
from shotlog.wording.numbers import some

if TYPE_CHECKING:
    from shotlog.access.accounts import Accounts

__all__ = ["add", "typed_password"]

_LONGEST_LINE = 4096


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "account", "say who may log in to the pages, and with which role", _run)
    parser.add_argument(
        "what",
        choices=("add", "remove", "list", "password", "role", "initials"),
        help="add, close or list accounts; give one another password (asked, or the first line of standard input), "
        "role or initials",
    )
    parser.add_argument("name", metavar="NAME", nargs="?", default="", help="of the account; who logs in types it")
    parser.add_argument("--role", choices=ROLES, help=f"{', '.join(ROLES)}: each may do what those before it may")
    parser.add_argument("--initials", default="", metavar="I", help="what signs the entries of the account")
    parser.add_argument("--json", action="store_true", help="with list: print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.access.accounts import Accounts
    from shotlog.store.log.signed import login_name

    settings = load(arguments.config)
    accounts = Accounts(settings.accounts, SystemClock())
    if arguments.what == "list":
        return _list(settings, accounts, arguments.json)
    if not arguments.name:
        raise UsageError(f"account {arguments.what}: given no name, allowed: NAME")
    print(_changed(accounts, arguments, f"{login_name() or 'somebody'} at {platform.node()}"))
    _tell(settings, accounts)
    return 0


def _changed(accounts: "Accounts", arguments: argparse.Namespace, by: str) -> str:
    """Make the change that was asked for; return what to say."""
    name, role, initials = arguments.name, arguments.role, arguments.initials
    if arguments.what == "add":
        if role is None or not initials:
            raise UsageError("account add: given no role or no initials, allowed: --role ROLE --initials I")
        made = accounts.add(name, initials, role, typed_password(name), by)
        return f"account {account_said(made.name, made.role, made.initials)}: made"
    if arguments.what == "password":
        if accounts.find(name) is None:
            raise UsageError(f"account: given {name!r}, allowed: one of shotlog account CONFIG list")
        made = accounts.set_password(name, typed_password(name), by)
        return f"account {made.name}: another password; whoever is logged in with it logs in anew"
    if arguments.what == "role":
        if role is None:
            raise UsageError("account role: given nothing, allowed: --role ROLE")
        made = accounts.set_role(name, role, by)
        return f"account {account_said(made.name, made.role, made.initials)}: from the next touch on"
    if arguments.what == "initials":
        if not initials:
            raise UsageError("account initials: given nothing, allowed: --initials I")
        made = accounts.set_initials(name, initials, by)
        return f"account {made.name}: signs {made.initials} from now on"
    made = accounts.close(name, by)
    return f"account {made.name}: closed; it is out of the pages at once, and what it entered stays signed by it"


def _tell(settings: Settings, accounts: "Accounts") -> None:
    """Tell the log what changed; where it cannot be written the change stands, and the log is told with the next."""
    from shotlog.store.account_changes import append_account_changes
    from shotlog.store.log.log import open_log

    if settings.is_centre:
        return  # what it holds are the logs of others
    try:
        with open_log(settings.store, read_only=False) as log:
            accounts.tell(lambda changes: append_account_changes(log, changes))
    except StoreError as error:
        print(f"WARNING: the log is told of this with the next change of an account: {error}", file=sys.stderr)


def typed_password(name: str) -> str:
    """Return a new password: asked twice, never shown; or the first line of standard input where that is no terminal.

    Raises
    ------
    UsageError
        The two differ, there is none, or this terminal would show it.
    """
    if sys.stdin is None or not sys.stdin.isatty():
        line = sys.stdin.buffer.readline(_LONGEST_LINE) if sys.stdin is not None else b""
        if not line:
            raise UsageError("password: given nothing on standard input, allowed: one line")
        return line.decode("utf-8", "surrogateescape").removesuffix("\n").removesuffix("\r")
    with warnings.catch_warnings():
        warnings.simplefilter("error", getpass.GetPassWarning)
        try:
            first = getpass.getpass(f"New password of {name}, 12 characters or more: ")
            again = getpass.getpass("The same once more: ")
        except EOFError as error:
            raise UsageError("password: given nothing, allowed: the same twice") from error
        except getpass.GetPassWarning as error:
            raise UsageError("password: this terminal would show it; give it on standard input") from error
    if first != again:
        raise UsageError("password: given two that differ, allowed: the same twice")
    return first


def _list(settings: Settings, accounts: "Accounts", as_json: bool) -> int:
    found = accounts.all()
    changes = _changes(settings) if found else []
    if as_json:
        print_json(
            {
                "accounts": [
                    {"name": one.name, "initials": one.initials, "role": one.role, "open": one.is_open} for one in found
                ],
                "changes": [
                    {"account": one.account, "initials": one.initials, "role": one.role, "change": one.change,
                     "by": one.by, "time": iso_utc(one.time)}
                    for one in changes
                ],
            }
        )  # fmt: skip
        return 0
    n_open = sum(one.is_open for one in found)
    print(f"{some(n_open, 'account')} in {settings.accounts}; {len(found) - n_open} closed")
    for one in found:
        print(f"  {account_said(one.name, one.role, one.initials)}{'' if one.is_open else ': CLOSED'}")
    if changes:
        now = SystemClock().now()
        print("what became of them, as the log has it:")
        for change in changes:
            print(f"  {change_said(change, now)}")
    return 0


def _changes(settings: Settings) -> Sequence[AccountChange]:
    from shotlog.store.account_changes import account_changes
    from shotlog.store.log.log import open_log

    if settings.is_centre:
        return []
    try:
        with open_log(settings.store) as log:
            return account_changes(log)
    except StoreError as error:
        print(f"WARNING: what became of them is not told: {error}", file=sys.stderr)
        return []
