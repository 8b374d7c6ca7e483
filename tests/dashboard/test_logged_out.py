"""What ended a log-in is said, with what to do; and before it ends, pages are told."""

from collections.abc import Iterator

import pytest
from flask.testing import FlaskClient
from hand_filled import Trial
from logged_in import PASSWORDS, Shop, asked_of, log_in

from dashboard import build
from dashboard.walls.payloads import Payloads
from shotlog.access import passwords

UPDATE = "/_dash-update-component"


@pytest.fixture
def shop(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
    monkeypatch.setattr(Payloads, "wrong", lambda *_: "")
    made = Shop(trial)
    yield made
    made.close()


def why(shop: Shop, client: FlaskClient) -> str:
    """Return what is said to a page that asks, which is what is said where it leads to as well."""
    refused = client.post(UPDATE, json=asked_of(shop.app, "dashboard.app.go"))
    assert (refused.status_code, refused.headers["X-Refused"]) == (401, "log-in")
    said = refused.get_data(as_text=True).strip()
    gone = client.get("/press/P25")
    assert f'<p class="said" role="alert">{said}</p>' in client.get(gone.headers["Location"]).get_data(as_text=True)
    return said


def test_it_is_said_which_it_was_and_what_to_do(shop: Shop) -> None:
    said = "You were logged out: "
    on = "Log in to go on where you were."
    untouched = shop.client("operator")
    shop.trial.clock.advance(7200.0)
    assert why(shop, untouched) == f"{said}nobody touched the page for 120 min. {on}"

    on_the_wall = shop.client("viewer")
    shop.trial.clock.advance(12 * 3600.0)
    assert why(shop, on_the_wall) == f"{said}a log-in lasts 12 h at most. {on}"

    changed = shop.client("operator")
    shop.accounts.set_password("operator", "seven copper spoons", "admin")
    assert why(shop, changed) == (
        f"{said}the password of your account was changed. Log in with the new one; if you do not know it, ask whoever "
        "looks after the accounts."
    )

    closed = shop.client("quality")
    shop.accounts.close("quality", "admin")
    assert why(shop, closed) == f"{said}your account was closed. Ask whoever looks after the accounts."

    oldest = shop.client("viewer")
    for _ in range(20):
        log_in(shop.client(), "viewer", PASSWORDS["viewer"])
    assert why(shop, oldest).startswith(f"{said}your account was logged in at too many places")


def test_pages_that_were_started_anew_say_so(shop: Shop) -> None:
    before = shop.client("operator")
    (session,) = [(name, one.value) for (_, _, name), one in before._cookies.items() if "session" in name]
    client = build(shop.source).server.test_client()
    client.set_cookie(*session)
    gone = client.get("/press/P25")
    assert "You were logged out: the pages were started anew. Log in to go on where you were." in client.get(
        gone.headers["Location"]
    ).get_data(as_text=True)


def test_who_logged_out_in_another_window_is_told_so_and_who_comes_first_is_told_nothing(shop: Shop) -> None:
    client = shop.client("operator")
    client.post("/log-out")
    there = client.get("/log-in?ended=1").get_data(as_text=True)
    assert "You were logged out: Log out was touched in this browser." in there
    assert 'class="said"' not in client.get("/log-in").get_data(as_text=True)


def test_in_its_last_minute_a_log_in_says_by_what_it_ends(shop: Shop) -> None:
    client, ends = shop.client("operator"), "X-Log-In-Ends"
    beat = asked_of(shop.app, "dashboard.presses.page.refresh") | {"changedPropIds": ["presses-tick.n_intervals"]}
    shop.trial.clock.advance(7139.0)
    assert ends not in client.post(UPDATE, json=beat).headers
    shop.trial.clock.advance(1.0)
    assert client.post(UPDATE, json=beat).headers[ends] == "idle"
    for shown in ("/assets/none.svg", f"/pictures/{'0' * 64}"):
        assert client.get(shown).headers[ends] == "idle", "what a page shows is fetched by itself"
    assert ends not in client.head("/account").headers, "a touch puts it off"
    for _ in range(10):
        shop.trial.clock.advance(3600.0)
        client.head("/account")
    shop.trial.clock.advance(43200.0 - 36000.0 - 7140.0 - 45.0)
    assert client.head("/account").headers[ends] == "over"
