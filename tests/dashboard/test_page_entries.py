"""What is entered on the page at the press, in a real browser: at one touch, typed or scanned, and taken back."""

import threading
from collections.abc import Callable

import pytest
from dash import Dash
from hand_filled import Trial
from playwright.sync_api import expect
from served import Served, Viewers
from touched import headline, picked, touch

from dashboard import Source, build
from shotlog.errors import StoreUnreachable
from shotlog.facts import Facts
from shotlog.records import Shot, Verdict
from shotlog.store.asked import state
from shotlog.store.log.log import Log, open_log
from tests.chromium import Chromium, until

pytestmark = pytest.mark.browser


def test_a_scanned_serial_is_a_swap(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    touch(page, "Swapped")
    field = page.get_by_label("Serial, typed or scanned")
    expect(field).to_have_value("B-12")
    expect(field).to_be_focused()
    field.press("Control+a")
    page.keyboard.type("B-77", delay=0)
    page.keyboard.press("Enter")
    expect(page.locator("#said")).to_contain_text("B-77 in moving from shot 5")
    expect(headline(page)).to_have_text("B-77 is in")
    expect(page.locator("#mounted")).to_contain_text("B-77")
    stay = trial.log.timeline("P25").stays_at(5)["moving"]
    assert (stay.mounting.insert.serial, stay.mounting.insert.design) == ("B-77", "cap-r2")


def test_a_swap_in_the_other_half_and_back_again(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    touch(page, "Swapped")
    picked(page, "fixed").click()
    page.get_by_label("Serial, typed or scanned").fill("A-08")
    touch(page, "Enter")
    expect(page.locator("#said")).to_contain_text("A-08 in fixed from shot 5")
    page.locator("#said").get_by_role("button").click()
    expect(page.locator(".undoing")).to_have_text("P25, shot 5, A-08 mounted, fixed half")
    touch(page, "Yes, take it back")
    expect(page.locator("#said")).to_contain_text("Taken back: A-08 in fixed from shot 5")
    assert trial.log.timeline("P25").stays_at(5)["fixed"].mounting.insert.serial == "A-07"
    expect(page.locator("#mounted")).not_to_contain_text("A-08")


def test_a_half_that_takes_a_new_piece_every_shot(trial: Trial, viewers: Viewers) -> None:
    trial.mount("A-07", "fixed")
    trial.shots(4)
    page = viewers.open()
    touch(page, "Swapped")
    picked(page, "moving").click()
    picked(page, "a new one every shot").click()
    expect(picked(page, "fixed")).to_have_attribute("aria-pressed", "false")
    page.get_by_label("Serial, typed or scanned").fill("S-01")
    touch(page, "Enter")
    expect(page.locator("#said")).to_contain_text("S-01 in moving from shot 5, a new piece each shot, S-01, S-02, S-03")
    assert trial.log.timeline("P25").stays_at(5)["moving"].mounting.single_use
    trial.shots(1)
    expect(page.locator("#mounted")).to_contain_text("S-02")
    touch(page, "Single-use pieces")
    expect(page.locator(".panel")).to_contain_text("In the moving half: numbered on from S-01, next S-02.")


def test_a_finding_at_one_touch_and_its_undo(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    touch(page, "Finding")
    touch(page, "flash")
    expect(page.locator("#said")).to_contain_text("seen: flash, at shot 4")
    expect(page.locator("#recent")).to_contain_text("seen: flash")
    expect(page.locator("#strips")).to_contain_text("seen: flash")
    page.locator("#said").get_by_role("button", name="Undo").click()
    touch(page, "Yes, take it back")
    expect(page.locator("#said")).to_contain_text("Taken back: seen: flash")
    expect(page.locator("#recent")).to_contain_text("taken back")
    expect(page.locator("#strips")).not_to_contain_text("seen: flash")
    (row,) = state.entries(trial.log, "P25")
    assert (row.event.kind, row.event.text, row.event.at_shot, row.taken_back) == ("finding", "flash", 4, True)


def test_an_entry_seen_before_it_is_answered_is_still_confirmed(
    trial: Trial, browser: Chromium, serve: Callable[[Dash], Served]
) -> None:
    """A refresh may show the entry while its answer is on the way; the list it draws must not make the answer void."""
    arrived = threading.Event()

    def slow(url: str) -> Log:
        return SlowToClose(open_log(url, read_only=False), arrived)

    trial.mount("B-11")
    trial.shots(4)
    source = Source(trial.settings, trial.clock, slow)
    opened = Viewers(browser, serve(build(source)).url)
    page = opened.open()
    touch(page, "Purge")
    expect(page.locator("#recent")).to_contain_text("purge")
    arrived.set()
    expect(page.locator("#said")).to_contain_text("purge, at shot 5")
    opened.close()
    source.close()
    assert opened.wrong == []


class SlowToClose(Log):
    """A log that, once written, is let go of only when told."""

    def __init__(self, log: Log, until: threading.Event) -> None:
        self.__dict__.update(log.__dict__)
        self._until = until

    def close(self) -> None:
        self._until.wait(60)
        super().close()


def asked(trial: Trial) -> None:
    """Let the verdict of shot 13 ask whether an insert was changed before shot 9."""
    trial.mount("B-11")
    trial.shots(12)
    trial.clock.advance(75)
    trial.log.append([Shot("P25", 13, 13, trial.clock.now(), {"cushion": 4.9})])
    facts = Facts("quiet", quiet_since=11, asked_shot=9)
    trial.say(Verdict("P25", 13, "B-11", 13, False, "keep", statistic=1.0, threshold=5.0, facts=facts))
    trial.alive()


def test_no_insert_was_changed_is_one_touch_and_not_asked_again(trial: Trial, viewers: Viewers) -> None:
    asked(trial)
    page = viewers.open()
    other = viewers.open(width=820, height=1180)
    expect(other.get_by_role("group", name="Question")).to_contain_text("changed before shot 9?")
    page.get_by_role("group", name="Question").get_by_role("button", name="No", exact=True).click()
    expect(page.locator("#said")).to_contain_text("no insert was changed before shot 9, at shot 9")
    expect(page.get_by_role("group", name="Question")).to_have_count(0)
    expect(other.get_by_role("group", name="Question")).to_have_count(0)
    (row,) = state.entries(trial.log, "P25")
    assert (row.event.kind, row.event.at_shot) == ("unchanged", 9)


def test_an_insert_was_changed_proposes_the_next_serial_from_that_shot(trial: Trial, viewers: Viewers) -> None:
    asked(trial)
    page = viewers.open()
    touch(page, "Yes, changed")
    expect(page.get_by_label("Serial, typed or scanned")).to_have_value("B-12")
    expect(page.get_by_label("From shot")).to_have_value("9")
    touch(page, "Enter")
    expect(page.locator("#said")).to_contain_text("B-12 in moving from shot 9")
    expect(page.get_by_role("group", name="Question")).to_have_count(0)
    assert trial.log.timeline("P25").stays_at(9)["moving"].mounting.insert.serial == "B-12"


def test_what_is_entered_at_one_touch(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    for button, said in (("Pause", "pause, at shot 5"), ("Purge", "purge, at shot 5"), ("Vents cleaned", "vents")):
        touch(page, button)
        expect(page.locator("#said")).to_contain_text(said)
    stored = [(row.event.kind, row.event.text) for row in state.entries(trial.log, "P25")]
    assert sorted(stored) == [("note", "vents cleaned"), ("pause", "pause"), ("purge", "purge")]


def test_what_is_entered_in_words(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    asked = {
        "Lot changed": ("Lot, typed or scanned", "lot"),
        "Set-up changed": ("What was changed", "setup"),
        "Note": ("Note", "note"),
        "Finding": ("Something else", "finding"),
    }
    for button, (label, kind) in asked.items():
        touch(page, button)
        page.get_by_label(label, exact=True).click()
        page.keyboard.type(f"words for {kind}", delay=0)
        page.keyboard.press("Enter")
        expect(page.locator("#said")).to_contain_text(f"words for {kind}")
    stored = {row.event.kind: row.event.text for row in state.entries(trial.log, "P25")}
    assert stored == {kind: f"words for {kind}" for _, kind in asked.values()}


def test_a_refused_entry_is_told_and_what_was_typed_stays(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.mount("C-01", press="P15")
    trial.shots(4)
    page = viewers.open()
    touch(page, "Swapped")
    field = page.get_by_label("Serial, typed or scanned")
    field.fill("C-01")
    field.press("Enter")
    expect(page.get_by_role("alert").filter(has_text="already mounted")).to_be_visible()
    expect(field).to_have_value("C-01")
    page.get_by_label("From shot").fill("twelve")
    touch(page, "Enter")
    expect(page.locator("#refused")).to_contain_text("shot: given 'twelve'")
    touch(page, "Back")
    expect(page.locator("#refused")).to_be_empty()


def test_two_viewers_see_each_others_entries(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    one, other = viewers.open(), viewers.open(width=820, height=1180)
    expect(headline(other)).to_be_visible()
    touch(one, "Purge")
    expect(other.locator("#recent")).to_contain_text("purge")
    other.locator("#recent").get_by_role("button", name="Undo purge").click()
    touch(other, "Yes, take it back")
    expect(one.locator("#recent")).to_contain_text("taken back")


def test_a_log_that_cannot_be_written_is_told_and_reading_goes_on(
    trial: Trial, browser: Chromium, serve: Callable[[Dash], Served]
) -> None:
    def refuse(url: str) -> Log:
        raise StoreUnreachable(f"log {url}: the file or its folder is read-only")

    trial.mount("B-11")
    trial.shots(3)
    source = Source(trial.settings, trial.clock, refuse)
    opened = Viewers(browser, serve(build(source)).url)
    page = opened.open()
    expect(page.locator("#no-entries")).to_contain_text("Nothing can be entered here")
    touch(page, "Pause")
    expect(page.locator("#refused")).to_contain_text("read-only")
    expect(opened.open("/parts").locator("#no-entries")).to_contain_text("read-only")
    trial.shots(1)
    until(page, "document.querySelector('#strips .js-plotly-plot')?.data[0]?.x.length == 4")
    opened.close()
    source.close()
    assert opened.wrong == []
