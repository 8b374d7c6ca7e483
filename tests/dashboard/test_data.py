"""Views read from a real log."""

import json
import sqlite3
from pathlib import Path

from asked_for import words
from hand_filled import BALANCE, CONFIG, Trial
from plotly.utils import PlotlyJSONEncoder

from dashboard import Source
from dashboard.press.mounted import mounted
from dashboard.press.panels import open_panel
from dashboard.press.standing import standing
from dashboard.shared.figures.strips import strips_figure
from dashboard.shared.forecast import forecast
from dashboard.shared.press_reader import PressReader
from dashboard.shared.views import DrawnLevel, Forecast, Mounted, PressView, Strip
from shotlog.clock import iso_utc
from shotlog.records import Fault, Gap, Shot, Signal, Verdict
from shotlog.settings import Bound
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.log import judgements
from shotlog.store.log.log import open_log
from shotlog.store.undo import take_back


def view_of(source: Source, press: str = "P25") -> PressView:
    return PressReader(source).fresh(press).view


def test_an_insert_is_shown_from_its_first_shot(trial: Trial, source: Source) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(20)
    trial.mount("B-12")
    trial.shots(7)
    view = view_of(source)
    assert [(m.half, m.serial, m.n_shots) for m in view.mounted] == [("fixed", "A-07", 27), ("moving", "B-12", 7)]
    assert view.judged is not None
    assert view.judged.serial == view.strips.insert == "B-12"
    assert view.strips.shots == tuple(range(21, 28))
    assert view.cycle_s == 75.0
    assert view.shot == 27


def test_a_finding_names_what_made_the_last_shot_which_is_what_was_looked_at(trial: Trial, source: Source) -> None:
    """A series was named by the piece it began with, a half swapped since by the insert that has made nothing yet."""
    trial.mount("S-001", "fixed", single_use=True)
    trial.mount("B-11")
    trial.shots(7)
    trial.mount("B-12")
    said = words(json.loads(json.dumps(open_panel("finding", view_of(source), [], ""), cls=PlotlyJSONEncoder)))
    assert "On which half, as at shot 7" in said
    assert {"fixed, S-007", "moving, B-11"} <= set(said)


def test_the_half_that_stays_has_its_own_clock_whatever_beside_it_was_swapped(trial: Trial, source: Source) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(12)
    trial.mount("B-12")
    trial.shots(5)
    entries.remove(trial.log, "P25", "B-12", trial.clock.now(), reason="planned")
    trial.shots(4)
    said = {(verdict.shot, verdict.insert, verdict.shots_on_insert) for verdict in state.verdicts(trial.log, "P25")}
    assert {(12, "B-11", 12), (13, "B-12", 1), (17, "B-12", 5), (18, "A-07", 18), (21, "A-07", 21)} <= said
    view = view_of(source)
    assert view.judged is not None
    assert (view.judged.serial, view.judged.n_shots) == ("A-07", 21)
    assert view.strips.shots == tuple(range(1, 22))
    shown = standing(view, trial.clock.now(), trial.clock.now())
    assert shown.headline != "Not judged yet"


def test_the_shots_of_an_insert_that_came_back_count_on(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(12)
    trial.mount("B-12")
    trial.shots(5)
    trial.mount("B-11")
    trial.shots(4)
    view = view_of(source)
    assert view.verdict is not None
    assert view.judged is not None
    assert view.verdict.shots_on_insert == view.judged.earlier + view.judged.n_shots == 16
    assert (view.strips.start, view.strips.earlier) == (18, 12)
    ticks = strips_figure(view.strips)["layout"]["xaxis"]
    assert ticks["ticktext"][0] == f"<b>{ticks['tickvals'][0] - 5}</b><br>{ticks['tickvals'][0]}"


def test_the_half_that_a_change_is_laid_to_is_shown_while_it_is_in(trial: Trial, source: Source) -> None:
    """Called on the moving half, the fixed one changed after it: the call is what whoever stands there has to see."""
    trial.mount("A-07", "fixed")
    trial.mount("B-11")
    trial.shots(20)
    trial.mount("A-08", "fixed")
    trial.shots(7)
    with trial.log.transaction() as work:
        time = iso_utc(trial.clock.now())
        press_id = work.press_id("P25", time)
        number = judgements.open_judging(work, press_id, 1, "by hand", "a test", time)
        keep = [Verdict("P25", shot, "A-08", shot - 20, False, "keep") for shot in range(21, 26)]
        swap = [
            Verdict("P25", n, "B-11", n, False, "swap", "", (), "gate erosion", "insert", 0.9, 15) for n in (26, 27)
        ]
        judgements.record(work, press_id, number, [*keep, *swap])
    view = view_of(source)
    assert view.judged is not None
    assert (view.judged.serial, view.judged.half, view.strips.insert) == ("B-11", "moving", "B-11")
    assert view.strips.shots == tuple(range(1, 28))
    said = standing(view, trial.clock.now(), trial.clock.now())
    assert (said.sign, said.headline, said.likely) == ("swap", "Swap B-11", "")
    trial.mount("B-12")
    after = view_of(source)
    assert after.judged is not None
    assert after.judged.serial == "B-12"


def test_baselines_are_drawn_from_the_shots_they_were_taken_from(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(40)
    stored = state.baselines(trial.log, "P25")
    assert stored
    for strip in view_of(source).strips.strips:
        baseline = next(one for one in stored if one.channel == strip.channel)
        (level,) = strip.levels
        assert (level.first, level.last) == (baseline.first, 40)
        assert (level.centre, level.lower, level.upper) == (baseline.centre, baseline.lower, baseline.upper)


def test_signals_stand_at_the_value_of_their_shot(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(40)
    trial.shots(8, fall=0.12)
    cushion = view_of(source).strips.strips[0]
    stored = {s.shot for s in state.signals(trial.log, "P25") if s.channel == "cushion"}
    assert stored
    assert {mark.shot for mark in cushion.marks} == stored
    values = dict(zip(view_of(source).strips.shots, cushion.values, strict=True))
    assert all(mark.value == values[mark.shot] for mark in cushion.marks)
    assert "below" in {mark.side for mark in cushion.marks}


def test_only_a_value_outside_its_own_limits_is_marked_as_outside(trial: Trial, source: Source) -> None:
    """Any chart's "above" was drawn as a value above the limits of the strip."""
    trial.mount("B-11")
    trial.shots(30)
    levels = (5.0, 4.9, 4.8, 5.1)
    rules = [
        (27, "ewma", "above"), (28, "individuals", "below"), (28, "ewma", "below"), (29, "ewma", "above"),
        (29, "individuals", "above"), (30, "individuals", "run of 9"),
    ]  # fmt: skip
    with trial.log.transaction() as work:
        judging = judgements.latest_judging(work.connection, "P25")
        assert judging is not None
        found = [Signal("P25", shot, chart, "cushion", rule, *levels) for shot, chart, rule in rules]
        judgements.record(work, work.press_id("P25", iso_utc(trial.clock.now())), judging[0], found)
    marks = {mark.shot: (mark.side, mark.text) for mark in view_of(source).strips.strips[0].marks if mark.shot > 26}
    assert marks == {
        27: ("other", "ewma, above"),
        28: ("below", "individuals, below"),
        29: ("above", "individuals, above"),
        30: ("other", "individuals, run of 9"),
    }


def test_missing_shots_and_missing_values_stay_missing(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(5)
    trial.next_shot["P25"] = 9
    trial.log.append([Gap("P25", 6, 8, trial.clock.now(), "counter jumped")])
    trial.shots(1, values={"cushion": 4.9})
    view = view_of(source)
    assert view.strips.gaps == ((6, 8),)
    assert view.strips.shots == (1, 2, 3, 4, 5, 9)
    assert [strip.values[-1] for strip in view.strips.strips] == [4.9, None, None]
    assert view.n_missed == 3
    assert view.mounted[0].n_shots == 9


def test_events_are_told_and_those_taken_back_are_not_drawn(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(6)
    trial.note("lot", "L2")
    trial.note("finding", "flash")
    trial.note("pause", "pause")
    (flash,) = [row for row in state.entries(trial.log, "P25") if row.event.text == "flash"]
    take_back(trial.log, "events", flash.entry_id, trial.clock.now(), "wrong press")
    view = view_of(source)
    assert [(line.shot, line.label) for line in view.strips.events] == [(7, "lot: L2"), (7, "pause")]
    assert {entry.text: entry.taken_back for entry in view.recent} == {
        "seen: flash": True,
        "lot: L2": False,
        "pause": False,
        "B-11 mounted, moving half": False,
    }


def test_another_half_changed_meanwhile_is_an_event(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(5)
    trial.mount("S-01", "core", single_use=True)
    trial.shots(5)
    view = view_of(source)
    assert view.strips.insert == "B-11"
    assert [(line.shot, line.label) for line in view.strips.events] == [(6, "S-01 in core")]


def test_a_single_use_piece_that_is_in_has_made_no_shots_and_says_where_its_series_began(
    trial: Trial, source: Source
) -> None:
    trial.mount("A-07", "fixed")
    trial.mount("S-157", single_use=True)
    trial.shots(4)
    said = " ".join(words([each.to_plotly_json() for each in mounted(view_of(source))]))
    assert "S-161" in said
    assert "in now, single-use, numbered on from S-157" in said
    assert "shots" not in said.split("S-161")[1], "they are those of the series"


def test_shots_whose_verdict_is_not_worked_out_yet_are_not_drawn_as_judged(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(20)
    judged = set(view_of(source).strips.shots) - view_of(source).strips.settling
    trial.log.append([Shot("P25", 21, 21, trial.clock.now(), {"cushion": 5.0})])
    strips = view_of(source).strips
    assert strips.shots[-1] == 21
    assert 21 in strips.settling
    assert set(strips.shots) - strips.settling == judged


def test_a_swap_shows_the_new_insert_before_its_first_shot(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(12)
    trial.mount("B-12")
    view = view_of(source)
    assert view.judged is not None
    assert (view.judged.serial, view.judged.n_shots) == ("B-12", 0)
    assert view.strips.shots == ()
    assert view.verdict is not None
    assert view.verdict.insert == "B-11"


def test_shots_without_an_insert_are_shown(trial: Trial, source: Source) -> None:
    trial.shots(9)
    view = view_of(source)
    assert (view.judged, view.mounted) == (None, ())
    assert view.strips.shots == tuple(range(1, 10))


def test_a_very_long_life_shows_its_newest_shots_and_counts_all(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(70)
    view = PressReader(source, longest=30).fresh("P25").view
    assert view.strips.shots == tuple(range(41, 71))
    assert view.strips.start == 1
    assert view.mounted[0].n_shots == 70
    assert [level.first for level in view.strips.strips[0].levels] == [41]


def test_faults_are_counted_and_the_newest_is_named(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    for detail in ("first", "second"):
        trial.log.append([Fault("P25", trial.clock.now(), "short answer", detail, b"\x01")])
    view = view_of(source)
    assert (view.n_faults, view.last_fault) == (2, "short answer: second")


def test_a_view_is_read_again_only_when_the_log_changed(trial: Trial, source: Source) -> None:
    trial.mount("B-11")
    trial.shots(3)
    reader = PressReader(source)
    before = reader.fresh("P25")
    assert reader.fresh("P25") is before
    trial.shots(1)
    after = reader.fresh("P25")
    assert after.view.shot == 4
    assert after.strips_digest != before.strips_digest


def test_another_press_changes_no_digest(trial: Trial, source: Source) -> None:
    """A browser showing one press must not be sent its picture again whenever another press makes a shot."""
    trial.mount("B-11")
    trial.shots(3)
    reader = PressReader(source)
    before = reader.fresh("P25")
    trial.shots(2, press="P15")
    after = reader.fresh("P25")
    assert (after.digest, after.strips_digest) == (before.digest, before.strips_digest)


def test_nothing_holds_the_log_open_between_refreshes(trial: Trial, source: Source, tmp_path: Path) -> None:
    """A reader that keeps its transaction lets the write-ahead file grow without end, and a full checkpoint is busy."""
    trial.mount("B-11")
    trial.shots(5)
    view_of(source)
    with open_log(trial.settings.store, read_only=False):
        trial.shots(1)
    other = sqlite3.connect(tmp_path / "trial.db")
    busy, _, _ = other.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    other.close()
    assert busy == 0


def test_the_question_of_the_monitor_is_understood(trial: Trial, source: Source) -> None:
    """Four lives of one design, then a fresh insert after a wait that nobody entered."""
    for n in range(4):
        trial.mount(f"B-{n}")
        trial.warm_from = trial.next_shot["P25"] - 1
        trial.shots(40)
        trial.clock.advance(1800)
    unsaid = trial.next_shot["P25"]
    trial.clock.advance(3600)
    trial.warm_from = unsaid - 1
    trial.shots(20, fresh={"cushion": 0.12, "peak_pressure": -14.0})
    asked = view_of(source)
    assert asked.question == unsaid
    entries.note(trial.log, "P25", "unchanged", "in any words", trial.clock.now(), at_shot=unsaid - 1)
    assert view_of(source).question == unsaid
    entries.note(trial.log, "P25", "unchanged", "in any words", trial.clock.now(), at_shot=unsaid)
    assert view_of(source).question is None
    row = state.entries(trial.log, "P25")[-1]
    take_back(trial.log, "events", row.entry_id, trial.clock.now(), "it was")
    trial.judge()
    assert view_of(source).question == unsaid
    trial.mount("B-9", at_shot=unsaid)
    assert view_of(source).question is None


def called(**more: object) -> Verdict:
    fields: dict[str, object] = {
        "press": "P25", "shot": 40, "insert": "B-11", "shots_on_insert": 40, "settling": False, "verdict": "watch",
        "sentence": "cushion down", "onset": 35, "left_median": 7.4, "left_low": 2.0, "left_high": 19.2,
    }  # fmt: skip
    return Verdict(**(fields | more))  # type: ignore[arg-type]


def strip_at(name: str, values: tuple[float, ...], action: Bound) -> Strip:
    return Strip(name, values, (DrawnLevel(11, 40, 5.0, 4.9, 5.1, 12),), action, ())


JUDGED = Mounted("moving", "B-11", "cap-r2", 1, 40, False)


def test_the_forecast_goes_to_the_limit_that_most_of_the_way_is_gone_to() -> None:
    shots = (37, 38, 39, 40)
    little = strip_at("cushion", (4.8, 4.8, 4.7, 4.7), Bound(low=2.0))
    more = strip_at("fill_time", (5.4, 5.5, 5.5, 5.6), Bound(high=6.0))
    away = strip_at("peak_pressure", (9.0, 9.0, 9.0, 9.0), Bound(low=4.0))
    ahead = forecast(called(), JUDGED, shots, (little, more, away))
    assert ahead == Forecast(made_at=40, first=42, likely=47, last=60, channel="fill_time", end="high")
    none = forecast(called(), JUDGED, shots, (away,))
    assert none is not None
    assert (none.channel, none.end) == ("", "")
    beyond = forecast(called(left_high=None), JUDGED, shots, (little,))
    assert beyond is not None
    assert beyond.last is None


def test_nothing_is_forecast_without_a_change_or_an_end_of_it() -> None:
    for verdict in (None, called(verdict="keep"), called(left_median=None), called(insert="B-10")):
        assert forecast(verdict, JUDGED, (), ()) is None
    assert forecast(called(), None, (), ()) is None


def test_a_balance_is_no_press(tmp_path: Path) -> None:
    trial = Trial(tmp_path, CONFIG + BALANCE)
    made = Source(trial.settings)
    assert made.presses == ("P25", "P15")
    assert made.balances == {"balance": "P25"}
    trial.close()
