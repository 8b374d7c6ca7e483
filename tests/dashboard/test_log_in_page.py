"""Played in a browser: log in, enter, be refused what the role does not allow, log out, and a log-in that runs out."""

from collections.abc import Callable, Iterator

import pytest
from barriers import barriers
from dash import Dash
from hand_filled import Trial
from logged_in import PASSWORDS, Shop
from playwright.sync_api import Page, Response
from served import SIZES, Served, too_small_for_a_glove
from touched import headline, touch

from shotlog.access import passwords
from shotlog.store.asked.entries_made import entries_made
from tests.chromium import Chromium

pytestmark = pytest.mark.browser


_UNDER_THE_HEAD = """() => {
    const head = document.querySelector('header').getBoundingClientRect();
    return [...document.querySelectorAll('#switch a')].filter(link => {
        const box = link.getBoundingClientRect();
        return box.right > head.left + 1 && box.bottom > head.top + 1 && box.top < head.bottom - 1;
    }).map(link => link.textContent);
}"""


_ROWS_OF_THE_HEAD = """() => {
    const shown = [...document.querySelectorAll('header :is(a, button)')].filter(one => one.checkVisibility());
    const boxes = shown.map(one => one.getBoundingClientRect());
    return [Math.round(Math.max(...boxes.map(box => box.bottom)) - Math.min(...boxes.map(box => box.top)))];
}"""


@pytest.fixture
def shop(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
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


def _is_beat(answer: Response) -> bool:
    return '"changedPropIds":["parts-tick.n_intervals"]' in (answer.request.post_data or "")


def log_in(page: Page, role: str, password: str = "") -> None:
    page.get_by_label("Name").fill(role)
    page.get_by_label("Password").fill(password or PASSWORDS[role])
    page.get_by_role("button", name="Log in").click()


def test_a_shift_at_a_press_that_asks_who_is_there(page: Page, shop: Shop) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto("/press/P25")
    assert page.title() == "shotlog"
    assert barriers(page) == []
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        assert too_small_for_a_glove(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    page.get_by_label("Password").fill("hush-hush-hush")
    page.get_by_label("Show it").check()
    assert page.get_by_label("Password").get_attribute("type") == "text"
    page.get_by_label("Show it").uncheck()
    assert page.get_by_label("Password").get_attribute("type") == "password"
    page.get_by_label("Show it").check()
    log_in(page, "operator", "hush-hush-hush")
    page.get_by_text("Name or password is wrong.").wait_for()
    log_in(page, "operator")
    headline(page).wait_for()
    assert page.url.endswith("/press/P25")
    assert page.locator("header .who").inner_text().split() == ["operator", "operator"]
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        assert [one for one in too_small_for_a_glove(page) if "log-out" in one or "who" in one] == []
        assert page.evaluate(_UNDER_THE_HEAD) == []
        assert page.evaluate(_ROWS_OF_THE_HEAD) == [48], "one row, and no button that wraps"
    touch(page, "Pause")
    page.locator(".said", has_text="ause").wait_for()
    (made,) = [one for one in entries_made(shop.trial.log) if one.kind == "event"]
    assert made.initials == "OP", "the account signs, whatever stands in the field"

    # what an operator may not: to decide on parts; a look that is demoted meanwhile is told so, and nothing is entered
    shop.accounts.set_role("operator", "viewer", "admin")
    touch(page, "Purge")
    refused = page.locator(".not-allowed")
    refused.wait_for()
    assert refused.inner_text().strip() == (
        "You are logged in as viewer: entering takes the role operator or one above it."
    )
    page.goto("/press/P25")
    page.locator(".desk", has_text="entering takes the role operator").wait_for()
    assert page.get_by_role("button", name="Swapped").count() == 0
    assert len([one for one in entries_made(shop.trial.log) if one.kind == "event"]) == 1

    page.locator("header .who").click()
    page.get_by_role("heading", name="Your account").wait_for()
    assert barriers(page) == []
    page.get_by_role("link", name="Back to the press").click()
    headline(page).wait_for()
    page.get_by_role("button", name="Log out").click()
    page.get_by_role("heading", name="Log in").wait_for()
    page.goto("/parts")
    assert "/log-in?next=/parts" in page.url

    log_in(page, "admin")
    headline_of_parts = page.get_by_role("heading", name="Parts and baths")
    headline_of_parts.wait_for()
    page.goto("/accounts")
    page.get_by_text("operator (viewer, signs OP)").click()
    assert barriers(page) == []
    assert too_small_for_a_glove(page) == []
    page.goto("/parts")
    headline_of_parts.wait_for()
    page.get_by_role("button", name="Log out").click()
    page.get_by_role("heading", name="Log in").wait_for()
    page.goto("/parts")

    # a log-in that nobody touches runs out while the page goes on asking by itself
    log_in(page, "quality")
    headline_of_parts.wait_for()
    with page.expect_response(_is_beat):  # what opening the page asks is a touch
        pass
    shop.trial.clock.advance(119 * 60.0)
    with page.expect_response(_is_beat) as beat:
        pass
    assert beat.value.status == 200
    shop.trial.clock.advance(61.0)
    page.get_by_text("You were logged out: nobody touched the page for 120 min.").wait_for()
    assert "next=%2Fparts" in page.url
    assert all(url.startswith(("http://127.0.0.1:", "data:", "blob:")) for url in asked)
