"""What is said of a press: verdicts while the data are fresh, what is wrong when they are not."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from dashboard.press.standing import standing
from dashboard.shared.views import DrawnLevel, Mounted, PressView, Strip, Strips
from shotlog.facts import ChannelChange, Facts
from shotlog.records import Link, Verdict
from shotlog.settings import Bound
from shotlog.store.asked.kept import KeptNow
from shotlog.store.asked.unjudged import Unjudged
from shotlog.wear.change.causes import CAUSES
from shotlog.wording.times import at_time
from shotlog.wording.verdicts import question, worded

NOW = datetime(2026, 1, 5, 10, 30, tzinfo=UTC)
SEEN = NOW - timedelta(seconds=4)
CALLED = Facts("called", changes=(ChannelChange("cushion", -0.2, 0.05),))


def a_view(verdict: str = "keep", *, settling: bool = False, level: bool = True, shot: int = 40) -> PressView:
    inserted = Mounted("moving", "B-12", "cap-r2", 11, shot - 10, False)
    levels = (DrawnLevel(21, shot, 4.94, 4.7, 5.2, 12),) if level else ()
    strip = Strip("cushion", (4.9,), levels, Bound(), ())
    return PressView(
        press="P25",
        shot=shot,
        time=NOW - timedelta(seconds=50),
        values={"cushion": 4.9},
        verdict=Verdict(
            "P25", shot, "B-12", shot - 10, settling, verdict, "a sentence", onset=31, statistic=1.0 if level else None
        ),
        judged=inserted,
        mounted=(inserted,),
        link=Link("P25", NOW - timedelta(hours=1), "connected", "the press answers"),
        n_shots=shot,
        n_missed=0,
        faults={},
        last_fault="",
        cycle_s=75.0,
        strips=Strips("B-12", 11, (shot,), frozenset(), (), (), None, (strip,)),
        recent=(),
    )


@pytest.mark.parametrize(
    ("verdict", "headline"), [("keep", "No change seen"), ("watch", "Watch"), ("swap", "Swap B-12")]
)
def test_a_fresh_verdict_is_said_in_one_word_and_its_sentence(verdict: str, headline: str) -> None:
    said = standing(a_view(verdict), NOW, SEEN)
    assert (said.sign, said.headline, said.sentence, said.current) == (verdict, headline, "A sentence.", True)


def test_nothing_is_to_be_checked_while_no_change_is_seen() -> None:
    assert standing(a_view("keep"), NOW, SEEN).check == ""


def test_a_call_to_swap_says_to_look_before_touching() -> None:
    assert "Look before you touch" in standing(a_view("swap"), NOW, SEEN).check


@pytest.mark.parametrize("cause", [name for name, cause in CAUSES.items() if cause.check])
def test_the_check_of_a_named_cause_is_shown(cause: str) -> None:
    view = a_view("watch")
    assert view.verdict is not None
    said = standing(replace(view, verdict=replace(view.verdict, cause=cause)), NOW, SEEN)
    assert said.check.lower().startswith(CAUSES[cause].check.lower())


def test_the_check_is_said_once_and_every_word_of_the_sentence_is_kept() -> None:
    cause = CAUSES["gate erosion"]
    view = a_view("swap")
    assert view.verdict is not None
    verdict = replace(view.verdict, cause="gate erosion", group="insert", facts=CALLED)
    words = worded(verdict)
    said = standing(replace(view, verdict=verdict), NOW, SEEN)
    assert said.sentence.lower() == f"{words.seen}.".lower()
    assert said.detail.lower() == f"{'; '.join((words.why, *words.more))}.".lower()
    assert said.check.lower().startswith(cause.check.lower())
    assert cause.check.lower() not in said.detail.lower()


def test_where_the_change_likely_lies_is_said_large() -> None:
    view = a_view("watch")
    assert view.verdict is not None
    said = standing(replace(view, verdict=replace(view.verdict, group="press")), NOW, SEEN)
    assert (said.headline, said.likely) == ("Watch", "likely the press, not the insert")
    assert standing(a_view("keep"), NOW, SEEN).likely == ""


def test_the_question_is_put_apart_from_the_sentence_and_not_twice() -> None:
    view = a_view("watch")
    assert view.verdict is not None
    asked = replace(view, verdict=replace(view.verdict, facts=replace(CALLED, asked_shot=28)), question=28)
    for current in (asked, lost(asked)):
        said = standing(current, NOW, SEEN)
        assert said.question == 28
        assert question(28) not in " ".join([said.sentence, said.detail, said.check, said.before])
    assert standing(replace(asked, question=None), NOW, SEEN).question is None


def test_an_hour_without_connection_is_said_in_hours() -> None:
    gone = NOW - timedelta(hours=1)
    view = replace(a_view(), time=gone, link=Link("P25", gone, "lost", "timed out"))
    said = standing(view, NOW, SEEN)
    assert said.headline == f"Connection lost since {at_time(gone, NOW)}"
    assert said.sentence == "Last shot 1 h ago."
    assert not said.current


def test_clocks_that_disagree_are_said_with_how_far() -> None:
    said = standing(replace(a_view(), time=NOW + timedelta(minutes=5)), NOW, SEEN)
    assert (said.headline, said.sentence) == ("Clocks disagree", "The last shot is stamped 5 min in the future.")


def test_settling_and_learning_are_no_verdict() -> None:
    assert standing(a_view("keep", settling=True), NOW, SEEN).headline == "Settling"
    assert standing(a_view("keep", level=False), NOW, SEEN).headline == "Learning"


@pytest.mark.parametrize(
    ("stage", "headline"), [("quiet", "No change seen"), ("waited", "Settling"), ("settling", "Settling")]
)
def test_what_is_judged_while_its_charts_wait_is_a_verdict(stage: str, headline: str) -> None:
    view = a_view("keep", settling=True)
    assert view.verdict is not None
    said = replace(view, verdict=replace(view.verdict, facts=Facts(stage, quiet_since=11, judged_from=51)))
    assert standing(said, NOW, SEEN).headline == headline


def test_a_call_to_swap_stands_while_settling_after_a_pause() -> None:
    assert standing(a_view("swap", settling=True), NOW, SEEN).headline == "Swap B-12"


def lost(view: PressView) -> PressView:
    return replace(view, link=Link("P25", NOW - timedelta(minutes=18), "lost", "timed out"))


@pytest.mark.parametrize(
    ("view", "seen", "headline"),
    [
        (replace(a_view(), time=NOW - timedelta(minutes=4, seconds=10)), SEEN, "Last shot 4 min ago"),
        (lost(a_view()), SEEN, f"Connection lost since {at_time(NOW - timedelta(minutes=18), NOW)}"),
        (a_view(), None, "Logger not running"),
        (a_view(), NOW - timedelta(minutes=9), f"Logger not running since {at_time(NOW - timedelta(minutes=9), NOW)}"),
        (
            replace(a_view(), link=Link("P25", NOW, "stopped", "logging ended")),
            None,
            f"Logging stopped at {at_time(NOW, NOW)}",
        ),
        (
            replace(a_view(), time=NOW + timedelta(minutes=5)),
            SEEN,
            "Clocks disagree",
        ),
    ],
)
def test_stale_data_are_said_first_and_the_verdict_becomes_history(
    view: PressView, seen: datetime | None, headline: str
) -> None:
    said = standing(view, NOW, seen)
    assert (said.sign, said.headline, said.current) == ("cut", headline, False)
    assert said.before.startswith("Before that, at shot 40")
    assert "no change seen. A sentence." in said.before


def test_every_trouble_is_said_not_only_the_first() -> None:
    said = standing(replace(lost(a_view()), time=NOW - timedelta(minutes=20)), NOW, NOW - timedelta(minutes=5))
    assert said.headline.startswith("Logger not running")
    assert "Connection lost since" in said.sentence
    assert "Last shot 20 min ago" in said.sentence
    assert said.detail == "Timed out."


def test_a_slow_press_is_not_called_stale_within_three_of_its_cycles() -> None:
    slow = replace(a_view(), cycle_s=150.0, time=NOW - timedelta(seconds=440))
    assert standing(slow, NOW, SEEN).current
    assert not standing(replace(slow, time=NOW - timedelta(seconds=460)), NOW, SEEN).current


def test_a_verdict_behind_the_last_shot_says_so() -> None:
    view = a_view()
    assert view.verdict is not None
    behind = replace(view, verdict=replace(view.verdict, shot=38))
    assert standing(behind, NOW, SEEN).sentence == "A sentence."
    assert standing(behind, NOW, SEEN).detail == "Judged up to shot 38 of 40."


def test_the_verdict_on_the_insert_before_is_not_shown_for_the_new_one() -> None:
    new = Mounted("moving", "B-13", "cap-r2", 41, 0, False)
    said = standing(replace(a_view("swap"), judged=new, mounted=(new,)), NOW, SEEN)
    assert said.headline == "B-13 is in"
    assert "first shot" in said.sentence


def test_a_new_insert_with_shots_but_no_verdict_is_not_judged_yet() -> None:
    new = Mounted("moving", "B-13", "cap-r2", 38, 3, False)
    said = standing(replace(a_view("swap"), judged=new, mounted=(new,)), NOW, SEEN)
    assert said.headline == "Not judged yet"


def test_a_single_use_half_alone_is_judged_as_the_stretch_it_is() -> None:
    view = a_view()
    assert view.verdict is not None
    piece = Mounted("moving", "S-1", "cap-r2", 11, 30, True)
    alone = replace(view, judged=None, mounted=(piece,), verdict=replace(view.verdict, insert=""))
    assert standing(alone, NOW, SEEN).headline == "No change seen"


def test_shots_without_an_insert_ask_for_one() -> None:
    view = a_view()
    assert view.verdict is not None
    bare = replace(view, judged=None, mounted=(), verdict=replace(view.verdict, insert=""))
    assert standing(bare, NOW, SEEN).headline == "No insert entered"
    # one that came out after its last shot: nothing is worked out any more
    assert standing(replace(view, judged=None, mounted=()), NOW, SEEN).headline == "No insert entered"


def test_shots_that_wait_long_for_a_verdict_are_said_beside_what_was_called() -> None:
    waits = Unjudged(31, 14, NOW - timedelta(seconds=61))
    said = standing(replace(a_view(), unjudged=waits), NOW, SEEN)
    told = f"14 shots have waited for a verdict since {at_time(waits.since, NOW)}, from shot 31 on."
    assert (said.sign, said.headline, said.sentence, said.current) == ("waiting", "Not judged", told, True)
    assert "no change seen" in said.before
    cut = standing(lost(replace(a_view(), unjudged=waits)), NOW, SEEN)
    assert (cut.sentence, "no change seen" in cut.before) == (told, True)
    called = standing(replace(a_view("swap"), unjudged=waits), NOW, SEEN)
    assert (called.headline, called.detail.startswith(told)) == ("Swap B-12", True)
    for short in (replace(waits, since=NOW), replace(waits, set_since_s=30.0)):
        assert standing(replace(a_view(), unjudged=short), NOW, SEEN).headline == "No change seen"
    assert "start it again" in said.check


def test_while_judging_gets_ready_it_is_waited_for_and_nobody_is_sent_to_start_it_again() -> None:
    waits = Unjudged(31, 110, NOW - timedelta(days=3), gets_ready_s=120.0)
    said = standing(replace(a_view(), unjudged=waits), NOW, SEEN)
    told = "Judging gets ready; 110 shots are logged and wait to be judged."
    assert (said.sign, said.headline, said.sentence, said.check) == ("waiting", "Not judged yet", told, "")
    assert "no change seen" in said.before
    called = standing(replace(a_view("swap"), unjudged=waits), NOW, SEEN)
    assert (called.headline, called.detail.startswith(told)) == ("Swap B-12", True)
    hangs = standing(replace(a_view(), unjudged=replace(waits, gets_ready_s=301.0)), NOW, SEEN)
    assert (hangs.headline, "start it again" in hangs.check) == ("Not judged", False)
    ready = standing(replace(a_view(), unjudged=replace(waits, gets_ready_s=None, waited_s=3.0)), NOW, SEEN)
    assert ready.headline == "No change seen"


def test_an_empty_log_waits_and_says_whether_anything_is_coming() -> None:
    empty = replace(a_view(), shot=None, time=None, verdict=None, judged=None, mounted=())
    waiting = standing(empty, NOW, SEEN)
    assert (waiting.headline, waiting.current) == ("Waiting for the first shot", True)
    assert "Enter which inserts" in waiting.check
    cut = standing(lost(empty), NOW, SEEN)
    assert cut.headline.startswith("Connection lost since")
    assert not cut.current
    assert cut.sentence.startswith("No shot received yet.")


def test_words_hold_still_between_shots() -> None:
    """The words are compared to see whether anything must be sent: a running clock in them would send every second."""
    view = a_view()
    said = {standing(view, NOW + timedelta(seconds=s), NOW + timedelta(seconds=s)) for s in range(60)}
    assert len(said) == 1


def test_a_log_that_cannot_be_written_is_said_with_what_waits_for_it_and_where_it_is() -> None:
    """The page said 34 shots of all presses of one, no path, and the same advice for whatever was wrong."""
    kept = KeptNow(
        Path("j"), 34, 0, NOW - timedelta(minutes=5), "database is locked", alive=True, kind="locked",
        by_press={"P25": 12, "P15": 22},
    )  # fmt: skip
    said = standing(a_view(), NOW, NOW - timedelta(minutes=5), kept)
    assert said.headline.startswith("Log not written since ")
    assert said.sentence == "Another program holds it."
    assert said.safe == "Safe: 12 shots of P25 wait on disk and go into the log (34 of all presses), in the journal j."
    assert said.check.startswith("End the program that holds the log")
    assert "Judge by the parts meanwhile" in said.check
    assert not said.current
    old = replace(a_view(), time=NOW - timedelta(minutes=6), cycle_s=20.0)
    assert "Last shot in the log 6 min ago" in standing(old, NOW, NOW, kept).sentence
    said = standing(a_view(), NOW, NOW - timedelta(minutes=5), replace(kept, shots=0, by_press={}, unsafe=2))
    assert said.safe == "NOT SAFE: 2 shots of all presses are IN MEMORY ONLY: make room, do not switch off."
    assert "do not end shotlog run" in said.check
    ended = standing(a_view(), NOW, NOW - timedelta(minutes=5), replace(kept, alive=False))
    assert "Logger not running since" in ended.sentence
    assert "start it again" in ended.check
    assert not ended.is_read
    assert standing(a_view(), NOW, SEEN, KeptNow(Path("j"))).current


def test_what_to_do_next_fits_what_is_wrong() -> None:
    kept = KeptNow(Path("j"))
    cable = standing(lost(a_view()), NOW, SEEN, kept)
    assert cable.check.startswith("Check that the press is on, then its cable, then its address")
    assert cable.safe == "Safe: every shot that came is in the log."
    stopped = standing(replace(a_view(), link=Link("P25", NOW, "stopped", "logging ended")), NOW, SEEN, kept)
    assert stopped.check.startswith("Start shotlog run again.")
    begun = replace(a_view(), link=Link("P25", NOW - timedelta(hours=1), "stopped", "logging ended"))
    waits = KeptNow(Path("j"), 1, 0, NOW, "database is locked", alive=True, kind="locked", by_press={"P25": 1})
    assert standing(begun, NOW, SEEN, waits).check.startswith("End the program that holds the log")
    assert stopped.safe == "Safe: every shot that was logged is in the log; what the press makes now is not logged."
    hangs = standing(a_view(), NOW, NOW - timedelta(minutes=5), kept)
    assert hangs.safe.startswith("No shot waits on disk. Where shotlog run hangs")
    full = KeptNow(Path("j"), 1, 0, NOW, "full", alive=True, kind="full", by_press={"P25": 1})
    assert standing(a_view(), NOW, SEEN, full).check.startswith("Make room on the disk of the log.")


def test_a_changed_channel_map_is_said_until_the_level_is_known_again() -> None:
    view = replace(a_view(settling=True, level=False), map_changed=(38, "cushion scale 0.01 to 0.1"))
    said = standing(view, NOW, SEEN)
    assert said.headline == "Learning the level anew"
    assert said.sentence.startswith("Cushion scale 0.01 to 0.1 at shot 38: the level is learnt anew")
    assert (
        standing(replace(a_view(), map_changed=(12, "cushion scale 0.01 to 0.1")), NOW, SEEN).headline != said.headline
    )
