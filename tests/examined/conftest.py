"""A real browser on the pages of a shop's log."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from filelock import FileLock
from playwright.sync_api import Browser, Page

from dashboard import Source, build
from shotlog.clock import HandClock
from shotlog.settings import load
from tests.chromium import chromium
from tests.dashboard.served import Served
from tests.examined.full_day import AFTER, fill
from tests.examined.shop import Shop


@pytest.fixture(scope="session")
def made_day(request: pytest.FixtureRequest, of_this_run: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the whole made-up day, made once: by all processes of a run together, where logs are files."""
    shared = request.config.getoption("--engine") == "sqlite"
    folder = of_this_run / "made-day" if shared else tmp_path_factory.mktemp("made-day")
    made = folder / "made"
    with FileLock(of_this_run / "made-day.lock"):
        if not made.exists():
            folder.mkdir(exist_ok=True)
            with pytest.MonkeyPatch.context() as patch:
                fill(Shop(folder, patch))
            made.touch()
    return folder


@pytest.fixture(scope="module")
def whole(made_day: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """The shop on the day after the made-up one, of this module alone."""
    with pytest.MonkeyPatch.context() as patch:
        shop = Shop.after(made_day, tmp_path_factory.mktemp("whole"), patch)
        shop.now = AFTER
        yield shop


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
