"""A real Chromium that looks at pages; where there is none the tests are left out, and under CI they fail."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

__all__ = ["chromium"]

_NAMES = ("chromium", "chromium-browser", "google-chrome")
_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


@contextmanager
def chromium() -> Iterator[Browser]:
    """Give a browser. One at a time: two in a process stop each other, so no fixture may keep it beyond its module."""
    path = next((found for found in map(shutil.which, _NAMES) if found), None)
    if path is None:
        why = "no Chromium found, so the page was not looked at (install one: apt install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(why)
        pytest.skip(why)
    expect.set_options(timeout=20_000)
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=path, args=list(_FLAGS))
        yield launched
        launched.close()
