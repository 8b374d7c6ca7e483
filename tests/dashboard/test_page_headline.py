"""The headline in the browser: it names the insert and half that is blamed, and the bar stands beside that half."""

from dataclasses import replace

import pytest
from hand_filled import Trial
from playwright.sync_api import Page, expect
from served import Viewers
from touched import headline

from shotlog.facts import ChannelChange, Facts, Seated, SwapAsked
from shotlog.records import Verdict

pytestmark = pytest.mark.browser

MOULD = (Seated("fixed", "A-07", 1), Seated("moving", "B-14", 26))
WORN = Verdict(
    "P25", 30, "A-07", 30, False, "swap", cause="parting-line wear", group="insert", weight=0.9, onset=21,
    onset_low=19, onset_high=23, left_median=4.0, left_low=0.0, left_high=9.0, statistic=9.0,
    facts=Facts("called", changes=(ChannelChange("cushion", -0.4, 0.05),), half="fixed", mould=MOULD,
                bad_chance=0.4, next_shot_cost=3.6, swap_cost=0.8),
)  # fmt: skip


@pytest.fixture
def changed(trial: Trial) -> Trial:
    """Two reused halves, the moving one changed five shots ago."""
    trial.mount("A-07", "fixed")
    trial.mount("B-13")
    trial.shots(25)
    trial.mount("B-14")
    trial.shots(5)
    return trial


def bar(page: Page) -> str:
    """Return the serial that the bar stands beside."""
    return page.locator("#mounted .piece.judged .serial").inner_text()


def test_a_swap_names_the_insert_and_half_and_the_bar_follows(changed: Trial, viewers: Viewers) -> None:
    """It said "Swap, likely the insert" over the bar of a half five shots old."""
    changed.say(WORN)
    page = viewers.open()
    expect(headline(page)).to_have_text("Swap A-07, fixed half")
    assert bar(page) == "A-07"
    expect(page.locator("#standing")).to_contain_text("cheaper to swap now: the next part risks 3.60")
    expect(page.locator("#switch")).to_contain_text("Swap A-07, fixed half")


def test_what_outlived_a_swap_is_never_laid_to_the_fresh_insert(changed: Trial, viewers: Viewers) -> None:
    assert WORN.facts is not None
    facts = replace(WORN.facts, half="moving", outlived_swap=26, other_half=True, next_shot_cost=None)
    changed.say(replace(WORN, insert="B-14", verdict="watch", left_median=None, left_low=None, facts=facts))
    page = viewers.open()
    expect(headline(page)).to_have_text("Watch")
    expect(page.locator("#standing .likely")).to_have_text("not B-14: look at A-07, fixed half, the clamp or the press")
    assert bar(page) == "A-07"


def test_until_a_swap_has_shown_something_no_half_is_accused(changed: Trial, viewers: Viewers) -> None:
    assert WORN.facts is not None
    facts = replace(WORN.facts, asked=SwapAsked("B-13", 26), bad_chance=None, next_shot_cost=None)
    changed.say(replace(WORN, verdict="watch", facts=facts))
    page = viewers.open()
    expect(page.locator("#standing .likely")).to_have_text("which half cannot be told yet")
    standing = page.locator("#standing")
    expect(standing).to_contain_text("which half cannot be told yet: B-13, out since shot 26, or A-07, fixed half")
    expect(standing).not_to_contain_text("bad")


def test_a_finding_beside_a_swap_leaves_what_to_swap_as_large(changed: Trial, viewers: Viewers) -> None:
    changed.say(WORN)
    changed.note("finding", "flash", at_shot=30)
    changed.say(WORN)
    page = viewers.open()
    expect(headline(page)).to_have_text("Seen: flash")
    expect(page.locator("#standing .likely")).to_have_text("Swap A-07, fixed half")


def test_on_a_phone_what_to_do_stands_before_how_sure_it_is(changed: Trial, viewers: Viewers) -> None:
    """The red box with its odds and costs was taller than the screen: Next and the held parts lay below it."""
    changed.say(WORN)
    page = viewers.open(width=390, height=844)
    sure, foot = page.locator("#standing .detail"), page.locator(".desk").bounding_box()
    expect(page.locator(".held-banner")).to_be_visible()
    assert foot is not None
    for part in ("h1", ".sentence", ".hold", ".check"):
        box = page.locator(f"#standing {part}").bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= foot["y"], part
    held = page.locator(".held-banner b").bounding_box()
    assert held is not None
    assert held["y"] + held["height"] <= foot["y"]
    expect(sure).to_be_hidden()
    page.get_by_role("button", name="Why, and how sure").click()
    expect(sure).to_contain_text("cheaper to swap now")
    page.get_by_role("button", name="Why, and how sure").click()
    expect(sure).to_be_hidden()
    page.set_viewport_size({"width": 1280, "height": 800})
    expect(sure).to_be_visible()
    expect(page.locator("#standing .rest")).to_be_hidden()
