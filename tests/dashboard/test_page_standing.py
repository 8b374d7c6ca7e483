"""What stands on top of the page at the press beside the change that decides, in a real browser."""

from dataclasses import replace

import pytest
from hand_filled import Trial
from playwright.sync_api import Page, ViewportSize, expect
from served import DRAWN_FOR_SIZE, Viewers, at_sizes
from touched import headline, touch

from shotlog.facts import Ageing, ChannelChange, Facts, FrozenChannel, PassedLimit, Rhythm
from shotlog.records import OtherChange, Verdict
from shotlog.store.asked import state
from tests.chromium import until

pytestmark = pytest.mark.browser

OTHERS = (OtherChange("material", "lot change", 12), OtherChange("press", "set-point or drive", 18))
FULL = Verdict(
    "P25", 30, "B-11", 30, False, "swap", left_median=0.0, left_low=0.0, left_high=0.0, cause="gate erosion",
    group="insert", weight=0.9, onset=26, onset_low=24, onset_high=28, statistic=9.0, others=OTHERS,
    limits=("cushion",),
    facts=Facts(
        "called",
        changes=(ChannelChange("cushion", -0.8, 0.05),),
        limits=(PassedLimit("cushion", 4.2, False, 4.127),),
        ageing=(Ageing("fill_time", -0.0012, 4, 31.0),),
        rhythm=Rhythm(18, 60.0, 90.0),
        frozen=(FrozenChannel("peak_pressure", 14),),
        half="moving",
    ),
)  # fmt: skip
PHONE: ViewportSize = {"width": 390, "height": 844}
AT_THE_PRESS: ViewportSize = {"width": 1280, "height": 800}


@pytest.fixture
def full(trial: Trial) -> Trial:
    """A press of which there is the most to say."""
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(30)
    trial.say(FULL)
    return trial


def words_in_order(page: Page) -> list[str]:
    shown: list[str] = page.locator("#standing").evaluate("one => one.innerText.split('\\n').filter(line => line)")
    return shown


def test_a_limit_passed_is_the_first_thing_said(full: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    expect(headline(page)).to_have_text("Swap B-11, moving half")
    until(page, "document.querySelector('#strips .js-plotly-plot')?.data.length > 0")
    for size in (AT_THE_PRESS, PHONE):
        page.set_viewport_size(size)
        until(page, DRAWN_FOR_SIZE)
        first, *rest = words_in_order(page)
        assert first == "Limit passed: cushion 4.13 mm is below 4.20 mm."
        assert rest[:2] == ["Swap B-11, moving half", "Cushion down 0.80 mm since shot 26 (24 to 28)."]
        limit, head = page.locator("#standing .limit").bounding_box(), headline(page).bounding_box()
        assert limit is not None
        assert head is not None
        assert limit["y"] + limit["height"] <= head["y"] + 1
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
        page.locator(".strips .legend").scroll_into_view_if_needed()
        legend, caution = page.locator(".strips .legend").bounding_box(), page.get_by_role("note").bounding_box()
        assert legend is not None
        assert caution is not None
        assert legend["y"] + legend["height"] <= caution["y"] + 1
    detail = page.locator("#standing .detail")
    for said in ("stands still since shot 14", "the rhythm changed at shot 18", "ageing that 4 sisters show too"):
        expect(detail).to_contain_text(said)


def test_the_other_open_changes_are_a_list(full: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    also = page.locator("#standing .also li")
    expect(also).to_have_text(["lot change (material) since shot 12", "set-point or drive (press) since shot 18"])
    expect(also.first).to_be_visible()
    page.set_viewport_size(PHONE)
    expect(also.first).to_be_hidden()
    touch(page, "Why, and how sure")
    expect(also.first).to_be_visible()
    full.say(replace(FULL, others=OTHERS[1:]))
    expect(also).to_have_text(["set-point or drive (press) since shot 18"])
    full.say(replace(FULL, others=()))
    expect(page.locator("#standing .also")).to_have_count(0)


def test_a_limit_passed_while_settling_is_said_first_too(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(3)
    trial.say(
        Verdict(
            "P25", 3, "B-11", 3, True, "watch", limits=("cushion",),
            facts=Facts("settling", judged_from=11, limits=(PassedLimit("cushion", 4.2, False, 4.1),)),
        )
    )  # fmt: skip
    page = viewers.open()
    expect(headline(page)).to_have_text("Watch")
    said = words_in_order(page)
    assert said[0] == "Limit passed: cushion 4.10 mm is below 4.20 mm."
    assert "Settling: shot 3 on B-11, not judged before shot 11 of the press." in said
    assert any(line.startswith("Next: Look at the last part") for line in said)


def test_looked_at_and_sound(full: Trial, viewers: Viewers) -> None:
    page = viewers.open(**PHONE)
    page.locator(".more").click()
    touch(page, "Found sound")
    expect(page.get_by_label("Who looked")).to_be_focused()
    page.get_by_label("What was looked at").fill("gate under the loupe")
    touch(page, "Enter")
    expect(page.locator("#refused")).to_contain_text("allowed: who looked, a comma, and what was looked at")
    page.get_by_label("Who looked").fill("R. K.")
    page.keyboard.press("Enter")
    expect(page.locator("#said")).to_contain_text("found sound: R. K., gate under the loupe, at shot 30")
    expect(page.locator("#recent")).to_contain_text("found sound: R. K., gate under the loupe")
    for width, _ in at_sizes(page):
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.locator("#said").get_by_role("button", name="Undo").click()
    touch(page, "Yes, take it back")
    expect(page.locator("#said")).to_contain_text("Taken back: found sound")
    assert [row.taken_back for row in state.entries(full.log, "P25") if row.event.kind == "sound"] == [True]
