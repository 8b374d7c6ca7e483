"""Played in a browser: a log-in ends while something is typed. The page stays, and after the next it is there again."""

from collections.abc import Callable, Iterator

import pytest
from dash import Dash
from hand_filled import Trial
from logged_in import PASSWORDS, Shop
from playwright.sync_api import Page, Route, expect
from served import SIZES, Served, too_small_for_a_glove
from touched import headline, picked, touch

from shotlog.access import passwords
from shotlog.store.asked.entries_made import entries_made
from tests.chromium import Chromium, until

pytestmark = pytest.mark.browser

STAYS = "You are logged out. What you typed is not entered and stays here; log in to enter it."
AGAIN = "What you typed before you were logged out is here again. It is not entered yet."
KEPT = "sessionStorage.getItem('typed')"


@pytest.fixture
def shop(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(12)
    made = Shop(trial)
    yield made
    made.close()


@pytest.fixture
def page(browser: Chromium, shop: Shop, serve: Callable[[Dash], Served]) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, base_url=serve(shop.app).url)
    opened = context.new_page()
    yield opened
    context.close()


def log_in(page: Page, role: str) -> None:
    page.get_by_label("Name").fill(role)
    page.get_by_label("Password").fill(PASSWORDS[role])
    page.get_by_role("button", name="Log in").click()


def notice(page: Page, words: str) -> None:
    expect(page.locator(".typed-open b")).to_have_text(words)


def test_what_is_typed_at_the_press_outlives_the_log_in(page: Page, shop: Shop) -> None:
    page.goto("/press/P25")
    log_in(page, "operator")
    headline(page).wait_for()
    touch(page, "Finding")
    picked(page, "fixed").click()
    field = page.get_by_label("Something else")
    with page.expect_response("**/account"):  # whoever types is at work
        field.fill("burr at the gate")

    # a minute before it ends it is said, and a touch puts it off
    shop.trial.clock.advance(119.5 * 60.0)
    notice(page, "You will be logged out within a minute. What you typed is not entered yet.")
    touch(page, "Stay logged in")
    expect(page.locator(".typed-open")).to_have_count(0)

    shop.trial.clock.advance(7200.0)
    notice(page, STAYS)
    expect(page.locator(".typed-open small")).to_contain_text("nobody touched the page for 120 min")
    assert page.url.endswith("/press/P25")
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        assert [one for one in too_small_for_a_glove(page) if "Log in" in one] == []
        assert page.evaluate("document.querySelector('.typed-open').getBoundingClientRect().right <= innerWidth")
    assert field.input_value() == "burr at the gate"
    field.fill("burr at the gate, 2 mm")

    page.get_by_role("link", name="Log in").click()
    page.get_by_text("You were logged out: nobody touched the page for 120 min.").wait_for()
    log_in(page, "operator")
    notice(page, AGAIN)
    assert page.evaluate(KEPT) is None
    expect(field).to_have_value("burr at the gate, 2 mm")
    expect(picked(page, "fixed")).to_have_attribute("aria-pressed", "true")
    assert [one.kind for one in entries_made(shop.trial.log)].count("event") == 0
    touch(page, "Enter")
    page.locator(".said", has_text="burr at the gate, 2 mm").wait_for()
    assert [one.initials for one in entries_made(shop.trial.log) if one.kind == "event"] == ["OP"]

    # an answer that was on its way when the log-in ended takes back nothing; for another account nothing is kept
    touch(page, "Finding")
    late: list[Route] = []
    page.route("**/account", lambda route: late.append(route))
    field.fill("flash")
    shop.trial.clock.advance(7200.0)
    notice(page, STAYS)
    with page.expect_response("**/account"):
        late.pop().fulfill(status=200)
    page.unroute("**/account")
    page.evaluate("new Promise((seen) => requestAnimationFrame(() => requestAnimationFrame(seen)))")
    notice(page, STAYS)
    assert "eleven brass" not in page.evaluate(KEPT)
    page.get_by_role("link", name="Log in").click()
    log_in(page, "quality")
    headline(page).wait_for()
    until(page, f"{KEPT} === null")
    expect(page.locator(".panel, .typed-open")).to_have_count(0)
    shop.trial.clock.advance(7200.0)
    page.get_by_role("heading", name="Log in").wait_for()


def test_what_is_typed_at_the_bench_does_too(page: Page, shop: Shop) -> None:
    page.goto("/parts")
    log_in(page, "quality")
    page.get_by_label("Part: shot number").fill("7")
    touch(page, "Look up")
    page.get_by_text("Another dimension").click()
    page.get_by_label("Name").fill("wall")
    page.get_by_label("Value, mm").fill("10,25")
    shop.trial.clock.advance(7200.0)
    notice(page, STAYS)
    page.get_by_role("link", name="Log in").click()
    log_in(page, "quality")
    notice(page, AGAIN)
    expect(page.get_by_label("Value, mm")).to_have_value("10,25")
    touch(page, "Enter")
    page.locator(".parts-said", has_text="wall").wait_for()
