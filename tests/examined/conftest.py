"""A real browser on the pages of a shop's log."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, Page

from dashboard import Source, build
from shotlog.clock import HandClock
from shotlog.settings import load
from tests.chromium import chromium
from tests.dashboard.served import Served
from tests.examined.shop import Shop


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as launched:
        yield launched


@pytest.fixture
def opened(browser: Browser) -> Iterator[Callable[[Shop, str], Page]]:
    """Open a page on the log of a shop, at the time its clock shows."""
    stop: list[Callable[[], object]] = []

    def go(shop: Shop, path: str) -> Page:
        source = Source(load(shop.config), HandClock(shop.now))
        served = Served(build(source))
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        stop.extend([source.close, served.stop, page.close])
        page.goto(f"{served.url}{path}")
        page.wait_for_selector("main h1")
        page.wait_for_load_state("networkidle")
        return page

    yield go
    for each in reversed(stop):
        each()
