"""Every page, by day and dark, checked by axe-core: nothing that keeps people out; and what a keyboard reaches."""

import pytest
from barriers import barriers
from hand_filled import BALANCE, CONFIG, Trial
from playwright.sync_api import expect
from served import Viewers, go, settled, too_small_for_a_glove

from dashboard.pages import PAGES
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Fault, Gap, Verdict, Weighing

pytestmark = pytest.mark.browser


@pytest.fixture
def trial(tmp_path_factory: pytest.TempPathFactory) -> Trial:
    """A press with everything on it that a page can show: a call, a question, gaps, faults, entries, a balance."""
    made = Trial(tmp_path_factory.mktemp("axe"), CONFIG + BALANCE)
    made.mount("A-07", "fixed")
    made.mount("B-11")
    made.link("connected", "the press answers")
    made.shots(30)
    made.next_shot["P25"] = 34
    made.log.append([Gap("P25", 31, 33, made.clock.now(), "the counter jumped")])
    made.shots(10)
    made.note("lot", "L-2207")
    now = made.clock.now()
    made.log.append([Fault("P25", now, "bad line", "7 fields for 9", b"1;2;3")])
    made.log.append([Weighing("P25", "balance", 4.123, now, 60.0, b"4.123 g")])
    made.shots(1)
    made.say(
        Verdict(
            "P25", 44, "B-11", 44, False, "watch", "",
            (), "parting-line wear", "insert", 0.86, 40, 38, 42, 8.0, 3.0, 20.0, 7.1, 5.0,
            Facts("called", asked_shot=34, changes=(ChannelChange("cushion", -0.31, 0.05),)),
        )
    )  # fmt: skip
    return made


def test_nothing_serious_by_day_and_dark(viewers: Viewers) -> None:
    page = viewers.open("/plan")
    found: dict[tuple[str, str | None], list[str]] = {}
    for each in PAGES:
        go(page, each.path)
        for _ in range(2):
            settled(page)
            mode = page.locator("html").get_attribute("data-mode")
            found[each.path, mode] = barriers(page)
            page.get_by_role("button", name="Dark / light").click()
            expect(page.locator("html")).not_to_have_attribute("data-mode", str(mode))
    assert found == {(each.path, mode): [] for each in PAGES for mode in ("day", "dark")}


def test_nothing_serious_in_an_open_panel_or_on_data_that_are_not_current(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    page.get_by_role("button", name="Yes, changed").click()
    expect(page.locator(".panel")).to_be_visible()
    trial.clock.advance(3600)
    expect(page.locator("#standing")).to_have_class("standing cut not-current long")
    assert barriers(page) == []


def test_the_check_finds_what_is_wrong(viewers: Viewers) -> None:
    """A check that could not fail would say nothing."""
    page = viewers.open("/help")
    page.evaluate(
        "document.querySelector('main').insertAdjacentHTML('beforeend', '<button></button><a href=/help></a>')"
    )
    assert {one.split(":")[0] for one in barriers(page)} == {"button-name", "link-name"}
    assert too_small_for_a_glove(page)[0].startswith("<button></button>")


def test_every_button_is_reached_by_the_keyboard_and_an_entry_is_made_with_it(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    expect(page.get_by_role("button", name="Purge", exact=True)).to_be_visible()
    reached = set()
    for _ in range(40):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.innerText"))
        if page.evaluate("document.activeElement.textContent") == "Purge":
            page.keyboard.press("Enter")
            break
    expect(page.locator("#said")).to_contain_text("purge, at shot 45")
    assert {"Dark / light", "Yes, changed", "No", "Swapped", "Finding", "Lot changed"} <= reached
