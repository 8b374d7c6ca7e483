"""Judged once and the same: live, late, after a restart, by another process, and replayed."""

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import asdict, dataclass, fields, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.clock import HandClock
from shotlog.errors import StoreUnreachable, UsageError
from shotlog.evaluator import Evaluator
from shotlog.facts import (
    Ageing,
    ChannelChange,
    Facts,
    Found,
    FrozenChannel,
    Noted,
    PassedLimit,
    Rhythm,
    Seated,
    SwapAsked,
    SwapFinding,
    VisibleStep,
)
from shotlog.recorder import Judge
from shotlog.records import OtherChange, Shot, Signal, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.log import judgements, schema
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.doubts import held_for_call, said_of_parts
from shotlog.wording.parts import doubt_text
from shotlog.wording.verdicts import told

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
DESIGNS = {
    "cap-r2": DesignSettings("cap-r2", settling_shots=2, baseline_shots=5),
    "": DesignSettings("", settling_shots=3, baseline_shots=6),
}


def shot(number: int, pause_s: float = 0.0) -> Shot:
    """Return a shot with noise that repeats and a drift that begins at shot 25."""
    noise = (37 * number) % 17 / 100 - 0.08
    worn = max(0, number - 25)
    values = {
        "cushion": 5.0 + noise - 0.06 * worn,
        "peak_pressure": 520.0 + 40 * noise,
        "fill_time": 0.38 + noise / 100,
    }
    return Shot("P25", number, number, NOW + timedelta(seconds=30 * number + pause_s), values)


def judge(log: Log) -> Judge:
    return Judge(log, "P25", DESIGNS, HandClock())


def said(log: Log) -> tuple[list[Verdict], list[Signal]]:
    return state.verdicts(log, "P25"), state.signals(log, "P25")


def replayed(log: Log, folder: Path) -> tuple[list[Verdict], list[Signal]]:
    """Export the shots and judge the recording, as `shotlog export` and `shotlog replay` do."""
    path = folder / "recording.csv"
    recording.write(path, log.recorded("P25"), CHANNELS, optional=True)
    evaluator = Evaluator("P25", DESIGNS)
    judged = [item for logged in recording.read(path) for item in evaluator.step(logged)]
    verdicts = [replace(item, sentence=told(item)) for item in judged if isinstance(item, Verdict)]
    return verdicts, [item for item in judged if isinstance(item, Signal)]


@dataclass(frozen=True)
class Act:
    """What somebody enters, `back` shots before the next one (0: the next shot)."""

    do: str
    what: str
    back: int


acts = st.one_of(
    st.builds(Act, st.just("mount"), st.sampled_from(["M-1", "M-2", "S-001", "F-1"]), st.integers(0, 12)),
    st.builds(Act, st.just("remove"), st.sampled_from(["M-1", "M-2", "S-001", "F-1"]), st.integers(0, 12)),
    st.builds(
        Act, st.just("note"), st.sampled_from(["lot", "setup", "pause", "purge", "finding", "note"]), st.integers(0, 12)
    ),
)
days = st.lists(st.one_of(st.integers(1, 14), st.integers(1, 14), acts), min_size=3, max_size=14)


def enter(log: Log, act: Act, next_shot: int) -> None:
    at_shot = max(1, next_shot - act.back) if act.back else None
    try:
        if act.do == "mount":
            half = "fixed" if act.what == "F-1" else "moving"
            series, design = act.what == "S-001", "cap-r2" if act.what == "M-2" else ""
            entries.mount(log, "P25", act.what, NOW, half=half, at_shot=at_shot, single_use=series, design=design)
        elif act.do == "remove":
            entries.remove(log, "P25", act.what, NOW, reason="worn", at_shot=at_shot)
        else:
            entries.note(log, "P25", act.what, "a; b\nc", NOW, at_shot=at_shot)
    except UsageError:
        pass  # the same entry is refused in every way of living through the day


def live(url: str, day: list[int | Act], after_shot: Callable[[Log, int], None]) -> tuple[list[Verdict], list[Signal]]:
    """Live through a day: shots one by one, entries in between; the last shots are judged at the end."""
    with open_log(url, read_only=False) as log:
        number, pause = 0, 0.0
        for item in day:
            if isinstance(item, Act):
                enter(log, item, number + 1)
                continue
            for _ in range(item):
                number += 2 if number % 11 == 10 else 1
                pause += 400.0 if number % 19 == 0 else 0.0
                log.append([shot(number, pause)])
                after_shot(log, number)
        judge(log).catch_up()
        log.verify()
        return said(log)


@pytest.mark.parametrize("days_lived", [4, pytest.param(12, marks=pytest.mark.long)])
def test_live_restarted_judged_late_and_replayed_are_equal_to_the_last_bit(
    tmp_path_factory: pytest.TempPathFactory, fresh: Path, days_lived: int
) -> None:
    @settings(max_examples=days_lived, derandomize=True, deadline=None)
    @given(day=days, every=st.integers(2, 9))
    def lived(day: list[int | Act], every: int) -> None:
        folder = tmp_path_factory.mktemp("day")

        def url(name: str) -> str:
            (folder / name).write_bytes(fresh.read_bytes())
            return f"sqlite:///{(folder / name).as_posix()}"

        standing: dict[int, Judge] = {}
        at_once = live(url("live.db"), day, lambda log, n: standing.setdefault(id(log), judge(log)).catch_up() and None)
        restarted = live(
            url("restarted.db"), day, lambda log, n: judge(log).catch_up() and None if n % every == 0 else None
        )
        late = live(url("late.db"), day, lambda log, n: None)
        assert at_once == restarted
        assert at_once == late
        with open_log(f"sqlite:///{(folder / 'live.db').as_posix()}") as log:
            assert replayed(log, folder) == at_once
            assert [verdict.shot for verdict in at_once[0]] == [logged.shot for logged in log.logged("P25")]

    lived()


def test_the_example_day_has_verdicts_of_every_kind(log: Log) -> None:
    """Else the test above would compare nothing."""
    entries.mount(log, "P25", "M-1", NOW)
    log.append([shot(number) for number in range(1, 60)])
    judge(log).catch_up()
    verdicts, signals = said(log)
    assert {verdict.verdict for verdict in verdicts} >= {"keep", "swap"}
    assert signals


def test_a_mounting_entered_late_is_judged_again_from_its_shot(log: Log, tmp_path: Path) -> None:
    entries.mount(log, "P25", "M-1", NOW)
    log.append([shot(number) for number in range(1, 41)])
    judge(log).catch_up()
    before = said(log)[0]
    entries.mount(log, "P25", "M-2", NOW, at_shot=21, design="cap-r2")
    between = said(log)[0]
    assert between == before[:20]
    assert judge(log).catch_up() == 20
    after, signals = said(log)
    assert after[:20] == before[:20]
    assert [(v.insert, v.shots_on_insert) for v in after[19:22]] == [("M-1", 20), ("M-2", 1), ("M-2", 2)]
    assert (after, signals) == replayed(log, tmp_path)
    with log.reading() as connection:
        assert connection.execute(select(func.count()).select_from(schema.verdicts)).scalar() == 60
        reasons = connection.execute(select(schema.judgings.c.from_shot, schema.judgings.c.reason)).all()
    assert reasons == [
        (0, "first judging"),
        (21, "mounting of M-2 in moving at shot 21, entered after shot 40"),
    ]


def test_a_note_entered_late_changes_no_verdict(log: Log, tmp_path: Path) -> None:
    log.append([shot(number) for number in range(1, 31)])
    judge(log).catch_up()
    before = said(log)
    entries.note(log, "P25", "note", "flash", NOW, at_shot=7)
    assert judge(log).catch_up() == 0
    assert said(log) == before == replayed(log, tmp_path)


def test_a_finding_entered_late_stands_from_its_shot_until_the_insert_is_found_sound(log: Log, tmp_path: Path) -> None:
    entries.mount(log, "P25", "M-1", NOW, design="cap-r2", at_shot=1)
    log.append([shot(number) for number in range(1, 31)])
    judge(log).catch_up()
    entries.note(log, "P25", "finding", "flash", NOW, at_shot=7)
    entries.note(log, "P25", "finding", "no short shots", NOW, at_shot=3)
    entries.note(log, "P25", "sound", "R. K., parting line", NOW, at_shot=20)
    assert judge(log).catch_up() == 28
    words = [one.verdict for one in state.verdicts(log, "P25")]
    assert words[:25] == ["keep"] * 6 + ["watch"] * 13 + ["keep"] * 6
    found = state.verdicts(log, "P25", 7, 7)[0].facts
    assert found is not None
    assert found.found == Found(7, "flash")
    assert held_for_call(log, "P25", 19) == 7
    assert [(one.first, one.last, doubt_text(one)) for one in said_of_parts(log, "P25")[0][:3]] == [
        (7, 19, "watch at shot 19 on M-1, seen: flash"),
        (7, 7, "seen: flash"),
        (7, 20, "made on M-1, on which was seen at shot 7: flash; nobody has said yet which one before it was good"),
    ]
    entries.note(log, "P25", "unsure", "none known", NOW, at_shot=20)
    assert [(one.first, one.last, doubt_text(one)) for one in said_of_parts(log, "P25")[0][:1]] == [
        (1, 20, "made on M-1, on which was seen at shot 7: flash; none before is known to be good"),
    ]
    assert said(log) == replayed(log, tmp_path)


def test_found_sound_in_one_half_leaves_what_was_found_on_the_other_live_and_replayed(log: Log, tmp_path: Path) -> None:
    entries.mount(log, "P25", "M-1", NOW, design="cap-r2", at_shot=1)
    entries.mount(log, "P25", "F-1", NOW, half="fixed", design="cap-f2", at_shot=1)
    log.append([shot(number) for number in range(1, 31)])
    entries.note(log, "P25", "finding", "flash", NOW, at_shot=7, half="moving")
    entries.note(log, "P25", "sound", "R. K., gate", NOW, at_shot=12, half="fixed")
    entries.note(log, "P25", "sound", "R. K., gate", NOW, at_shot=20, half="moving")
    judge(log).catch_up()
    words = [one.verdict for one in state.verdicts(log, "P25")]
    assert words[:25] == ["keep"] * 6 + ["watch"] * 13 + ["keep"] * 6
    assert said(log) == replayed(log, tmp_path)


def test_a_part_made_beyond_a_limit_is_held_and_it_is_said_why(log: Log) -> None:
    limited = {"cap-r2": replace(DESIGNS["cap-r2"], limits={"cushion": Bound(low=4.0)})}
    entries.mount(log, "P25", "M-1", NOW, design="cap-r2", at_shot=1)
    low = {2: 3.9, 11: 3.9, 12: 3.8}
    log.append([replace(shot(n), values={**shot(n).values, "cushion": low.get(n, 5.0)}) for n in range(1, 15)])
    Judge(log, "P25", limited, HandClock()).catch_up()
    doubts, _ = said_of_parts(log, "P25")
    assert [(one.first, one.last, one.verdict, one.limits) for one in doubts][:2] == [
        (2, 2, "watch", ("cushion",)), (11, 12, "swap", ("cushion",)),
    ]  # fmt: skip
    assert doubt_text(doubts[0]) == "watch at shot 2 on M-1, limit passed: cushion"
    assert held_for_call(log, "P25", 12) == 11


def test_why_an_insert_was_taken_out_is_told_to_the_call_live_and_replayed(log: Log, tmp_path: Path) -> None:
    """Entered at once, late, or for a shot that was missed: the first shot without the insert tells the reason."""
    for n, serial in enumerate(("M-1", "M-2", "M-3", "M-4")):
        entries.mount(log, "P25", serial, NOW, design="cap-r2", at_shot=1 + 20 * n)
    level = [replace(shot(number), values=shot(number % 24).values) for number in range(1, 71)]
    log.append([one for one in level[:60] if one.shot != 41])
    judge(log).catch_up()
    entries.remove(log, "P25", "M-1", NOW, reason="core blade broken; no flash", at_shot=21)
    entries.remove(log, "P25", "M-2", NOW, reason="planned", at_shot=41)
    log.append(level[60:])
    judge(log).catch_up()
    logged = {one.shot: one.removed for one in log.logged("P25") if one.removed}
    assert logged == {21: (("M-1", "core blade broken, no flash"),), 42: (("M-2", "planned"),)}
    path = tmp_path / "back.csv"
    recording.write(path, log.recorded("P25"), CHANNELS, optional=True)
    live, again = Evaluator("P25", DESIGNS), Evaluator("P25", DESIGNS)
    assert [live.step(one) for one in log.logged("P25")] == [again.step(one) for one in recording.read(path)]
    assert live.save() == again.save()
    lives = live._monitor._mounted.pool.ended["cap-r2"]
    assert [(one.serial, one.n_shots, one.failed) for one in lives] == [
        ("M-1", 20, True), ("M-2", 21, False), ("M-3", 19, False),
    ]  # fmt: skip


def test_settings_changed_judge_on_from_there_with_the_new_ones(log: Log) -> None:
    log.append([shot(number) for number in range(1, 31)])
    judge(log).catch_up()
    log.append([shot(number) for number in range(31, 41)])
    other = Judge(log, "P25", {"": DesignSettings("", settling_shots=0, baseline_shots=20)}, HandClock())
    assert other.catch_up() == 10
    with log.reading() as connection:
        assert connection.execute(select(schema.judgings.c.from_shot)).scalars().all() == [0, 31]
    assert len(said(log)[0]) == 40


def test_the_state_kept_is_taken_up_instead_of_all_shots(log: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    log.append([shot(number) for number in range(1, 221)])
    judge(log).catch_up()
    log.append([shot(221)])
    steps: list[int] = []
    whole = Evaluator.step
    monkeypatch.setattr(Evaluator, "step", lambda self, logged: (steps.append(logged.shot), whole(self, logged))[1])
    judge(log).catch_up()
    assert steps[0] > 200
    assert steps[-1] == 221


class Slow(HandClock):
    """A clock by which a shot takes a tenth of a second to judge, as where there is no compiler."""

    def monotonic(self) -> float:
        self.advance(0.1)
        return super().monotonic()


def test_a_judge_that_begins_anew_lets_others_have_their_turn(
    log: Log, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who stores asked it to judge, and waited until it had seen the shots since the last state kept. The states on the
    way were lost: after an upgrade `explain` went through years of shots at each question.
    """
    monkeypatch.setattr(judgements, "STATE_STAYS", 20)
    fill = judge(log)
    for number in range(1, 45):
        log.append([shot(number)])
        fill.catch_up()
    log.append([shot(45)])
    from_the_first = judge(log).evaluator_after(45).evidence()
    anew, found = Judge(log, "P25", DESIGNS, Slow()), []
    turns = 1
    while anew.judge_some(found.append):
        turns += 1
        assert anew.is_on_its_way != bool(found)
        assert not found or turns > 10
    assert turns > 10
    assert len(found) == 1
    assert said(log) == replayed(log, tmp_path)
    with log.reading() as connection:
        kept = connection.execute(select(schema.checkpoints.c.shot).order_by(schema.checkpoints.c.shot)).scalars().all()
    assert kept == [20, 40]
    seen: list[int] = []
    assert judge(log).evaluator_after(45, seen.append).evidence() == from_the_first
    assert seen == [41, 42, 43, 44, 45]


@pytest.mark.either
def test_old_states_are_thinned_out(log: Log) -> None:
    log.append([shot(1)])
    with log.transaction() as work:
        judging_id = judgements.open_judging(work, 1, 0, "b", "first judging", "t")
        for number in range(50, 3301, 50):
            judgements.save_point(work, 1, judging_id, number, "b", [number])
    with log.reading() as connection:
        kept = connection.execute(select(schema.checkpoints.c.shot).order_by(schema.checkpoints.c.shot)).scalars().all()
        assert judgements.restore_point(connection, "P25", 2999, "b") == (2950, [2950])
        assert judgements.restore_point(connection, "P25", 2999, "other") is None
        assert judgements.restore_point(connection, "P25", 1299, "b") == (1000, [1000])
    assert kept == [1000, *range(1300, 3301, 50)]
    with log.transaction() as work:  # gone through again after a change of settings
        judgements.save_point(work, 1, judging_id, 1000, "other", [0])
    with log.reading() as connection:
        assert judgements.restore_point(connection, "P25", 1299, "other") == (1000, [0])
        assert judgements.restore_point(connection, "P25", 1299, "b") is None


@pytest.mark.file
@pytest.mark.parametrize("damaged", [b"[2951]", b"\xff\xfe", None])
def test_a_state_that_is_not_as_it_was_kept_is_passed_over(log: Log, damaged: bytes | None) -> None:
    """A bit that turned in a number would have judged every shot from there on otherwise than a replay."""
    log.append([shot(1)])
    with log.transaction() as work:
        judging_id = judgements.open_judging(work, 1, 0, "b", "first judging", "t")
        for number in (2900, 2950):
            judgements.save_point(work, 1, judging_id, number, "b", [number])
        table = schema.checkpoints
        whole = work.connection.execute(select(table.c.state).where(table.c.shot == 2950)).scalar_one()
        spoiled = whole.replace("[2950]", "[2951]").encode() if damaged is None else damaged
        work.connection.exec_driver_sql("UPDATE checkpoints SET state = CAST(? AS TEXT) WHERE shot = 2950", (spoiled,))
    with log.reading() as connection:
        assert judgements.restore_point(connection, "P25", 2999, "b") == (2900, [2900])


def set_most_pages(log: Log, most: int | None) -> None:
    """Let the database grow to so many pages, as if the disk ended there; None: as it is."""
    assert log._writer is not None
    assert log._writing is not None
    log._writing.give_back()
    raw = log._writer.raw_connection()
    pages = raw.cursor().execute("PRAGMA page_count").fetchone()[0]
    raw.cursor().execute(f"PRAGMA max_page_count = {pages if most is None else most}").close()
    raw.close()


def fill_up(log: Log) -> None:
    for number in range(1, 1000):
        log.append([Shot("P50", number, 1, NOW, {})])


@pytest.mark.file
def test_a_shot_whose_verdict_the_log_refused_is_not_judged_twice(log: Log, tmp_path: Path) -> None:
    """The evaluator had taken the shot when the commit failed, and took it again: limits from one shot too many."""
    standing = judge(log)
    for number in range(1, 21):
        log.append([shot(number)])
        standing.catch_up()
    log.append([shot(number) for number in range(21, 81)])
    set_most_pages(log, None)
    with pytest.raises(StoreUnreachable, match="full"):
        fill_up(log)
    with pytest.raises(StoreUnreachable, match="full"):
        standing.catch_up()
    set_most_pages(log, 2**30)
    standing.catch_up()
    assert said(log) == replayed(log, tmp_path)


def test_two_judges_of_one_log_share_the_work(log: Log, tmp_path: Path) -> None:
    one, other = judge(log), judge(log)
    n = 0
    for number in range(1, 41):
        log.append([shot(number)])
        n += (one if number % 3 else other).catch_up() + one.catch_up() + other.catch_up()
    assert n == 40
    assert said(log) == replayed(log, tmp_path)


JUDGING = """
import sys
from shotlog.clock import SystemClock
from shotlog.recorder import Judge
from shotlog.store.log.log import open_log
with open_log(sys.argv[1], read_only=False) as log:
    print("ready", flush=True)
    sys.stdin.readline()
    print(Judge(log, "P25", {}, SystemClock()).catch_up())
"""


def test_two_processes_never_judge_a_shot_twice(log: Log, url: str) -> None:
    log.append([shot(number) for number in range(1, 401)])
    processes = [
        subprocess.Popen(
            [sys.executable, "-c", JUDGING, url],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )
        for _ in range(2)
    ]  # fmt: skip
    for process in processes:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in processes:
        assert process.stdin is not None
        process.stdin.write("\n")
        process.stdin.flush()
    judged: list[int] = []
    for process in processes:
        said_last, errors = process.communicate(timeout=120)
        assert (process.returncode, errors) == (0, "")
        judged.append(int(said_last))
    assert sum(judged) == 400
    with log.reading() as connection:
        shots = connection.execute(select(schema.verdicts.c.shot).order_by(schema.verdicts.c.id)).scalars().all()
        assert connection.execute(select(func.count()).select_from(schema.judgings)).scalar() == 1
    assert shots == list(range(1, 401))
    log.verify()


def test_a_saved_evaluator_goes_on_as_if_nothing_had_been(log: Log) -> None:
    entries.mount(log, "P25", "M-1", NOW, design="cap-r2")
    entries.note(log, "P25", "setup", "hold 300 bar", NOW, at_shot=33)
    log.append([shot(number) for number in range(1, 61)])
    whole, parts = Evaluator("P25", DESIGNS), Evaluator("P25", DESIGNS)
    for logged in log.logged("P25"):
        expected = whole.step(logged)
        kept = json.loads(json.dumps(parts.save()))
        parts = Evaluator("P25", DESIGNS)
        parts.restore(kept)
        assert parts.step(logged) == expected
        assert json.dumps(parts.save()) == json.dumps(whole.save())


def test_a_verdict_comes_back_from_the_log_as_it_was(tmp_path: Path) -> None:
    """Every fact at once, and none at all: a log of before they were kept."""
    facts = Facts(
        "called", 4, 3, 5, 3, 6, 7, (ChannelChange("cushion", -0.1 / 3, 0.05),), "cushion", 0.5, "vent clogging", 0.4,
        2.0, 0.1, 8, False, PassedLimit("cushion", 4.0, True), (ChannelChange("fill_time", 0.02, 0.01),),
        (PassedLimit("cushion", 4.5, False, 4.4, 2, True),),
        (Ageing("fill_time", -0.002, 4, 31.5),), (VisibleStep("cushion", 0.12),), Rhythm(21, 60.0, 90.5),
        (FrozenChannel("peak_pressure", 30),), "moving", "F-1", SwapFinding("P25", "M-0", 1, "refuted", 6.75, -3.5),
        0.15, Found(7, "flash"), (Seated("fixed", "F-1", 1),), SwapAsked("M-0", 6), (Noted("lot", "L2", 5),), True,
        "fill_time", -9.5, 4, 9,
    )  # fmt: skip
    assert all(getattr(facts, field.name) for field in fields(facts) if field.name != "other_half")
    others = (OtherChange("material", "lot change", 3), OtherChange("press", "set-point or drive", 5))
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        spoken = [
            Verdict(
                "P25",
                1,
                "M-1",
                1,
                False,
                "watch",
                "as said",
                ("a:b:c",),
                facts=facts,
                others=others,
                limits=("cushion", "fill_time"),
            ),
            Verdict("P25", 2, "M-1", 2, False, "watch", "as said"),
        ]
        with log.transaction() as work:
            press_id = work.press_id("P25", "2026-01-05T06:00:00.000000Z")
            number = judgements.open_judging(work, press_id, 1, "by hand", "a test", "2026-01-05T06:00:00.000000Z")
            judgements.record(work, press_id, number, spoken)
        assert state.verdicts(log, "P25") == spoken
        with log.reading() as connection:
            told = connection.execute(select(schema.verdicts.c.facts)).scalars().first()
        plain = {name: value for name, value in asdict(facts).items() if value not in (None, ())}
        assert told == json.dumps(plain, separators=(",", ":"))
        assert list(log.verdicts()["others"]) == ["material:lot change:3;press:set-point or drive:5", ""]
        assert list(log.verdicts()["limits"]) == ["cushion;fill_time", ""]
        log.verify()
