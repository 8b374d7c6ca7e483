"""Whose entries those of a device are: asked once, in sight at every width, and seen beside what is entered."""

from dataclasses import replace

import pytest
from hand_filled import Trial
from playwright.sync_api import Page, ViewportSize, expect
from served import Viewers, too_small_for_a_glove
from touched import picked, touch

from dashboard import Source
from dashboard.press.entry_panel import recent_entries
from dashboard.shared.press_reader import PressReader
from shotlog.records import Signature, Who
from shotlog.store.asked import state

PHONE: ViewportSize = {"width": 390, "height": 844}
AT_THE_PRESS: ViewportSize = {"width": 1280, "height": 800}


def noted(trial: Trial) -> list[tuple[str, str]]:
    return [(row.event.text, row.event.initials) for row in state.entries(trial.log, "P25", 0, 99)]


def asks(page: Page) -> None:
    expect(page.locator(".asks-who input")).to_be_focused()
    for size in (AT_THE_PRESS, PHONE):
        page.set_viewport_size(size)
        expect(page.locator(".asks-who input")).to_be_in_viewport()
        for name in ("Enter", "Enter without", "Back"):
            expect(page.locator(".asks-who").get_by_role("button", name=name, exact=True)).to_be_in_viewport()
        assert too_small_for_a_glove(page) == []


@pytest.mark.browser
def test_the_first_entry_of_a_device_asks_who_enters(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open(**PHONE, new_device=True)
    touch(page, "Finding")
    picked(page, "moving, B-11").click()
    touch(page, "flash")
    asks(page)
    touch(page, "Enter")
    asks(page)
    assert noted(trial) == []
    page.keyboard.type("RK")
    page.keyboard.press("Enter")
    expect(page.locator("#said")).to_contain_text("seen: flash, moving half, at shot 4, by RK")
    assert noted(trial) == [("flash", "RK")]
    expect(page.get_by_role("button", name="More by RK")).to_be_visible()
    page.set_viewport_size(AT_THE_PRESS)
    expect(page.get_by_label("Your initials")).to_be_visible()
    touch(page, "Finding")
    touch(page, "short")
    expect(page.locator("#said")).to_contain_text("seen: short")
    assert noted(trial)[-1] == ("short", "RK")


@pytest.mark.browser
def test_who_enters_without_initials_was_asked(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open(width=390, height=844, new_device=True)
    touch(page, "Finding")
    touch(page, "flash")
    asks(page)
    touch(page, "Back")
    expect(page.locator(".asks-who")).to_have_count(0)
    assert noted(trial) == []
    touch(page, "Finding")
    touch(page, "flash")
    touch(page, "Enter without")
    expect(page.locator("#said")).to_contain_text("seen: flash")
    expect(page.locator(".more")).to_contain_text("no initials")
    page.goto(viewers.home + "/parts")
    page.get_by_label("Part: shot number").fill("2")
    touch(page, "Look up")
    touch(page, "burn")
    expect(page.locator("#parts-said")).to_contain_text("burn")


@pytest.mark.browser
def test_the_bench_asks_who_enters_too(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open("/parts", width=390, height=844, new_device=True)
    page.get_by_label("Part: shot number").fill("2")
    touch(page, "Look up")
    touch(page, "burn")
    asks(page)
    page.keyboard.type("RK")
    page.keyboard.press("Enter")
    expect(page.locator("#parts-said")).to_contain_text("by RK")
    expect(page.locator("#parts-recent")).to_contain_text("by RK, typed")


@pytest.mark.browser
def test_what_is_put_into_an_empty_press_was_not_swapped(trial: Trial, viewers: Viewers) -> None:
    trial.shots(1)
    page = viewers.open()
    expect(page.locator("#mounted")).to_contain_text("No insert entered")
    expect(page.get_by_role("button", name="Swapped")).to_have_count(0)
    touch(page, "Insert mounted")
    expect(page.get_by_role("heading", name="Insert mounted")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator(".panel")).to_have_count(0)
    touch(page, "Insert mounted")
    expect(page.get_by_role("heading", name="Insert mounted")).to_be_visible()
    page.get_by_label("Serial, typed or scanned").fill("B-11")
    touch(page, "Enter")
    expect(page.locator("#mounted")).to_contain_text("B-11")
    expect(page.get_by_role("button", name="Swapped")).to_be_visible()
    expect(page.get_by_role("button", name="Insert mounted")).to_have_count(0)


def test_what_the_logger_entered_stands_folded_below_what_people_did(trial: Trial, source: Source) -> None:
    trial.note("dry", "stood there at first contact")
    view = PressReader(source).fresh("P25").view
    (dry,) = view.recent
    by_logger = replace(dry, who=Who("", Signature("", "", "program", "")))
    mine = replace(dry, text="note: looked", who=Who("KB"))
    first, last = recent_entries(replace(view, recent=(by_logger, mine)))
    assert "note: looked" in str(first)
    assert "Entered by the logger itself" in str(last)
    assert "stood there at first contact" in str(last)
    (alone,) = recent_entries(replace(view, recent=(by_logger,)))
    assert "Entered by the logger itself" in str(alone)
    assert len(recent_entries(replace(view, recent=(mine,)))) == 1
