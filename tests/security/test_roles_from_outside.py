"""What each role may do, tried by sending what the pages of a higher one send."""

from collections.abc import Callable

from tests.made_pictures import picture
from tests.security.shop import ROLES, SECRETS, Shop
from tests.security.visitor import Answer, Visitor


def send_picture(visitor: Visitor) -> Answer:
    headers = {"Content-Type": "image/jpeg", "Origin": visitor.origin, **visitor.tokens()}
    return visitor.ask("/pictures/?press=P25&shot=9&cavity=1", "POST", picture(), headers)


ACTS: dict[str, tuple[str, Callable[[Visitor], Answer]]] = {
    "look": ("viewer", lambda visitor: visitor.call(visitor.page_asked("/press/P25"))),
    "download": ("viewer", lambda visitor: visitor.ask("/shift/lives.csv")),
    "note a purge": ("operator", lambda visitor: visitor.call(visitor.touched("say", "purge:purge"))),
    "send a picture": ("operator", send_picture),
    "release": ("quality", lambda visitor: visitor.call(visitor.decided("release", "9"))),
    "scrap": ("quality", lambda visitor: visitor.call(visitor.decided("scrap", "9"))),
    "see the accounts": ("admin", lambda visitor: visitor.ask("/accounts")),
    "make an account": (
        "admin",
        lambda visitor: visitor.send_form(
            "/accounts",
            {
                "what": "add",
                "name": "eve",
                "initials": "EV",
                "role": "admin",
                "new": "four odd words here",
                "own": SECRETS["anna"],
            },
        ),
    ),
}


def refused(answer: Answer) -> bool:
    """Say whether an answer says that a role is missing; a form of Dash says so in place of a status."""
    return answer.status in (401, 403) or "takes the role" in answer.text


def test_each_act_takes_its_role(guarded: Shop, people: dict[str, Visitor]) -> None:
    order = list(ROLES.values())
    before = guarded.entries(), guarded.pictures()
    tried = [
        (act, name, order.index(ROLES[name]) <= order.index(least))
        for act, (least, _) in ACTS.items()
        for name in ROLES
    ]
    for act, name, may in tried:
        if not may:
            assert refused(ACTS[act][1](people[name])), (act, name)
    assert (guarded.entries(), guarded.pictures()) == before
    for act, name, may in tried:
        if may:
            assert not refused(ACTS[act][1](people[name])), (act, name)
    assert guarded.entries() != before[0]


def test_what_a_page_of_quality_sends_is_refused_from_an_operator(guarded: Shop, people: dict[str, Visitor]) -> None:
    """The very bytes that were taken from quality, with the session and the token of the operator."""
    payload = people["quinn"].decided("hold", "8")
    asked = people["quinn"].decided("release", "8")
    assert people["quinn"].call(payload).status == 200
    before = guarded.entries()
    assert refused(people["otto"].call(asked))
    crossed = {name: value for name, value in people["otto"].cookies.items() if "session" in name}
    token = {name: value for name, value in people["quinn"].cookies.items() if "token" in name}
    mixed = guarded.visitor(cookies={**crossed, **token}, token=people["quinn"].token)
    assert mixed.call(asked).status in (401, 403), "a token is of one log-in"
    assert guarded.entries() == before
    assert not refused(people["quinn"].call(asked))
    assert len(guarded.entries()) == len(before) + 1


def test_role_and_initials_are_never_taken_from_the_request(guarded: Shop, people: dict[str, Visitor]) -> None:
    claims = {"X-Role": "admin", "X-Remote-User": "anna", "Remote-User": "anna", "X-Forwarded-User": "anna"}
    assert people["vera"].ask("/accounts?role=admin&account=anna", headers=claims).status == 403
    assert guarded.visitor().ask("/parts", headers=claims).status in (302, 303)
    payload = {**people["vera"].decided("release", "7"), "role": "admin", "account": "anna"}
    assert people["vera"].call(payload, **claims).status in (400, 403)
    entry = people["quinn"].decided("release", "9", initials="AN")
    assert people["quinn"].call(entry).status == 200
    assert guarded.entries()[-1]["initials"] == "QU", "those of the account, whatever was typed"
    form = {
        "password": "x",
        "new": "four odd words here",
        "again": "four odd words here",
        "name": "anna",
        "role": "admin",
    }
    assert people["vera"].send_form("/account", form).status in (400, 401, 403, 422)
    assert "viewer" in people["vera"].ask("/account").text
