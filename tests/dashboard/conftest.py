"""A trial filled by hand, the screens served from it on a free port, and a real browser that looks at them."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from dash import Dash
from hand_filled import Trial
from playwright.sync_api import Browser, expect, sync_playwright
from served import Served, Viewers

from dashboard import Source, build

BROWSER_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


@pytest.fixture
def trial(tmp_path: Path) -> Iterator[Trial]:
    made = Trial(tmp_path)
    yield made
    made.close()


@pytest.fixture
def source(trial: Trial) -> Iterator[Source]:
    made = Source(trial.settings, trial.clock)
    yield made
    made.close()


@pytest.fixture
def app(source: Source) -> Dash:
    return build(source)


@pytest.fixture
def serve() -> Iterator[Callable[[Dash], Served]]:
    running: list[Served] = []

    def start(app: Dash) -> Served:
        running.append(Served(app))
        return running[-1]

    yield start
    for served in running:
        served.stop()


@pytest.fixture
def served(app: Dash, serve: Callable[[Dash], Served]) -> Served:
    return serve(app)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    names = ("chromium", "chromium-browser", "google-chrome")
    path = next((found for found in map(shutil.which, names) if found), None)
    if path is None:
        why = "no Chromium found, so the page was not looked at (install one: apt install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(why)
        pytest.skip(why)
    expect.set_options(timeout=20_000)
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=path, args=list(BROWSER_FLAGS))
        yield launched
        launched.close()


@pytest.fixture
def viewers(browser: Browser, served: Served) -> Iterator[Viewers]:
    """Pages on the served trial; the test fails if one had an error or asked anything of another machine."""
    opened = Viewers(browser, served.url)
    yield opened
    opened.close()
    assert opened.wrong == []
