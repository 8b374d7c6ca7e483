"""The report as it comes out of a printer: two pages on A4 that say what to decide, whatever happened."""

import re
from dataclasses import replace
from datetime import UTC
from pathlib import Path

import pytest

from shotlog.report import render
from shotlog.review import Review, review
from shotlog.settings import Settings
from shotlog.store.log.log import open_log
from tests.chromium import Chromium
from tests.demo_day import demo_day
from tests.review.made_up_log import LATER

_OPENING_ALONE = (
    "() => [...document.body.children].filter(one => one.id !== 'first-pages').forEach(one => one.remove())"
)
_WIDE = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
_LINES = "all => all.map(one => Math.round(one.clientHeight / parseFloat(getComputedStyle(one).lineHeight)))"
_A4_PX = {"width": 703, "height": 1040}
"""What is left of A4 within the margins, at 96 px an inch."""


@pytest.fixture(scope="module")
def whole(afternoon: Settings) -> Review:
    with open_log(afternoon.store) as log:
        return review(log, afternoon, LATER)


class Printed:
    """A report opened from its file: its pages, those of its opening, what that says, what is too wide."""

    def __init__(self, browser: Chromium, report: str, folder: Path) -> None:
        file = folder / "report.html"
        file.write_text(report, encoding="utf-8")
        page = browser.new_page(viewport=_A4_PX)
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(file.as_uri())
        page.emulate_media(media="print")
        self.too_wide = page.evaluate(_WIDE)
        self.n_pages = _n_pages(page.pdf(prefer_css_page_size=True))
        page.evaluate(_OPENING_ALONE)
        self.opening = page.locator("#first-pages").inner_text().replace("\u00a0", " ")
        self.n_opening = _n_pages(page.pdf(prefer_css_page_size=True))
        self.lines = page.locator("#happened li").evaluate_all(_LINES)
        page.close()
        assert asked == [file.as_uri()]


def _n_pages(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


def test_the_first_two_pages_are_enough_to_act_on(browser: Chromium, whole: Review, tmp_path: Path) -> None:
    printed = Printed(browser, render(whole, UTC), tmp_path)
    assert printed.n_opening <= 2
    assert printed.too_wide <= 0
    said = printed.opening
    order = [said.index(name) for name in (
        "Decisions to take", "What happened", "One picture a press", "What to inspect first", "Sign-off",
    )]  # fmt: skip
    assert order == sorted(order)
    for words in (
        "P1 26 to 37",
        "release",
        "scrap",
        "window missing",
        "P1 27",
        "first after the swap of B-1 for B-2",
        "initials, date",
        "claims no compliance",
        whole.log.digest,
        "It is no safety device",
    ):
        assert words in said, words
    assert 3 <= sum(printed.lines) <= 5


def test_a_day_with_more_to_decide_than_a_page_holds_still_opens_on_two(
    browser: Chromium, whole: Review, tmp_path: Path
) -> None:
    """Two presses, thirty spans each with as much to say as there can be, and forty parts to inspect."""
    (press,) = whole.presses
    one = press.held[0]
    doubt = replace(one.against[0], cause="parting-line wear", limits=("cushion",), found="flash on the flat half" * 2)
    held = tuple(
        replace(one, spans=((first, first + 3),), n=4, against=(doubt, doubt, doubt)) for first in range(1, 120, 4)
    )
    look = press.inspect_first[0]
    looks = tuple(replace(look, shot=shot, why=look.why * 2) for shot in range(1, 41))
    presses = tuple(replace(press, press=name, held=held, inspect_first=looks) for name in ("P1", "P2"))
    printed = Printed(browser, render(replace(whole, presses=presses), UTC), tmp_path)
    assert printed.n_opening <= 2
    assert len(printed.lines) <= 5
    assert "48 spans more, under Parts held of its press" in printed.opening


@pytest.mark.long
def test_the_whole_day_of_the_demo_fits_on_ten_pages(browser: Chromium, tmp_path: Path) -> None:
    """Two presses, 505 shots: it took 25. On the first two stands what people found, where parts are, who decided."""
    day = demo_day(tmp_path, {"P25": 345, "P15": 160}, judged=True)
    with open_log(day.settings.store) as log:
        printed = Printed(browser, render(review(log, day.settings, day.over), UTC), tmp_path)
    assert (printed.n_opening, printed.n_pages <= 10, printed.lines) == (2, True, [1] * 5)
    assert printed.too_wide <= 0
    for words in (
        "2 presses, 505 shots, no shot missed",
        "P15 39 to 40, 42 to 48",
        "made on SH-02, which made a bad part (P15/41/1), fixed half",
        "held since the last known good one, shot 38",
        "held since the last known good one, shot 205",
        "plate PL-3 swollen: measure every bore, by ab, typed",
        "Decided by now: 1 released, 19 scrapped",
        "7 parts inspected, 3 bad (19, 30, 41)",
        "tray 2",
        "box 3",
        "B-11 (93)",
    ):
        assert words in printed.opening, words
