"""Entered in a browser at a centre, taken in by the edge or taken back while it waits, and seen there."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace

import pytest
from flask import Flask
from playwright.sync_api import expect
from plotly.utils import PlotlyJSONEncoder
from served import Served, Viewers

from dashboard.centre.app import build_centre
from dashboard.parts.dialogs import DIALOGS, touch
from dashboard.parts.lists import baths, recent
from dashboard.parts.places import places
from dashboard.parts.reader import Recent
from dashboard.press.entry_panel import question, recent_entries
from dashboard.press.people import _question
from dashboard.press.told_now import told_now
from dashboard.shared.at_centre import UNDONE_ELSEWHERE, tell_edge
from dashboard.shared.person import Person, set_person
from dashboard.shared.pictures import picture_small, picture_wall
from dashboard.shared.views import EntryLine
from shotlog.parts.found import FoundWrong
from shotlog.parts.picture import Picture
from shotlog.parts.told import FINDING, Wrong
from shotlog.records import Signature, Who
from shotlog.settings import load
from shotlog.store.asked.told import SpellNow
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
    at_press = opened.open("/at/hall-2/press/P25", 390, 844)
    at_press.get_by_role("button", name="Finding", exact=True).click()
    first = at_press.locator(".panel button").first
    expect(first).to_be_in_viewport(ratio=1.0)
    expect(at_press.locator("#waiting")).to_be_hidden()
    at_press.get_by_role("button", name="Back", exact=True).click()
    at_press.locator(".more").click()
    expect(at_press.locator("#waiting")).to_contain_text("waits for hall-2")
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


HERE, THERE = Signature("k.brand", "quality", "page", "", "KB"), Signature("k.brand", "quality", "centre", "", "KB")


def entered(n: int, made: Signature, table: str = "events") -> EntryLine:
    return EntryLine(f"{table}:{n}", 3, f"number {n}", NOW, False, Who("KB", made), Who(""))


@pytest.mark.parametrize("edge", ["", "hall-2"])
def test_nothing_is_offered_there_that_would_be_refused(edge: str) -> None:
    """Buttons of what is entered at the press alone, and of what was entered there or by somebody else."""
    pages = Flask("pages")
    tell_edge(pages, edge)
    view = SimpleNamespace(recent=(entered(1, HERE), entered(2, THERE), entered(3, THERE, "mountings")))
    parts = SimpleNamespace(recent=[Recent(one.name, NOW, one.text, one.who) for one in view.recent], baths=[])
    told = SpellNow("P25", "call", "s", "P25: swap", NOW, None, 1)
    wrong = Wrong(1, FINDING, 20, "", "crack", "KB", NOW)
    with pages.test_request_context():
        for person in (Person("k.brand", "KB", "quality"), Person("x.y", "XY", "quality")):
            set_person(person)
            undone = {"events:2"} if person.account == "k.brand" else set[str]()
            for lists in (recent_entries(view, edge), recent(parts, NOW)):  # type: ignore[arg-type]
                offered = {arg for what, arg in touched(lists) if what == "undo"}
                assert offered == (undone if edge else {one.name for one in view.recent})
                assert (UNDONE_ELSEWHERE in str(lists)) == bool(edge)
        opens = {name for name in DIALOGS if touched(touch(name, "open", f"{name} P25 4"))}
        assert opens == ({"release", "scrap"} if edge else set(DIALOGS))
        for asks in (question(34), _question(FoundWrong(wrong, (), True, True)), told_now("P25", [told], NOW)):
            assert bool(touched(asks)) != bool(edge), asks
            assert ("at the press" in str(asks)) == bool(edge)
        for lists in (places([], NOW), baths(parts, NOW)):  # type: ignore[arg-type]
            assert ("at the press." in str(lists)) == bool(edge)


def touched(part: object) -> set[tuple[str, str]]:
    """Return what the buttons in a part of a page stand for; the library sends what describes one in any order."""
    found = set[tuple[str, str]]()

    def seen(sent: dict[str, object]) -> dict[str, object]:
        what = sent.get("data-do", sent.get("data-what"))
        if what is not None and "data-arg" in sent:
            found.add((str(what), str(sent["data-arg"])))
        return sent

    json.loads(json.dumps(part, cls=PlotlyJSONEncoder), object_hook=seen)
    return found
