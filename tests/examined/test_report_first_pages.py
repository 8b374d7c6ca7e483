"""The report as it comes out of a printer: whoever reads only the first two pages knows what to decide, and signs."""

import re
from collections.abc import Iterable

import pytest
from playwright.sync_api import Browser

from tests.examined.full_day import HELD, SCRAPPED
from tests.examined.pdf_words import pages
from tests.examined.shop import Shop

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def reviewed(whole: Shop) -> Shop:
    whole.do("review", "--out", whole.folder / "report.html")
    return whole


@pytest.fixture(scope="module")
def printed(reviewed: Shop, browser: Browser) -> list[str]:
    """The words of each page of the report of the whole day."""
    page = browser.new_page()
    page.goto((reviewed.folder / "report.html").as_uri())
    drawn = page.pdf(format="A4", prefer_css_page_size=True)
    page.close()
    return pages(drawn)


def spans(shots: Iterable[int]) -> list[tuple[int, int]]:
    """Return runs of shots that follow each other."""
    runs: list[tuple[int, int]] = []
    for shot in sorted(shots):
        if runs and runs[-1][1] == shot - 1:
            runs[-1] = (runs[-1][0], shot)
        else:
            runs.append((shot, shot))
    return runs


def test_the_first_two_pages_hold_every_span_that_is_held(printed: list[str], reviewed: Shop) -> None:
    first = " ".join(printed[:2])
    held = reviewed.held()
    assert held >= set(HELD)
    for ends in spans(held):
        assert all(re.search(rf"\b{end}\b", first) for end in ends), f"{ends}: {first}"
    told = [int(n) for n in re.findall(r"\b(\d+) (?:parts? )?(?:are |is )?held\b", first)]
    assert len(held) in told, f"{len(held)} held; the pages say {told}"


def test_the_first_two_pages_say_where_the_held_parts_are(printed: list[str]) -> None:
    assert "box-2" in " ".join(printed[:2])


def test_the_first_two_pages_name_the_insert_the_half_and_who_saw_it(printed: list[str]) -> None:
    first = " ".join(printed[:2])
    for word in ("B-11", "moving", "core blade gone", "1.42", "mt"):
        assert word in first, word


def test_the_first_two_pages_say_what_was_scrapped(printed: list[str]) -> None:
    assert f"{len(SCRAPPED)} scrapped" in " ".join(printed[:2])


def test_the_first_two_pages_say_what_to_inspect_first(printed: list[str]) -> None:
    first = " ".join(printed[:2]).lower()
    assert re.search(r"(inspect|look)( at)? first|first to (inspect|look)", first), first
    after = re.split(r"(?:inspect|look)(?: at)? first|first to (?:inspect|look)", first, maxsplit=1)[1]
    assert re.search(r"\b17[0-2]\b", after), "the first after the onset, or the last before it"


def test_the_first_two_pages_are_signed(printed: list[str]) -> None:
    first = " ".join(printed[:2]).lower()
    assert "sign" in first
    assert "date" in first


def test_the_report_is_short(printed: list[str]) -> None:
    """22 pages for 505 shots were too many (filed as a fault); half of that a shot would be 5 for 230."""
    assert len(printed) <= 12
