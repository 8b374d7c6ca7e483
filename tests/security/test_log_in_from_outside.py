"""Where everybody logs in: nothing without a session, and what a session can and cannot be made to do."""

import math
import re
import time
from collections import Counter
from http.cookies import SimpleCookie

import pytest

from tests.made_pictures import picture
from tests.security.shop import SECRETS, Shop
from tests.security.visitor import Visitor

SESSION = "shotlog-session-"


def session_of(visitor: Visitor) -> str:
    return next(value for name, value in visitor.cookies.items() if SESSION in name)


@pytest.mark.parametrize(("method", "path"), [
    ("GET", "/"), ("GET", "/press/P25"), ("GET", "/parts"), ("GET", "/shift"), ("GET", "/shift/lives.csv"),
    ("GET", "/inserts"), ("GET", "/part/P25/9"), ("GET", "/_dash-layout"),
    ("GET", "/_dash-dependencies"), ("GET", "/assets/shotlog.js"),
    ("GET", "/account"), ("GET", "/accounts"), ("GET", "/no/such/page"), ("HEAD", "/press/P25"),
    ("GET", "/pictures/" + "0" * 64),
    ("POST", "/pictures/?press=P25&shot=9&cavity=1"), ("DELETE", "/pictures/1"),
    ("PUT", "/pictures/1"), ("POST", "/accounts"), ("POST", "/account"), ("POST", "/log-out"), ("OPTIONS", "/parts"),
])  # fmt: skip
def test_nothing_is_shown_or_taken_without_a_session(guarded: Shop, method: str, path: str) -> None:
    """With the right token and Origin: they keep others out, and let nobody in."""
    before = guarded.pictures()
    visitor = guarded.visitor()
    visitor.arrive("/log-in")
    headers = {"Origin": visitor.origin, "Content-Type": "image/jpeg", **visitor.tokens()}
    answer = visitor.ask(path, method, picture() if method != "GET" else None, headers)
    if answer.status in (302, 303):
        assert answer.header("Location").startswith("/log-in")
    else:
        assert answer.status in (401, 403, 405), path
    assert b"P25" not in answer.body
    assert b"B-11" not in answer.body
    assert guarded.pictures() == before


def test_a_token_and_an_origin_of_ours_let_nobody_in(guarded: Shop, people: dict[str, Visitor]) -> None:
    visitor = guarded.visitor()
    visitor.arrive("/log-in")
    for payload in (people["vera"].page_asked("/press/P25"), people["otto"].touched("say", "purge:purge")):
        answer = visitor.call(payload)
        assert answer.status in (401, 403)
        assert b"P25" not in answer.body


def test_a_machine_may_ask_whether_it_is_well_and_hears_no_more(guarded: Shop) -> None:
    assert b"P25" not in guarded.visitor().ask("/healthz").body


def test_a_token_given_beforehand_is_not_taken_over(guarded: Shop, people: dict[str, Visitor]) -> None:
    """Fixation: a cookie that somebody put into the browser before, whether made up or one of a real session."""
    name = next(name for name in people["vera"].cookies if SESSION in name)
    before = guarded.visitor()
    before.log_in("vera", SECRETS["vera"])
    for given in ("a" * 43, session_of(before)):
        visitor = guarded.visitor(cookies={name: given})
        assert visitor.log_in("otto", SECRETS["otto"]).status == 303
        assert session_of(visitor) != given
        assert "otto" not in guarded.visitor(cookies={name: given}).ask("/account").text


def test_tokens_are_long_and_differ(people: dict[str, Visitor]) -> None:
    tokens = [session_of(visitor) for visitor in people.values()]
    assert len(set(tokens)) == len(tokens)
    for token in tokens:
        letters = Counter(token)
        bits = -sum(n * math.log2(n / len(token)) for n in letters.values())
        assert len(token) >= 22, "128 bits in letters of 6"
        assert bits > 64


def test_the_cookie_is_kept_from_scripts_and_other_sites(people: dict[str, Visitor]) -> None:
    (line,) = [line for line in people["otto"].set_cookies if SESSION in line]
    (cookie,) = SimpleCookie(line).values()
    assert cookie["httponly"]
    assert cookie["samesite"] == "Strict"
    assert cookie["path"] == "/"
    assert not cookie["domain"]
    assert "otto" not in cookie.value, "nothing can be read out of it"


def test_neither_token_nor_password_stands_in_an_address(guarded: Shop, people: dict[str, Visitor]) -> None:
    visitor = guarded.visitor()
    visitor.arrive("/log-in")
    answer = visitor.ask(f"/log-in?name=otto&password={SECRETS['vera'].replace(' ', '+')}&csrf_token={visitor.token}")
    assert not any(SESSION in name for name in visitor.cookies), "by an address nobody is logged in"
    assert "lorries" not in answer.text
    token = session_of(people["vera"])
    assert guarded.visitor().ask(f"/press/P25?session={token}&shotlog-session={token}").status in (302, 303)
    for path in ("/", "/account", "/_dash-layout", "/parts"):
        assert token not in people["vera"].ask(path).text, path


ELSEWHERE = (
    "https://evil.example/", "/\\evil.example", "/\t/evil.example", "/x\r\nSet-Cookie: a=b",
)  # fmt: skip


def test_log_in_leads_to_no_other_site(guarded: Shop) -> None:
    visitor = guarded.visitor()
    for goes_to in ELSEWHERE:
        answer = visitor.log_in("vera", SECRETS["vera"], goes_to)
        assert answer.status == 303
        place = answer.header("Location")
        assert re.match(r"/(?![/\\])[^\r\n\t]*$", place), (goes_to, place)
        assert "a=b" not in answer.header("Set-Cookie")
    assert visitor.log_in("vera", SECRETS["vera"], "/part/P25/9").header("Location") == "/part/P25/9"


def test_log_out_ends_the_session(guarded: Shop) -> None:
    visitor = guarded.visitor()
    visitor.log_in("otto", SECRETS["otto"])
    kept = guarded.visitor(cookies=dict(visitor.cookies))
    assert visitor.ask("/log-out").status in (302, 303, 404, 405), "no link or picture logs anybody out"
    assert kept.ask("/account").status == 200
    answer = visitor.send_form("/log-out", {})
    assert answer.status in (200, 204, 302, 303)
    assert kept.ask("/account").status in (302, 303), "the server has forgotten it, whoever kept the cookie"
    assert kept.call({}).status in (401, 403)
    assert "no-store" in kept.ask("/press/P25").header("Cache-Control")


def test_a_name_that_nobody_has_cannot_be_told_from_a_wrong_password(guarded: Shop) -> None:
    """By the words, by the headers and by the time: at least half of what a real name takes."""
    told, took = [], []
    for name in ("anna", "nobody"):
        visitor = guarded.visitor()
        visitor.arrive("/log-in")
        begun = time.process_time_ns(), time.perf_counter()
        answer = visitor.send_form("/log-in", {"name": name, "password": "not the one at all", "next": "/"})
        took.append(time.perf_counter() - begun[1])
        told.append((answer.status, re.sub(r'value="[^"]*"', "", answer.text), sorted(set(answer.headers))))
    assert told[0] == told[1]
    assert took[1] > took[0] / 4, "a password is tried for a name that nobody has as well"


def test_guessing_is_slowed_and_says_nothing(guarded: Shop) -> None:
    visitor = guarded.visitor()
    visitor.arrive("/log-in")
    answers = [
        visitor.send_form("/log-in", {"name": "bert", "password": f"not the one at all {n}", "next": "/"})
        for n in range(8)
    ]
    assert [answer.status for answer in answers].count(429) >= 1
    assert int(next(answer for answer in answers if answer.status == 429).header("Retry-After")) >= 1
    assert all("bert" not in answer.text.replace('value="bert"', "") for answer in answers)


def test_no_secret_is_written_anywhere(guarded: Shop, people: dict[str, Visitor]) -> None:
    guarded.visitor().log_in("otto", "a wrong one with lorries")
    people["vera"].ask("/accounts")
    written = guarded.written()
    for name, visitor in people.items():
        assert SECRETS[name].encode() not in written, name
        assert session_of(visitor).encode() not in written, name
    assert b"a wrong one with lorries" not in written
    assert b"refused a log-in" in guarded.said.read_bytes(), "that somebody was refused is told"
