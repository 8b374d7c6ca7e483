"""Who is logged in for a request: what signs an entry, and what a role is refused."""

import flask
import pytest

from dashboard.shared.person import NotAllowed, Person, here, initials, need, set_person
from shotlog.access.roles import ACTS, ROLES, may


def test_a_role_may_what_those_before_it_may_and_no_more() -> None:
    allowed = {role: {act for act in ACTS if may(role, act)} for role in ROLES}
    assert allowed == {
        "viewer": {"look"},
        "operator": {"look", "enter"},
        "quality": {"look", "enter", "decide", "let go"},
        "admin": {"look", "enter", "decide", "let go", "accounts"},
    }
    assert not may("nobody", "look")


def test_an_entry_is_signed_by_the_account_else_by_what_was_typed() -> None:
    with flask.Flask("pages").test_request_context():
        assert (here(), initials(" KB ")) == (None, "KB")
        set_person(Person("k.b", "KB", "operator"))
        assert initials("XX") == "KB"
    assert here() is None


def test_a_role_is_refused_in_one_sentence() -> None:
    with flask.Flask("pages").test_request_context():
        need("accounts")
        set_person(Person("k.b", "KB", "operator"))
        need("enter")
        with pytest.raises(
            NotAllowed, match="as operator: releasing and scrapping takes the role quality or one above it"
        ):
            need("decide")
