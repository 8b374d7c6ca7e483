"""Every page at every size in each state a shop meets: all of it fits, a glove hits, and nobody is kept out."""

from collections.abc import Callable
from pathlib import Path

import pytest
from barriers import barriers
from cut_off import does_not_fit
from hand_filled import BALANCE, CONFIG, Trial
from playwright.sync_api import Page, expect
from served import DRAWN_FOR_SIZE, Served, Viewers, at_sizes, go, settled, too_close_for_a_glove, too_small_for_a_glove
from thirty import NAMES, plant_config, thirty
from touched import touch

from dashboard import Source, build
from dashboard.inserts.ledger import worked_out
from dashboard.pages import PAGES
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Fault, Gap, Verdict, Weighing
from tests.chromium import Chromium, until

pytestmark = pytest.mark.browser

THIRD = """
[[press]]
name = "long-named press 3"
  [press.collector]
  kind = "recording"
"""
RAW = b"000160;13:22:18;1,193;8,02;313;326;6,02;6,49;142,2;45,1;46,8;4,520;0;0;0;0;0;17;1"


def running(trial: Trial) -> None:
    """A call, a question, a gap, entries, parts held."""
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.link("connected", "the press answers")
    trial.shots(30)
    trial.next_shot["P25"] = 34
    trial.log.append([Gap("P25", 31, 33, trial.clock.now(), "the counter jumped")])
    trial.shots(11)
    trial.note("lot", "L-2207")
    trial.note("finding", "flash at the gate and along the parting line, both sides")
    trial.log.append([Weighing("P25", "balance", 4.123, trial.clock.now(), 60.0, b"4.123 g")])
    trial.say(
        Verdict(
            "P25", 44, "B-11", 44, False, "watch", "",
            (), "parting-line wear", "insert", 0.86, 40, 38, 42, 8.0, 3.0, 20.0, 7.1, 5.0,
            Facts("called", asked_shot=34, changes=(ChannelChange("cushion", -0.31, 0.05),)),
        )
    )  # fmt: skip


def broken(trial: Trial) -> None:
    """The connection is lost, and what came last was not what was asked for."""
    running(trial)
    for press in ("P25", "P15"):
        trial.log.append([Fault(press, trial.clock.now(), "bad line", "19 fields for 12: a line was cut", RAW)])
        trial.link("lost", "no answer within 1 s from 192.168.100.200 port 502", press)
    trial.alive()


def long(trial: Trial) -> None:
    """Many inserts with names as long as people give, on a counter of six digits, noted on at nearly every shot."""
    trial.next_shot["P25"] = 987_001
    trial.mount("LATCH-PAWL-A-0007", "fixed", at_shot=987_001)
    for n in range(1, 9):
        trial.mount(f"LATCH-PAWL-B-{n:04d}", at_shot=987_001 + 12 * (n - 1), print_batch="PRINT-2026-11-28-A")
        trial.shots(12, fall=0.08 if n % 3 == 0 else 0.0)
        trial.note("note", "GMHD WOOD NQ, said at length")
    last = trial.next_shot["P25"] - 1
    trial.say(
        Verdict(
            "P25", last, "LATCH-PAWL-B-0008", 12, False, "swap", "",
            (), "parting-line wear", "insert", 0.86, last - 6, last - 9, last - 2, 30.0, 12.0, 61.0, 7.1, 5.0,
            Facts("called", changes=(ChannelChange("peak_pressure", -31.0, 2.0),), half="moving"),
        )
    )  # fmt: skip
    trial.mount("S-001", press="P15", single_use=True)
    trial.shots(9, press="P15")


NARROWEST, WIDEST = 390, 1920
WHERE_IT_BREAKS = ("/press", "/press/P15", "/presses", "/parts", "/shift")
"""The pages on which a press that is away is told otherwise than one that answers."""
TALL = 4000
"""Height in px that shows all of a page."""

STATES: dict[str, Callable[[Trial], None]] = {
    "empty": lambda trial: None, "running": running, "broken": broken, "long": long,
}  # fmt: skip


@pytest.fixture(params=STATES)
def viewers(
    request: pytest.FixtureRequest,
    tmp_path_factory: pytest.TempPathFactory,
    browser: Chromium,
    serve: Callable[..., Served],
    monkeypatch: pytest.MonkeyPatch,
) -> object:
    trial = Trial(tmp_path_factory.mktemp("sizes"), CONFIG + BALANCE + (THIRD if request.param == "long" else ""))
    STATES[request.param](trial)
    # In this process: one that starts for it, for each state, takes longer than all else here.
    monkeypatch.setattr("dashboard.inserts.ledger.apart", lambda *_: worked_out(trial.log, trial.settings))
    source = Source(trial.settings, trial.clock)
    opened = Viewers(browser, serve(build(source)).url)
    yield opened
    opened.close()
    source.close()
    trial.close()
    assert opened.wrong == []


def held_against(page: Page, width: int, barred: tuple[int, ...] = (NARROWEST, WIDEST)) -> list[str]:
    """Return all that is wrong with a page as it is shown; what keeps people out is asked at the widths `barred`."""
    found = [*does_not_fit(page), *too_small_for_a_glove(page), *too_close_for_a_glove(page)]
    if width not in barred:
        return found
    # What stays at the foot may lie over a button, until somebody scrolls: so all of it is in view.
    page.set_viewport_size({"width": width, "height": TALL})
    settled(page)
    return [*found, *barriers(page)]


def addresses() -> list[str]:
    """Return the address of every page, and of those that lie below one."""
    return [
        *(page.path for page in PAGES),
        "/press/P15",
        "/inserts/LATCH-PAWL-B-0003",
        "/inserts/B-11",
        "/part/P25/30",
        "/part/P25/987030",
    ]


def test_every_page_fits_every_size(viewers: Viewers, request: pytest.FixtureRequest) -> None:
    """With all there is to show at every size; with less, which is laid out as that is, at the ends of the sizes.

    What keeps people out hangs on what is shown more than on the width: with less it is asked at the widest alone.
    """
    state = request.node.callspec.params["viewers"]
    ends_only = state != "long"
    barred = (WIDEST,) if ends_only else (NARROWEST, WIDEST)
    wrong: list[str] = []
    page = viewers.open("/help")
    for address in WHERE_IT_BREAKS if state == "broken" else addresses():
        go(page, address)
        settled(page)
        for width, _ in at_sizes(page):
            if ends_only and NARROWEST < width < WIDEST:
                continue
            settled(page)
            wrong += [f"{address} at {width} px: {each}" for each in held_against(page, width, barred)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("calm", [False, pytest.param(True, marks=pytest.mark.long)])
def test_thirty_presses_are_on_one_screen(
    calm: bool, tmp_path: Path, browser: Chromium, serve: Callable[..., Served]
) -> None:
    """In the office and at the press nothing has to be scrolled; on a phone what is urgent is in sight at once."""
    trial = Trial(tmp_path, plant_config(NAMES))
    thirty(trial, calm=calm)
    source = Source(trial.settings, trial.clock)
    opened = Viewers(browser, serve(build(source)).url)
    page = opened.open("/")
    expect(page.locator(".tile")).to_have_count(len(NAMES))
    wrong: list[str] = []
    for width, height in at_sizes(page):
        if width >= 1280 and page.evaluate("(m => m.scrollHeight - m.clientHeight)(document.querySelector('main'))"):
            wrong.append(f"at {width} px it has to be scrolled")
        if not calm and width < 1280:
            first = page.locator(".tile").first.bounding_box()
            assert first is not None
            wrong += [f"at {width} px the first is below"] if first["y"] + first["height"] > height else []
        wrong += [f"at {width} px: {each}" for each in held_against(page, width)]
    opened.close()
    source.close()
    trial.close()
    assert wrong == opened.wrong == []


@pytest.mark.parametrize("viewers", ["running", "long"], indirect=True)
def test_on_a_phone_the_entries_are_under_the_thumb(viewers: Viewers) -> None:
    page = viewers.open(width=1280, height=800)
    settled(page)
    until(page, "document.querySelector('#switch small') !== null")
    # however much a tab says, nothing lies over it
    assert page.locator("#switch").evaluate("one => one.scrollHeight <= one.clientHeight + 1")
    page.set_viewport_size({"width": 390, "height": 844})
    until(page, f"window.innerWidth === 390 && {DRAWN_FOR_SIZE}")
    finding = page.get_by_role("button", name="Finding", exact=True).bounding_box()
    assert finding is not None
    # what is told of a slow server stands over it, until the server answers
    until(page, "document.getElementById('standing').getBoundingClientRect().y < 844 / 3")
    assert 844 / 2 < finding["y"] < 844 - 48
    expect(page.get_by_role("button", name="Purge", exact=True)).to_be_hidden()
    page.locator(".more").click()
    expect(page.get_by_role("button", name="Purge", exact=True)).to_be_visible()
    assert held_against(page, 390) == []
    touch(page, "Finding")
    expect(page.locator(".panel")).to_be_visible()
    assert held_against(page, 390) == []
    touch(page, "Back")
    touch(page, "Pages")
    page.get_by_role("link", name="Parts and baths").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Parts and baths")
    expect(page.get_by_role("link", name="At the press")).to_be_hidden()


@pytest.mark.parametrize("viewers", ["empty"], indirect=True)
def test_the_look_finds_what_does_not_fit(viewers: Viewers) -> None:
    """A look that could not fail would say nothing."""
    page = viewers.open("/help", width=390, height=844)
    page.evaluate(
        "document.querySelector('main').insertAdjacentHTML('beforeend', "
        "`<p style='width: 900px'>${'far '.repeat(99)}</p>"
        "<p style='width: 40px; overflow: hidden; white-space: nowrap'>cut in the middle</p>"
        "<button style='width: 60px; white-space: nowrap'>wider than its box</button>`)"
    )
    assert {one.split(":")[0] for one in does_not_fit(page)} == {
        "what scrolls is wider than the screen", "off the side", "cut", "out of its button",
    }  # fmt: skip
