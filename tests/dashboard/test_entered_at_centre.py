"""Entered in a browser at a centre, taken in by the edge or taken back while it waits, and seen there."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace

import pytest
from playwright.sync_api import expect
from served import Served, Viewers

from dashboard.centre.app import build_centre
from dashboard.shared.pictures import picture_small, picture_wall
from shotlog.parts.picture import Picture
from shotlog.settings import load
from tests.chromium import Chromium
from tests.made_shop import Shop
from tests.postgres import Server

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


@pytest.mark.long
@pytest.mark.browser
def test_in_a_browser_what_is_entered_waits_and_is_taken_in_or_back(
    server: Server, tmp_path: Path, browser: Chromium, serve: Callable[..., Served]
) -> None:
    made = server.make()
    shop = Shop(tmp_path, made.render_as_string(hide_password=False))
    shop.ship()
    shop.plant.write_text(f'[log]\nstore = "{shop.centre}"\n', encoding="utf-8")
    pages = build_centre(load(shop.plant))
    opened = Viewers(browser, serve(SimpleNamespace(server=pages.server)).url)
    page = opened.open("/at/hall-2/parts")
    for shot, seen in (("11", "flash"), ("12", "burn")):
        page.get_by_label("Part: shot number").fill(shot)
        page.keyboard.press("Enter")
        page.get_by_role("button", name=seen, exact=True).wait_for()
        page.get_by_label("Your initials").fill("MR")
        page.get_by_role("button", name=seen, exact=True).click()
        expect(page.locator("#parts-said")).to_contain_text(f"P25/{shot}/1: {seen}; waits for hall-2")
    listed = page.locator("#waiting li")
    page.get_by_role("button", name="Take back P25, shot 12/1").click()
    expect(listed.nth(0)).to_contain_text("taken back while it waited: at the screen (MR)")
    expect(listed.nth(1)).to_contain_text("waits for hall-2")
    shop.ship()
    expect(listed.nth(1)).to_contain_text("taken in by hall-2 as inspection 1")
    expect(page.get_by_role("button", name="Take back")).to_have_count(0)
    expect(page.locator("#parts-held")).to_contain_text("P25, shot 11")
    assert shop.states() == ["taken", "withdrawn"]
    opened.close()
    pages.close()
    assert opened.wrong == []
    server.drop(made)


def test_a_picture_that_lies_at_the_edge_is_not_asked_for_at_the_centre() -> None:
    """Its file does not come: the page showed a broken one."""
    one = Picture(3, "P25", 230, 2, "B-11", None, "0a", "image/png", 9, "flash", "RK", NOW, NOW)
    for shown in (str(picture_wall([one], "hall-2")), str(picture_small(one, "hall-2"))):
        assert "The picture is at hall-2." in shown
        assert "Img(" not in shown
    assert "shot 230, cavity 2, insert B-11: flash" in str(picture_wall([one], "hall-2"))
    assert "Img(" in str(picture_wall([one]))
