"""The panels of entries at the press, in a real browser: whole tasks as a person with gloves does them."""

import pytest
from hand_filled import Trial
from playwright.sync_api import Page, expect
from served import Viewers, at_sizes, too_small_for_a_glove
from touched import picked, touch

from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.parts import parts_meant

pytestmark = pytest.mark.browser


def said(page: Page, words: str) -> None:
    expect(page.locator("#said")).to_contain_text(words)


def stays(trial: Trial) -> list[tuple[str, int, float, str]]:
    return [(one.mounting.insert.serial, one.first, one.end, one.reason) for one in trial.log.timeline("P25").stays]


def test_an_insert_is_taken_out_with_a_reason_by_somebody(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(6)
    page = viewers.open()
    page.get_by_label("Your initials").fill("RK")
    touch(page, "Removed")
    touch(page, "flash")
    expect(page.locator("#refused")).to_contain_text("say which insert came out")
    picked(page, "fixed, A-07").click()
    touch(page, "flash")
    said(page, "A-07 out from shot 7: flash, by RK. Counted as: parting-line wear.")
    expect(page.locator("#mounted")).not_to_contain_text("A-07")
    expect(page.locator("#recent")).to_contain_text("A-07 removed: flash shot 7, by RK, typed")
    page.get_by_role("button", name="Undo A-07 removed: flash").click()
    expect(page.locator(".undoing")).to_have_text("P25, shot 7, A-07 removed: flash")
    touch(page, "Back")
    assert stays(trial)[0] == ("A-07", 1, 7, "flash")
    page.get_by_role("button", name="Undo A-07 removed: flash").click()
    touch(page, "Yes, take it back")
    said(page, "Taken back: A-07 out from shot 7: flash")
    expect(page.locator("#mounted")).to_contain_text("A-07")
    page.locator("#said").get_by_role("button", name="Enter again").click()
    said(page, "Entered again: A-07 out from shot 7: flash")
    assert stays(trial)[0] == ("A-07", 1, 7, "flash")
    page.reload()
    expect(page.get_by_label("Your initials")).to_have_value("RK")


def test_a_finding_is_on_a_half_and_by_somebody(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    page.get_by_label("Your initials").fill("AB")
    touch(page, "Finding")
    picked(page, "fixed, A-07").click()
    touch(page, "residue left")
    said(page, "seen: residue left, fixed half, at shot 4")
    (event,) = trial.log.timeline("P25").events
    assert (event.text, event.half, event.initials) == ("residue left", "fixed", "AB")


def test_a_swap_of_either_half_at_two_touches_where_nothing_is_blamed(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(6)
    page = viewers.open()
    touch(page, "Swapped")
    expect(page.locator(".panel .pick[aria-pressed=true]", has_text="moving")).to_have_count(0)
    field = page.get_by_label("Serial, typed or scanned")
    expect(field).to_have_value("")
    picked(page, "moving").click()
    expect(field).to_have_value("B-12")
    picked(page, "fixed").click()
    expect(field).to_have_value("A-08")
    field.fill("A-99")
    picked(page, "moving").click()
    expect(field).to_have_value("A-99")
    touch(page, "Back")
    touch(page, "Swapped")
    touch(page, "A-08 for A-07, fixed half")
    said(page, "A-08 in fixed from shot 7")
    touch(page, "Swapped")
    picked(page, "worn").first.click()
    touch(page, "B-12 for B-11, moving half")
    said(page, "B-12 in moving from shot 7")
    assert stays(trial)[-2:] == [("A-08", 7, float("inf"), ""), ("B-12", 7, float("inf"), "")]
    assert ("B-11", 1, 7, "worn") in stays(trial)
    page.locator("#said").get_by_role("button", name="Undo").click()
    expect(page.locator(".undoing")).to_contain_text("and with it: P25, shot 7, B-11 removed: worn")
    touch(page, "Yes, take it back")
    expect(page.locator("#mounted")).to_contain_text("B-11")


def test_single_use_pieces_from_queue_to_the_last_one(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.shots(2)
    page = viewers.open()
    touch(page, "Single-use pieces")
    page.get_by_label("Add pieces").fill("S-01..S-05")
    page.get_by_label("Print batch").fill("PL-3")
    touch(page, "Enter")
    said(page, "5 pieces added in moving: S-01 to S-05")
    expect(page.locator("#mounted")).to_contain_text("S-01 PL-35 left")
    trial.shots(1)
    expect(page.locator("#mounted")).to_contain_text("S-02")
    touch(page, "Dry shot")
    touch(page, "Shot 3, the last")
    said(page, "dry, at shot 3")
    expect(page.locator("#mounted")).to_contain_text("S-01")
    touch(page, "Single-use pieces")
    page.get_by_role("button", name="Drop S-02").click()
    touch(page, "cracked")
    said(page, "S-02 dropped: cracked")
    trial.shots(1)
    expect(page.locator(".running-out")).to_have_text("Only 3 pieces left in the moving half.")
    trial.shots(3)
    expect(page.locator(".running-out")).to_contain_text("No piece left in the moving half")
    halves = [trial.log.timeline("P25").halves(shot)["moving"].serial for shot in (4, 5, 6, 7)]
    assert halves == ["S-01", "S-03", "S-04", "S-05"]


def test_a_lot_over_checked_parts_is_said_yes_to(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(6)
    parts = parts_meant(trial.log, "P25", trial.settings.designs, "2-4")
    enter_decision(trial.log, parts, "released", trial.clock.now(), reason="looked at", initials="QA")
    page = viewers.open()
    touch(page, "Lot changed")
    page.get_by_label("Lot, typed or scanned").fill("L2")
    page.get_by_label("From shot").fill("3")
    touch(page, "Enter")
    expect(page.locator("#refused")).to_contain_text("This changes the lot of 2 parts that were inspected")
    assert trial.log.timeline("P25").events == []
    touch(page, "Yes, change the lot of 2 checked parts")
    said(page, "lot: L2, at shot 3")
    expect(page.locator("#refused")).to_be_empty()


def over_the_caution(page: Page) -> bool:
    """Whether what enters lies on the caution at the foot, with the panel scrolled down to its end and no further."""
    row = page.locator(".panel > .row")
    page.locator(".panel").evaluate("one => one.scrollIntoView({block: 'end'})")
    enters, caution = row.bounding_box(), page.get_by_role("note").bounding_box()
    assert enters is not None
    assert caution is not None
    below = enters["y"] >= caution["y"] + caution["height"] - 1
    return not below and enters["y"] + enters["height"] > caution["y"] + 1


def test_every_panel_fits_a_glove_and_the_screen(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(6)
    page = viewers.open()
    for button in ("Swapped", "Finding", "Removed", "Dry shot", "Single-use pieces"):
        touch(page, button)
        for _ in at_sizes(page):
            assert too_small_for_a_glove(page) == []
            assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
            assert over_the_caution(page) is False
        touch(page, "Back")
