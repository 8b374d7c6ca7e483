"""Parts and baths: what is held and why, what is in which bath, and every entry with its undo."""

import json
import shutil
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from dash import Dash
from hand_filled import CONFIG, Trial
from made_pictures import picture
from playwright.sync_api import Page, expect
from served import Served, Viewers, at_sizes, too_small_for_a_glove

from dashboard import Source, build
from dashboard.parts import dialogs as parts_dialogs
from dashboard.parts import lists as parts_lists
from dashboard.parts.cards import held_cards
from dashboard.parts.desk import PartsDesk, number, piece_taken
from dashboard.parts.reader import PartsReader, PartsView
from dashboard.shared.held import HeldReader, held_runs
from shotlog.entries import KINDS
from shotlog.errors import UsageError
from shotlog.parts.against import FAR_OUT
from shotlog.parts.doubt import Doubt, Lifted, Since
from shotlog.parts.far import FarOut
from shotlog.parts.part import Part
from shotlog.parts.standing import DECISIONS, Decision
from shotlog.records import Insert, Mounting
from shotlog.review.still_held import PressDoubts, doubts_of, held_on, still_held
from shotlog.settings import Bound, load
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.baths import baths, make_up
from shotlog.store.parts.dispositions import decisions, enter_decision, held_parts
from shotlog.store.parts.doubts import said_of_parts
from shotlog.store.parts.inspections import inspect, inspections
from shotlog.store.parts.pictures import pictures_of_insert
from shotlog.store.parts.soaks import soaks
from shotlog.wording.parts import result_text

NOW = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)

TOLERANCES = """
  [design.cap-r2.tolerance]
  wall = { low = 1.15, high = 1.25 }
"""


def a_trial(folder: Path) -> Trial:
    """A press with a reused fixed half, while its moving half is used up by each shot; the design has a tolerance."""
    made = Trial(folder)
    made.file.write_text(CONFIG + TOLERANCES, encoding="utf-8")
    made.settings = load(made.file)
    return made


@pytest.fixture
def trial(tmp_path: Path) -> Iterator[Trial]:
    made = a_trial(tmp_path)
    made.mount("A-07", "fixed")
    made.mount("S-001", single_use=True)
    yield made
    made.close()


@pytest.fixture(scope="module")
def worn_out(tmp_path_factory: pytest.TempPathFactory) -> Trial:
    """A trial in which a change of the fixed half was called, its log closed: judging takes long."""
    made = a_trial(tmp_path_factory.mktemp("worn"))
    made.mount("A-07", "fixed")
    made.mount("S-001", single_use=True)
    made.shots(30)
    made.shots(25, fall=0.06)
    assert held_parts(made.log, "P25", made.settings.designs)
    made.close()
    return made


@pytest.fixture
def worn(worn_out: Trial, tmp_path: Path) -> Iterator[Trial]:
    """A trial of its own in which a change was called."""
    made = a_trial(tmp_path)
    shutil.copy(worn_out.file.parent / "trial.db", tmp_path / "trial.db")
    made.clock.advance((worn_out.clock.now() - made.clock.now()).total_seconds())
    made.next_shot = dict(worn_out.next_shot)
    yield made
    made.close()


@pytest.fixture
def source(request: pytest.FixtureRequest) -> Iterator[Source]:
    filled: Trial = request.getfixturevalue("worn" if "worn" in request.fixturenames else "trial")
    made = Source(filled.settings, filled.clock)
    yield made
    made.close()


@pytest.fixture
def desk(source: Source) -> PartsDesk:
    return PartsDesk(source)


def held_shots(source: Source, press: str = "P25") -> set[int]:
    """Return the shots the page shows as held."""
    view = PartsReader(source).view()
    assert view.held is not None
    return {
        shot
        for group in view.held
        if group.press == press
        for first, last in group.spans
        for shot in range(first, last + 1)
    }


def by_the_log(trial: Trial) -> set[int]:
    return {one.part.shot for one in held_parts(trial.log, "P25", trial.settings.designs)}


def test_what_the_page_holds_is_what_the_log_holds(worn: Trial, source: Source, desk: PartsDesk) -> None:
    assert held_shots(source) == by_the_log(worn)
    last = max(by_the_log(worn))
    worn.clock.advance(60)
    desk.decide("P25", f"{last - 3}-{last}", "released", "looked at, nothing found", "AB")
    desk.decide("P25", "3", "held", "", "")
    assert held_shots(source) == by_the_log(worn) != set()
    assert 3 in held_shots(source)
    worn.clock.advance(60)
    inspect(worn.log, desk.find("P25", f"{last - 3}").part, worn.clock.now(), finding="crack")
    again = {card.first: card.again for card in PartsReader(source).view().held or ()}
    assert held_shots(source) == by_the_log(worn)
    assert again[last - 3] is True
    desk.decide("P25", f"3,{min(by_the_log(worn) - {3})}-{last}", "scrapped", "crack", "AB")
    assert held_shots(source) == by_the_log(worn) == set()


def test_a_held_part_has_its_reason(worn: Trial, source: Source) -> None:
    (card, *_) = PartsReader(source).view().held or ()
    assert "A-07" in card.why


def doubted(doubts: list[Doubt], parts: list[Part]) -> PressDoubts:
    return PressDoubts("P25", tuple(doubts), tuple(parts), (), frozenset())


def test_parts_with_one_main_reason_are_one_entry_and_what_lies_far_out_is_named_in_it() -> None:
    called, since = range(20, 31), dict.fromkeys(range(20, 31), Since(5, NOW))
    swap = Doubt("P25", "verdict", "A-07", 20, 30, since, "swap", "gate erosion", 24)
    watch = Doubt("P25", "verdict", "B-11", 28, 30, since, "watch", "lot change", 28)
    odd = [
        Doubt("P25", FAR_OUT, "", shot, shot, since, far=FarOut(shot, "", "cushion", 9.0, 5, NOW)) for shot in (22, 26)
    ]
    against = doubted([swap, watch, *odd], [Part("P25", shot) for shot in called])
    (card,) = held_cards(against, [])
    assert (card.spans, card.named, card.n_parts) == (((20, 30),), "20-30", 11)
    assert card.far_out == (22, 26)
    assert card.why.startswith("swap at shot 30 on A-07")
    assert [why.split(",")[0] for why in card.besides] == ["watch at shot 30 on B-11"]
    out = Decision(1, "P25", 24, 25, None, "scrapped", "crack", "", NOW, 9)
    assert [one.named for one in held_cards(against, [out])] == ["20-23, 26-30"]


def test_one_button_releases_no_cavity_that_is_not_held() -> None:
    since = {5: Since(5, NOW)}
    bad = [Doubt("P25", "verdict", "A-07", 5, 5, since, "watch", "lot change", 5)]
    scrapped = Decision(1, "P25", 5, 5, 1, "scrapped", "crack", "", NOW, 9)
    (card,) = held_cards(doubted(bad, [Part("P25", 5, cavity) for cavity in (1, 2, 3)]), [scrapped])
    assert card.named == "5/2, 5/3"


def test_every_held_part_can_be_reached_on_the_page(source: Source) -> None:
    """Of more than two dozen entries the oldest had no button anywhere, nor had those of a press behind another."""
    since = {shot: Since(5, NOW) for shot in range(100)}
    doubts = [Doubt("P25", "verdict", f"A-{n}", n, n, since, "watch", "lot change", n) for n in range(1, 61, 2)]
    against = doubted(doubts, [Part("P25", n) for n in range(1, 61, 2)])
    cards = tuple(held_cards(against, []))
    view = PartsView(cards, (), (), (), ())
    shown = json.dumps(parts_lists.held(view, NOW, "P25"), default=lambda part: part.to_plotly_json())
    assert all(f'"release P25 {n}"' in shown for n in range(1, 61, 2))
    assert "Older: 6 entries more" in shown
    assert "Nothing is held of P15" in json.dumps(
        parts_lists.held(view, NOW, "P15"), default=lambda part: part.to_plotly_json()
    )


def test_what_was_held_once_stays_on_show(worn: Trial, source: Source, monkeypatch: pytest.MonkeyPatch) -> None:
    once = Lifted("P25", "A-07", 2, 5, "watch", (50, 50), (2, 2), "")
    said = said_of_parts(worn.log, "P25")[0]
    monkeypatch.setattr(
        "shotlog.review.still_held.said_of_parts", lambda _log, press, **_: (said, [once] if press == "P25" else [])
    )
    view = PartsReader(source).view()
    assert view.lifted == (once,)
    shown = json.dumps(parts_lists.held(view, worn.clock.now()), default=lambda part: part.to_plotly_json())
    assert "Held before, no longer: 4 parts" in shown
    assert "judged again: no reason on record" in shown


def test_worked_out_apart_it_is_the_same(worn: Trial, source: Source) -> None:
    near, apart = HeldReader(source).doubts(), HeldReader(source, near=10).doubts(60.0)
    assert near == apart
    assert near == tuple(doubts_of(worn.log, press, worn.settings.designs) for press in worn.log.presses())


def test_over_many_shots_the_page_does_not_wait(worn: Trial, source: Source) -> None:
    assert HeldReader(source, near=10).doubts(0.0) is None


def test_ones_own_entry_is_in_the_next_answer_however_long_it_takes(
    worn: Trial, source: Source, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who entered a bad part must not be told that it is not held: a small log is waited for, and without a rest."""
    waited: list[float | None] = []
    worked, hours = threading.Event(), count(step=3600)

    class Slow(threading.Thread):
        """Work that is done only for who waits a minute for it."""

        def join(self, timeout: float | None = None) -> None:
            waited.append(timeout)
            if timeout is not None and timeout >= 60.0:
                worked.set()
                super().join(30.0)

    def slow_doubts(log: Log, press: str, designs: Any) -> PressDoubts:
        assert worked.wait(30.0)
        return doubts_of(log, press, designs)

    def clock() -> float:
        return 0.0 if threading.current_thread() is threading.main_thread() else next(hours)

    reader = HeldReader(source)
    monkeypatch.setattr("dashboard.shared.latest.threading.Thread", Slow)
    monkeypatch.setattr("dashboard.shared.held.doubts_of", slow_doubts)
    monkeypatch.setattr("dashboard.shared.latest.monotonic", clock)
    before = reader.doubts()
    worked.clear()
    inspect(worn.log, Part("P25", 3), worn.clock.now(), finding="flash")
    reader.entered()
    after = reader.doubts()
    worked.set()
    assert waited == [60.0, 60.0]
    assert "flash" not in repr(before)
    assert "flash" in repr(after)


def test_the_page_holds_all_that_status_does_however_many_were_let_go_since(worn: Trial, source: Source) -> None:
    """Sixty findings that were let go pushed the one part still held off the page at the press."""
    inspect(worn.log, Part("P25", 3), worn.clock.now(), finding="flash")
    for shot in range(4, 56):
        for finding in ("flash", "gate residue"):
            inspect(worn.log, Part("P25", shot), worn.clock.now(), finding=finding)
    every = [Part("P25", shot) for shot in range(4, 56)]
    enter_decision(worn.log, every, "released", worn.clock.now(), reason="trimmed", initials="QA")
    reader, told = HeldReader(source), held_on(worn.log, "P25", worn.settings.designs)
    assert told is not None
    assert (told.n_parts, told.first) == (1, 3)
    assert reader.now("P25") == told
    (against,) = (one for one in reader.doubts() or () if one.press == "P25")
    held = still_held(against, decisions(worn.log, "P25"))
    assert [(run.first, run.last) for run in held_runs("P25", held)] == [(3, 3)]


def test_a_part_is_found_by_shot_cavity_press_or_piece(trial: Trial, desk: PartsDesk) -> None:
    trial.shots(6)
    trial.note("dry", "no melt", at_shot=2)
    named = {str(desk.find("P25", text).part) for text in ("5", "5/1", "P25/5/1", " P25/5 ", "S-004")}
    assert named == {"P25/5/1"}
    asked = desk.find("P15", "S-004").asked
    assert [(one.quantity, one.unit, one.tolerance) for one in asked] == [
        ("wall", "mm", Bound(1.15, 1.25)),
        ("part_weight", "g", Bound()),
    ]


@pytest.mark.parametrize("text", ["", "x", "99", "2", "5/3", "P77/5", "S-050"])
def test_a_part_that_is_none_is_refused_in_words(trial: Trial, desk: PartsDesk, text: str) -> None:
    trial.shots(6)
    trial.note("dry", "no melt", at_shot=2)
    with pytest.raises(UsageError):
        desk.find("P25", text)


def test_a_cavity_that_the_mould_does_not_have_is_not_decided_on(trial: Trial, desk: PartsDesk) -> None:
    """The command refused it, the page took it: each had its own way to say which parts are meant."""
    trial.shots(6)
    with pytest.raises(UsageError, match=r"part P25/5/3: allowed: cavity 1 to 1 \(design setting cavities\)"):
        desk.decide("P25", "5/3", "held", "")
    assert held_parts(trial.log, "P25", trial.settings.designs) == []


def test_a_piece_of_a_queue_is_found_by_its_place(trial: Trial) -> None:
    pieces = [Insert(serial, "", "") for serial in ("S-9", "S-2", "S-5")]
    mounting = Mounting("P25", "moving", pieces[0], 4, trial.clock.now(), True)
    timeline = Timeline([mounting], queues={"S-9": pieces})
    assert piece_taken(timeline, "S-5") == (6, "moving")
    assert piece_taken(timeline, "S-3") is None


@pytest.mark.parametrize(("text", "value"), [("1,25", 1.25), (" 3 ", 3.0), ("", None)])
def test_a_number_with_a_comma_or_a_point(text: str, value: float | None) -> None:
    assert number(text, "wall") == value
    with pytest.raises(UsageError, match="wall: given '1;2'"):
        number("1;2", "wall")


def test_an_inspection_is_stored_with_its_tolerance_and_taken_back(trial: Trial, desk: PartsDesk) -> None:
    trial.shots(6)
    known = desk.find("P25", "5")
    ends = {one.quantity: one.tolerance for one in known.asked}
    stored = desk.inspect(known.part, {"wall": 1.31, "part_weight": 9.8}, ends, initials="AB")
    assert "OUT" in stored.words
    found = inspections(trial.log, "P25")
    assert [(one.quantity, one.value, one.high, one.initials) for one in found] == [
        ("wall", 1.31, 1.25, "AB"),
        ("part_weight", 9.8, None, "AB"),
    ]
    assert desk.undo(stored.entry).words == "Taken back"
    assert inspections(trial.log, "P25") == []


@pytest.mark.parametrize("decision", [word for word in DECISIONS if word != "held"])
def test_a_decision_asks_why_and_is_taken_back(trial: Trial, desk: PartsDesk, decision: str) -> None:
    trial.shots(6)
    with pytest.raises(UsageError, match="reason"):
        desk.decide("P25", "2-4", decision, "  ", "AB")
    stored = desk.decide("P25", "2-3, 5", decision, "crack", "AB")
    assert [(one.first, one.last) for one in decisions(trial.log, "P25")] == [(2, 3), (5, 5)]
    desk.undo(stored.entry, "AB")
    assert decisions(trial.log, "P25") == []


def test_a_bath_from_its_filling_to_what_came_out(trial: Trial, source: Source, desk: PartsDesk) -> None:
    trial.shots(6)
    desk.make_up("B1", Bound(0.9, 1.1), Bound(None, 45.0))
    stored = desk.put_in("B1", "P25", "1-3 S-005")
    assert [soak.part.shot for soak in soaks(trial.log)] == [1, 2, 3, 5]
    (bath,) = PartsReader(source).view().baths
    assert [(run.named, run.n_parts) for run in bath.inside] == [("1-3", 3), ("5", 1)]
    with pytest.raises(UsageError, match="it is in bath B1"):
        desk.put_in("B1", "P25", "3")
    desk.undo(stored.entry)
    desk.put_in("B1", "P25", "1-3")
    trial.clock.advance(30 * 3600)
    out = desk.take_out("P25", "1-2", cleared=False, remark="a rib", initials="AB")
    assert "something of the half is LEFT" in out.words
    assert [(soak.cleared, soak.remark) for soak in soaks(trial.log) if soak.came_out] == [(False, "a rib")] * 2
    checked = desk.check_bath("B1", "0,7", "")
    assert "OUT OF RANGE: " in checked.words
    desk.undo(checked.entry)
    assert baths(trial.log)[0].checks == ()


@pytest.mark.parametrize(
    ("name", "said"), [("bath 1", "bath 1"), ("Bath 1", "Bath 1"), ("B1", "bath B1"), ("baths", "bath baths")]
)
def test_a_bath_is_not_called_one_twice(trial: Trial, source: Source, desk: PartsDesk, name: str, said: str) -> None:
    trial.shots(3)
    assert desk.make_up(name, Bound(), Bound()).words == f"{said}: made up"
    assert f"in {said}, due" in desk.put_in(name, "P25", "1-2").words
    view = PartsReader(source).view()
    shown = json.dumps(parts_lists.baths(view, trial.clock.now()), default=lambda part: part.to_plotly_json())
    assert f"{said[0].upper()}{said[1:]} " in shown
    assert f"Put parts into {said}" in shown
    about = json.dumps(parts_dialogs.dialog("soak", name, "P25", ["P25"]), default=lambda part: part.to_plotly_json())
    assert f"Put into {said}" in about


def test_every_recent_entry_can_be_taken_back(trial: Trial, source: Source, desk: PartsDesk) -> None:
    trial.shots(6)
    desk.make_up("B1", Bound(), Bound())
    for enter in (
        lambda: desk.put_in("B1", "P25", "1-3"),
        lambda: desk.check_bath("B1", "1", "40"),
        lambda: desk.inspect(desk.find("P25", "4").part, {}, {}),
        lambda: desk.decide("P25", "4-5", "scrapped", "short", "AB"),
    ):
        trial.clock.advance(5)
        enter()
    reader = PartsReader(source)
    recent = reader.view().recent
    assert [one.text.split(":")[0] for one in recent] == [
        "P25 shots 4 to 5", "P25/4/1", "bath B1 checked", "P25 1-3 into bath B1",
    ]  # fmt: skip
    for one in recent:
        desk.undo(one.entry, "AB")
    reader.entered()
    assert reader.view().recent == ()


def test_a_second_look_without_anything_new_reads_nothing(worn: Trial, source: Source) -> None:
    reader = PartsReader(source)
    view = reader.view()
    assert reader.view() is view
    worn.shots(1)
    assert reader.view() is not view


def test_the_findings_offered_are_words_of_the_trade() -> None:
    assert {"flash", "short", "burn", "crack"} < set(KINDS["finding"].quick)


def opened(viewers: Viewers) -> Page:
    page = viewers.open("/parts")
    expect(page.locator("#parts-recent li").first).to_be_visible()
    return page


@pytest.mark.browser
def test_nothing_yet_is_said_in_words(trial: Trial, viewers: Viewers) -> None:
    page = opened(viewers)
    expect(page.locator("#parts-held")).to_contain_text("Nothing is held")
    expect(page.locator("#parts-baths")).to_contain_text("No bath is on record")
    expect(page.locator("#parts-recent")).to_contain_text("Nothing entered yet")


@pytest.mark.browser
def test_gauge_in_one_hand(trial: Trial, viewers: Viewers) -> None:
    """Scan, value, Enter, value, Enter; the next part can be scanned at once."""
    trial.shots(6)
    page = opened(viewers)
    part = page.get_by_label("Part: shot number")
    expect(part).to_be_focused()
    page.keyboard.type("S-004", delay=0)
    page.keyboard.press("Enter")
    expect(page.locator(".at-hand")).to_contain_text("P25, shot 4")
    expect(page.get_by_label("Wall, mm (tolerance 1.15 to 1.25)")).to_be_focused()
    page.keyboard.type("1,31", delay=0)
    page.keyboard.press("Enter")
    expect(page.get_by_label("Weight, g")).to_be_focused()
    page.keyboard.type("9.82", delay=0)
    page.keyboard.press("Enter")
    expect(page.locator("#parts-said")).to_contain_text("wall 1.31 mm, tolerance 1.15 to 1.25: OUT; weight 9.82 g")
    expect(part).to_be_focused()
    expect(part).to_have_value("")
    expect(page.locator("#parts-held")).to_contain_text("made on A-07, which made a bad part (P25/4/1)")
    page.locator("#parts-said").get_by_role("button").click()
    expect(page.locator("#parts-said")).to_contain_text("Taken back")
    expect(page.locator("#parts-held")).to_contain_text("Nothing is held")
    assert inspections(trial.log, "P25") == []


@pytest.mark.browser
def test_a_finding_and_nothing_found_at_one_touch(trial: Trial, viewers: Viewers) -> None:
    trial.shots(6)
    page = opened(viewers)
    for shot, button in (("2", "flash"), ("3", "Nothing found")):
        page.get_by_label("Part: shot number").fill(shot)
        page.get_by_role("button", name="Look up").click()
        page.get_by_role("button", name=button, exact=True).click()
        expect(page.locator("#parts-said")).to_contain_text(f"P25/{shot}/1")
    assert [result_text(one) for one in inspections(trial.log, "P25")] == ["flash", "looked at, nothing found"]
    page.get_by_label("Part: shot number").fill("2")
    page.get_by_role("button", name="Look up").click()
    expect(page.locator(".at-hand")).to_contain_text("HELD: inspection of P25/2/1: flash")


@pytest.mark.browser
def test_a_part_that_is_none_keeps_what_was_typed(trial: Trial, viewers: Viewers) -> None:
    trial.shots(6)
    page = opened(viewers)
    part = page.get_by_label("Part: shot number")
    part.fill("77")
    part.press("Enter")
    expect(page.locator("#parts-refused")).to_contain_text("allowed: 1 to 6")
    expect(part).to_have_value("77")


@pytest.mark.browser
@pytest.mark.parametrize(("name", "decision", "reason"), [("Release", "released", "looked at, nothing found"),
                                                          ("Scrap", "scrapped", "flash")])  # fmt: skip
def test_held_parts_are_decided_with_a_reason(
    worn: Trial, viewers: Viewers, name: str, decision: str, reason: str
) -> None:
    page = opened(viewers)
    button = page.locator("#parts-held").get_by_role("button", name=name).first
    button.click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name=name, exact=True).click()
    expect(page.locator("#parts-refused")).to_contain_text("reason")
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    button.click()
    dialog.get_by_role("button", name=reason, exact=True).click()
    expect(page.locator("#parts-refused")).to_have_text(
        f"Enter your initials first: parts are {decision} only by somebody who says who."
    )
    assert decisions(worn.log, "P25") == []
    dialog.get_by_label("Your initials").fill("RK")
    dialog.get_by_role("button", name=reason, exact=True).click()
    expect(page.locator("#parts-said")).to_contain_text(f"{decision}: {reason}")
    assert {(one.decision, one.initials) for one in decisions(worn.log, "P25")} == {(decision, "RK")}
    expect(page.locator("#parts-recent")).to_contain_text("by RK, typed")
    expect(page.locator("#parts-held")).to_contain_text("Nothing is held")
    page.locator("#parts-recent").get_by_role("button").first.click()
    expect(page.locator("#parts-held")).to_contain_text("Held: ")
    assert decisions(worn.log, "P25") == []


@pytest.mark.browser
def test_initials_are_asked_once_for_every_page_and_changed_at_a_touch(worn: Trial, viewers: Viewers) -> None:
    page = viewers.open("/press/P25")
    page.get_by_role("button", name="Pause").click()
    expect(page.locator("#recent")).to_contain_text("pause shot 56, by whom is not said")
    page.get_by_label("Your initials").fill("RK")
    page.get_by_role("button", name="Purge").click()
    expect(page.locator("#recent")).to_contain_text("purge shot 56, by RK, typed")
    for where in ("/parts", "/part/P25/5", "/inserts/A-07"):
        page.goto(page.url.split("/press")[0].split("/part")[0].split("/inserts")[0] + where)
        expect(page.get_by_label("Your initials")).to_have_value("RK")
    page.get_by_label("Your initials").fill("MR")
    with page.expect_file_chooser() as chosen:
        page.get_by_role("button", name="Picture of A-07").click()
    chosen.value.set_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": picture()})
    expect(page.locator(".picture-place .picture-said")).to_contain_text("kept")
    assert [one.initials for one in pictures_of_insert(worn.log, "A-07")] == ["MR"]


@pytest.mark.browser
def test_the_banner_of_a_press_opens_the_held_parts_of_that_press(worn: Trial, viewers: Viewers) -> None:
    page = viewers.open("/press/P25")
    page.locator(".held-banner").click()
    held = page.get_by_role("region", name="Held parts")
    expect(held.locator("[data-value=P25]")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#parts-held")).to_contain_text(" of P25")
    held.locator("[data-value=P15]").click()
    expect(page.locator("#parts-held")).to_contain_text("Nothing is held of P15")
    held.get_by_role("button", name="All presses").click()
    expect(page.locator("#parts-held").get_by_role("button", name="Release")).to_have_count(1)


@pytest.mark.browser
def test_a_bath_at_the_screen(trial: Trial, viewers: Viewers) -> None:
    trial.shots(6)
    page = opened(viewers)
    page.get_by_role("button", name="New filling").click()
    expect(page.get_by_label("Bath", exact=True)).to_be_focused()
    page.keyboard.type("B1", delay=0)
    page.get_by_role("button", name="Made up").click()
    expect(page.locator("#parts-baths")).to_contain_text("never checked")
    page.get_by_role("button", name="Check bath B1").click()
    expect(page.get_by_label("Concentration, mol/l")).to_be_focused()
    page.keyboard.type("1.0\n40\n", delay=0)
    expect(page.locator("#parts-said")).to_contain_text("bath B1: within its ranges")
    page.get_by_role("button", name="Put parts into bath B1").click()
    expect(page.get_by_label("Parts: shots")).to_be_focused()
    page.keyboard.type("2-4\n", delay=0)
    expect(page.locator("#parts-baths")).to_contain_text("P25, shots 2 to 4")
    trial.clock.advance(27 * 3600)
    expect(page.locator("#parts-baths")).to_contain_text("OVERDUE by 3 h")
    page.get_by_role("button", name="Take shots 2 to 4 of P25 out").click()
    page.get_by_role("button", name="something left").click()
    page.get_by_role("button", name="Out", exact=True).click()
    expect(page.locator("#parts-said")).to_contain_text("something of the half is LEFT")
    expect(page.locator("#parts-baths")).to_contain_text("Empty.")
    assert [soak.cleared for soak in soaks(trial.log)] == [False] * 3


@pytest.mark.browser
def test_it_fits_the_screen_and_the_glove(worn: Trial, viewers: Viewers) -> None:
    make_up(worn.log, "B1", worn.clock.now())
    page = opened(viewers)
    page.get_by_label("Part: shot number").fill("5")
    page.get_by_label("Part: shot number").press("Enter")
    expect(page.locator(".at-hand")).to_be_visible()
    for width, _ in at_sizes(page):
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        for dialog in (None, "Release", "New filling"):
            if dialog is not None:
                page.get_by_role("button", name=dialog).first.click()
                expect(page.get_by_role("dialog")).to_be_visible()
            assert too_small_for_a_glove(page) == []
            if dialog is not None:
                page.get_by_role("button", name="Back").click()
                expect(page.get_by_role("dialog")).to_have_count(0)


@pytest.mark.file
def test_the_page_says_what_it_cannot_read(trial: Trial, serve: Callable[[Dash], Served]) -> None:
    (trial.file.parent / "trial.db").unlink()
    source = Source(trial.settings, trial.clock)
    client = build(source).server.test_client()
    output = next(
        one["output"] for one in client.get("/_dash-dependencies").get_json() if "parts-held" in one["output"]
    )
    names = [name.rsplit(".", 1) for name in output.strip(".").split("...")]
    answer = client.post(
        "/_dash-update-component",
        json={
            "output": output,
            "outputs": [{"id": name, "property": prop.split("@")[0]} for name, prop in names],
            "inputs": [{"id": "parts-tick", "property": "n_intervals", "value": 1},
                       {"id": "parts-entered", "property": "data", "value": None},
                       {"id": {"type": "choice", "name": "held.press"}, "property": "data", "value": ""}],
            "changedPropIds": ["parts-tick.n_intervals"],
            "state": [{"id": "parts-seen", "property": "data", "value": None}],
        },
    )  # fmt: skip
    assert "no such file yet" in json.dumps(answer.get_json())
    source.close()
