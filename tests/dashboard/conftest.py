"""A trial filled by hand, the screens served from it on a free port, and a real browser that looks at them."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from dash import Dash
from hand_filled import Trial
from served import Served, Viewers

from dashboard import Source, build
from tests.chromium import Chromium, chromium_at_home


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


@pytest.fixture(scope="session")
def profile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("profile")


@pytest.fixture(scope="module")
def browser(profile: Path) -> Iterator[Chromium]:
    with chromium_at_home(profile) as opened:
        yield opened


@pytest.fixture
def viewers(browser: Chromium, served: Served) -> Iterator[Viewers]:
    """Pages on the served trial; the test fails if one had an error or asked anything of another machine."""
    opened = Viewers(browser, served.url)
    yield opened
    opened.close()
    assert opened.wrong == []
