"""A real browser on the pages of a shop's log."""

import os
import shutil
import threading
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from werkzeug.serving import make_server

from dashboard import Source, build
from shotlog.clock import HandClock
from shotlog.settings import load
from tests.examined.shop import Shop


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    names = ("chromium", "chromium-browser", "google-chrome")
    path = next((found for found in map(shutil.which, names) if found), None)
    if path is None:
        why = "no Chromium found, so the pages were not looked at (install one: apt install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(why)
        pytest.skip(why)
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=path, args=["--headless", "--no-sandbox", "--disable-gpu"]
        )
        yield launched
        launched.close()


@pytest.fixture
def opened(browser: Browser) -> Iterator[Callable[[Shop, str], Page]]:
    """Open a page on the log of a shop, at the time its clock shows."""
    stop: list[Callable[[], object]] = []

    def go(shop: Shop, path: str) -> Page:
        source = Source(load(shop.config), HandClock(shop.now))
        server = make_server("127.0.0.1", 0, build(source).server, threaded=True)
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        stop.extend([source.close, server.server_close, thread.join, server.shutdown, page.close])
        page.goto(f"http://127.0.0.1:{server.server_port}{path}")
        page.wait_for_selector("main h1")
        page.wait_for_load_state("networkidle")
        return page

    yield go
    for each in reversed(stop):
        each()
