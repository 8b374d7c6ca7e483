"""A real Chromium that looks at pages; where there is none the tests are left out, and under CI they fail."""

import os
import shlex
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from time import monotonic
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Playwright, expect, sync_playwright

__all__ = ["Chromium", "chromium", "chromium_at_home", "until"]

_NAMES = ("chromium", "chromium-browser", "google-chrome")
_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--host-resolver-rules=MAP evil.test 127.0.0.1",
)  # fmt: skip


class Chromium:
    """A browser as people have one, which keeps what it compiled of a page, and others that were never used before.

    A page opened anew costs a third of the time where its address was opened before: see `tests/dashboard/served.py`.
    """

    def __init__(self, playwright: Playwright, folder: Path) -> None:
        self._playwright, self._folder = playwright, folder
        self._kept: BrowserContext | None = None
        self._browser: Browser | None = None

    def page_at_home(self, home: str, width: int, height: int) -> Page | None:
        """Return a page that remembers nothing of `home`, None where one is open already that may."""
        if self._kept is None:
            self._kept = self._playwright.chromium.launch_persistent_context(
                self._folder, executable_path=_path(), args=_FLAGS
            )
        if len(self._kept.pages) > 1:  # the browser's own empty one is always there
            return None
        page = self._kept.new_page()
        page.set_viewport_size({"width": width, "height": height})
        self._kept.clear_cookies()
        forgets = self._kept.new_cdp_session(page)
        forgets.send("Storage.clearDataForOrigin", {"origin": home, "storageTypes": "all"})
        forgets.detach()
        return page

    def new_context(self, **options: Any) -> BrowserContext:
        """Return a device that was never used before."""
        return self._new().new_context(**options)

    def new_page(self, **options: Any) -> Page:
        """Return a page on a device that was never used before."""
        return self._new().new_page(**options)

    def close(self) -> None:
        """End what was begun."""
        for one in (self._kept, self._browser):
            if one is not None:
                one.close()

    def _new(self) -> Browser:
        if self._browser is None:
            self._browser = self._playwright.chromium.launch(executable_path=_path(), args=_FLAGS)
        return self._browser


@contextmanager
def chromium_at_home(folder: Path) -> Iterator[Chromium]:
    """Give a browser with a profile in a folder, which may be that of one before. One at a time, as below."""
    expect.set_options(timeout=20_000)
    with sync_playwright() as playwright:
        opened = Chromium(playwright, folder)
        yield opened
        opened.close()


@contextmanager
def chromium(*flags: str, within: Sequence[str] = ()) -> Iterator[Browser]:
    """Give a browser. One at a time: two in a process stop each other, so no fixture may keep it beyond its module.

    `within`: the words of a command that runs it, as on another host.
    """
    path = _path()
    expect.set_options(timeout=20_000)
    with sync_playwright() as playwright, TemporaryDirectory() as folder:
        if within:
            begun = Path(folder, "chromium")
            begun.write_text(f'#!/bin/sh\nexec {shlex.join([*within, path])} "$@"\n', encoding="utf-8")
            begun.chmod(0o700)
            path = str(begun)
        launched = playwright.chromium.launch(executable_path=path, args=[*_FLAGS, *flags])
        yield launched
        launched.close()


def _path() -> str:
    path = next((found for found in map(shutil.which, _NAMES) if found), None)
    if path is None:
        why = "no Chromium found, so the page was not looked at (install one: apt install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(why)
        pytest.skip(why)
    return path


def until(page: Page, expression: str, arg: Any = None, timeout_s: float = 30.0) -> Any:
    """Wait until an expression, or a function of `arg`, holds in a page, and return what it gave.

    The library's own wait evaluates text from within the page, which the policy of our pages forbids.

    Raises
    ------
    Error
        It does not hold in time.
    """
    end = monotonic() + timeout_s
    while not (found := page.evaluate(expression, arg)):
        if monotonic() > end:
            raise Error(f"in {timeout_s:g} s there was no: {expression}")
        page.wait_for_timeout(20)
    return found
