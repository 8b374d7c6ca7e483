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
from playwright.sync_api import Browser, Error, Page, expect, sync_playwright

__all__ = ["chromium", "until"]

_NAMES = ("chromium", "chromium-browser", "google-chrome")
_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--host-resolver-rules=MAP evil.test 127.0.0.1",
)  # fmt: skip


@contextmanager
def chromium(*flags: str, within: Sequence[str] = ()) -> Iterator[Browser]:
    """Give a browser. One at a time: two in a process stop each other, so no fixture may keep it beyond its module.

    `within`: the words of a command that runs it, as on another host.
    """
    path = next((found for found in map(shutil.which, _NAMES) if found), None)
    if path is None:
        why = "no Chromium found, so the page was not looked at (install one: apt install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(why)
        pytest.skip(why)
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
