"""All the words of the page at the press, as a person reads them from top to bottom."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from asked_for import Tab, words
from hand_filled import Trial

from dashboard import Source, build
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Baseline, Fault, Gap, Verdict


@pytest.fixture
def tab(trial: Trial) -> Iterator[Tab]:
    source = Source(trial.settings, trial.clock)
    yield Tab(build(source).server.test_client())
    source.close()


def said(tab: Tab, *areas: str) -> dict[str, Any]:
    sent = tab.refresh()
    return {area: words(sent[area]["children"]) for area in areas}


def test_an_insert_that_settles(trial: Trial, tab: Tab) -> None:
    trial.mount("B-11")
    trial.shots(5)
    assert said(tab, "standing", "strips-words", "mounted", "recent", "switch") == {
        "standing": [
            "Settling", "Shot 5 on B-11, not judged before shot 11 of the press.",
            "What could be seen by now: a step of 0.92 mm in cushion, 104 bar in peak pressure or "
            "0.110 s in fill time.",
            "Next: ", "Look at the parts: a change is seen late or not at all yet.",
        ],
        "strips-words": [
            "5 shots on B-11; Cushion: last 5.06 mm, 0 shots signalled; "
            "Peak pressure: last 552 bar, 0 shots signalled; Fill time: last 0.718 s, 0 shots signalled."
        ],
        "mounted": ["Mounted", "moving", "B-11", "5", " shots"],
        "recent": ["B-11 mounted, moving half ", "shot 1", "Undo"],
        "switch": ["P25", "Settling", "P15", "Waiting for the first shot"],
    }  # fmt: skip


def test_how_often_the_limits_in_force_signal_for_nothing_is_said(trial: Trial, tab: Tab) -> None:
    """Of the limits as they were frozen: those of an earlier release said nothing of it."""
    trial.mount("B-11")
    trial.shots(30)
    level = Baseline("P25", "B-11", "cushion", 11, 22, 12, 5.0, 0.03, 4.8, 5.2)
    trial.say(Verdict("P25", 22, "B-11", 22, False, "keep"), level)
    assert said(tab, "chart-rate") == {"chart-rate": []}
    trial.say(Verdict("P25", 22, "B-11", 22, False, "keep"), replace(level, per_100=10))
    trial.shots(1)
    assert said(tab, "chart-rate") == {
        "chart-rate": ["Limits: of 100 sound inserts about 10 show any signal in 90 shots"]
    }


def test_a_call_says_where_why_since_when_and_what_to_hold(trial: Trial, tab: Tab) -> None:
    """The shot to hold from could have been any: no test read it."""
    trial.mount("B-11")
    trial.shots(30)
    trial.say(
        Verdict(
            "P25", 30, "B-11", 30, False, "swap", left_median=0.0, left_low=0.0, left_high=0.0,
            cause="gate erosion", group="insert", weight=0.9, onset=26, onset_low=24, onset_high=28, statistic=9.0,
            facts=Facts("called", changes=(ChannelChange("cushion", -0.3, 0.05),)),
        )
    )  # fmt: skip
    assert said(tab, "standing", "switch") == {
        "standing": [
            "Swap B-11", "Cushion down 0.30 mm since shot 26 (24 to 28).", "Hold parts from 24 for this",
            "Most likely the insert (0.90), gate erosion; the next part is likely bad.", "Next: ",
            "Measure the gate vestige against an early part; if it has not grown, purge and measure the melt. Look "
            "before you touch: stop by the press controls, wait until the mould is fully open and stands still.",
            "Why, and how sure",
        ],
        "switch": ["P25", "Swap B-11", "P15", "Waiting for the first shot"],
    }  # fmt: skip


def test_what_was_missed_and_what_was_faulty_is_counted(trial: Trial, tab: Tab) -> None:
    trial.mount("B-11")
    trial.mount("S-01", "core", single_use=True)
    trial.link("connected", "the press answers")
    trial.shots(1)
    trial.next_shot["P25"] = 4
    trial.log.append([Gap("P25", 2, 3, trial.clock.now(), "counter jumped")])
    trial.log.append([Fault("P25", trial.clock.now(), "torn", "values changed while they were read", b"\x01", 3)])
    trial.shots(1, values={"cushion": 4.9})
    heading, connected, *rest = said(tab, "health")["health"]
    assert (heading, connected.partition(" since ")[0]) == ("Connection", "Connected")
    assert rest == ["2 stored, 2 missed, 1 fault (last: torn: values changed while they were read)."]


def test_a_press_without_an_insert_asks_for_one(trial: Trial, tab: Tab) -> None:
    trial.shots(3)
    assert said(tab, "standing", "mounted") == {
        "standing": [
            "No insert entered", "Shots are logged, and nobody can say which insert made them.",
            "Next: ", "Enter which inserts are mounted; give the shot they came in at if it was earlier.",
        ],
        "mounted": ["Mounted", "No insert entered."],
    }  # fmt: skip
