"""Who is let in: every route and every callback has a row that says what it takes, and the gate keeps to it."""

import json
import logging
import re
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from dash import Dash
from flask.testing import FlaskClient
from hand_filled import Trial
from logged_in import PASSWORDS, Shop, asked_of, log_in

from dashboard import build
from dashboard.access.needed import ASSETS, CALLBACKS, OPEN, ROUTES
from dashboard.walls.payloads import Payloads
from shotlog.access import passwords
from shotlog.access.roles import ACTS, ROLES, may
from shotlog.clock import iso_utc
from shotlog.store.account_changes import account_changes
from shotlog.store.asked.entries_made import entries_made

ODD = "nine tin whistles"
UPDATE = "/_dash-update-component"


@pytest.fixture
def shop(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
    trial.log.append([])
    made = Shop(trial)
    yield made
    made.close()


def rules(shop: Shop) -> list[tuple[str, str]]:
    """Return every rule of the application with each of its methods but OPTIONS and HEAD."""
    return [
        (rule.rule, method)
        for rule in shop.app.server.url_map.iter_rules()
        for method in (rule.methods or set()) - {"OPTIONS", "HEAD"}
    ]


def callbacks(shop: Shop) -> list[str]:
    """Return every callback that the server answers, by module and name."""
    made = [getattr(known.get("callback"), "__wrapped__", None) for known in shop.app.callback_map.values()]
    return [f"{one.__module__}.{one.__name__}" for one in made if one is not None]


def address(rule: str) -> str:
    return re.sub("<[^>]*number>", "1", re.sub("<(?![^>]*number)[^>]*>", "some.csv", rule))


def test_every_route_and_callback_has_a_row_and_every_row_is_one(shop: Shop) -> None:
    assert sorted(rules(shop)) == sorted((rule, method) for rule, row in ROUTES.items() for method in row)
    assert sorted(callbacks(shop)) == sorted(CALLBACKS)
    acts = {*CALLBACKS.values(), *(act for row in ROUTES.values() for act in row.values())}
    assert acts <= {*ACTS, OPEN}


@pytest.fixture
def any_shape(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a callback be asked with nothing in it: what is tried here is who may, and not what may be sent."""
    monkeypatch.setattr(Payloads, "wrong", lambda *_: "")


@pytest.mark.usefixtures("any_shape")
def test_whoever_is_not_logged_in_gets_to_log_in_and_to_nothing_else(shop: Shop) -> None:
    client = shop.client()
    open_to_all = {(rule, method) for rule, row in ROUTES.items() for method, act in row.items() if act == OPEN}
    for rule, method in rules(shop):
        answer = client.open(address(rule), method=method, json={} if rule == UPDATE else None)
        if (rule, method) in open_to_all:
            assert answer.status_code != 401 or rule == "/log-in"
        elif rule in ("/", "/<path:path>", "/account", "/accounts") and method == "GET":
            assert answer.status_code == 302
            assert answer.headers["Location"].startswith("/log-in?next=/")
        else:
            assert answer.status_code == 401, (rule, method)
            assert answer.get_data(as_text=True) == "Log in first.\n"
    for function in CALLBACKS:
        assert client.post(UPDATE, json=asked_of(shop.app, function)).status_code == 401, function
    for asset in ("shotlog.css", "../app.py", "log-in.css/../shotlog.css"):
        assert client.get(f"/assets/{asset}").status_code in (401, 404)
    for asset in ASSETS:
        client.get(f"/assets/{asset}").close()


@pytest.mark.usefixtures("any_shape")
@pytest.mark.parametrize("role", ROLES)
def test_a_role_is_refused_what_its_row_does_not_allow(shop: Shop, role: str) -> None:
    client = shop.client(role)
    for rule, row in ROUTES.items():
        for method, act in row.items():
            if act != OPEN and rule not in (UPDATE, "/account", "/accounts"):
                answer = client.open(address(rule), method=method)
                assert (answer.status_code == 403) == (not may(role, act)), (rule, method)
                answer.close()
    for function, act in CALLBACKS.items():
        if not may(role, act):
            assert client.post(UPDATE, json=asked_of(shop.app, function)).status_code == 403, function
    unknown = asked_of(shop.app, "dashboard.app.go") | {"output": "unknown.children"}
    assert client.post(UPDATE, json=unknown).status_code == 403


def touch_at_the_press(shop: Shop, client: FlaskClient, what: str, arg: str) -> Any:
    """Touch a button at the press, with initials typed that are not one's own."""
    known = asked_of(shop.app, "dashboard.press.entry_panel.touched")
    values = {"touch": {"what": what, "arg": arg, "at": 1.0}, "press": "P25", "initials": "XX"}

    def filled(parts: list[dict[str, Any]]) -> list[Any]:
        return [part | {"value": values[part["id"]]} if part["id"] in values else [] for part in parts]

    asked = known | {
        "outputs": [{"id": name, "property": "children"} for name in ("panel", "said", "refused")],
        "changedPropIds": ["touch.data"],
        "inputs": filled(known["inputs"]),
        "state": filled(known["state"]),
    }
    return client.post(UPDATE, json=asked)


def test_a_viewer_cannot_enter_and_an_operator_can(shop: Shop) -> None:
    shop.trial.shots(3)
    refused = touch_at_the_press(shop, shop.client("viewer"), "say", "pause:pause")
    assert (refused.status_code, refused.get_data(as_text=True)) == (
        403,
        "You are logged in as viewer: entering takes the role operator or one above it.\n",
    )
    assert entries_made(shop.trial.log) == []
    taken = touch_at_the_press(shop, shop.client("operator"), "say", "pause:pause")
    assert taken.status_code == 200
    assert [(one.kind, one.initials) for one in entries_made(shop.trial.log)] == [("event", "OP")]


def test_a_log_in_gives_a_new_token_each_time_and_a_cookie_that_no_script_reads(shop: Shop) -> None:
    client = shop.client()
    client.get("/press/P25")
    first = log_in(client, " OPERATOR ", PASSWORDS["operator"], back="/press/P25?x=1")
    assert (first.status_code, first.headers["Location"]) == (303, "/press/P25?x=1")
    cookies = {one.split("=")[0]: one for one in first.headers.getlist("Set-Cookie")}
    session = next(one for name, one in cookies.items() if "session" in name)
    assert "HttpOnly" in session
    assert "SameSite=Strict" in session
    client.get("/account")
    second = log_in(client, "operator", PASSWORDS["operator"])
    assert session.split(";")[0] not in str(second.headers)
    old = shop.app.server.test_client()
    old.set_cookie(*session.split(";")[0].split("=", 1))
    assert old.get("/").status_code == 302, "the token before is nobody's"


def test_it_leads_on_to_no_other_machine(shop: Shop) -> None:
    client = shop.client()
    for back in ("//evil.test", "/\\evil.test", "https://evil.test", "javascript:x", "/a b", "", "x"):
        assert log_in(client, "operator", PASSWORDS["operator"], back=back).headers["Location"] == "/"
        client.get("/account")


def test_a_wrong_name_and_a_wrong_password_are_told_alike_and_noted_without_what_was_typed(
    shop: Shop, caplog: pytest.LogCaptureFixture
) -> None:
    client = shop.client()
    one, other = log_in(client, "operator", "hush-hush-hush"), log_in(client, "hush-hush-hush", "hush-hush-hush")
    assert one.status_code == other.status_code == 401
    said = [re.search('class="said"[^>]*>([^<]*)<', answer.get_data(as_text=True)) for answer in (one, other)]
    assert [found and found[1] for found in said] == ["Name or password is wrong."] * 2
    assert [record.getMessage() for record in caplog.records if record.levelno >= logging.WARNING] == [
        "the pages refused a log-in by a wrong name or password (operator): from 10.0.0.7",
        "the pages refused a log-in by a wrong name or password (a name that nobody has): from 10.0.0.7",
    ]


def test_a_name_that_nobody_has_takes_the_same_work(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """Time is not measured: what is compared is what it is made of, one password against one that is kept."""
    from dashboard.access import door

    compared = []
    monkeypatch.setattr(door, "matches", lambda _password, kept: compared.append(kept.split("$")[0]))
    client = shop.client()
    for name in ("operator", "nobody"):
        log_in(client, name, "hush-hush-hush")
    assert compared == ["scrypt:1024:8:1"] * 2


def test_after_a_few_wrong_ones_a_right_one_waits_and_then_comes_in(shop: Shop) -> None:
    client = shop.client()
    for _ in range(5):
        log_in(client, "operator", "hush-hush-hush")
    waits = log_in(client, "operator", PASSWORDS["operator"])
    assert (waits.status_code, waits.headers["Retry-After"]) == (429, "2")
    assert "Too many tries went wrong. Try again in 1 s." in waits.get_data(as_text=True)
    shop.trial.clock.advance(1.0)
    assert log_in(client, "operator", PASSWORDS["operator"]).status_code == 303


def test_however_many_log_in_at_once_other_pages_are_answered(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """Working a password out takes a fifth of a second, one after the other; all threads would wait for that."""
    from dashboard.access import door

    looking = threading.BoundedSemaphore(1)
    monkeypatch.setattr(door, "_WAITS_S", 0.0)
    monkeypatch.setattr(door.threading, "BoundedSemaphore", lambda _n: looking)
    client = build(shop.source).server.test_client()
    client.get("/log-in")
    with looking:
        waits = log_in(client, "operator", PASSWORDS["operator"])
    assert waits.status_code == 429
    assert "Others are logging in just now. Try again." in waits.get_data(as_text=True)
    assert log_in(client, "operator", PASSWORDS["operator"]).status_code == 303


def test_a_page_that_beats_by_itself_does_not_keep_a_log_in(shop: Shop) -> None:
    client = shop.client("operator")
    beat = asked_of(shop.app, "dashboard.presses.page.refresh") | {
        "outputs": None,
        "changedPropIds": ["presses-tick.n_intervals"],
    }
    for _ in range(5):
        shop.trial.clock.advance(1500.0)
        last = client.post(UPDATE, json=beat)
    assert last.status_code in (400, 401)
    gone = client.get("/press/P25")
    assert gone.headers["Location"] == "/log-in?next=/press/P25&ended=1"
    said = client.get(gone.headers["Location"]).get_data(as_text=True)
    assert "You were logged out: nobody touched the page for 120 min. Log in to go on where you were." in said
    assert client.get("/_dash-layout").status_code == 401


@pytest.mark.usefixtures("any_shape")
def test_what_a_page_asks_by_itself_keeps_no_log_in_however_far_on(shop: Shop) -> None:
    """A new shot changed the ledger, that the groups of the curve, and those drew it: it counted as a touch."""
    asks: dict[tuple[str, ...], tuple[str, bool]] = {
        ("ledger-tick.n_intervals",): ("inserts.page.refresh", False),
        ("ledger-shown.data",): ("inserts.page.choose", False),
        ("curve-groups.data", "ledger-shown.data"): ("inserts.page.draw", False),
        ("curve-factor.data",): ("inserts.page.choose", True),
        ("touch.data",): ("press.entry_panel.touched", True),
        ("parts-tick.n_intervals",): ("parts.page.refresh", False),
        ("parts-entered.data", "parts-tick.n_intervals"): ("parts.page.refresh", True),
        ("shift-tick.n_intervals",): ("shift.page.tick", False),
        ("shift-press.value",): ("shift.page.steer", True),
        (): ("presses.page.refresh", True),
    }
    for changed, (function, is_kept) in asks.items():
        client = shop.client("operator")
        for _ in range(2):
            shop.trial.clock.advance(shop.settings.login.idle_min * 45.0)
            client.post(UPDATE, json=asked_of(shop.app, f"dashboard.{function}") | {"changedPropIds": [*changed]})
        assert (client.get("/_dash-layout").status_code == 200) == is_kept, changed


def test_an_account_that_is_closed_is_out_at_once(shop: Shop) -> None:
    client = shop.client("operator")
    assert client.get("/_dash-layout").status_code == 200
    shop.accounts.close("operator", "root at press-pc")
    assert client.get("/_dash-layout").status_code == 401
    assert log_in(client, "operator", PASSWORDS["operator"]).status_code == 401


def test_logging_out_ends_it_on_the_server(shop: Shop) -> None:
    client = shop.client("operator")
    kept = [(name, one.value) for (_, _, name), one in client._cookies.items() if "session" in name]
    assert client.post("/log-out").status_code == 303
    other = shop.app.server.test_client()
    for name, value in kept:
        other.set_cookie(name, value)
    assert other.get("/").status_code == 302
    assert client.get("/").headers["Location"] == "/log-in?next=/"


def test_who_is_logged_in_stands_in_the_head_of_every_page(shop: Shop) -> None:
    layout = json.dumps(shop.client("quality").get("/_dash-layout").get_json())
    assert '"Log out"' in layout
    assert '"children": "quality"' in layout


def test_a_password_is_changed_by_its_owner_and_every_other_log_in_of_it_ends(shop: Shop) -> None:
    here, there = shop.client("operator"), shop.client("operator")
    new = "seven copper spoons"

    def change(now: str, new: str, again: str) -> Any:
        return here.post("/account", data={"password": now, "new": new, "again": again})

    for wrong, said in (
        (("hush-hush-hush", new, new), "Name or password is wrong."),
        ((PASSWORDS["operator"], new, "another one"), "type the same twice"),
        ((PASSWORDS["operator"], "short", "short"), "given 5 characters, allowed: 12 to 128"),
    ):
        refused = change(*wrong)
        assert refused.status_code == 422
        assert said in refused.get_data(as_text=True)
        assert "hush" not in refused.get_data(as_text=True)
    done = change(PASSWORDS["operator"], new, new)
    assert (done.status_code, done.headers["Location"]) == (303, "/account?changed=1")
    assert "The password is changed." in here.get("/account?changed=1").get_data(as_text=True)
    assert here.get("/_dash-layout").status_code == 200
    assert there.get("/_dash-layout").status_code == 401
    changed = account_changes(shop.trial.log)[-1]
    assert (changed.account, changed.change, changed.by) == ("operator", "password", "operator")
    assert iso_utc(changed.time) == iso_utc(shop.trial.clock.now())


def test_whoever_looks_after_the_accounts_does_it_on_a_page_of_its_own(shop: Shop) -> None:
    assert shop.client("quality").get("/accounts").status_code == 403
    admin, operator = shop.client("admin"), shop.client("operator")
    refused = shop.client("quality").post("/accounts", data={"what": "close", "name": "admin"})
    assert refused.status_code == 403

    def asks(own: str = PASSWORDS["admin"], **form: str) -> tuple[int, str]:
        answer = admin.post("/accounts", data=form | {"own": own})
        text = answer.get_data(as_text=True)
        assert ODD not in text
        found = re.search('class="said"[^>]*>([^<]*)<', text)
        return answer.status_code, found[1] if found else ""

    for own in ("", PASSWORDS["operator"]):
        refused_too = asks(own, what="add", name="kb", initials="KB", role="admin", new=ODD)
        assert refused_too == (422, "That is not your own password: nothing was changed.")
    assert [one.name for one in shop.accounts.all()] == ["admin", "quality", "operator", "viewer"]
    assert asks(what="add", name="kb", initials="KB", role="operator", new=ODD) == (
        200,
        "kb (operator, signs KB): made.",
    )
    assert asks(what="add", name="KB", initials="K2", role="viewer", new=ODD)[0] == 422
    assert asks(what="role", name="kb", role="quality") == (200, "kb (quality, signs KB): from the next touch on.")
    assert asks(what="password", name="kb", new="short") == (
        422,
        "password: given 5 characters, allowed: 12 to 128 characters, any of them",
    )
    assert asks(what="close", name="operator") == (200, "operator: closed, and out of the pages at once.")
    assert operator.get("/_dash-layout").status_code == 401
    assert asks(what="close", name="admin") == (422, "account admin: it is the last admin; make another one first")
    assert asks(what="open the door")[0] == 422
    said = admin.get("/accounts").get_data(as_text=True)
    assert "kb: made quality (" in said
    assert said.index("operator: closed (") < said.index("kb: made quality (") < said.index("kb: made as operator")
    assert {one.by for one in account_changes(shop.trial.log)} == {"root at press-pc", "admin"}


def test_a_screen_that_was_left_open_tries_passwords_no_faster_than_a_log_in(shop: Shop) -> None:
    admin = shop.client("admin")
    answers = [admin.post("/accounts", data={"what": "close", "name": "viewer", "own": str(n)}) for n in range(6)]
    assert "Too many tries went wrong." in answers[-1].get_data(as_text=True)
    assert "Too many tries" not in answers[4].get_data(as_text=True)


def test_a_person_is_told_what_was_changed_of_the_account_and_by_whom(shop: Shop) -> None:
    def told(role: str) -> list[str]:
        return re.findall("Changed last: (.*?)</p>", shop.client(role).get("/account").get_data(as_text=True))

    admin = shop.client("admin")
    shop.trial.clock.advance(60.0)
    for form in ({"what": "role", "role": "viewer"}, {"what": "role", "role": "operator"}):
        admin.post("/accounts", data=form | {"name": "operator", "own": PASSWORDS["admin"]})
        shop.trial.clock.advance(60.0)
    admin.post("/accounts", data={"what": "password", "name": "operator", "new": ODD, "own": PASSWORDS["admin"]})
    shop.accounts.set_password("operator", PASSWORDS["operator"], "admin")
    password, role, made = told("operator")
    assert password.startswith("another password (")
    assert password.endswith(", by admin).")
    assert role.startswith("made operator (")
    assert made.startswith("made as operator, signs OP (")
    assert [line.partition(" (")[0] for line in told("quality")] == ["made as quality, signs QU"]


def test_accounts_that_do_not_read_let_nobody_in(shop: Shop) -> None:
    client = shop.client("admin")
    shop.settings.accounts.write_text("{", encoding="utf-8")
    assert client.get("/_dash-layout").status_code == 401
    answer = log_in(client, "admin", PASSWORDS["admin"])
    assert answer.status_code == 503
    assert str(shop.settings.accounts) not in answer.get_data(as_text=True)


def test_the_machine_that_watches_is_told_only_whether_logging_is_at_work(shop: Shop) -> None:
    shop.trial.shots(3)
    assert shop.client().get("/healthz").get_json().keys() == {"ok"}
    assert {"ok", "state"} < shop.client("viewer").get("/healthz").get_json().keys()


def test_on_the_machine_itself_nobody_logs_in(trial: Trial, app: Dash) -> None:
    client = app.server.test_client()
    assert client.get("/_dash-layout").status_code == 200
    assert client.get("/account").status_code == 404
    assert not Path(trial.settings.accounts).exists()
