"""Whatever somebody types is text: on every page, in every paper, in every query."""

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page

from shotlog.cli.main import main
from tests.chromium import chromium
from tests.security.shop import LETTERS, RUNS, Shop

_ROOT = Path(__file__).parents[2]

PAGES = (
    "/press/P25",
    "/parts",
    "/part/P25/4",
    "/inserts",
    f"/inserts/{quote(RUNS, safe='')}",
    "/shift",
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


def ran(page: Page) -> object:
    """Return what of the text was taken for something else."""
    return page.evaluate(
        """() => ({
            ran: window.ran || 0,
            images: document.querySelectorAll('img[src="x"], [onerror]').length,
            scripts: [...document.scripts].filter(one => one.textContent.includes('window.ran')).length,
            links: document.querySelectorAll('a[href^="javascript" i]').length,
            sums: document.body.innerText.includes('5332114'),
        })"""
    )


NOTHING = {"ran": 0, "images": 0, "scripts": 0, "links": 0, "sums": False}


def test_names_are_text_on_every_page(alone: Shop, browser: Browser, tmp_path: Path) -> None:
    report = tmp_path / "report.html"
    labels = tmp_path / "labels.html"
    assert main(["review", str(alone.file), "--out", str(report)]) == 0
    assert main(["labels", str(alone.file), RUNS, "--out", str(labels)]) == 0
    page = browser.new_page()
    seen = set()
    for path in PAGES:
        page.goto(alone.url + path)
        page.wait_for_selector("main h1")
        page.wait_for_load_state("networkidle")
        assert ran(page) == NOTHING, path
        text = page.locator("body").inner_text()
        seen |= {word for word in ("onerror=window.ran=1", LETTERS) if word in text}
    for file in (report, labels):
        page.goto(file.as_uri())
        assert ran(page) == NOTHING, file.name
        assert "onerror=window.ran=1" in page.locator("body").inner_text(), file.name
    page.close()
    assert len(seen) == 2, "they are shown, to the letter"


def test_a_name_with_quotes_is_a_name(alone: Shop) -> None:
    visitor = alone.visitor()
    for name in ("' OR '1'='1", "x' UNION SELECT digest FROM ledger --", '"; DROP TABLE shots; --', "%", "_", "\\"):
        answer = visitor.ask(f"/shift/lives.csv?press={quote(name)}&trial={quote(name)}&design={quote(name)}")
        assert answer.status in (200, 400, 404)
        assert len(answer.text.strip().splitlines()) <= 1, "no shot is of that press"
        assert visitor.ask("/inserts/" + quote(name, safe="")).status in (200, 404)
    assert len(visitor.ask("/shift/lives.csv").text.strip().splitlines()) >= 2


_RUN = re.compile(
    r"\beval\(|new Function|innerHTML|outerHTML|insertAdjacentHTML|document\.write"
    r"|set(?:Timeout|Interval)\(\s*[\"']"
)


def test_our_scripts_run_no_text() -> None:
    found = [
        f"{file.name}: {line.strip()}"
        for file in (_ROOT / "dashboard" / "assets").glob("*.js")
        for line in file.read_text(encoding="utf-8").splitlines()
        if _RUN.search(line)
    ]
    assert found == []
