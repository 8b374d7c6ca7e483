"""What is told beside a call: what changed near its onset, and how sister inserts stood at the same shot number."""

from dataclasses import replace

import pytest

from shotlog.records import Event, Gap, Signal
from shotlog.review.calls import calls_of
from shotlog.review.history import History
from tests.review.made_up_press import at, mounting, record, removal, verdict


def test_sisters_are_those_of_the_same_place_that_came_as_far() -> None:
    """B-2 is called at its 30th shot: of the others only B-1 and B-3 were there, in that place, of that design."""
    mountings = [
        mounting("B-1", 1), mounting("F-1", 1, half="fixed"), mounting("C-1", 41, design="cap-r3"),
        mounting("S-1", 81, single_use=True), mounting("B-3", 121), mounting("B-4", 161), mounting("B-5", 191),
        mounting("B-2", 201),
    ]  # fmt: skip
    removals = [removal("B-4", 190, "planned life")]
    called = [verdict(shot, "B-2", "watch", onset=220, onset_low=218, onset_high=222) for shot in range(225, 231)]
    press = record(240, lambda shot: 0.01 * shot, mountings, removals, called, spread=0.0)
    (call,) = calls_of(History(press, ()), 1)
    assert (call.on_insert, call.channel, call.here) == (30, "cushion", pytest.approx(2.28))
    assert call.sisters == (("B-1", pytest.approx(0.28)), ("B-3", pytest.approx(1.48)))


def test_the_channel_of_a_call_is_the_first_that_signalled_while_it_stood() -> None:
    called = [verdict(shot, "B-1", "watch", onset=20) for shot in range(25, 31)]
    press = record(40, lambda shot: 5.0, [mounting("B-1", 1)], (), called)
    lines = (1.0, 0.0, -0.5, 0.5)
    signals = [
        Signal("P1", shot, "individuals", name, "above", *lines)
        for shot, name in ((24, "cushion"), (25, "cycle_time"), (30, "peak_pressure"), (31, "cushion"))
    ]
    press = replace(press, signals=tuple(signals))
    (call,) = calls_of(History(press, ()), 1)
    assert call.channel == "peak_pressure"


def test_what_changed_within_ten_shots_of_the_onset_is_told() -> None:
    mountings = [mounting("A-1", 1, half="fixed"), mounting("B-1", 1), mounting("A-2", 60, half="fixed")]
    events = [
        Event("P1", 39, "lot", "L1", at(38)), Event("P1", 40, "lot", "L2", at(39)),
        Event("P1", 60, "purge", "2 kg", at(59)), Event("P1", 61, "pause", "break", at(60)),
    ]  # fmt: skip
    called = [verdict(shot, "B-1", "watch", onset=50, onset_low=48, onset_high=52) for shot in range(55, 58)]
    gaps = [Gap("P1", 41, 42, at(43), "counter jumped"), Gap("P1", 62, 63, at(64), "counter jumped")]
    press = record(70, lambda shot: 5.0, mountings, (), called, events, gaps)
    (call,) = calls_of(History(press, ()), 57)
    assert call.changed_near == (
        "lot at shot 40: L2", "purge at shot 60: 2 kg", "A-2 mounted (fixed) at shot 60", "shots 41 to 42 missed",
    )  # fmt: skip
    assert calls_of(History(press, ()), 58) == ()


def test_stretches_end_with_the_log_whatever_was_entered_for_later() -> None:
    """An insert entered for a shot to come made the stretch before it longer than the log."""
    mountings = [mounting("B-1", 1), mounting("B-2", 61), mounting("S-1", 71, single_use=True), mounting("B-3", 130)]
    press = record(100, lambda shot: 5.0, mountings)
    assert [(one.first, one.last, one.halves) for one in press.stretches] == [
        (1, 60, {"moving": "B-1"}), (61, 70, {"moving": "B-2"}), (71, 100, {}),
    ]  # fmt: skip
    on_the_last = record(100, lambda shot: 5.0, [mounting("B-1", 1), mounting("B-2", 100)])
    assert [(one.first, one.last) for one in on_the_last.stretches] == [(1, 99), (100, 100)]
