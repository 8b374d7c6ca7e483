"""The page of one part: found by its address, by what is typed or scanned, and from the lists; printed on one sheet."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from barriers import barriers
from dash import Dash
from hand_filled import CONFIG, Trial
from playwright.sync_api import expect
from served import Viewers, at_sizes, too_small_for_a_glove

from dashboard.shared.part_path import named_in, path_of
from shotlog.answers.part import blocks_of
from shotlog.answers.table import printed
from shotlog.parts.part import Part
from shotlog.review.chain import chain_of
from shotlog.settings import load
from shotlog.store.parts.inspections import inspect


@pytest.fixture
def trial(tmp_path: Path) -> Iterator[Trial]:
    made = Trial(tmp_path)
    made.file.write_text(
        CONFIG.replace("[design.cap-r2.limits]", "[design.cap-r2]\ncavities = 2\n[design.cap-r2.limits]")
    )
    made.settings = load(made.file)
    made.mount("A-07", "fixed")
    made.mount("S-001", single_use=True)
    made.note("lot", "L1")
    made.shots(30)
    made.note("finding", "flash at the gate", at_shot=28)
    inspect(made.log, Part("P25", 28, 2), made.clock.now(), finding="flash", initials="ab")
    yield made
    made.close()


def test_addresses_are_read_as_they_are_written() -> None:
    for press, shot, cavity in (("P25", 230, 1), ("hall 2/b", 7, 2)):
        named = f"{press}/{shot}" + (f"/{cavity}" if cavity > 1 else "")
        assert named_in(f"http://10.0.0.7:8050{path_of(press, shot, cavity)}") == named
    assert named_in(" P25/230/1\n") == "P25/230/1"


@pytest.mark.browser
def test_the_page_says_all_that_the_command_says(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open("/part/P25/28/2")
    expect(page.get_by_role("heading", level=1)).to_have_text("P25, shot 28, cavity 2 of 2")
    expect(page.locator(".state")).to_contain_text("HELD")
    shown = page.locator("main").inner_text()
    for block in blocks_of(chain_of(trial.log, trial.settings.designs, Part("P25", 28, 2)), trial.clock.now()):
        for row in block.rows:
            for cell in row[block.name == "stands" :]:
                assert str(cell) in shown, printed(block)
    page.get_by_role("link", name="Cavity 1").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("P25, shot 28, cavity 1 of 2")
    page.get_by_role("link", name="Part before").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("P25, shot 27, cavity 1 of 2")
    page.get_by_role("link", name="A-07").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("A-07")


@pytest.mark.browser
def test_it_is_reached_by_scanning_and_from_the_lists(viewers: Viewers) -> None:
    page = viewers.open("/part")
    page.locator("#part-asked").fill("http://10.0.0.7:8050/part/P25/12/2")
    page.locator("#part-asked").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("P25, shot 12, cavity 2 of 2")
    page.locator("#part-asked").fill("S-005")
    page.get_by_role("button", name="Show").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("P25, shot 5, cavity 1 of 2")
    page.locator("#part-asked").fill("P25/999")
    page.get_by_role("button", name="Show").click()
    expect(page.get_by_role("alert").filter(has_text="counted no such shot")).to_be_visible()
    page = viewers.open("/parts")
    page.locator(".runs h3 a").filter(has_text="29").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("P25, shot 29")


@pytest.mark.browser
def test_it_fits_every_size_and_is_printed_on_one_sheet(viewers: Viewers) -> None:
    page = viewers.open("/part/P25/28/2", 390, 844)
    expect(page.locator(".block").first).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    for width, _ in at_sizes(page):
        assert page.evaluate("document.documentElement.scrollWidth") == width
        assert too_small_for_a_glove(page) == []
    assert barriers(page) == []
    assert page.pdf(format="A4").count(b"/Type /Page\n") == 1
    page.emulate_media(media="print")
    for hidden in ("header", ".ways", ".safety", ".asked"):
        expect(page.locator(hidden).first).to_be_hidden()


def test_a_page_of_no_part_is_no_page(app: Dash) -> None:
    assert app.server.test_client().get("/part/P25/28").status_code == 200
    assert app.server.test_client().get("/partial").status_code == 404
