"""After the shift in a real browser: what is touched, typed and downloaded, and the address that holds it all."""

from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from barriers import barriers
from dash import Dash
from hand_filled import Trial
from playwright.sync_api import Error, Page, expect
from served import Served, Viewers, at_sizes, touch_drawn
from worn_trial import worn_trial

from dashboard import Source, build
from tests.chromium import Chromium, until

pytestmark = pytest.mark.browser


@pytest.fixture
def worn(tmp_path: Path) -> Iterator[Trial]:
    made = worn_trial(tmp_path)
    yield made
    made.close()


@pytest.fixture
def viewers(browser: Chromium, worn: Trial, serve: Callable[[Dash], Served]) -> Iterator[Viewers]:
    source = Source(worn.settings, worn.clock)
    opened = Viewers(browser, serve(build(source)).url)
    yield opened
    opened.close()
    source.close()
    assert opened.wrong == []


def asked(page: Page) -> dict[str, str]:
    return {name: values[0] for name, values in parse_qs(urlsplit(page.url).query).items()}


def table(page: Page, name: str) -> str:
    return page.get_by_role("region", name=name, exact=True).inner_text()


def test_a_life_is_chosen_its_strips_too_and_the_address_reopens_both(viewers: Viewers) -> None:
    page = viewers.open("/shift")
    lives = page.get_by_role("region", name="Lives", exact=True)
    expect(lives).to_contain_text("a finding was noted on it")
    page.evaluate("document.getElementById('shift-lanes').untouched = true")
    lives.get_by_role("link", name="B-12").click()
    expect(page.locator("#shift-life-name")).to_have_text("B-12 in moving of P25")
    expect(page.locator("#shift-life-about")).to_contain_text("swap called at shot 62")
    assert page.evaluate("document.getElementById('shift-lanes').untouched"), "the page was built anew"
    page.get_by_role("checkbox", name="Fill time, s").uncheck()
    page.wait_for_url("**channels=cushion*")
    until(page, "document.querySelectorAll('#shift-strips .js-plotly-plot')[0].layout.yaxis3 === undefined")
    assert asked(page) == {"life": "B-12", "channels": "cushion,peak_pressure"}
    again = viewers.open(page.url.removeprefix(viewers.home))
    expect(again.locator("#shift-life-name")).to_have_text("B-12 in moving of P25")
    expect(again.get_by_role("checkbox", name="Fill time, s")).not_to_be_checked()
    expect(again.get_by_role("checkbox", name="Cushion, mm")).to_be_checked()
    again.get_by_role("link", name="Close").click()
    expect(again.locator("#shift-life")).to_be_hidden()


def test_a_life_is_chosen_by_touching_it_on_the_timeline(viewers: Viewers) -> None:
    page = viewers.open("/shift")
    touch_drawn(page, "#shift-timeline .bartext", "B-13")
    expect(page.locator("#shift-life-name")).to_have_text("B-13 in moving of P25")
    expect(page.locator("#shift-sisters-words")).to_contain_text("B-12: 40 shots")


def go_down_to(page: Page, name: str) -> None:
    """Arrow down until the choice has the focus: a list drawn anew between two keys swallows the first."""
    focused = f"document.activeElement.type === 'radio' && document.activeElement.value === '{name}'"
    for _ in range(5):
        page.keyboard.press("ArrowDown")
        try:
            until(page, focused, timeout_s=2)
        except Error:  # of the wait, after its two seconds
            continue
        return
    expect(page.get_by_role("radio", name=name)).to_be_focused()


def test_filters_work_by_keyboard_and_the_way_back_too(viewers: Viewers) -> None:
    page = viewers.open("/shift")
    expect(page.locator("#shift-lead")).to_contain_text("P25: shots 1 to 87")
    expect(page.locator("#shift-press")).to_be_enabled()
    page.locator("#shift-press").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".dash-dropdown-search")).to_be_focused()
    page.keyboard.type("P15")
    expect(page.get_by_role("radio", name="P25")).to_have_count(0)
    go_down_to(page, "P15")
    page.keyboard.press("Enter")
    expect(page.locator("#shift-lead")).to_contain_text("Nothing in this view from P25")
    assert asked(page) == {"press": "P15"}
    page.go_back()
    expect(page.locator("#shift-lead")).to_contain_text("P25: shots 1 to 87")
    day = page.get_by_label("From day")
    day.fill("2101-01-01")
    day.press("Enter")
    expect(page.locator("#shift-lead")).to_contain_text("No shot in the log matches")
    expect(page.locator("#shift-lanes")).to_be_hidden()
    page.get_by_role("link", name="Show everything").click()
    expect(page.locator("#shift-lead")).to_contain_text("P25: shots 1 to 87")
    expect(page.get_by_label("From day")).to_have_value("")


def test_what_is_seen_is_downloaded(viewers: Viewers, tmp_path: Path) -> None:
    page = viewers.open("/shift?life=B-12")
    expect(page.locator("#shift-life-name")).to_have_text("B-12 in moving of P25")
    with page.expect_download() as waiting:
        page.locator("#shift-life-csv a").click()
    waiting.value.save_as(tmp_path / "life.csv")
    assert (tmp_path / "life.csv").read_text(encoding="utf-8").startswith("Insert,Press,Shot,Shot on insert")
    for name in ("timeline", "strips", "sisters"):
        until(page, f"document.querySelector('#shift-{name} .main-svg')")
        with page.expect_download() as waiting:
            page.locator(f"#shift-{name}-save").click()
        assert waiting.value.suggested_filename == f"{name}.png"
        waiting.value.save_as(tmp_path / name)
        assert (tmp_path / name).read_bytes().startswith(b"\x89PNG")


def test_the_page_says_that_the_log_has_gone_on_and_moves_when_asked(worn: Trial, viewers: Viewers) -> None:
    page = viewers.open("/shift?press=P25")
    expect(page.locator("#shift-lead")).to_contain_text("shots 1 to 87")
    expect(page.locator("#shift-news")).to_be_empty()
    worn.next_shot["P25"] = 88
    worn.note("note", "still here", at_shot=87)
    expect(page.locator("#shift-news")).to_contain_text("The log has gone on")
    expect(page.locator("#cut-off")).to_be_empty()
    page.get_by_role("link", name="Show the view anew").click()
    expect(page.locator("#shift-lead")).to_contain_text("shots 1 to 87")
    page.get_by_text("Everything that happened").click()
    expect(page.get_by_role("region", name="What happened")).to_contain_text("still here")
    assert asked(page) == {"press": "P25"}


ACROSS = """[...document.querySelectorAll('.shift section')].filter(section => {
    const room = section.clientWidth - 28;
    return [...section.querySelectorAll('.js-plotly-plot')].some(plot => plot.clientWidth < room);
}).map(section => section.id)"""


def test_figures_take_the_width_there_is_and_nothing_runs_off_the_side(viewers: Viewers) -> None:
    page = viewers.open("/shift?life=A-07&axis=time")
    until(page, "document.querySelector('#shift-sisters .main-svg')")
    for _ in at_sizes(page):
        assert page.evaluate(ACROSS) == []
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        sizes = [control.bounding_box() for control in page.locator(".shift .touch:visible").all()]
        assert min(size["height"] for size in sizes if size is not None) >= 48


def test_nothing_keeps_people_out_where_a_life_is_open(viewers: Viewers) -> None:
    page = viewers.open("/shift?life=B-12")
    until(page, "document.querySelector('#shift-sisters .main-svg')")
    page.get_by_text("Everything that happened").click()
    for mode in ("day", "dark"):
        expect(page.locator("html")).to_have_attribute("data-mode", mode)
        assert barriers(page) == []
        page.get_by_role("button", name="Dark / light").click()
