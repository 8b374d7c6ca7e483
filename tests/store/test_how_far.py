"""How far presses are judged, asked of all at once: what the questions one by one say of each."""

from shotlog.clock import HandClock
from shotlog.recorder import Judge
from shotlog.store.log.entered import entries_mark
from shotlog.store.log.how_far import HowFar, far_of, how_far, how_far_all
from shotlog.store.log.judgements import judge_again, judged_through, latest_judging
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.shots import last_shot
from tests.made_shots import START, shots


def one_by_one(log: Log) -> dict[str, HowFar]:
    found = {}
    with log.reading() as connection:
        for number, press in enumerate(log.presses(), 1):
            last = last_shot(connection, press)
            found[press] = HowFar(
                number, latest_judging(connection, press), judged_through(connection, press),
                None if last is None else last[0], entries_mark(connection),
            )  # fmt: skip
    return found


def at_once(log: Log) -> dict[str, HowFar]:
    with log.reading() as connection:
        found = how_far_all(connection)
        for press, far in found.items():
            statement, given = how_far(press)
            assert far_of(statement.run(connection, given)) == far
    return found


def test_it_is_what_is_said_of_each_press_by_itself(url: str) -> None:
    with open_log(url, read_only=False) as log:
        assert at_once(log) == {}
        log.append(shots(1, 5))
        log.append([one for press in ("P30", "P31") for one in shots(3, 7, press=press)])
        with log.transaction() as work:
            work.press_id("P32", "2026-01-05T06:00:00Z")
        for press in ("P25", "P30"):
            Judge(log, press, {}, HandClock()).catch_up()
        log.append(shots(6, 6))
        with log.transaction() as work:
            judge_again(work, "P30", 5, "by hand", START)
        said = at_once(log)
        assert said == one_by_one(log)
    assert {press: (one.through, one.last, one.is_judged) for press, one in said.items()} == {
        "P25": (5, 6, False), "P30": (4, 7, False), "P31": (None, 7, False), "P32": (None, None, True),
    }  # fmt: skip
