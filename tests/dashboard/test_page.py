"""The page at the press in a real browser."""

from collections.abc import Callable
from io import BytesIO

import numpy as np
import pytest
from dash import Dash
from hand_filled import Trial
from PIL import Image
from playwright.sync_api import Page, expect
from served import Served, Viewers, at_sizes, go, settled, too_small_for_a_glove
from touched import headline, shots_drawn, touch

from dashboard.press.standing import SIGNS
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Fault, Shot, Verdict
from shotlog.store.asked import state
from shotlog.store.asked.presence import came_as
from shotlog.store.asked.presence import touch as touch_presence
from tests.chromium import Chromium, until

pytestmark = pytest.mark.browser

SHOWN = "standing.children"


@pytest.mark.file  # begins where there is no log yet
def test_the_first_shot_appears_without_a_reload(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    expect(headline(page)).to_have_text("Nothing is logged")
    expect(page.locator("#standing")).to_contain_text("There is no log yet")
    drawn = page.locator("#strips .main-svg").first
    drawn.wait_for(state="attached")
    assert page.locator("#strips :is(.xtick, .ytick, .gridlayer path)").count() == 0
    page.evaluate("window.notReloaded = true")
    trial.mount("B-11")
    trial.link("connected")
    trial.alive()
    expect(page.locator("#standing")).to_contain_text("No shot received yet")
    trial.shots(1)
    expect(headline(page)).to_have_text("Settling")
    until(page, "document.querySelector('#strips .js-plotly-plot')?.data.length > 0")
    assert shots_drawn(page) == [1]
    trial.shots(1)
    until(page, "document.querySelector('#strips .js-plotly-plot')?.data[0]?.x.length == 2")
    assert page.evaluate("window.notReloaded") is True


def test_stale_data_take_the_place_of_the_verdict(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(30)
    page = viewers.open()
    expect(headline(page)).to_have_text("No change seen")
    trial.clock.advance(245)
    trial.alive()
    expect(headline(page)).to_have_text("Last shot 4 min ago")
    expect(page.locator("#standing")).to_have_class("standing cut not-current long")
    trial.link("lost", "timed out")
    expect(headline(page)).to_contain_text("Connection lost since")
    trial.clock.advance(60)
    expect(headline(page)).to_contain_text("Logger not running since")
    trial.link("connected")
    trial.shots(1)
    expect(headline(page)).to_have_text("Settling")


LABELS_ON_EACH_OTHER = """() => {
    const labels = [...document.querySelectorAll('#strips .annotation-text')];
    const boxes = labels.map(label => label.getBoundingClientRect());
    const meet = (a, b) => Math.min(a.right, b.right) > Math.max(a.left, b.left) + 1
        && Math.min(a.bottom, b.bottom) > Math.max(a.top, b.top) + 1;
    const bad = labels.filter((_, n) => boxes.some((other, m) => m > n && meet(boxes[n], other)));
    return bad.map(label => label.textContent);
}"""


def test_it_fits_the_screen_and_the_glove(trial: Trial, viewers: Viewers) -> None:
    """With the most there is to read: a change called, a question, and more happenings than have room for a label."""
    crowded(trial)
    page = viewers.open()
    expect(page.get_by_role("group", name="Question")).to_be_visible()
    until(page, "document.querySelector('#strips .js-plotly-plot')?.data.length > 0")
    for width, height in at_sizes(page):
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        caution = page.get_by_role("note").bounding_box()
        # No word of the verdict is cut; what has no room below it is scrolled to.
        assert page.locator("#standing").evaluate("one => one.scrollHeight <= one.clientHeight + 1")
        page.locator("#strips").scroll_into_view_if_needed()
        strips = page.locator("#strips").bounding_box()
        assert caution is not None
        assert strips is not None
        # What is asked and held comes first, then half of the strips at least; on a phone the entries are in sight.
        desk = page.locator(".desk").bounding_box()
        assert desk is not None
        assert strips["y"] + strips["height"] / 2 <= caution["y"] or width < 560
        assert desk["y"] + desk["height"] <= caution["y"] + 1 or width >= 560
        assert caution["y"] + caution["height"] <= height + 1
        assert page.evaluate(LABELS_ON_EACH_OTHER) == []
        for name in (None, "Swapped", "Finding"):
            if name is not None:
                touch(page, name)
                expect(page.locator(".panel")).to_be_visible()
            assert too_small_for_a_glove(page) == []
            if name is not None:
                touch(page, "Back")


def crowded(trial: Trial) -> None:
    """Let a change be called on B-11 while a question is open, after a note in wide letters on nearly every shot."""
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(40)
    for shot in range(2, 37):
        trial.note("note", "GMHD WOOD NQ", at_shot=shot)
    trial.shots(12, fall=0.1)
    trial.clock.advance(75)
    trial.log.append([Shot("P25", 53, 53, trial.clock.now(), {"cushion": 4.5, "peak_pressure": 1540.0})])
    facts = Facts("called", asked_shot=34, changes=(ChannelChange("cushion", -0.31, 0.05),))
    called = ((), "parting-line wear", "insert", 0.86, 40, 38, 42, 8.0, 3.0, 20.0, 7.1, 5.0)
    trial.say(Verdict("P25", 53, "B-11", 53, False, "watch", "", *called, facts))
    trial.alive()


def test_several_presses_by_address_and_by_touch(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(3)
    page = viewers.open("/press/P15")
    expect(headline(page)).to_have_text("Waiting for the first shot")
    page.get_by_role("link", name="P25").click()
    expect(headline(page)).to_have_text("Settling")
    expect(page).to_have_url(f"{viewers.home}/press/P25")
    expect(page).to_have_title("P25 · At the press · shotlog")
    touch(page, "Pause")
    expect(page.locator("#said")).to_contain_text("pause")
    assert state.entries(trial.log, "P15") == []


def dark_ink_on_light_paper(page: Page) -> bool:
    """Whether the strips come out of a printer so; a browser prints what it has drawn."""
    page.emulate_media(media="print")
    picture = Image.open(BytesIO(page.locator("#strips .js-plotly-plot").screenshot())).convert("L")
    page.emulate_media(media="screen")
    lightness = np.asarray(picture)
    return bool(np.median(lightness) > 240 and lightness.min() < 40)


def test_it_is_dark_where_the_device_is_and_what_a_person_chose_is_remembered(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(3)
    page = viewers.open()
    expect(page.locator("html")).to_have_attribute("data-mode", "day")
    page.emulate_media(color_scheme="dark")
    expect(page.locator("html")).to_have_attribute("data-mode", "dark")
    until(page, "document.querySelector('#strips .js-plotly-plot')?.layout.paper_bgcolor === '#1a2128'")
    assert dark_ink_on_light_paper(page)
    touch(page, "Dark / light")
    expect(page.locator("html")).to_have_attribute("data-mode", "day")
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-mode", "day")
    until(page, "document.querySelector('#strips .js-plotly-plot')?.layout.paper_bgcolor === '#fbfaf6'")
    assert dark_ink_on_light_paper(page)
    touch(page, "Dark / light")
    page.emulate_media(color_scheme="light")
    until(page, "document.querySelector('#strips .js-plotly-plot')?.layout.paper_bgcolor === '#1a2128'")
    assert dark_ink_on_light_paper(page)


def test_a_server_that_falls_silent_is_told_and_forgotten_when_it_is_back(
    trial: Trial, app: Dash, browser: Chromium, serve: Callable[[Dash], Served]
) -> None:
    trial.mount("B-11")
    trial.shots(3)
    served = serve(app)
    opened = Viewers(browser, served.url)
    page = opened.open()
    expect(headline(page)).to_have_text("Settling")
    served.stop()
    expect(page.locator("#cut-off")).to_contain_text("This screen has lost its server")
    trial.shots(1)
    served.start()
    expect(page.locator("#cut-off")).to_be_empty()
    until(page, "document.querySelector('#strips .js-plotly-plot')?.data[0]?.x.length == 4")
    opened.close()
    assert not [wrong for wrong in opened.wrong if "another machine" in wrong or "page error" in wrong]


def test_a_page_that_was_never_heard_asks_and_has_lost_nothing(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(3)
    page = viewers.open("/help")
    page.clock.install()
    refresh = "**/_dash-update-component?*"
    page.route(refresh, lambda route: None if SHOWN in (route.request.post_data or "") else route.fallback())
    go(page, "/press/P25")
    for box in ("#standing", "#mounted", "#health", "#recent", ".strips"):
        expect(page.locator(box)).to_contain_text("Waiting for the log.")
        expect(page.locator(box).get_by_text("Waiting for the log.")).to_be_in_viewport()
    page.clock.fast_forward(8000)
    expect(page.locator("#cut-off")).to_contain_text("This page is being asked for, since ")
    page.unroute(refresh)  # which lets go what is held
    page.clock.fast_forward(2000)
    expect(headline(page)).to_have_text("Settling")
    expect(page.locator("#cut-off")).to_be_empty()
    expect(page.get_by_text("Waiting for the log.")).to_have_count(0)


def test_a_page_that_nothing_refreshes_does_not_take_its_silence_for_that_of_the_server(
    trial: Trial, viewers: Viewers
) -> None:
    trial.mount("B-11")
    trial.shots(3)
    page = viewers.open("/help")
    page.clock.install()
    page.reload()
    for address in ("/part", "/part/P25/2", "/part/P25/999", "/press/P99", "/no-such-page", "/plan", "/help"):
        go(page, address)
        settled(page)
        page.clock.fast_forward(10_000)
        assert page.evaluate("document.documentElement.classList.contains('silent')") is False, address


@pytest.mark.file  # begins where there is no log yet
def test_an_address_without_a_press_offers_those_there_are(viewers: Viewers) -> None:
    page = viewers.open("/press/P99")
    expect(page.get_by_role("heading")).to_have_text("No such press")
    page.get_by_role("link", name="P15").click()
    expect(headline(page)).to_have_text("Nothing is logged")


def test_the_presses_are_seen_together_and_lead_to_each(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.link("lost", "timed out")
    trial.log.append([Fault("P25", trial.clock.now(), "bad line", "7 fields for 9", b"1;2;3")])
    trial.log.append([Fault("P15", trial.clock.now(), "short answer", "no count", b"\x01\xff")])
    trial.shots(3)
    page = viewers.open("/presses")
    content = page.locator("#presses")
    expect(content).to_contain_text("Peak pressure")
    expect(content).not_to_contain_text("Shot 3 as it came")
    role, detail = came_as(Shot("P25", 3, 3, trial.clock.now(), {}, "0:3 10:497 20:5340"))
    touch_presence(trial.log, role, detail, trial.clock.now())
    expect(content).to_contain_text("Shot 3 as it came: 0:3 10:497 20:5340")
    faults = ("7 fields for 9", "1;2;3", "01 ff", "Faults by kind: bad line 1")
    for text in ("Connection lost since", "Peak pressure", "reads 3", trial.log.url, "Python 3", *faults):
        expect(content).to_contain_text(text)
    trial.link("connected", "the press answers")
    expect(content).to_contain_text("connected since")
    expect(content).not_to_contain_text("Connection lost")
    content.get_by_role("link", name="P25").click()
    expect(headline(page)).to_have_text("Settling")


IN_ANOTHER_INK = """all => all.filter(one =>
    getComputedStyle(one).backgroundColor !== getComputedStyle(one.parentElement).color).map(one => one.className)"""


@pytest.mark.file  # begins where there is no log yet
def test_help_explains_every_sign_and_fits(viewers: Viewers) -> None:
    page = viewers.open("/help")
    expect(page.get_by_role("heading", name="Help")).to_be_visible()
    for width, _ in at_sizes(page):
        for sign in SIGNS:
            expect(page.locator(f".sign-{sign}")).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.emulate_media(forced_colors="active")
    assert page.locator(".sign, .drawn").evaluate_all(IN_ANOTHER_INK) == []
    page.get_by_role("link", name="At the press").click()
    expect(headline(page)).to_have_text("Nothing is logged")
    assert page.locator(".sign").evaluate_all(IN_ANOTHER_INK) == []
