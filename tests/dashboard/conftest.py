"""A trial filled by hand, the screens served from it on a free port, and a real browser that looks at them."""

import logging
import os
import shutil
import threading
from collections.abc import Callable, Iterator, Mapping
from math import exp
from pathlib import Path
from random import Random
from typing import Any

import pytest
from dash import Dash
from playwright.sync_api import Browser, Page, Response, expect, sync_playwright
from werkzeug.serving import BaseWSGIServer, make_server

from dashboard import Source, build
from shotlog.clock import HandClock
from shotlog.recorder.judge import Judge
from shotlog.records import Link, Shot
from shotlog.settings import Settings, load
from shotlog.store import entries
from shotlog.store.log import Log, open_log
from shotlog.store.presence import touch

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[[press]]
name = "P15"
  [press.collector]
  kind = "recording"
[design.cap-r2.limits]
cushion = { low = 4.2 }
"""

BROWSER_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


class Trial:
    """A log with a hand-driven clock; shots come every 75 s, settle over the first few and have seeded noise."""

    def __init__(self, folder: Path) -> None:
        (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
        self.file = folder / "trial.toml"
        self.settings: Settings = load(self.file)
        self.clock = HandClock()
        self._log: Log | None = None
        self._judges: dict[str, Judge] = {}
        self._random = Random(20261125)
        self.next_shot = {"P25": 1, "P15": 1}

    @property
    def log(self) -> Log:
        """The log, made when first asked for."""
        if self._log is None:
            self._log = open_log(self.settings.store, read_only=False)
        return self._log

    def mount(self, serial: str, half: str = "moving", press: str = "P25", **options: Any) -> None:
        entries.mount(self.log, press, serial, self.clock.now(), half=half, design="cap-r2", **options)

    def note(self, kind: str, text: str, press: str = "P25", at_shot: int | None = None) -> None:
        entries.note(self.log, press, kind, text, self.clock.now(), at_shot=at_shot)

    def link(self, state: str, detail: str = "", press: str = "P25") -> None:
        self.log.append([Link(press, self.clock.now(), state, detail)])

    def alive(self) -> None:
        """Let the logger say that it is at work."""
        touch(self.log, "run", "2 presses", self.clock.now())

    def shots(
        self, n: int, press: str = "P25", *, fall: float = 0.0, values: Mapping[str, float] | None = None
    ) -> None:
        """Log and judge `n` shots; the cushion falls by `fall` mm a shot."""
        for k in range(n):
            self.clock.advance(75)
            shot = self.next_shot[press]
            made = values if values is not None else self._values(shot, fall * (k + 1))
            self.log.append([Shot(press, shot, shot, self.clock.now(), made)])
            self.next_shot[press] = shot + 1
        self.judge(press)
        self.alive()

    def _values(self, shot: int, fallen: float) -> dict[str, float]:
        noise = self._random.gauss
        return {
            "cushion": round(4.94 + 0.2 * exp(-shot / 5) - fallen + noise(0, 0.03), 2),
            "peak_pressure": round(542 + 30 * exp(-shot / 7) + noise(0, 3), 1),
            "fill_time": round(0.72 + noise(0, 0.003), 3),
        }

    def judge(self, press: str = "P25") -> None:
        if press not in self._judges:
            self._judges[press] = Judge(self.log, press, self.settings.designs, self.clock)
        self._judges[press].catch_up()

    def close(self) -> None:
        if self._log is not None:
            self._log.close()


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


class Served:
    """An application on a free port; it can be stopped and started again on the same one."""

    def __init__(self, app: Dash) -> None:
        self._app = app
        self._server: BaseWSGIServer | None = None
        self._thread: threading.Thread | None = None
        self.port = 0
        self.start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        self._server = make_server("127.0.0.1", self.port, self._app.server, threaded=True)
        self.port = self._server.server_port
        self._thread = threading.Thread(target=self._server.serve_forever)
        self._thread.start()

    def stop(self) -> None:
        if self._server is not None and self._thread is not None:
            self._server.shutdown()
            self._thread.join()
            self._server.server_close()
            self._server = self._thread = None


@pytest.fixture
def serve(caplog: pytest.LogCaptureFixture) -> Iterator[Callable[[Dash], Served]]:
    caplog.set_level(logging.WARNING, logger="werkzeug")
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


class Viewers:
    """Opens pages and remembers whatever must not happen on any of them."""

    def __init__(self, browser: Browser, home: str) -> None:
        self._browser, self._home = browser, home
        self._pages: list[Page] = []
        self.wrong: list[str] = []

    def open(self, path: str = "/press/P25", width: int = 1280, height: int = 800) -> Page:
        page = self._browser.new_page(viewport={"width": width, "height": height})
        page.on("pageerror", lambda error: self.wrong.append(f"page error: {error}"))
        page.on("console", self._heard)
        page.on("request", lambda request: self._asked(request.url))
        page.on("response", self._answered)
        self._pages.append(page)
        page.goto(self._home + path)
        return page

    def _heard(self, message: Any) -> None:
        if message.type == "error":
            self.wrong.append(f"console: {message.text}")

    def _asked(self, url: str) -> None:
        if not url.startswith((self._home + "/", "data:", "blob:")):
            self.wrong.append(f"asked another machine: {url}")

    def _answered(self, response: Response) -> None:
        if response.status >= 400:
            self.wrong.append(f"{response.status} {response.url}")

    def close(self) -> None:
        for page in self._pages:
            page.close()


@pytest.fixture
def viewers(browser: Browser, served: Served) -> Iterator[Viewers]:
    """Pages on the served trial; the test fails if one had an error or asked anything of another machine."""
    opened = Viewers(browser, served.url)
    yield opened
    opened.close()
    assert opened.wrong == []
