"""A trial filled by hand, the screens served from it on a free port, and a real browser that looks at them."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from dash import Dash
from hand_filled import Trial
from served import Served, Viewers

from dashboard import Source, build
from tests.chromium import Chromium, chromium_at_home

_BROWSER, _KEPT = pytest.StashKey[Chromium](), pytest.StashKey[ExitStack]()


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


@pytest.fixture
def browser(profile: Path, request: pytest.FixtureRequest) -> Chromium:
    """The browser of this room, kept from one of its files to the next: to start one takes longer than many tests."""
    kept = request.config.stash.setdefault(_KEPT, ExitStack())
    opened = request.config.stash.get(_BROWSER, None)
    if opened is None:
        opened = request.config.stash[_BROWSER] = kept.enter_context(chromium_at_home(profile))
    return opened


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None) -> Iterator[None]:
    """End it where the next test is of another room, which may start its own: two in a process stop each other."""
    try:
        yield
    finally:
        if _BROWSER in item.config.stash and (nextitem is None or nextitem.path.parent != item.path.parent):
            del item.config.stash[_BROWSER]
            item.config.stash[_KEPT].close()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Let the tests of this room follow one another, for the browser's sake."""
    items.sort(key=lambda item: item.path.parent != Path(__file__).parent)


@pytest.fixture
def viewers(browser: Chromium, served: Served) -> Iterator[Viewers]:
    """Pages on the served trial; the test fails if one had an error or asked anything of another machine."""
    opened = Viewers(browser, served.url)
    yield opened
    opened.close()
    assert opened.wrong == []
