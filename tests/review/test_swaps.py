"""What a swap shows: made-up presses with a change that sits in the insert, and with one that does not."""

from collections.abc import Callable
from dataclasses import replace

from shotlog.facts import SwapFinding
from shotlog.records import Event, Verdict
from shotlog.review.episodes import Episode, episodes
from shotlog.review.source import PressRecord
from shotlog.review.swaps import Swap, swaps_of
from tests.review.made_up_press import at, mounting, record, removal, verdict

SWAP_AT = 61


def said(first: int, last: int, insert: str = "B-1", settle: tuple[str, int] = ("B-2", SWAP_AT)) -> list[Verdict]:
    """Verdicts with eight settling shots at the start of each insert and a call to swap from `first` to `last`."""
    found = []
    for shot in range(1, 101):
        name = insert if shot < settle[1] else settle[0]
        begun = 1 if shot < settle[1] else settle[1]
        settling = shot - begun < 8
        if first <= shot <= last:
            found.append(
                verdict(shot, name, "swap", settling=settling, onset=41, onset_low=40, onset_high=43, group="insert")
            )
        else:
            found.append(verdict(shot, name, settling=settling))
    return found


def press(cushion: Callable[[int], float], events: tuple[Event, ...] = (), call: bool = True) -> PressRecord:
    return record(
        100,
        cushion,
        [mounting("B-1", 1), mounting("B-2", SWAP_AT)],
        [removal("B-1", SWAP_AT, "flash")],
        said(46, 60) if call else said(0, 0),
        events,
    )


def swap(history: PressRecord) -> Swap:
    found = swaps_of(history)
    assert len(found) == 1
    return found[0]


def worn(shot: int) -> float:
    return 5.0 - (0.025 * max(0, shot - 40) if shot < SWAP_AT else 0.0)


def leaking(shot: int) -> float:
    return 5.0 - 0.025 * max(0, min(shot, SWAP_AT) - 40)


def test_a_level_that_comes_back_confirms_the_insert() -> None:
    found = swap(press(worn))
    assert (found.out, found.into, found.half, found.reason) == ("B-1", "B-2", "moving", "flash")
    assert found.outcome == "came back"
    assert [one.channel for one in found.moved] == ["cushion"]
    assert found.lag == SWAP_AT - 46


def test_a_level_that_stays_refutes_it() -> None:
    assert swap(press(leaking)).outcome == "stayed"


def test_without_a_change_there_is_nothing_to_show() -> None:
    assert swap(press(lambda shot: 5.0, call=False)).outcome == "nothing had moved"
    called = swap(press(lambda shot: 5.0))
    assert (called.outcome, "although" in called.ground) == ("nothing had moved", True)


def test_a_value_that_never_moved_by_any_digit_shows_nothing() -> None:
    """A channel that stands still to the last digit has a change of exactly nothing, which divides nothing."""
    mounted = [mounting("B-1", 1), mounting("B-2", SWAP_AT)]
    still = record(100, lambda shot: 5.0, mounted, [removal("B-1", SWAP_AT, "flash")], said(0, 0), spread=0.0)
    assert swap(still).outcome == "nothing had moved"


def test_a_lot_changed_between_onset_and_swap_leaves_it_open() -> None:
    found = swap(press(worn, (Event("P1", 50, "lot", "L2", at(50)),)))
    assert (found.outcome, "lot" in found.ground) == ("not resolved", True)


def test_a_lot_changed_soon_after_does_not_count_against_it() -> None:
    """Code that took every settled shot after the swap would read the new lot's level as the change having stayed."""

    def lot(shot: int) -> float:
        return worn(shot) - (0.5 if shot >= 76 else 0.0)

    assert swap(press(lot, (Event("P1", 76, "lot", "L2", at(76)),))).outcome == "came back"


def test_a_rest_no_larger_than_sisters_differ_is_not_resolved() -> None:
    def halfway(shot: int) -> float:
        return worn(shot) if shot < SWAP_AT else 5.0 - 0.24

    assert swap(press(halfway)).outcome == "not resolved"


def test_the_last_swap_of_a_log_is_not_resolved() -> None:
    history = record(
        60, worn, [mounting("B-1", 1)], [removal("B-1", 61, "flash")], [v for v in said(46, 60) if v.shot <= 60]
    )
    found = swaps_of(history)
    assert [(one.out, one.into, one.outcome) for one in found] == [("B-1", "", "not resolved")]


def test_warm_up_is_not_taken_for_a_change() -> None:
    def warm(shot: int) -> float:
        n = shot if shot < SWAP_AT else shot - SWAP_AT + 1
        return worn(shot) + 0.8 * 0.8**n

    assert swap(press(warm)).outcome == "came back"


def test_single_use_pieces_are_no_swaps() -> None:
    history = record(20, lambda shot: 5.0, [mounting("S-1", 1, single_use=True), mounting("S-11", 11, single_use=True)])
    assert swaps_of(history) == ()


def test_an_episode_ends_with_the_call_or_with_the_insert() -> None:
    calls: list[Verdict] = [
        *(verdict(n, "B-1") for n in range(1, 5)),
        *(verdict(n, "B-1", "watch", onset=4, onset_low=2, onset_high=6) for n in (5, 6)),
        verdict(7, "B-1"),
        verdict(8, "B-1", "watch"),
        verdict(9, "B-1", "swap", onset=7, cause="gate erosion", group="insert", weight=0.9),
        verdict(10, "B-2", "watch"),
    ]
    found: tuple[Episode, ...] = episodes(calls)
    assert [(e.insert, e.first, e.last, e.worst, e.withdrawn) for e in found] == [
        ("B-1", 5, 6, "watch", True),
        ("B-1", 8, 9, "swap", False),
        ("B-2", 10, 10, "watch", False),
    ]
    assert [e.early_edge for e in found] == [2, 7, 10]
    assert [e.stands for e in found] == [False, True, False]
    assert (found[1].swap_at, found[1].cause, found[1].sentence) == (9, "gate erosion", "swap at 9")


def found_at(insert: str, outcome: str, cushion: Callable[[int], float]) -> Swap:
    """Return the swap of a press at which the call found something on the day."""
    return swap(replace(press(cushion), found=(SwapFinding("P1", insert, SWAP_AT, outcome, 5.0, 0.5),)))


def test_what_the_call_found_is_the_answer_where_the_settled_shots_are_silent() -> None:
    """An insert was "it was the insert" at the press and "not resolved" in the report."""
    still = found_at("B-1", "confirmed", lambda shot: 5.0)
    assert (still.outcome, still.ground) == ("came back", "by the shots after it, in all values together")
    assert found_at("B-1", "confirmed", worn).ground == "cushion came back to the level held before the change"


def test_where_the_settled_shots_say_the_opposite_nothing_is_resolved() -> None:
    both = found_at("B-1", "confirmed", leaking)
    assert both.outcome == "not resolved"
    assert both.ground == "by the first shots after it the level came back, by the settled ones it stayed"


def test_a_change_carried_over_two_swaps_goes_by_its_first_insert() -> None:
    assert found_at("B-0", "refuted", lambda shot: 5.0).outcome == "stayed"


def test_a_swap_of_one_half_is_no_lag_of_a_call_on_another() -> None:
    """A-07's swap was credited to B-14."""
    history = press(worn)
    (episode,) = history.episodes
    found = swap(replace(history, episodes=(replace(episode, insert="A-1"),)))
    assert found.called is not None
    assert (found.called.insert, found.lag) == ("A-1", None)
