"""Places on the page of parts and baths: said in one scan, overdue like a bath, moved, and taken back."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hand_filled import Trial
from playwright.sync_api import Page, expect
from served import Viewers, too_small_for_a_glove

from shotlog.parts.part import Part
from shotlog.store.parts.baths import make_up
from shotlog.store.parts.inspections import inspect
from shotlog.store.parts.places import where_is

pytestmark = pytest.mark.browser


@pytest.fixture
def trial(tmp_path: Path) -> Iterator[Trial]:
    made = Trial(tmp_path)
    made.mount("A-07", "fixed")
    made.mount("S-001", single_use=True)
    made.shots(30)
    make_up(made.log, "B1", made.clock.now())
    inspect(made.log, Part("P25", 28), made.clock.now(), finding="flash", initials="ab")
    yield made
    made.close()


def put(page: Page, parts: str, place: str, due: str = "") -> None:
    page.get_by_role("button", name="Put somewhere").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("Parts: shots").fill(parts)
    dialog.get_by_label("Due").fill(due)
    dialog.get_by_label("Bag, box or shelf").fill(place)
    dialog.get_by_label("Bag, box or shelf").press("Enter")
    expect(dialog).to_be_hidden()


def test_a_held_run_is_put_in_a_box_and_is_overdue_a_day_later(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open("/parts")
    held = page.locator(".runs > li").filter(has_text="shot 28")
    held.first.get_by_role("button", name="Say where").click()
    dialog = page.get_by_role("dialog")
    assert too_small_for_a_glove(page) == []
    dialog.get_by_label("Due").fill("24h")
    dialog.get_by_label("Bag, box or shelf").fill("box-4")
    dialog.get_by_role("button", name="Put there").click()
    expect(page.locator("#parts-said")).to_contain_text("in box-4, due")
    shown = page.locator("#parts-places")
    expect(shown).to_contain_text("box-4: P25, shot 28")
    trial.clock.advance(25 * 3600)
    expect(shown.locator("h2")).to_contain_text("1 OVERDUE")
    expect(shown).to_contain_text("OVERDUE by 1 h")
    page.locator("#parts-said").get_by_role("button", name="Undo").click()
    expect(shown).to_contain_text("Nobody has said where parts are")
    assert where_is(trial.log).places == ()


def test_the_newest_of_place_and_bath_is_shown(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open("/parts")
    put(page, "P25/5/1 http://10.0.0.7:8050/part/P25/6", "bag-7")
    expect(page.locator("#parts-places")).to_contain_text("bag-7: P25, shots 5 to 6")
    page.get_by_role("button", name="Put parts into").click()
    page.get_by_role("dialog").get_by_label("Parts: shots").fill("5")
    page.get_by_role("button", name="In the bath").click()
    expect(page.locator("#parts-places")).to_contain_text("bag-7: P25, shot 6")
    page.get_by_role("button", name="Take shot 5 of P25 out").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("Put in").fill("shelf 2")
    dialog.get_by_role("button", name="Out", exact=True).click()
    expect(page.locator("#parts-said")).to_contain_text("now in shelf 2")
    expect(page.locator("#parts-places")).to_contain_text("shelf 2: P25, shot 5")
    page.locator("#parts-form").get_by_label("Part:").fill("S-005")
    page.get_by_role("button", name="Look up").click()
    expect(page.locator(".at-hand")).to_contain_text("in shelf 2")
    page.get_by_role("button", name="Say where this part is put").click()
    dialog.get_by_label("Bag, box or shelf").fill("box 9")
    dialog.get_by_label("Bag, box or shelf").press("Enter")
    expect(page.locator("#parts-places")).to_contain_text("box 9: P25, shot 5")
    page.get_by_role("link", name="All that is known of it").click()
    expect(page.locator(".part-head")).to_contain_text("where it is: box 9")
