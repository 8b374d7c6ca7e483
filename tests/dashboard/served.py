"""The application on a free port, and browser pages that watch for what must not happen."""

import threading
from collections.abc import Iterator
from typing import Any

from dash import Dash
from playwright.sync_api import Page, Response, expect

from dashboard.walls.connections import server
from shotlog.settings import WallSettings
from tests.chromium import Chromium, until
from tests.dashboard.stopping import stop_serving

SIZES = ((390, 844), (1280, 800), (1920, 1080), (820, 1180))
"""A phone upright, a screen at the press, one in the office, and a tablet upright; width and height in px."""

_NARROW_PX = 560
"""Up to this width a page is one column, and its figures are drawn for it."""

DRAWN_FOR_SIZE = f"""[...document.querySelectorAll('.js-plotly-plot')].every(plot =>
    Math.abs(plot.querySelector('.main-svg')?.clientWidth - plot.clientWidth) < 2
    && (plot.layout.meta === undefined || plot.layout.meta.narrow === (window.innerWidth <= {_NARROW_PX})))"""
"""Holds in a page whose figures have taken its size; one asked for before the page took it may still arrive, and is
drawn anew at the next tick: what looks at figures asks this in the same instant."""


def at_sizes(page: Page) -> Iterator[tuple[int, int]]:
    """Give a page each size in turn, once its figures have taken it."""
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        until(page, f"window.innerWidth === {width} && {DRAWN_FOR_SIZE}")
        yield width, height


def settled(page: Page) -> None:
    """Wait until nothing is asked of the server any more that fills the page.

    On a machine with much to do the server may be silent for a while; the page then says so on top, and fades.
    """
    expect(page.get_by_role("heading", level=1).first).to_be_visible()
    until(page, "document.querySelector('._dash-loading, ._dash-loading-callback') === null")
    until(page, "!document.documentElement.classList.contains('silent')")


_BY_LINK = """address => {
    history.pushState({}, '', address);
    window.dispatchEvent(new CustomEvent('_dashprivate_pushstate'));
}"""


def go(page: Page, address: str) -> None:
    """Go to another page as its link does: a browser compiles all that a page is made of at each that it opens."""
    with page.expect_response(lambda answer: "page.children" in (answer.request.post_data or "")):
        page.evaluate(_BY_LINK, address)


_ASKED_BEFORE = "if (localStorage.getItem('initials') === null) localStorage.setItem('initials', '\"\"')"

_STANDS_STILL = """([where, words]) => {
    const one = [...document.querySelectorAll(where)].find(each => each.textContent.includes(words));
    const box = one?.getBoundingClientRect();
    const place = box?.width > 0 ? [box.x + box.width / 2, box.y + box.height / 2] : null;
    const before = window.stoodAt;
    window.stoodAt = place && {one, place};
    return before && place && before.one === one && before.place.join() === place.join() && place;
}"""


def touch_drawn(page: Page, where: str, words: str) -> None:
    """Touch what is drawn in a figure, once it stands still: a figure that is drawn again has new elements."""
    x, y = until(page, _STANDS_STILL, arg=[where, words])
    page.mouse.click(x, y)


_FINGER_PX = 47.5
_TOUCHED = "button, a, input[type=text], label.pick, summary"


def too_small_for_a_glove(page: Page) -> list[str]:
    """Return the words on whatever is shown, can be touched and is narrower or lower than a gloved finger."""
    found: list[str] = page.locator(_TOUCHED).evaluate_all(
        """(all, least) => all.filter(one => {
            const box = one.getBoundingClientRect();
            return one.checkVisibility({visibilityProperty: true}) && Math.min(box.width, box.height) < least;
        }).map(one => one.outerHTML.slice(0, 120))""",
        _FINGER_PX,
    )
    return found


_APART_PX = 12
"""Room between what takes back one entry and what takes back the next: a thumb in a glove is wider than its button."""


def too_close_for_a_glove(page: Page) -> list[str]:
    """Return the names of buttons of a list that lie so close to the one below that a thumb hits both."""
    found: list[str] = page.locator(".recent .undo").evaluate_all(
        """(all, least) => all.filter((one, n) => n > 0
            && one.getBoundingClientRect().top - all[n - 1].getBoundingClientRect().bottom < least
            && one.getBoundingClientRect().top >= all[n - 1].getBoundingClientRect().top
            && one.checkVisibility({visibilityProperty: true})).map(one => one.outerHTML.slice(0, 120))""",
        _APART_PX,
    )
    return [f"close to the one above: {one}" for one in found]


class Served:
    """An application on a free port, by the server it has in earnest; it can be stopped and started again on it.

    The port is that of the one before it, where it is free: a browser keeps what it compiled by a page's address.
    One that tests are commonly served by leaves a file open where a browser goes away before it has all of it.
    """

    _before = 0

    def __init__(self, app: Dash) -> None:
        self._app = app
        self._server: Any = None
        self._thread: threading.Thread | None = None
        self.port = 0
        self.start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def _at(self, port: int) -> Any:
        try:
            return server(self._app.server, "127.0.0.1", port, WallSettings())
        except OSError:  # taken meanwhile
            if port == self.port:
                raise
            return server(self._app.server, "127.0.0.1", 0, WallSettings())

    def start(self) -> None:
        self._server = self._at(self.port or Served._before)
        self.port = Served._before = self._server.effective_port
        self._thread = threading.Thread(target=self._server.run)
        self._thread.start()

    def stop(self) -> None:
        if self._server is not None and self._thread is not None:
            stop_serving(self._server, self._thread)
            self._server = self._thread = None


class Viewers:
    """Opens pages and remembers whatever must not happen on any of them."""

    def __init__(self, browser: Chromium, home: str) -> None:
        self._browser, self.home = browser, home
        self._pages: list[Page] = []
        self.wrong: list[str] = []

    def open(self, path: str = "/press/P25", width: int = 1280, height: int = 800, *, new_device: bool = False) -> Page:
        """Open a page, on a device that was asked who enters and was told nothing, or on one that was never asked."""
        page = None if new_device else self._browser.page_at_home(self.home, width, height)
        page = page or self._browser.new_page(viewport={"width": width, "height": height})
        page.on("pageerror", lambda error: self.wrong.append(f"page error: {error}"))
        page.on("console", self._heard)
        page.on("request", lambda request: self._asked(request.url))
        page.on("response", self._answered)
        if not new_device:
            page.add_init_script(_ASKED_BEFORE)
        self._pages.append(page)
        page.goto(self.home + path)
        page.wait_for_selector("main h1")
        return page

    def _heard(self, message: Any) -> None:
        if message.type == "error":
            self.wrong.append(f"console: {message.text}")

    def _asked(self, url: str) -> None:
        if not url.startswith((self.home + "/", "data:", "blob:")):
            self.wrong.append(f"asked another machine: {url}")

    def _answered(self, response: Response) -> None:
        if response.status >= 400:
            self.wrong.append(f"{response.status} {response.url}")

    def close(self) -> None:
        for page in self._pages:
            page.close()
