"""Who is logged in for the request that is being answered, and what that means for an entry."""

from dataclasses import dataclass

import flask

from shotlog.access.roles import may
from shotlog.errors import UsageError
from shotlog.records import Signature, initials_of
from shotlog.wording.accounts import not_allowed

__all__ = [
    "NotAllowed",
    "Person",
    "act_of",
    "allowed",
    "here",
    "initials",
    "need",
    "refusal",
    "set_person",
    "signature",
]


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
    return initials_of(typed) if person is None else person.initials


def signature(typed: str) -> Signature:
    """Return what signs an entry of this request; outside of one, as in a test, only what was typed is known."""
    person = here()
    address = (flask.request.remote_addr or "") if flask.has_request_context() else ""
    account, role = ("", "") if person is None else (person.account, person.role)
    return Signature(account, role, "page", address, initials(typed))


def need(act: str) -> None:
    """Refuse an act that the role of who is logged in does not allow; where nobody has to be, all may do all.

    Raises
    ------
    NotAllowed
        It does not.
    """
    if refused := refusal(act):
        raise NotAllowed(refused)


def act_of(table: str, decision: str = "") -> str:
    """Return the act that an entry of a table is: to let parts go, or to scrap them, is to decide.

    Holding is entering, for everybody may hold a part; to take a hold back lets it go. What taking something else back
    is says `shotlog.store.undo.act_of_taking_back`.
    """
    return "decide" if table == "dispositions" and decision != "held" else "enter"


def refusal(act: str) -> str:
    """Return why who is logged in may not do something, empty where it is allowed."""
    person = here()
    if person is None or may(person.role, act):
        return ""
    return not_allowed(person.role, act)


def allowed(act: str) -> bool:
    """Say whether who is logged in may do something; where nobody has to be, all may do all."""
    return not refusal(act)
