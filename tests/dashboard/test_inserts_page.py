"""The ledger of inserts, their life curves, why they came out, what parts cost, and the story of one."""

import json
import os
import re
import threading
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from dash import Dash
from hand_filled import CONFIG, Trial
from playwright.sync_api import Page, expect
from served import Served, Viewers, at_sizes

from dashboard import Source, build
from dashboard.inserts.figures.life_curve import MOST, life_curve_figure, life_curve_in_words
from dashboard.inserts.ledger import GroupLives, LedgerReader, Worked, work_out, worked_out
from dashboard.inserts.story import StoryReader, made_of
from dashboard.shared.apart import apart, end_with
from dashboard.shared.figures.ink import INKS
from dashboard.shared.held import HeldReader
from dashboard.shared.latest import Latest
from shotlog.errors import StoreUnreachable
from shotlog.parts.part import Part
from shotlog.records import Who
from shotlog.review import survival
from shotlog.review.groups import Group
from shotlog.review.ledger import histories_of, ledger_of, states_of
from shotlog.settings import load
from shotlog.store.asked.entries_made import swapped_by
from shotlog.store.inserts import entries
from shotlog.store.inserts.making import describe
from shotlog.store.log.log import Log
from shotlog.store.parts.baths import make_up
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.inspections import inspect
from shotlog.store.parts.soaks import put_in
from tests.chromium import Chromium, until

COSTS = """
  [design.cap-r2.cost]
  part = 4.0
  insert = 18.0
  changeover = 12.0
  late_find = 9.0
"""
LIVES = (("B-11", 9, "flash"), ("B-12", 14, "Flash"), ("B-13", 7, "core pin snapped"), ("B-14", 12, "planned"))


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Trial]:
    """Four inserts that came out and one that is in, one that waits, parts decided on; nothing in it is changed."""
    made = Trial(tmp_path_factory.mktemp("lived"))
    made.file.write_text(CONFIG + COSTS, encoding="utf-8")
    made.settings = load(made.file)
    for n, (serial, shots, reason) in enumerate(LIVES):
        made.mount(serial, print_batch=f"PB-{n % 2}")
        made.shots(shots)
        entries.remove(made.log, "P25", serial, made.clock.now(), reason=reason)
    made.mount("B-15", print_batch="PB-0")
    made.shots(6)
    made.mount("S-001", "fixed", press="P15", single_use=True)
    made.shots(3, "P15")
    said = {"design": "cap-r2", "print_batch": "PB-2", "layer_um": 50.0, "cost": 21.0}
    describe(made.log, ["B-16"], made.clock.now(), said=said, cured=made.clock.now(), dimensions={"wall": (1.2, "mm")})
    inspect(made.log, Part("P25", 20), made.clock.now(), finding="flash")
    enter_decision(made.log, [Part("P25", 20)], "scrapped", made.clock.now(), reason="flash", initials="AB")
    yield made
    made.close()


@pytest.fixture(scope="module")
def worked(lived: Trial) -> Worked:
    return worked_out(lived.log, lived.settings)


@pytest.fixture(scope="module")
def lived_source(lived: Trial) -> Iterator[Source]:
    made = Source(lived.settings, lived.clock)
    yield made
    made.close()


def test_the_ledger_says_what_the_review_says(lived: Trial, worked: Worked) -> None:
    told = ledger_of(lived.log, lived.settings, histories_of(lived.log), states_of(lived.log, lived.settings))
    rows = {row.serial: row for row in worked.rows}
    for entry in told.entries:
        row = rows[entry.life.serial]
        assert (row.n_shots, row.sound, row.gone_off) == (entry.life.n_shots, entry.life.sound, entry.life.failed)
        assert entry.bill is not None
        assert (row.cost_low, row.cost_high) == (entry.bill.per_accepted, entry.bill.per_accepted_if_held_bad)
    assert [one.group for one in worked.groups] == list(told.groups)
    assert worked.n_older == 0


def test_every_insert_is_listed_and_no_single_use_piece(worked: Worked) -> None:
    states = {row.serial: row.state for row in worked.rows}
    assert states == {
        "B-11": "gone off", "B-12": "gone off", "B-13": "gone off", "B-14": "not known to be off",
        "B-15": "still mounted", "B-16": "not mounted yet",
    }  # fmt: skip


def test_reasons_count_alike_whatever_their_capitals(worked: Worked) -> None:
    assert [(one.text, one.n, one.n_gone_off) for one in worked.reasons] == [
        ("flash", 2, 2), ("core pin snapped", 1, 1), ("planned", 1, 0),
    ]  # fmt: skip


def test_the_break_down_adds_up_to_the_cost_of_a_part(worked: Worked) -> None:
    (row,) = worked.costs
    total = row.part + row.insert + row.changeover + row.late_find
    assert row.low is not None
    assert row.low == pytest.approx(total / (row.accepted + row.held))
    assert (row.n_inserts, row.scrapped) == (5, 1)
    assert (row.part, row.insert, row.changeover, row.late_find) == (48 * 4.0, 5 * 18.0, 5 * 12.0, 9.0)
    assert row.high is None or row.high > row.low


def test_a_life_that_is_not_over_is_censored(worked: Worked) -> None:
    (design,) = [one for one in worked.groups if one.group.factor == "design"]
    assert design.censored == (6, 12)


def test_older_inserts_are_listed_and_left_out_of_the_curves(lived: Trial, worked: Worked) -> None:
    newest = worked_out(lived.log, lived.settings, window=40)  # 20 of each press
    assert [row.serial for row in newest.rows] == [row.serial for row in worked.rows]
    known = {row.serial for row in newest.rows if row.sound is not None}
    assert known == {"B-14", "B-15"}
    assert newest.n_older == 3
    (design,) = [one.group for one in newest.groups if one.group.factor == "design"]
    assert set(design.serials) == known
    assert {row.serial: row.reason for row in newest.rows}["B-11"] == "flash"


def test_worked_out_apart_it_is_the_same(lived: Trial, worked: Worked) -> None:
    assert apart(work_out, lived.settings) == worked == work_out(lived.settings)


@pytest.mark.file
def test_a_log_that_is_gone_is_told_by_the_process_apart(tmp_path: Path) -> None:
    trial = Trial(tmp_path)
    with pytest.raises(StoreUnreachable, match="no such file yet"):
        apart(work_out, trial.settings)


def test_a_process_apart_ends_with_whoever_waits_for_it() -> None:
    read, write = os.pipe()
    ended = threading.Event()
    watching = end_with(read, ended.set)
    os.close(write)
    assert ended.wait(60)
    watching.join()
    os.close(read)


def test_an_empty_log_is_an_empty_ledger(trial: Trial) -> None:
    found = worked_out(trial.log, trial.settings)
    assert (found.rows, found.groups, found.reasons, found.costs) == ((), (), (), ())


def test_the_newest_result_is_given_while_the_next_is_worked_out() -> None:
    may_go, n = threading.Event(), []

    def work() -> int:
        n.append(1)
        if len(n) > 1:
            assert may_go.wait(60)
        return len(n)

    latest = Latest(work)
    first = latest.ask("a", 60.0)
    assert first is not None
    assert first.found == 1
    assert latest.ask("a", 60.0) is first
    assert latest.ask("b", 0.0, now=True) is first
    may_go.set()
    second = latest.ask("b", 60.0)
    assert second is not None
    assert second.found == 2
    # pages outlive who works it out: at a centre it is another one once the logger of the edge was started anew
    third = Latest(lambda: 1).ask("a", 60.0)
    assert third is not None
    assert len({first.name, second.name, third.name}) == 3


@pytest.mark.parametrize("mark", ["a", "b"])
def test_work_refused_is_said_and_tried_again(mark: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also where nothing moved since: a server that was away comes back without a row more."""
    monkeypatch.setattr("dashboard.shared.latest._AGAIN_S", 0.0)
    found: list[int | Exception] = [StoreUnreachable("gone"), 7]

    def work() -> int:
        given = found.pop(0)
        if isinstance(given, Exception):
            raise given
        return given

    latest = Latest(work)
    refused = latest.ask("a", 60.0)
    assert refused is not None
    assert (refused.found, refused.refused) == (None, "gone")
    again: Any = refused
    while again is refused:
        again = latest.ask(mark, 60.0)
    assert again.found == 7


def group(name: str, lives: list[float], failed: list[bool]) -> GroupLives:
    weibull = survival.weibull(lives, failed) if sum(failed) > 2 else None
    curve = survival.kaplan_meier(lives, failed)
    made = Group("design", name, (), sum(failed), curve, weibull, "" if weibull else "too few", None, None, 1.0)
    censored = tuple(int(life) for life, over in zip(lives, failed, strict=True) if not over)
    return GroupLives(made, censored)


FEW = group("few", [10.0, 30.0], [True, False])
MANY = group("many", [10.0, 20.0, 25.0, 40.0], [True, True, True, False])


def traces(figure: dict[str, Any], ending: str) -> list[dict[str, Any]]:
    return [trace for trace in figure["data"] if trace["name"].endswith(ending)]


def test_the_curve_steps_down_where_an_insert_had_gone_off() -> None:
    figure = life_curve_figure([MANY])
    (steps,) = [trace for trace in figure["data"] if trace["name"] == "many"]
    assert steps["line"]["shape"] == "hv"
    assert dict(zip(steps["x"], steps["y"], strict=True))[20.0] == pytest.approx(0.5)
    (gone,) = traces(figure, "gone off")
    assert gone["x"] == [10.0, 20.0, 25.0]
    (seen,) = traces(figure, "last seen")
    assert (seen["x"], seen["y"]) == ([40.0], [pytest.approx(0.25)])


def test_the_interval_is_drawn_around_the_curve() -> None:
    (band,) = traces(life_curve_figure([MANY]), "interval")
    assert band["fill"] == "toself"
    assert max(band["y"]) <= 1.0
    assert min(band["y"]) >= 0.0
    lowest = min(y for x, y in zip(band["x"], band["y"], strict=True) if x == 20.0)
    highest = max(y for x, y in zip(band["x"], band["y"], strict=True) if x == 20.0)
    assert lowest < 0.5 < highest


def test_a_fit_is_drawn_only_where_there_is_one() -> None:
    assert traces(life_curve_figure([FEW]), "fitted") == []
    (fitted,) = traces(life_curve_figure([MANY]), "fitted")
    assert fitted["y"][0] == 1.0
    assert fitted["y"] == sorted(fitted["y"], reverse=True)


def test_groups_tell_apart_without_colour_and_their_names_lie_apart() -> None:
    figure = life_curve_figure([group(f"g{n}", [10.0, 30.0], [True, False]) for n in range(MOST + 2)])
    steps = [trace for trace in figure["data"] if trace.get("line", {}).get("shape") == "hv"]
    assert len({trace["line"]["dash"] for trace in steps}) == len(steps) == MOST
    assert len({trace["marker"]["symbol"] for trace in traces(figure, "gone off")}) == MOST
    heights = sorted(note["y"] for note in figure["layout"]["annotations"])
    assert all(later - earlier > 0.07 for earlier, later in pairwise(heights))
    assert heights[-1] <= 1.0


@pytest.mark.parametrize("mode", sorted(INKS))
def test_no_group_is_no_error_in_either_mode(mode: str) -> None:
    assert life_curve_figure([], mode)["data"] == []
    assert life_curve_in_words([]) == ""
    assert "many: 4 lives, 3 gone off, half of them by shot 20" in life_curve_in_words([MANY])
    assert "fewer than half" in life_curve_in_words([group("new", [10.0, 30.0], [False, False])])


def test_the_figure_is_plain_data() -> None:
    """The drawing library packs arrays in a form that later updates break on."""
    json.dumps(life_curve_figure([MANY, FEW]))


def test_the_story_of_an_insert(lived: Trial, lived_source: Source) -> None:
    story = StoryReader(lived_source, HeldReader(lived_source)).story("B-12")
    (stay,) = story.stays
    assert (stay.press, stay.first, stay.last, stay.n_shots, stay.reason) == ("P25", 10, 23, 14, "Flash")
    assert [one.finding for one in stay.inspected] == ["flash"]
    assert [(one.decision, one.reason) for one in stay.decided] == [("scrapped", "flash")]
    assert {(run.first, run.last) for run in stay.held} == {(21, 23)}


def test_the_story_of_a_single_use_piece_is_its_one_shot(lived_source: Source) -> None:
    (stay,) = StoryReader(lived_source, HeldReader(lived_source)).story("S-002").stays
    assert (stay.press, stay.half, stay.first, stay.last, stay.single_use) == ("P15", "fixed", 2, 2, True)


def test_a_story_is_read_anew_only_where_something_came(
    trial: Trial, source: Source, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each viewer asked the whole log every two seconds, whatever had come."""
    read: list[str] = []

    def counted(log: Log, press: str, first: int, last: int) -> dict[tuple[str, str, int], Who]:
        read.append(press)
        return swapped_by(log, press, first, last)

    monkeypatch.setattr("dashboard.inserts.story.swapped_by", counted)
    reader = StoryReader(source, HeldReader(source))
    trial.mount("B-11")
    trial.shots(3)
    trial.shots(2, "P15")
    before = reader.story("B-11")
    trial.shots(1, "P15")
    assert reader.story("B-11") == before
    assert read == ["P25"]
    make_up(trial.log, "B1", trial.clock.now())
    put_in(trial.log, "B1", [Part("P25", 2)], trial.clock.now(), trial.settings.designs)
    assert [one.part.shot for one in reader.story("B-11").stays[0].soaked] == [2]
    entries.remove(trial.log, "P25", "B-11", trial.clock.now(), reason="flash")
    assert reader.story("B-11").stays[0].reason == "flash"


def test_a_story_opened_before_the_first_shot_begins_at_its_count(trial: Trial, source: Source) -> None:
    """What it kept from then said that the insert was in from shot 1, and had made all that were counted."""
    trial.mount("B-11")
    reader = StoryReader(source, HeldReader(source))
    assert [stay.last for stay in reader.story("B-11").stays] in ([], [None])
    trial.next_shot["P25"] = 500
    for n in (6, 9):
        trial.shots(n - 6 or 6)
        (stay,) = reader.story("B-11").stays
        assert (stay.first, stay.last, stay.n_shots) == (500, 499 + n, n)


def test_how_an_insert_was_made_is_told_in_words(lived: Trial) -> None:
    said = made_of(lived.log, "B-16", lived.clock.now())
    assert said is not None
    assert said["layer"] == "50 um"
    assert said["dimension wall"] == "1.2 mm"
    assert said["cured"].endswith(", 0 days ago")
    assert made_of(lived.log, "nobody", lived.clock.now()) is None


@pytest.fixture(scope="module")
def ledger_app(lived_source: Source, worked: Worked) -> Iterator[Dash]:
    """The application with a ledger worked out beforehand: the process apart has a test of its own."""
    patch = pytest.MonkeyPatch()
    patch.setattr("dashboard.inserts.ledger.apart", lambda *_: worked)
    yield build(lived_source)
    patch.undo()


@pytest.fixture
def ledger_viewers(browser: Chromium, ledger_app: Dash, serve: Callable[[Dash], Served]) -> Iterator[Viewers]:
    opened = Viewers(browser, serve(ledger_app).url)
    yield opened
    opened.close()
    assert opened.wrong == []


def opened(viewers: Viewers) -> Page:
    page = viewers.open("/inserts")
    expect(page.locator("#ledger-state")).to_contain_text("6 inserts on record")
    expect(serials(page).first).to_be_visible()
    return page


def serials(page: Page) -> Any:
    return page.locator(".ledger-grid .ag-pinned-left-cols-container a.serial-link")


@pytest.mark.browser
def test_search_and_sort(ledger_viewers: Viewers) -> None:
    page = opened(ledger_viewers)
    expect(serials(page)).to_have_text(["B-15", "B-14", "B-13", "B-12", "B-11", "B-16"])
    page.get_by_role("columnheader", name="Shots", exact=True).click()
    expect(page.locator(".ledger-grid [row-index='0'] a.serial-link")).to_have_text("B-16")
    page.get_by_label("Search").fill("flash")
    expect(serials(page)).to_have_count(2)
    expect(page.locator("#ledger-hits")).to_have_text("2 of 6 shown")
    page.get_by_label("Search").fill("PB-2")
    expect(serials(page)).to_have_text(["B-16"])


@pytest.mark.browser
def test_curves_reasons_and_costs(ledger_viewers: Viewers) -> None:
    page = opened(ledger_viewers)
    until(page, "document.querySelector('#life-curve .js-plotly-plot')?.data?.length > 0")
    expect(page.locator("#curve-table")).to_contain_text("cap-r2")
    page.get_by_role("button", name="print batch").click()
    expect(page.locator("#curve-names button[aria-pressed=true]")).to_have_count(2)
    expect(page.locator("#curve-table")).to_contain_text("Were every print batch to live alike")
    expect(page.locator("#life-curve-words")).to_contain_text("PB-1: 2 lives")
    page.get_by_role("button", name="PB-1").click()
    expect(page.locator("#life-curve-words")).to_contain_text("PB-0")
    expect(page.locator("#life-curve-words")).not_to_contain_text("PB-1")
    page.get_by_role("button", name="resin").click()
    expect(page.locator("#curve-table")).to_contain_text("there is no curve by resin")
    expect(page.locator("#ledger-reasons")).to_contain_text("core pin snapped")
    expect(page.locator("#ledger-costs")).to_contain_text("cap-r2: ")


@pytest.mark.browser
def test_a_serial_leads_to_its_story_by_mouse_and_by_keyboard(ledger_viewers: Viewers) -> None:
    page = opened(ledger_viewers)
    serials(page).filter(has_text="B-12").click()
    expect(page.get_by_role("heading", name="B-12")).to_be_visible()
    expect(page.locator("#story-life")).to_contain_text("P25, moving half, shots 10 to 23")
    expect(page.locator("#story-life")).to_contain_text(re.compile(r"Gone off: \d+ of \d+ shots before that"))
    page.get_by_role("link", name="All inserts").click()
    expect(serials(page).first).to_be_visible()
    page.get_by_label("Search").fill("B-16")
    expect(serials(page)).to_have_text(["B-16"])
    page.locator(".ledger-grid .ag-cell[col-id='serial']").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#story-made")).to_contain_text("50 um")
    expect(page.locator("#story-life")).to_contain_text("It was never in a press")


@pytest.mark.browser
def test_it_fits_the_screen(ledger_viewers: Viewers) -> None:
    page = opened(ledger_viewers)
    until(page, "document.querySelector('#life-curve .js-plotly-plot')?.data?.length > 0")
    shown, right = page.locator(".ledger-shown"), page.locator(".goes-on .right")
    for width, _ in at_sizes(page):
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        expect(right).to_be_visible()
        for part in ("#life-curve", "#ledger-costs", "#ledger-reasons", "#curve-table"):
            box = page.locator(part).bounding_box()
            assert box is not None
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= width
        curve, panel = (page.locator(one).bounding_box() for one in ("#life-curve .main-svg >> nth=0", "section.curve"))
        assert curve is not None
        assert panel is not None
        assert 300 < curve["height"] < panel["height"], "it gave itself no height and drew over what stands below"
        assert curve["y"] + curve["height"] <= panel["y"] + panel["height"]
    shown.locator(".ag-center-cols-viewport").evaluate("one => one.scrollTo(one.scrollWidth, 0)")
    expect(right).to_be_hidden()
    expect(page.locator(".goes-on .below")).to_be_hidden()
    page.locator(".ledger-grid").evaluate("one => { one.style.height = '150px'; }")
    expect(page.locator(".goes-on .below")).to_be_visible()


@pytest.mark.browser
def test_no_insert_ever_is_said_in_words(
    trial: Trial, source: Source, viewers: Viewers, monkeypatch: pytest.MonkeyPatch
) -> None:
    trial.shots(1)
    monkeypatch.setattr("dashboard.inserts.ledger.apart", lambda *_: worked_out(trial.log, trial.settings))
    page = viewers.open("/inserts")
    expect(page.locator("#ledger-state")).to_contain_text("No insert has been entered yet")
    expect(page.locator("#ledger-body")).to_be_hidden()


@pytest.mark.file
def test_without_a_log_the_page_says_so(trial: Trial, source: Source) -> None:
    with pytest.raises(StoreUnreachable, match="no such file yet"):
        LedgerReader(source).ask()
