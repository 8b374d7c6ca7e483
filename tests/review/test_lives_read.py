"""What is read for lives alone, and parts that are only counted, against the reading of everything."""

import tracemalloc
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shotlog.channels import ALWAYS_CHARTED
from shotlog.clock import iso_utc
from shotlog.facts import Facts, SwapFinding
from shotlog.parts.doubt import Doubt, Since
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import DECISIONS, Decision, standings
from shotlog.records import Gap, Shot, Verdict
from shotlog.review.costs import PartCounts
from shotlog.review.episodes import BriefCall
from shotlog.review.history import read_history
from shotlog.review.lives import lives_of
from shotlog.review.lives_read import read_lives
from shotlog.review.parts_counted import CountedParts, count_parts
from shotlog.review.states import counted_through, read_parts
from shotlog.settings import DesignSettings
from shotlog.store.inserts import entries
from shotlog.store.log import judgements
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.ends import insert_ends
from tests.review.made_up_log import LATER, N_SHOTS, fill, settings_in
from tests.review.made_up_press import START, at

SWAP = SwapFinding("P1", "B-1", 41, "refuted", 3.0, 0.5)


def judged_again(log: Log) -> None:
    """Judge shots 36 to 60 anew: a swap is answered, a call goes on over it and ends, the rest waits to be judged."""
    said = [
        Verdict("P1", n, "B-1" if n <= 40 else "B-2", 1, n in (50, 51), "swap" if n < 46 else "keep", "again",
                onset=30 if n < 46 else None, group="insert" if n != 45 else "material", cause="wear" if n < 44 else "",
                facts=Facts("called", 1, swap=SWAP) if n == 44 else None)
        for n in range(36, 61)
    ]  # fmt: skip
    with log.transaction() as work:
        press_id = work.press_id("P1", iso_utc(START))
        judging = judgements.open_judging(work, press_id, 36, "made up", "again", iso_utc(LATER))
        judgements.record(work, press_id, judging, said)
    for shot, kind, text in (
        (38, "finding", "flash"),
        (63, "finding", "crack"),
        (64, "good", "seen"),
        (90, "dry", "purged"),
    ):
        entries.note(log, "P1", kind, text, LATER, at_shot=shot)
    enter_decision(log, [Part("P1", n) for n in range(61, 80)], "released", LATER, reason="sound", initials="ab")
    entries.note(log, "P1", "finding", "burn", LATER, at_shot=66)


@pytest.fixture(params=["as it came", "judged again"])
def log(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Log]:
    settings = settings_in(tmp_path)
    fill(settings)
    with open_log(settings.store, read_only=False) as opened:
        if request.param == "judged again":
            judged_again(opened)
        yield opened


@pytest.mark.parametrize("window", [(0, 10**9), (30, 90)])
def test_lives_are_told_from_it_as_from_the_whole_history(log: Log, window: tuple[int, int]) -> None:
    whole = read_history(log, "P1", *window, channels=ALWAYS_CHARTED)
    brief = read_lives(log, "P1", *window)
    named = BriefCall.__dataclass_fields__
    assert [{name: getattr(one, name) for name in named} for one in brief.record.episodes] == [
        {name: getattr(one, name) for name in named} for one in whole.episodes
    ]
    assert [(one.early_edge, one.stands) for one in brief.record.episodes] == [
        (one.early_edge, one.stands) for one in whole.episodes
    ]
    assert [replace(one, called=None) for one in brief.swaps] == [replace(one, called=None) for one in whole.swaps]
    spans = [(first, first + more) for first in range(1, N_SHOTS) for more in (0, 7)]
    assert [brief.record.judged(*span) for span in spans] == [whole.record.judged(*span) for span in spans]
    ends = insert_ends(log)
    assert lives_of([brief], ends) == lives_of([whole], ends)
    assert len(ends) == 4
    assert whole.episodes


@pytest.mark.parametrize("cavities", [{}, {"cap-r2": 2}, {"core-s": 3}])
def test_parts_are_counted_as_each_of_them_stands(log: Log, cavities: dict[str, int]) -> None:
    designs = {name: DesignSettings(cavities=n) for name, n in cavities.items()}
    last = counted_through(log, "P1")
    plain = read_parts(log, "P1", designs, [(0, last)])
    counted = count_parts(log, "P1", designs)
    spans = [*((shot, shot) for shot in range(-1, last + 3)), (0, last), (5, 4), (20, 10**6)]
    assert [counted.count(*span) for span in spans] == [plain.count(*span) for span in spans]
    assert min(counted.count(0, last).held, counted.count(0, last).released, counted.count(0, last).scrapped) > 0


def test_a_press_that_had_counted_for_years_costs_what_its_shots_in_the_log_do(tmp_path: Path) -> None:
    first, settings = 10**9, settings_in(tmp_path)
    with open_log(settings.store, read_only=False) as log:
        entries.mount(log, "P1", "B-1", START, half="moving", at_shot=first + 2, design="cap-r2")
        log.append([Gap("P1", first, first + 1, START, "nobody looked")])
        log.append([Shot("P1", first + n, first + n, at(n), {"cushion": 5.0}) for n in range(2, 40)])
        entries.note(log, "P1", "finding", "flash", at(39), at_shot=first + 39)
        tracemalloc.start()
        try:
            counted = count_parts(log, "P1", {"cap-r2": DesignSettings(cavities=2)})
            peak = tracemalloc.get_traced_memory()[1]
        finally:
            tracemalloc.stop()
        plain = read_parts(log, "P1", {"cap-r2": DesignSettings(cavities=2)}, [(first - 2, first + 41)])
    assert peak < 20_000_000  # bytes; one a number would be fifty times as many
    spans = [(0, first + 50), *((shot, shot) for shot in range(first - 2, first + 42))]
    assert [counted.count(*span) for span in spans] == [plain.count(*span) for span in spans]
    assert counted.count(0, first + 39).held > 0
    states = [counted.state(Part("P1", *place)) for place in ((first - 1, 1), (first + 2, 2), (first + 40, 1))]
    assert states[::2] == ["", ""]
    assert states[1] in ("made", "held")


@pytest.mark.parametrize("seed", range(8))
def test_the_rule_for_all_shots_at_once_is_that_for_each_part(seed: int) -> None:
    rng = np.random.default_rng(seed)
    made = rng.random((3, 40)) < 0.8
    doubts, decided = [], []
    for n in range(6):
        first, last = np.sort(rng.integers(0, 40, 2)).tolist()
        since = {shot: Since(int(rng.integers(0, 30)), START) for shot in range(first, last + 1)}
        doubts.append(
            Doubt("P1", "verdict", f"B-{n}", first, last, since, "watch", "", None, (), "", first, None, None)
        )
    for n in range(9):
        first, last = np.sort(rng.integers(0, 40, 2)).tolist()
        cavity, said = (None, 1, 2, 3)[int(rng.integers(4))], DECISIONS[int(rng.integers(3))]
        decided.append(Decision(n, "P1", first, last, cavity, said, "", "", START, int(rng.integers(0, 30))))
    parts = [MadePart(Part("P1", int(shot), int(row) + 1), None, {}, "", "") for row, shot in np.argwhere(made)]
    stand = standings(parts, doubts, (), decided)
    states, counted = [(one.part.shot, one.state) for one in stand], CountedParts(made, doubts, decided)
    later = CountedParts(made[:, 5:], doubts, decided, 5)
    assert [later.state(one.part) for one in stand] == [one.state if one.part.shot >= 5 else "" for one in stand]
    assert later.count(0, 60) == counted.count(5, 39)
    assert [counted.state(one.part) for one in stand] == [one.state for one in stand]
    assert {counted.state(Part("P1", *place)) for place in ((-1, 1), (40, 1), (3, 0), (3, 4))} == {""}
    for first, last in ((0, 39), *((shot, shot) for shot in range(40))):
        of = [state for shot, state in states if first <= shot <= last]
        expected = PartCounts(*(of.count(name) for name in ("made", "held", "released", "scrapped")))
        assert counted.count(first, last) == expected
