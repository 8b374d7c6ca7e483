"""The page at the press in a real browser."""

import threading
from collections.abc import Callable

import pytest
from dash import Dash
from hand_filled import Trial
from playwright.sync_api import Browser, Locator, Page, expect
from served import Served, Viewers

from dashboard import Source, build
from dashboard.standing import SIGNS
from shotlog.errors import StoreUnreachable
from shotlog.records import Fault, Shot, Verdict
from shotlog.store import state
from shotlog.store.log import Log, open_log

pytestmark = pytest.mark.browser

SIZES = [(1280, 800), (1920, 1080), (820, 1180)]


def headline(page: Page) -> Locator:
    return page.locator("#standing h1")


def shots_drawn(page: Page) -> list[int | None]:
    drawn: list[int | None] = page.evaluate("document.querySelector('#strips .js-plotly-plot')?.data[0].x")
    return drawn


def touch(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).first.click()


def picked(page: Page, name: str) -> Locator:
    return page.locator(".panel .pick", has_text=name)


def test_the_first_shot_appears_without_a_reload(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    expect(headline(page)).to_have_text("Waiting for the first shot")
    expect(page.locator("#standing")).to_contain_text("There is no log yet")
    page.evaluate("window.notReloaded = true")
    trial.mount("B-11")
    trial.link("connected")
    trial.alive()
    expect(page.locator("#standing")).to_contain_text("nothing has been moulded yet")
    trial.shots(1)
    expect(headline(page)).to_have_text("Settling")
    page.wait_for_function("document.querySelector('#strips .js-plotly-plot')?.data.length > 0")
    assert shots_drawn(page) == [1]
    trial.shots(1)
    page.wait_for_function("document.querySelector('#strips .js-plotly-plot')?.data[0]?.x.length == 2")
    assert page.evaluate("window.notReloaded") is True


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
    expect(page.locator("#said")).to_contain_text("S-01 in moving from shot 5, a new piece every shot")
    assert trial.log.timeline("P25").stays_at(5)["moving"].mounting.single_use


def test_a_finding_at_one_touch_and_its_undo(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(4)
    page = viewers.open()
    touch(page, "Finding")
    touch(page, "flash")
    expect(page.locator("#said")).to_contain_text("seen: flash, at shot 4")
    expect(page.locator("#recent")).to_contain_text("seen: flash")
    expect(page.locator("#strips")).to_contain_text("seen: flash")
    page.locator("#said").get_by_role("button").click()
    expect(page.locator("#said")).to_contain_text("Taken back: seen: flash")
    expect(page.locator("#recent")).to_contain_text("taken back")
    expect(page.locator("#strips")).not_to_contain_text("seen: flash")
    (row,) = state.entries(trial.log, "P25")
    assert (row.event.kind, row.event.text, row.event.at_shot, row.taken_back) == ("finding", "flash", 4, True)


def test_an_entry_seen_before_it_is_answered_is_still_confirmed(
    trial: Trial, browser: Browser, serve: Callable[[Dash], Served]
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
    sentence = "no change seen in these values since shot 11; was an insert changed before shot 9?"
    trial.say(Verdict("P25", 13, "B-11", 13, False, "keep", sentence, statistic=1.0, threshold=5.0))
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
    assert (row.event.kind, row.event.at_shot) == ("note", 9)


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
    expect(page.locator("#refused")).to_contain_text("from shot: given 'twelve'")
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
    expect(one.locator("#recent")).to_contain_text("taken back")


def test_stale_data_take_the_place_of_the_verdict(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(30)
    page = viewers.open()
    expect(headline(page)).to_have_text("Keep")
    trial.clock.advance(245)
    trial.alive()
    expect(headline(page)).to_have_text("Last shot 4 min ago")
    expect(page.locator("#standing")).to_have_class("standing cut not-current long")
    trial.link("lost", "timed out")
    expect(headline(page)).to_contain_text("Connection lost since")
    trial.clock.advance(60)
    expect(headline(page)).to_contain_text("Logger not running since")
    trial.link("connected")
    trial.shots(1)
    expect(headline(page)).to_have_text("Settling")


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_it_fits_the_screen_and_the_glove(trial: Trial, viewers: Viewers, width: int, height: int) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(40)
    trial.note("lot", "L-2207")
    trial.shots(12, fall=0.1)
    page = viewers.open(width=width, height=height)
    expect(headline(page)).to_be_visible()
    page.wait_for_function("document.querySelector('#strips .js-plotly-plot')?.data.length > 0")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    caution = page.get_by_role("note").bounding_box()
    strips = page.locator("#strips").bounding_box()
    assert caution is not None
    assert strips is not None
    assert strips["y"] + strips["height"] <= caution["y"]
    assert caution["y"] + caution["height"] <= height + 1
    for name in (None, "Swapped", "Finding"):
        if name is not None:
            touch(page, name)
            expect(page.locator(".panel")).to_be_visible()
        for target in page.locator("button:visible, a:visible, input[type=text]:visible, label.pick:visible").all():
            box = target.bounding_box()
            assert box is not None
            assert min(box["width"], box["height"]) >= 47.5, target.inner_text()
        if name is not None:
            touch(page, "Back")


def test_several_presses_by_address_and_by_touch(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(3)
    page = viewers.open("/press/P15")
    expect(headline(page)).to_have_text("Waiting for the first shot")
    page.get_by_role("link", name="P25").click()
    expect(headline(page)).to_have_text("Settling")
    expect(page).to_have_url(f"{viewers.home}/press/P25")
    touch(page, "Pause")
    expect(page.locator("#said")).to_contain_text("pause")
    assert state.entries(trial.log, "P15") == []


def test_dark_is_remembered(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.shots(3)
    page = viewers.open()
    touch(page, "Dark / light")
    expect(page.locator("html")).to_have_attribute("data-mode", "dark")
    page.wait_for_function("document.querySelector('#strips .js-plotly-plot')?.layout.paper_bgcolor === '#1a2128'")
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-mode", "dark")


def test_a_server_that_falls_silent_is_told_and_forgotten_when_it_is_back(
    trial: Trial, app: Dash, browser: Browser, serve: Callable[[Dash], Served]
) -> None:
    trial.mount("B-11")
    trial.shots(3)
    served = serve(app)
    opened = Viewers(browser, served.url)
    page = opened.open()
    expect(headline(page)).to_have_text("Settling")
    served.stop()
    expect(page.locator("#cut-off")).to_contain_text("This screen has lost its server")
    trial.shots(1)
    served.start()
    expect(page.locator("#cut-off")).to_be_empty()
    page.wait_for_function("document.querySelector('#strips .js-plotly-plot')?.data[0]?.x.length == 4")
    opened.close()
    assert not [wrong for wrong in opened.wrong if "another machine" in wrong or "page error" in wrong]


def test_a_log_that_cannot_be_written_is_told_and_reading_goes_on(
    trial: Trial, browser: Browser, serve: Callable[[Dash], Served]
) -> None:
    def refuse(url: str) -> Log:
        raise StoreUnreachable(f"log {url}: the file or its folder is read-only")

    trial.mount("B-11")
    trial.shots(3)
    source = Source(trial.settings, trial.clock, refuse)
    opened = Viewers(browser, serve(build(source)).url)
    page = opened.open()
    touch(page, "Pause")
    expect(page.locator("#refused")).to_contain_text("read-only")
    trial.shots(1)
    page.wait_for_function("document.querySelector('#strips .js-plotly-plot')?.data[0]?.x.length == 4")
    opened.close()
    source.close()
    assert opened.wrong == []


def test_an_address_without_a_press_offers_those_there_are(viewers: Viewers) -> None:
    page = viewers.open("/press/P99")
    expect(page.get_by_role("heading")).to_have_text("No such press")
    page.get_by_role("link", name="P15").click()
    expect(headline(page)).to_have_text("Waiting for the first shot")


def test_the_presses_are_seen_together_and_lead_to_each(trial: Trial, viewers: Viewers) -> None:
    trial.mount("B-11")
    trial.link("lost", "timed out")
    trial.log.append([Fault("P25", trial.clock.now(), "bad line", "7 fields for 9", b"1;2;3")])
    trial.log.append([Fault("P15", trial.clock.now(), "short answer", "no count", b"\x01\xff")])
    trial.shots(3)
    page = viewers.open("/presses")
    content = page.locator("#presses")
    faults = ("7 fields for 9", "1;2;3", "01 ff", "Faults by kind: bad line 1")
    for text in ("Connection lost since", "Peak pressure", "reads 3", "sqlite:///", "Python 3", *faults):
        expect(content).to_contain_text(text)
    trial.link("connected", "the press answers")
    expect(content).to_contain_text("connected since")
    expect(content).not_to_contain_text("Connection lost")
    content.get_by_role("link", name="P25").click()
    expect(headline(page)).to_have_text("Settling")


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_help_explains_every_sign_and_fits(viewers: Viewers, width: int, height: int) -> None:
    page = viewers.open("/help", width, height)
    expect(page.get_by_role("heading", name="Help")).to_be_visible()
    for sign in SIGNS:
        expect(page.locator(f".sign-{sign}")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.get_by_role("link", name="At the press").click()
    expect(headline(page)).to_have_text("Waiting for the first shot")
