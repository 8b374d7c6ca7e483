"""At the press: what people are told of it, and the button by which somebody says that it is seen."""

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from hand_filled import CONFIG, Trial
from playwright.sync_api import expect
from served import Viewers, at_sizes
from touched import touch

from dashboard import Source
from dashboard.press.desk import Desk
from dashboard.press.told_now import ToldReader, told_now
from dashboard.presses.messages import messages_told
from shotlog.errors import UsageError
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Verdict
from shotlog.store.asked.cursors import note_broker
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.asked.telling import ReceiverNow, Telling, note_telling
from shotlog.store.asked.told import NOTED, ToldRow, seen_spells, write_told
from shotlog.wording.entries import made_said
from tests.chromium import until

MESSAGES = '[messages]\nsite = "hall-2"\nmqtt = "mqtt://127.0.0.1:1883"\nto = ["json://10.0.0.7"]\n'


@pytest.fixture
def trial(tmp_path: Path) -> Iterator[Trial]:
    """A press whose configuration tells people, with a swap, held parts and a low disk that are told."""
    made = Trial(tmp_path, CONFIG + MESSAGES)
    made.mount("B-11")
    made.shots(12)
    tell(made, "swap P25 12", "P25: Swap B-11, moving. Why.")
    tell(made, "hold P25 10", "P25: parts of 3 shots held, shots 10 to 12. Why.")
    tell(made, "watch P15 4", "P15: Watch. Why.", "P15")
    tell(made, "disk at hall-2/the log/x", "hall-2: a disk is low. Why.", None)
    tell(made, "disk at hall-3/the log/x", "hall-3: a disk is low. Why.", None)
    yield made
    made.close()


def tell(trial: Trial, spell: str, said: str, press: str | None = "P25", phase: str = "begins") -> None:
    about = spell.partition(" ")[0]
    write_told(trial.log, [ToldRow(press, about, spell, phase, NOTED, said, trial.clock.now())], {}, trial.clock.now())


@pytest.mark.browser
def test_what_is_told_is_silenced_at_one_touch_and_says_by_whom(trial: Trial, viewers: Viewers) -> None:
    page = viewers.open()
    told = page.locator("#told-now")
    expect(told).to_contain_text("Swap B-11, moving, since")
    expect(told).to_contain_text(re.compile("parts of 3 shots held, shots 10 to 12, since .*; hall-2: a disk is low"))
    expect(told).to_contain_text("Seen stops messages, and no alarm of the press.")
    expect(told).not_to_contain_text("P15")
    expect(told).not_to_contain_text("hall-3")
    button = told.get_by_role("button").bounding_box()
    assert button is not None
    assert min(button["width"], button["height"]) >= 48
    tell(trial, "limit P25 cushion 12", "P25: Cushion beyond its action limit. Why.")
    expect(told).to_contain_text("Cushion beyond its action limit")
    page.get_by_label("Your initials").first.fill("KB")
    touch(page, "Seen: no more messages of it")
    expect(told).to_contain_text(
        "Swap B-11, moving; parts of 3 shots held, shots 10 to 12; hall-2: a disk is low; "
        "Cushion beyond its action limit: seen by KB"
    )
    expect(told.get_by_role("button")).to_have_count(0)
    assert {one.who.initials for one in seen_spells(trial.log).values()} == {"KB"}
    tell(trial, "swap P25 12", "P25: nothing is called any more.", phase="ends")
    expect(told).not_to_contain_text("Swap B-11")


_IN_REACH = """() => {
    const button = document.querySelector('#told-now button');
    const box = button?.getBoundingClientRect();
    return box !== undefined && [[4, 4], [box.width - 4, box.height - 4]].every(
        ([x, y]) => button.contains(document.elementFromPoint(box.x + x, box.y + y)));
}"""


@pytest.mark.browser
def test_seen_is_in_sight_and_free_at_every_size_where_a_message_sends_one_to_it(
    trial: Trial, viewers: Viewers
) -> None:
    trial.say(
        Verdict(
            "P25", 12, "B-11", 12, False, "swap", "",
            (), "parting-line wear", "insert", 0.86, 10, 8, 11, 8.0, 3.0, 20.0, 7.1, 5.0,
            Facts("called", changes=(ChannelChange("cushion", -0.31, 0.05),), half="moving"),
        )
    )  # fmt: skip
    page = viewers.open()
    expect(page.locator("h1")).to_contain_text("Swap")
    for state in ("swap", "lost"):
        if state == "lost":
            trial.link("lost", "folder \\\\press-pc\\out cannot be used: no such file or directory; is the share there")
            tell(trial, "lost P25 1", "P25: connection lost. Why.")
            trial.alive()
            expect(page.locator("h1")).to_contain_text("Connection lost")
            expect(page.locator("#told-now")).to_contain_text("connection lost")
        for _ in at_sizes(page):
            until(page, _IN_REACH)
    assert viewers.wrong == []


def test_what_began_since_it_was_shown_has_not_been_seen(trial: Trial) -> None:
    source = Source(trial.settings, trial.clock)
    desk = Desk(source)
    with pytest.raises(UsageError, match="load the page anew"):
        desk.seen("P25", "x", "KB")
    assert desk.seen("P25", "1", "KB").words == "Seen, no more messages: P25: Swap B-11, moving"
    assert list(seen_spells(trial.log)) == ["swap P25 12"]
    assert desk.seen("P25", "1", "KB").words == "Seen before: no more messages of it"
    desk.undo("acknowledgements:1", "KB")
    assert list(seen_spells(trial.log)) == []
    source.close()


def test_of_two_holds_it_is_said_which_one_was_seen(trial: Trial) -> None:
    source = Source(trial.settings, trial.clock)
    Desk(source).seen("P25", "2", "KB")
    tell(trial, "hold P25 48", "P25: parts of 2 shots held, shots 48 to 49. Why.")
    states = ToldReader(source).now("P25")
    shown = str(told_now("P25", states, trial.clock.now()))
    assert "parts of 2 shots held, shots 48 to 49, since" in shown
    assert "parts of 3 shots held, shots 10 to 12: seen by KB" in shown
    listed = [made_said(one) for one in entries_made(trial.log, "P25") if one.kind == "acknowledgement"]
    assert listed == [
        "P25, seen, of what is told: Swap B-11, moving",
        "P25, seen, of what is told: parts of 3 shots held, shots 10 to 12",
    ]
    source.close()


def test_presses_tells_whether_messages_get_out(trial: Trial) -> None:
    source = Source(trial.settings, trial.clock)
    now = trial.clock.now()
    said = messages_told(source, now)
    assert [one for one, _ in said[:3]] == [
        "NOBODY IS TOLD yet: what sends messages is not at work; it runs beside shotlog run",
        "Broker mqtt://127.0.0.1:1883: nobody has tried to reach it yet", "Messages to json: none was due yet"
    ]  # fmt: skip
    note_telling(trial.log, "hall-2", Telling(now, {"json": ReceiverNow(None, now, 2)}))
    words, is_wrong = messages_told(source, now)[1]
    assert "NOT TAKEN since" in words
    assert is_wrong
    assert not messages_told(source, now)[0][1], "nobody has tried the broker yet, and nothing is wrong with it"
    note_broker(trial.log, "", now)
    assert "connected since" in messages_told(source, now)[0][0]
    later = messages_told(source, now + timedelta(hours=1))
    assert [wrong for _, wrong in later[:2]] == [True, True], "nobody is told, and the broker is not connected"
    assert "NOT CONNECTED: what sends messages is not at work" in later[1][0]
    assert len(said) == 3 + 4  # what is told of both presses, and of the shop; of another site nothing
    source.close()
