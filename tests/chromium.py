"""A real Chromium that looks at pages; where there is none the tests are left out, and under CI they fail."""

import os
import shlex
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

__all__ = ["chromium"]

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
