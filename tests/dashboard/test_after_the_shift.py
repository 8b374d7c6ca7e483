"""After the shift, without a browser: which shots a view is about, what is worked out of them, tables, figures."""

import csv
import io
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hand_filled import Trial
from worn_trial import worn_trial

from dashboard import Source, build
from dashboard.shared.press_reader import LONGEST
from dashboard.shift import Query, ShiftReader
from dashboard.shift.blocks import block_of
from dashboard.shift.figures.lives import life_figure, sisters_figure, sisters_in_words
from dashboard.shift.figures.timeline import timeline_figure, timeline_in_words
from dashboard.shift.life import read_life, read_sisters
from dashboard.shift.query import moment_of
from dashboard.shift.scope import windows_of
from dashboard.shift.tables import (
    as_csv,
    drift_table,
    happened_table,
    life_table,
    lives_table,
    sisters_table,
    suspects_table,
)
from shotlog.answers.table import Table
from shotlog.entries import LIFE
from shotlog.facts import Facts
from shotlog.life_text import LifeTold, life_text
from shotlog.records import Shot, Verdict
from shotlog.review import review
from shotlog.review.source import Said
from shotlog.store.inserts import entries


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Trial]:
    made = worn_trial(tmp_path_factory.mktemp("worn"))
    yield made
    made.close()


@pytest.fixture
def opened() -> Iterator[Callable[..., ShiftReader]]:
    """Open the log of a trial for the page, which then reads so many shots at most."""
    sources: list[Source] = []

    def reader(trial: Trial, most: int = 3000) -> ShiftReader:
        sources.append(Source(trial.settings, trial.clock))
        return ShiftReader(sources[-1], most)

    yield reader
    for source in sources:
        source.close()


@pytest.fixture
def reader(filled: Trial, opened: Callable[..., ShiftReader]) -> ShiftReader:
    return opened(filled)


def bare_shots(trial: Trial, first: int, last: int, press: str = "P25") -> None:
    """Log shots nobody judged, one a minute."""
    start = datetime(2026, 3, 2, 6, tzinfo=UTC)
    trial.log.append(
        Shot(press, shot, shot, start + timedelta(minutes=shot), {"cushion": 5.0 + shot / 1000})
        for shot in range(first, last + 1)
    )


def test_a_view_survives_its_address() -> None:
    view = Query(
        "week 48", "P 2/5", "cap-r2", "acrylate & more", "2026-03-01", "2026-03-02T06:30", "time", "B-12", 2, 700,
        ("fill_time", "cycle_time"), "cycle_time",
    )  # fmt: skip
    assert Query.parse(view.search) == view
    assert Query().search == ""


def test_an_address_that_says_nonsense_still_opens() -> None:
    asked = Query.parse("?colour=red&axis=sideways&since=yesterday&stay=-1&upto=9e9&channels=x&beside=x&press=P25")
    assert asked == Query(press="P25")
    assert Query.parse(None) == Query.parse("?") == Query()


def test_a_day_is_meant_whole() -> None:
    first, last = moment_of("2026-03-02"), moment_of("2026-03-02", end=True)
    assert first is not None
    assert last is not None
    assert (first.hour, first.minute, (last - first).days) == (0, 0, 1)
    assert moment_of("2026-13-01") is None
    assert moment_of("9999-12-31", end=True) is None


def test_what_is_shown_is_what_the_review_of_the_whole_log_says(filled: Trial, reader: ShiftReader) -> None:
    """The page reads a window; over a window that holds everything it must not say anything else."""
    shift = reader.read(Query())
    whole = review(filled.log, filled.settings, filled.clock.now())
    assert [one.press for one in shift.presses] == [one.press for one in whole.presses]
    for mine, theirs in zip(shift.presses, whole.presses, strict=True):
        assert mine.drifts == theirs.drifts
        assert mine.suspects == theirs.suspects
        assert mine.turns == theirs.turns
        assert mine.history.swaps == theirs.swaps
    lives = {stay.serial: stay.life for stay in shift.stays if stay.life is not None}
    assert lives == {entry.life.serial: entry.life for entry in whole.ledger.entries}
    assert {"B-12"} <= {one.insert for one in shift.presses[0].suspects}


def test_a_life_that_does_not_fit_is_said_to_be_cut(filled: Trial, opened: Callable[..., ShiftReader]) -> None:
    source = opened(filled, 40)
    shift = source.read(Query(press="P25"))
    (one,) = shift.presses
    assert (one.window.first, one.window.last, one.window.n_left_out) == (48, 87, 47)
    assert len(one.history.record.shots) <= 40
    lives = {stay.serial: stay.life is not None for stay in shift.stays}
    assert lives == {"A-07": False, "B-12": False, "B-13": True}
    numbers = {stay.serial: (stay.first, stay.last, stay.n_shots) for stay in shift.stays}
    assert numbers["B-12"] == (31, 73, 43)


def test_a_window_is_widened_to_whole_lives_where_there_is_room(reader: ShiftReader, filled: Trial) -> None:
    moment = filled.log.timeline("P25").stays[0].mounting.time + timedelta(seconds=75 * 60)
    local = moment.astimezone().isoformat()
    shift = reader.read(Query(press="P25", since=local))
    assert shift.presses[0].window.first == 1
    tight = windows_of(filled.log, Query(press="P25", since=local), reader.timelines().presses, [], {}, 30)
    assert 58 <= tight[0].first <= 62


def test_days_before_and_after_the_log_hold_nothing(reader: ShiftReader) -> None:
    for asked in (Query(since="2101-01-01"), Query(until="1999-01-01"), Query(trial="no such"), Query(design="none")):
        shift = reader.read(asked)
        assert (shift.presses, shift.silent, shift.any_shot) == ((), ("P25", "P15"), True)


def test_a_trial_and_a_design_name_their_shots(reader: ShiftReader) -> None:
    assert [one.press for one in reader.read(Query(trial="week 48")).presses] == ["P25", "P15"]
    assert {stay.design for stay in reader.read(Query(design="cap-r2")).stays} == {"cap-r2"}


def test_a_moment_is_found_across_missed_shots_and_long_silence(
    trial: Trial, opened: Callable[..., ShiftReader]
) -> None:
    bare_shots(trial, 5, 40)
    bare_shots(trial, 900, 960)
    reader = opened(trial, 500)
    moment = datetime(2026, 3, 2, 6, tzinfo=UTC) + timedelta(minutes=500)
    shift = reader.read(Query(since=moment.isoformat()))
    assert shift.presses[0].history.record.shots[0] == 900
    shift = reader.read(Query(until=moment.isoformat()))
    assert shift.presses[0].history.record.shots.tolist() == list(range(5, 41))


def test_a_long_log_is_never_read_whole(trial: Trial, opened: Callable[..., ShiftReader]) -> None:
    trial.mount("B-11")
    bare_shots(trial, 1, 700)
    shift = opened(trial, 100).read(Query())
    assert len(shift.presses[0].history.record.shots) == 100
    assert shift.presses[0].window.n_left_out == 600
    (stay,) = shift.stays
    assert (stay.n_shots, stay.life) == (700, None)


def test_a_level_taken_as_normal_is_told() -> None:
    def said(shot: int, since: int, insert: str = "B-1") -> Verdict:
        return Verdict("P25", shot, insert, shot, False, "keep", facts=Facts("quiet", quiet_since=since))

    called = Verdict("P25", 40, "B-1", 40, False, "watch", onset=31, facts=Facts("called"))
    verdicts = [said(20, 12), said(21, 12), called, said(50, 29), said(51, 29), said(70, 66, "B-2")]
    assert Said(verdicts).accepted == ((29, 50),)
    assert Said([said(20, 12), called, said(50, 12)]).accepted == ()


def test_a_life_is_shown_with_its_shots_levels_and_doubts(reader: ShiftReader) -> None:
    life = read_life(reader, Query(life="B-12", channels=("fill_time", "cycle_time")))
    assert life is not None
    assert (life.press, life.half, life.first, life.last, life.reason) == ("P25", "moving", 31, 73, "replaced by B-13")
    assert [strip.channel for strip in life.strips.strips] == ["fill_time"]
    assert life.strips.shots == tuple(range(31, 71))
    assert {one.channel for one in life.baselines} == {"cushion", "peak_pressure", "fill_time"}
    assert life.calls
    assert life.spans[0].first >= 45
    drawn = life_figure(life, "dark")
    assert drawn["layout"]["height"] > 200
    assert any(
        shape["type"] == "rect" and shape["x0"] == life.spans[0].first - 0.5 for shape in drawn["layout"]["shapes"]
    )


def test_an_insert_nobody_knows_has_no_life(
    reader: ShiftReader, trial: Trial, opened: Callable[..., ShiftReader]
) -> None:
    assert read_life(reader, Query(life="B-99")) is None
    trial.mount("B-11")
    assert read_life(opened(trial, 100), Query(life="B-11")) is None


def test_five_hundred_shots_fit_and_more_are_reached_by_links(trial: Trial, opened: Callable[..., ShiftReader]) -> None:
    trial.mount("B-11")
    bare_shots(trial, 1, LONGEST + 80)
    reader = opened(trial, 100)
    life = read_life(reader, Query(life="B-11"))
    assert life is not None
    assert life.drawn == (81, LONGEST + 80)
    before = read_life(reader, Query(life="B-11", upto=80))
    assert before is not None
    assert before.drawn == (1, 80)
    assert before.strips.shots == tuple(range(1, 81))


def test_sisters_are_aligned_at_their_first_shot(reader: ShiftReader) -> None:
    life = read_life(reader, Query(life="B-13"))
    assert life is not None
    sisters = read_sisters(reader, Query(life="B-13", beside="cushion"), life)
    assert [one.serial for one in sisters.lives] == ["B-11", "B-12", "B-13"]
    assert [one.chosen for one in sisters.lives] == [False, False, True]
    assert [one.numbers[0] for one in sisters.lives] == [1, 1, 1]
    assert sisters.lives[1].shots[0] == 31
    figure = sisters_figure(sisters)
    looks = {(line["line"]["dash"], line["marker"]["symbol"]) for line in figure["data"]}
    assert len(looks) == 3
    assert "B-12: 40 shots" in sisters_in_words(sisters)
    none = read_sisters(reader, Query(life="B-13", beside="clamp_force"), life)
    assert "No clamp force was measured" in sisters_in_words(none)


def test_an_insert_that_came_back_goes_on_counting(trial: Trial, opened: Callable[..., ShiftReader]) -> None:
    trial.mount("B-11")
    bare_shots(trial, 1, 20)
    trial.mount("B-12")
    bare_shots(trial, 21, 30)
    trial.mount("B-11")
    bare_shots(trial, 31, 40)
    reader = opened(trial, 100)
    first = read_life(reader, Query(life="B-11", stay=1))
    last = read_life(reader, Query(life="B-11"))
    assert first is not None
    assert last is not None
    assert (first.n_stay, first.first, last.n_stay, last.first) == (1, 1, 2, 31)
    mine = next(one for one in read_sisters(reader, Query(life="B-11"), last).lives if one.chosen)
    assert mine.numbers == tuple(range(1, 31))
    assert mine.shots == (*range(1, 21), *range(31, 41))


def bars(figure: dict[str, Any], state: str) -> list[dict[str, Any]]:
    return [trace for trace in figure["data"] if trace["name"] == state]


def test_every_life_is_on_the_timeline_and_each_state_has_its_pattern(reader: ShiftReader) -> None:
    figure = timeline_figure(reader.read(Query(life="B-12")))
    names = [text for trace in bars(figure, "life") for text in trace["text"]]
    assert names == ["A-07", "B-11", "B-12", "B-13", "S-01"]
    widths = {text: width for trace in bars(figure, "life")
              for text, width in zip(trace["text"], trace["marker"]["line"]["width"], strict=True)}  # fmt: skip
    assert max(widths, key=lambda name: widths[name]) == "B-12"
    patterns = {
        trace["name"]: trace["marker"]["pattern"]["shape"] for trace in figure["data"] if trace["type"] == "bar"
    }
    assert len({patterns["keep"], patterns["settling"], patterns["doubt"], patterns["missed"]}) == 4
    (missed,) = bars(figure, "missed")
    assert (missed["base"], missed["x"]) == ([70.5], [3.0])
    (marks,) = bars(figure, "noted")
    assert marks["marker"]["symbol"] == ["square-open", "triangle-down"]
    assert figure["layout"]["shapes"]


def test_the_timeline_runs_over_time_as_well(reader: ShiftReader) -> None:
    shift = reader.read(Query(axis="time"))
    figure = timeline_figure(shift)
    (life,) = bars(figure, "life")[:1]
    assert figure["layout"]["xaxis"]["type"] == "date"
    assert figure["layout"]["xaxis2"]["matches"] == "x"
    begun = datetime.fromisoformat(life["base"][1])
    first = shift.presses[0].history.record.times[0].astimezone().replace(tzinfo=None)
    assert abs((begun - first).total_seconds()) < 75
    assert life["x"][1] == pytest.approx(30 * 75_000, rel=0.05)


def test_a_press_with_one_shot_can_be_drawn_over_time(trial: Trial, opened: Callable[..., ShiftReader]) -> None:
    bare_shots(trial, 7, 7)
    shift = opened(trial, 100).read(Query(axis="time"))
    assert timeline_figure(shift)["layout"]["yaxis"]["ticktext"] == [
        "swap",
        "watch",
        "no change seen",
        "in doubt",
        "noted",
    ]
    assert (
        timeline_in_words(shift)
        == "P25, shots 7 to 7: 0 lives, 0 changes called, 0 of them to swap, 0 spans of parts in doubt."
    )


def test_the_download_is_the_table(reader: ShiftReader) -> None:
    shift = reader.read(Query())
    life = read_life(reader, Query(life="B-12"))
    assert life is not None
    every = [
        *(made(shift) for made in (lives_table, drift_table, suspects_table, happened_table)),
        life_table(life),
        sisters_table(read_sisters(reader, Query(life="B-12"), life)),
    ]
    for table in every:
        heads, *rows = csv.reader(io.StringIO(as_csv(table)))
        assert tuple(heads) == table.heads
        assert len(rows) == len(table.rows) > 0
        assert "\N{MINUS SIGN}" not in as_csv(table)
    slopes = [row[5] for row in csv.reader(io.StringIO(as_csv(drift_table(shift))))][1:]
    assert min(float(slope) for slope in slopes) < 0


def test_a_download_runs_no_formula() -> None:
    table = Table("x", ("a", "b", "c"), (("=1+1", "\N{MINUS SIGN}0.5", "- not a number"),), frozenset({"b"}))
    assert list(csv.reader(io.StringIO(as_csv(table))))[1] == ["'=1+1", "-0.5", "'- not a number"]


def test_what_happened_is_told_in_order(reader: ShiftReader) -> None:
    rows = happened_table(reader.read(Query(press="P25"))).rows
    assert [row[1] for row in rows] == sorted(row[1] for row in rows)
    kinds = {row[3] for row in rows}
    assert {"lot", "finding", "gap", "mounted", "taken out", "no change seen", "swap showed"} <= kinds


def test_lives_that_a_press_was_told_of_do_not_crowd_what_people_noted(
    trial: Trial, opened: Callable[..., ShiftReader]
) -> None:
    trial.mount("B-11")
    bare_shots(trial, 1, 20)
    for k in range(30):
        told = life_text(LifeTold(f"A-{k}", "d", 50, 40, True, press="M4", site="hall-2"))
        trial.note(LIFE, told, at_shot=9)
    trial.note("lot", "4711", at_shot=9)
    shift = opened(trial).read(Query())
    assert [(row[1], row[3]) for row in happened_table(shift).rows if row[1] == 9] == [(9, "lot")]
    assert [one.kind for one in block_of(shift.presses[0], False, "").noted] == ["lot"]


def asked(app: Any, search: str) -> dict[str, Any]:
    """Return what the server sends a browser that opens the page with an address."""
    client = app.server.test_client()
    outputs = [d["output"] for d in client.get("/_dash-dependencies").get_json()]
    output = next(text for text in outputs if "shift-lead.children" in text)
    names = [name.rsplit(".", 1) for name in output.strip(".").split("...")]
    sent = client.post(
        "/_dash-update-component",
        json={
            "output": output,
            "outputs": [{"id": name, "property": prop} for name, prop in names],
            "inputs": [
                {"id": "shift-url", "property": "search", "value": search},
                {"id": "inks", "property": "data", "value": None},
                {"id": "narrow", "property": "data", "value": False},
            ],
            "changedPropIds": ["shift-url.search"],
        },
    )
    assert sent.status_code == 200
    answer: dict[str, Any] = sent.get_json()["response"]
    return answer


@pytest.mark.file
def test_no_log_no_shot_and_no_match_are_each_said(trial: Trial, source: Source) -> None:
    app = build(source)
    assert "There is no log yet" in str(asked(app, "")["shift-lead"])
    trial.mount("B-11")
    sent = asked(app, "")
    assert "No shot has been logged yet" in str(sent["shift-lead"])
    assert sent["shift-lanes"]["hidden"] is True
    bare_shots(trial, 1, 3)
    assert "No shot in the log matches" in str(asked(app, "?since=2099-01-01")["shift-lead"])
    assert "under a trial named T9" in str(asked(app, "?trial=T9")["shift-lead"])
    sent = asked(app, "")
    assert sent["shift-lanes"]["hidden"] is False
    assert "No change was called" in str(sent["shift-tables"])


@pytest.mark.file
def test_the_downloads_are_served(filled: Trial, source: Source) -> None:
    own = Source(filled.settings, filled.clock)
    client = build(own).server.test_client()
    sent = client.get("/shift/lives.csv?press=P25")
    assert sent.status_code == 200
    assert sent.headers["Content-Disposition"] == 'attachment; filename="lives.csv"'
    serials = [row["Insert"] for row in csv.DictReader(io.StringIO(sent.get_data(as_text=True)))]
    assert serials == ["A-07", "B-11", "B-12", "B-13"]
    assert client.get("/shift/sisters.csv?life=B-13").status_code == 200
    assert client.get("/shift/life.csv").status_code == 404
    assert client.get("/shift/nothing.csv").status_code == 404
    own.close()
    assert build(source).server.test_client().get("/shift/lives.csv").status_code == 503


def test_an_entry_made_meanwhile_is_seen(trial: Trial, opened: Callable[..., ShiftReader]) -> None:
    trial.mount("B-11")
    bare_shots(trial, 1, 30)
    reader = opened(trial, 100)
    assert [stay.serial for stay in reader.read(Query()).stays] == ["B-11"]
    entries.mount(trial.log, "P25", "B-12", trial.clock.now(), half="moving", at_shot=11)
    stays = [(stay.serial, stay.first, stay.last) for stay in reader.read(Query()).stays]
    assert stays == [("B-11", 1, 10), ("B-12", 11, 30)]
