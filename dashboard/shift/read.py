"""A window of the log as the review works on it: the record of a press, of these shots only."""

import numpy as np

from dashboard.shift.scope import Window
from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.records import Stay
from shotlog.review.episodes import episodes
from shotlog.review.lives import History
from shotlog.review.source import PressRecord, stretches_of
from shotlog.review.swaps import swaps_of
from shotlog.store.asked import state
from shotlog.store.asked.missed import filled, unseen
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.store.log.timeline import Timeline

__all__ = ["history_of", "stays_within"]


def stays_within(timeline: Timeline, first: int, last: int) -> list[Stay]:
    """Return the stays that made a shot of `first` to `last`, in order."""
    return [stay for stay in timeline.stays if stay.first <= last and stay.end > max(first, stay.first)]


def history_of(log: Log, timeline: Timeline, window: Window) -> History:
    """Read the shots of a window and what was said of them; faults are left out."""
    press, first, last = window.press, window.first, window.last
    with log.reading() as connection:
        shots, times, values = columns(connection, press, tuple(CHANNELS), first, last)
    present = [n for n, name in enumerate(CHANNELS) if np.isfinite(values[:, n]).any()]
    verdicts = tuple(state.verdicts(log, press, first, last))
    within = timeline.only(stays_within(timeline, first, last), last)
    record = PressRecord(
        press=press,
        shots=shots,
        times=tuple(parse_utc(time) for time in times),
        channels=tuple(tuple(CHANNELS)[n] for n in present),
        values=values[:, present],
        timeline=within,
        stretches=stretches_of(within.stays, int(shots[0]), int(shots[-1])) if len(shots) else (),
        verdicts=verdicts,
        signals=tuple(state.signals(log, press, first, last)),
        baselines=tuple(state.baselines(log, press, first, last)),
        entries=tuple(state.entries(log, press, first, last)),
        gaps=tuple(unseen(log, press, first, last)),
        filled=tuple(filled(log, press, first, last)),
        faults=(),
        settling=frozenset(verdict.shot for verdict in verdicts if verdict.settling),
    )
    called = episodes(verdicts)
    return History(record, called, swaps_of(record, called))
