"""Who is logged in for the request that is being answered, and what that means for an entry."""

from dataclasses import dataclass

import flask

from shotlog.access.roles import ACTS, may
from shotlog.errors import UsageError

__all__ = ["NotAllowed", "Person", "here", "initials", "need", "set_person"]


class NotAllowed(UsageError):
    """The role of who is logged in may not do that."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who is logged in: the account, the initials that sign for it, its role."""

    account: str
    initials: str
    role: str


def set_person(person: Person | None) -> None:
    """Say who is logged in for this request; None where nobody has to be."""
    flask.g.person = person


def here() -> Person | None:
    """Return who is logged in; None where nobody has to be, as on the machine itself."""
    return flask.g.get("person") if flask.has_request_context() else None


def initials(typed: str) -> str:
    """Return what an entry is signed with: the initials of the account, whatever was typed; else what was typed."""
    person = here()
    return typed.strip() if person is None else person.initials


def need(act: str) -> None:
    """Refuse an act that the role of who is logged in does not allow; where nobody has to be, all may do all.

    Raises
    ------
    NotAllowed
        It does not.
    """
    person = here()
    if person is not None and not may(person.role, act):
        raise NotAllowed(f"{person.account} is {person.role}: this takes the role {ACTS[act]} or one above it")
