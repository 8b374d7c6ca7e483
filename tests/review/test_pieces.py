"""Single-use pieces: spread within and between print batches, limits of the next piece, and odd single pieces."""

from dataclasses import replace

import numpy as np
import pytest

from shotlog.errors import NotEnoughShots
from shotlog.records import Event, Insert, Mounting
from shotlog.review.scatter import ALPHA, odd_ones, scatter_of
from shotlog.review.series import Pieces, pieces_of
from shotlog.review.source import MountedStretch, PressRecord
from shotlog.store.log.timeline import Timeline
from tests.review.made_up_press import at, mounting, record

ROSNER = (
    "-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77 1.81 1.91 "
    "1.94 1.96 1.99 2.06 2.09 2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 2.92 2.93 "
    "3.21 3.26 3.30 3.59 3.68 4.30 4.64 5.34 5.42 6.01"
)
"""Rosner 1983, also NIST/SEMATECH e-Handbook 1.3.5.17.3: three outliers at 5 %, which the first two tests miss."""


def test_rosner_s_example_has_its_three_outliers() -> None:
    values = np.array([float(word) for word in ROSNER.split()])
    assert [values[n] for _, n in odd_ones([values], alpha=0.05)] == [6.01, 5.42, 5.34]


def test_sound_pieces_are_seldom_called_odd() -> None:
    rng = np.random.default_rng(3)
    called = sum(bool(odd_ones(list(rng.normal(0.0, 1.0, (3, 12))), alpha=0.05)) for _ in range(400))
    assert 8 <= called <= 34, "20 of 400 expected; Rosner gives the level for the first of several as a little above"


def test_the_shift_between_batches_hides_no_odd_piece() -> None:
    rng = np.random.default_rng(4)
    batches = [rng.normal(level, 1.0, 12) for level in (0.0, 30.0, -20.0)]
    batches[1][4] += 8.0
    assert odd_ones(batches) == [(1, 4)]


def test_spread_within_and_between_against_the_analysis_of_variance() -> None:
    """Within from scipy's own sums; balanced, so that the between variance is that of the means less its share."""
    rng = np.random.default_rng(5)
    batches = list(rng.normal(0.0, 2.0, (4, 10)) + rng.normal(0.0, 5.0, (4, 1)))
    found = scatter_of(batches)
    means = np.array([one.mean() for one in batches])
    assert found.within**2 == pytest.approx(np.mean([one.var(ddof=1) for one in batches]))
    assert found.between is not None
    assert found.between**2 == pytest.approx(means.var(ddof=1) - found.within**2 / 10)
    assert found.freedom == 36


def test_unequal_batches_against_a_worked_example() -> None:
    """Three batches, the sums of squares worked out by hand."""
    found = scatter_of([np.array([1.0, 2.0, 3.0]), np.array([4.0, 6.0]), np.array([5.0, 7.0, 9.0, 10.0])])
    assert found.within**2 == pytest.approx((2.0 + 2.0 + 14.75) / 6)
    grand = 47.0 / 9.0
    mean_square = (3 * (2 - grand) ** 2 + 2 * (5 - grand) ** 2 + 4 * (7.75 - grand) ** 2) / 2
    share = (9 - (9 + 4 + 16) / 9) / 2
    assert found.between is not None
    assert found.between**2 == pytest.approx((mean_square - 18.75 / 6) / share)


def test_a_further_piece_lies_within_its_limits_as_often_as_stated() -> None:
    """One chart's limits in 27 of 10 000, of the same batch and of another one; 1500 made-up trials of 4 batches."""
    rng = np.random.default_rng(6)
    outside = np.zeros(2)
    n = 1500
    for _ in range(n):
        level = rng.normal(0.0, 2.0, 5)
        batches = list(rng.normal(level[:4, None], 1.0, (4, 8)))
        found = scatter_of(batches)
        same, other = rng.normal(level[0]), rng.normal(level[4])
        assert found.other_batch is not None
        outside[0] += not found.same_batch[0].lower <= same <= found.same_batch[0].upper
        outside[1] += not found.other_batch.lower <= other <= found.other_batch.upper
    assert 0 < outside[0] <= 12, f"{ALPHA * n:.0f} expected"
    assert 0 < outside[1] <= 14, f"{ALPHA * n:.0f} expected; the degrees of freedom are an approximation"


def test_one_batch_says_nothing_of_the_next() -> None:
    found = scatter_of([np.array([1.0, 2.0, 4.0])])
    assert (found.between, found.other_batch, found.apart) == (None, None, ())
    with pytest.raises(NotEnoughShots, match="given 2"):
        scatter_of([np.array([1.0]), np.array([2.0])])
    with pytest.raises(NotEnoughShots):
        scatter_of([np.array([2.0, 2.0, 2.0])])


def with_queue(press: PressRecord, batches: dict[int, str], events: tuple[Event, ...] = ()) -> PressRecord:
    """Return a press whose moving half takes queued pieces; `batches`: first shot of each batch."""
    series = Mounting("P1", "moving", Insert("S-001", "core"), 1, at(0), True)
    held = mounting("A-1", 1, half="fixed")
    starts = sorted(batches)
    last = int(press.shots[-1])
    batch_of = {shot: batches[max(start for start in starts if start <= shot)] for shot in range(1, last + 1)}
    queue = [Insert(f"S-{shot:03d}", "core", batch_of[shot]) for shot in range(1, last + 1)]
    return replace(press, timeline=Timeline([held, series], (), events, {"S-001": queue}))


def found_in(cushion: dict[range, float], odd: dict[int, float] | None = None, n: int = 48) -> Pieces:
    def level(shot: int) -> float:
        return next(by for span, by in cushion.items() if shot in span) + (odd or {}).get(shot, 0.0)

    press = record(n, level, [], spread=0.09, seed=7)
    return pieces_of(with_queue(press, {1: "PL-1", 13: "PL-2", 25: "PL-3", 37: "PL-4"}))


ALL = {range(1, 49): 5.89}


def test_a_swollen_batch_is_told_apart_and_the_others_are_not() -> None:
    found = found_in({range(25, 37): 6.05, **ALL})
    apart = {one.print_batch: one.levels["cushion"].apart for one in found.series}
    told = [name for name, one in apart.items() if one is not None and one.told]
    assert told == ["PL-3"]
    assert apart["PL-3"] is not None
    assert apart["PL-3"].low < 0.16 < apart["PL-3"].high
    assert [one.n_pieces for one in found.series] == [12, 12, 12, 12]


def test_a_cracked_piece_is_named_and_stays_out_of_its_batch_s_level() -> None:
    found = found_in(ALL, {19: -0.9})
    (odd,) = found.odd
    assert (odd.serial, odd.shot, odd.print_batch, list(odd.channels)) == ("S-019", 19, "PL-2", ["cushion"])
    level = found.series[1].levels["cushion"]
    assert (level.n, level.mean) == (11, pytest.approx(5.89, abs=0.08))
    assert level.limits is not None
    assert level.limits.lower > odd.channels["cushion"][0]


def test_a_ramp_at_the_end_names_no_piece() -> None:
    worn = {shot: -0.04 * np.expm1((shot - 38) / 4) for shot in range(39, 49)}
    assert found_in(ALL, worn).odd == ()


def test_a_set_up_change_is_not_read_as_a_batch_that_lies_apart() -> None:
    events = (Event("P1", 25, "setup", "hold 240 bar", at(25)),)
    press = record(48, lambda shot: 5.89 if shot < 25 else 6.4, [], events=events, spread=0.09, seed=8)
    found = pieces_of(with_queue(press, {1: "PL-1", 13: "PL-2", 25: "PL-3"}, events))
    told = [
        one.print_batch for one in found.series if (apart := one.levels["cushion"].apart) is not None and apart.told
    ]
    assert told == []
    assert [one.levels["cushion"].apart is None for one in found.series] == [False, False, True]


def test_another_half_opposite_is_not_read_as_a_batch_that_lies_apart() -> None:
    press = record(48, lambda shot: 5.89 if shot < 25 else 6.4, [], spread=0.09, seed=8)
    press = with_queue(press, {1: "PL-1", 13: "PL-2", 25: "PL-3"})
    halves = (MountedStretch(1, 24, {"fixed": "A-1"}), MountedStretch(25, 48, {"fixed": "A-2"}))
    found = pieces_of(replace(press, stretches=halves))
    assert [one.levels["cushion"].apart is None for one in found.series] == [False, False, True]
    assert [(one.first, one.last, one.n_batches) for one in found.spreads if one.channel == "cushion"] == [
        (1, 24, 2), (25, 48, 1),
    ]  # fmt: skip


def test_a_batch_says_what_else_was_in_force_beside_it() -> None:
    events = (Event("P1", 5, "lot", "L1", at(5)), Event("P1", 30, "lot", "L2", at(30)))
    press = record(48, lambda shot: 5.89, [], events=events, seed=9)
    found = pieces_of(with_queue(press, {1: "PL-1", 25: "PL-2"}, events))
    assert [one.beside for one in found.series] == [("lot L1", "A-1"), ("lot L1", "lot L2", "A-1")]


def test_a_dry_shot_takes_no_piece_and_breaks_no_run() -> None:
    dry = (Event("P1", 6, "dry", "purge counted", at(6)),)
    press = record(24, lambda shot: 5.89, [], events=dry, seed=9)
    (first, _) = pieces_of(with_queue(press, {1: "PL-1", 13: "PL-2"}, dry)).series
    assert (first.n_pieces, first.spans, first.last_serial) == (12, ((1, 13),), "S-012")


def test_settling_shots_are_taken_pieces_and_no_levels() -> None:
    press = replace(record(24, lambda shot: 5.89, [], seed=9), settling=frozenset(range(1, 13)))
    first, second = pieces_of(with_queue(press, {1: "PL-1", 13: "PL-2"})).series
    assert (first.n_pieces, dict(first.levels)) == (12, {})
    assert second.levels["cushion"].n == 12


def test_only_batches_of_the_period_are_shown_but_all_are_learnt_from() -> None:
    press = record(48, lambda shot: 5.89, [], seed=9)
    late = pieces_of(with_queue(press, {1: "PL-1", 13: "PL-2", 25: "PL-3", 37: "PL-4"}), first=30)
    assert [one.print_batch for one in late.series] == ["PL-3", "PL-4"]
    assert {one.n_batches for one in late.spreads} == {4}
