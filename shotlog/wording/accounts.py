"""Accounts in words: what one is, what became of it, and what a role may not do."""

from datetime import datetime

from shotlog.access.roles import ACTS
from shotlog.records import AccountChange
from shotlog.wording.times import at_time

__all__ = ["account_said", "became_said", "change_said", "not_allowed"]

_CHANGES = {
    "made": "made as {role}, signs {initials}",
    "opened again": "opened again as {role}, signs {initials}",
    "closed": "closed",
    "role": "made {role}",
    "initials": "signs {initials} from then on",
    "password": "another password",
}

_DOES = {
    "look": "looking",
    "enter": "entering",
    "decide": "releasing and scrapping",
    "let go": "taking back what another found that holds parts",
    "accounts": "looking after accounts",
}


def account_said(name: str, role: str, initials: str) -> str:
    """Return an account in words.

    Examples
    --------
    >>> account_said("k.brand", "operator", "KB")
    'k.brand (operator, signs KB)'
    """
    return f"{name} ({role}, signs {initials})"


def became_said(change: AccountChange, now: datetime) -> str:
    """Return what an account became, when and by whom."""
    became = _CHANGES.get(change.change, change.change).format(role=change.role, initials=change.initials)
    return f"{became} ({at_time(change.time, now)}, by {change.by})"


def change_said(change: AccountChange, now: datetime) -> str:
    """Return what became of an account, by its name."""
    return f"{change.account}: {became_said(change, now)}"


def not_allowed(role: str, act: str) -> str:
    """Return what a role may not do, and who may.

    Examples
    --------
    >>> not_allowed("viewer", "enter")
    'You are logged in as viewer: entering takes the role operator or one above it.'
    """
    return f"You are logged in as {role}: {_DOES[act]} takes the role {ACTS[act]} or one above it."
