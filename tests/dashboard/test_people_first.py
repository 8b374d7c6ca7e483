"""People win over statistics: a finding stands on top at once, its parts are held, and one question is asked."""

from datetime import timedelta

import pytest
from asked_for import Tab, ask, words
from dash import Dash
from hand_filled import Trial
from playwright.sync_api import expect
from served import Viewers
from touched import headline, touch

from dashboard.shared.held import HeldReader
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from shotlog.facts import Facts, Found
from shotlog.parts.part import Part
from shotlog.records import Shot, Verdict
from shotlog.store.asked.state import entries
from shotlog.store.parts.dispositions import enter_decision, held_parts
from shotlog.store.parts.inspections import inspect
from shotlog.store.undo import take_back


def made(trial: Trial, n: int) -> None:
    """Log shots that are kept by hand: no judge is at work, so that whatever changes is changed by people."""
    for _ in range(n):
        trial.clock.advance(75)
        shot = trial.next_shot["P25"]
        trial.log.append([Shot("P25", shot, shot, trial.clock.now(), {"cushion": 5.0})])
        trial.next_shot["P25"] = shot + 1
    last = trial.next_shot["P25"] - 1
    facts = Facts("quiet", quiet_since=1, n_sisters=3)
    for shot in (last - 1, last):
        trial.say(Verdict("P25", shot, "B-11", shot, False, "keep", facts=facts))
    trial.alive()


@pytest.fixture
def kept(trial: Trial) -> Trial:
    """Twelve shots on two halves, of which the values say: keep."""
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    made(trial, 12)
    return trial


def held(trial: Trial) -> list[int]:
    return [one.part.shot for one in held_parts(trial.log, "P25", trial.settings.designs)]


@pytest.mark.browser
def test_on_a_phone_what_is_held_comes_first_and_the_question_is_as_tall_as_what_it_says(
    kept: Trial, viewers: Viewers
) -> None:
    page = viewers.open()
    page.set_viewport_size({"width": 390, "height": 844})
    touch(page, "Finding")
    touch(page, "crack")
    asked, now = page.locator("#asked .question"), page.locator("#held-now .held-banner")
    question, held_line = asked.bounding_box(), now.bounding_box()
    last = asked.locator("button").last.bounding_box()
    assert question is not None
    assert held_line is not None
    assert last is not None
    assert held_line["y"] + held_line["height"] <= question["y"] + 1
    assert question["y"] + question["height"] - (last["y"] + last["height"]) < 40, "no blank below what it says"


@pytest.mark.browser
def test_a_finding_at_one_touch_wins_over_keep_and_asks_one_thing(kept: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    expect(page.locator("#standing")).to_contain_text("No change seen")
    expect(page.locator("#held-now")).to_be_empty()
    touch(page, "Finding")
    touch(page, "crack")
    expect(headline(page)).to_have_text("Seen: crack")
    standing = page.locator("#standing")
    expect(standing).to_contain_text("Seen at shot 12, on A-07 or B-11.")
    expect(standing).to_contain_text("Hold parts from 12")
    expect(standing).to_contain_text("By the values, at shot 11: no change seen")
    asked = page.get_by_role("group", name="Last known good")
    expect(asked).to_contain_text("Which was the last one you know to be good?")
    expect(page.locator("#held-now")).to_contain_text("1 part held: shot 12")
    for button in asked.get_by_role("button").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 48, "for a gloved finger"
    page.get_by_label("Another shot").fill("8")
    touch(page, "Enter this shot")
    expect(asked).to_have_count(0)
    expect(page.locator("#held-now")).to_contain_text("4 parts held, from shot 9")
    expect(page.locator("#held-now")).to_contain_text("inspect 9 first.")
    expect(headline(page)).to_have_text("Seen: crack")
    assert held(kept) == [9, 10, 11, 12]


@pytest.mark.browser
def test_held_parts_stay_on_the_page_after_a_swap_until_somebody_lets_them_go(kept: Trial, viewers: Viewers) -> None:
    kept.note("finding", "flash", at_shot=10)
    page = viewers.open()
    touch(page, "None known")
    expect(page.get_by_role("group", name="Last known good")).to_have_count(0)
    expect(headline(page)).to_have_text("Seen: flash")
    kept.mount("A-08", "fixed")
    kept.mount("B-12")
    expect(headline(page)).not_to_have_text("Seen: flash")
    expect(page.locator("#held-now")).to_contain_text("12 parts held, from shot 1")
    enter_decision(
        kept.log, [Part("P25", n) for n in range(1, 9)], "released", kept.clock.now(), reason="looked at", initials="QA"
    )
    expect(page.locator("#held-now")).to_contain_text("4 parts held, from shot 9")
    expect(page.locator("#held-now")).to_contain_text("inspect 9 first")
    page.locator("#held-now a").click()
    expect(page.get_by_role("heading", name="Parts and baths")).to_be_visible()
    enter_decision(
        kept.log, [Part("P25", n) for n in range(9, 13)], "scrapped", kept.clock.now(), reason="flash", initials="QA"
    )
    page.go_back()
    expect(page.locator("#mounted")).to_contain_text("A-08")
    expect(page.locator("#held-now")).to_be_empty()


@pytest.mark.browser
def test_a_bad_inspection_of_yesterday_shows_at_the_press_today(kept: Trial, viewers: Viewers) -> None:
    kept.clock.advance(timedelta(hours=20).total_seconds())
    made(kept, 3)
    inspect(kept.log, Part("P25", 3), kept.clock.now(), initials="ab")
    inspect(kept.log, Part("P25", 5), kept.clock.now(), finding="burn", half="fixed", initials="ab")
    page = viewers.open()
    expect(headline(page)).to_have_text("Bad part: burn")
    expect(page.locator("#standing")).to_contain_text("Inspection of shot 5, on A-07, fixed half, by ab: burn.")
    expect(page.locator("#held-now")).to_contain_text("12 parts held, from shot 4")
    expect(page.locator("#held-now")).to_contain_text("inspect 4 first")
    page.get_by_label("Another shot").fill("99")
    touch(page, "Enter this shot")
    expect(page.locator("#refused")).to_contain_text("99")
    assert held(kept) == list(range(4, 16))
    kept.mount("A-08", "fixed")
    expect(headline(page)).not_to_have_text("Bad part: burn")
    expect(page.locator("#held-now")).to_contain_text("12 parts held, from shot 4")


@pytest.mark.parametrize("text", ["flash", "short", "burn", "crack", "dimension out", "gate looks odd", "not filled"])
def test_every_finding_holds_and_stands_at_once(kept: Trial, app: Dash, text: str) -> None:
    kept.note("finding", text)
    said = " ".join(words(Tab(app.server.test_client()).refresh()["standing"]["children"]))
    assert f"Seen: {text}" in said
    assert "Hold parts from 12" in said
    assert held(kept) == [12]
    kept.note("unsure", "none known")
    assert held(kept) == list(range(1, 13))


def test_what_a_finding_made_of_the_verdict_is_not_told_as_what_the_values_say(kept: Trial, app: Dash) -> None:
    kept.note("finding", "crack")
    facts = Facts("quiet", quiet_since=1, n_sisters=3, found=Found(12, "crack"))
    kept.say(Verdict("P25", 12, "B-11", 12, False, "swap", facts=facts))
    said = " ".join(words(Tab(app.server.test_client()).refresh()["standing"]["children"]))
    assert "By the values, at shot 12: no change seen in these values since shot 1." in said


def test_what_was_found_stands_while_the_data_are_not_current(kept: Trial, app: Dash) -> None:
    kept.note("finding", "crack")
    kept.clock.advance(7200)
    said = words(Tab(app.server.test_client()).refresh()["standing"]["children"])
    assert said[0].startswith("Seen at shot 12, on A-07 or B-11: crack.")
    meanwhile = "Judge by the parts meanwhile: verdict and values are not current. What was found and is held stands."
    assert any(one.endswith(meanwhile) for one in said)


def test_found_sound_takes_it_off_the_top_and_holds_on(kept: Trial, app: Dash) -> None:
    kept.note("finding", "crack")
    kept.note("unsure", "none known")
    kept.note("sound", "R. K., both halves")
    said = " ".join(words(Tab(app.server.test_client()).refresh()["standing"]["children"]))
    assert "Seen: crack" not in said
    assert held(kept) == list(range(1, 13))
    made(kept, 1)
    assert held(kept) == list(range(1, 13)), "what is made after it was found sound is not held"


def test_the_other_suspect_is_named_until_it_is_cleared_after_it_came_out(kept: Trial, app: Dash) -> None:
    """Of a finding on neither half by name, the half that stayed was told as if somebody had seen it there."""
    kept.note("finding", "flash at the gate")
    tab = Tab(app.server.test_client())
    assert "Seen at shot 12, on A-07 or B-11." in words(tab.refresh()["standing"]["children"])
    kept.mount("A-08", "fixed")
    assert "Seen at shot 12, on B-11 or A-07, out since shot 13." in words(tab.refresh()["standing"]["children"])
    kept.note("sound", "looked at, no flash", at_shot=12)
    assert "A-07" not in " ".join(words(tab.refresh()["standing"]["children"]))


def test_a_finding_taken_back_holds_nothing(kept: Trial) -> None:
    kept.note("finding", "crack")
    (row,) = entries(kept.log, "P25")
    take_back(kept.log, "events", row.entry_id, kept.clock.now(), "another press")
    assert held(kept) == []


def test_a_note_that_tells_damage_holds_its_part_and_vents_cleaned_holds_none(kept: Trial, app: Dash) -> None:
    kept.note("note", "vents cleaned", at_shot=7)
    kept.note("note", "piece cracked on loading", at_shot=9)
    assert held(kept) == [9]
    said = " ".join(words(Tab(app.server.test_client()).refresh()["standing"]["children"]))
    assert "Seen:" not in said


def test_held_parts_are_told_with_keep_and_after_a_call_was_withdrawn(kept: Trial, app: Dash) -> None:
    called = Verdict("P25", 12, "B-11", 12, False, "watch", "a change", onset=11, onset_low=10, onset_high=12)
    kept.say(called)
    made(kept, 2)  # kept again
    client = app.server.test_client()
    assert "No change seen" in " ".join(words(Tab(client).refresh()["standing"]["children"]))
    sent = ask(client, "held-now.children", tick=1, press="P25", people_seen={})
    assert words(sent["held-now"]["children"]) == [
        "3 parts held, from shot 10", "Put them aside: shots 10 to 12; inspect 9 and 10 first.",
    ]  # fmt: skip


def test_what_is_held_is_shown_on_a_long_strip_without_a_call(kept: Trial, source: Source) -> None:
    kept.note("finding", "crack", at_shot=9)
    strips = PressReader(source).fresh("P25").view.strips
    assert (strips.onset, strips.held_from) == (None, 9)
    now = HeldReader(source).now("P25")
    assert now is not None
    assert (now.n_parts, now.first, now.look_first) == (4, 9, (8, 9))
