"""A press's history made up for tests: values with a known change, inserts, verdicts, without a database."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta

import numpy as np

from shotlog.records import Event, Gap, Insert, Mounting, Removal, Verdict
from shotlog.review.source import PressRecord, Said, stretches_of
from shotlog.store.asked.state import EntryRow
from shotlog.store.log.timeline import Timeline

START = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
CYCLE_S = 75.0


def at(shot: int) -> datetime:
    return START + timedelta(seconds=CYCLE_S * shot)


def mounting(
    serial: str, at_shot: int, half: str = "moving", design: str = "cap-r2", single_use: bool = False
) -> Mounting:
    return Mounting("P1", half, Insert(serial, design), at_shot, at(at_shot - 1), single_use)


def removal(serial: str, at_shot: int, reason: str) -> Removal:
    return Removal("P1", serial, at_shot, at(at_shot - 1), reason)


def verdict(shot: int, insert: str, said: str = "keep", **more: object) -> Verdict:
    settling = bool(more.pop("settling", False))
    return Verdict("P1", shot, insert, 1, settling, said, f"{said} at {shot}", **more)


def record(
    n_shots: int,
    cushion: Callable[[int], float],
    mountings: Sequence[Mounting],
    removals: Sequence[Removal] = (),
    verdicts: Sequence[Verdict] = (),
    events: Sequence[Event] = (),
    gaps: Sequence[Gap] = (),
    seed: int = 1,
    spread: float = 0.04,
) -> PressRecord:
    """Return a press's history of cushion and peak pressure; `cushion` gives the true level at each shot."""
    noise = np.random.default_rng(seed)
    missed = {shot for gap in gaps for shot in range(gap.first, gap.last + 1)}
    shots = np.array([shot for shot in range(1, n_shots + 1) if shot not in missed], dtype=np.int64)
    level = np.array([cushion(int(shot)) for shot in shots])
    values = np.column_stack(
        [level + noise.normal(0.0, spread, len(shots)), 540.0 + noise.normal(0.0, 4.0, len(shots))]
    )
    timeline = Timeline(mountings, removals, events)
    said = Said(verdicts, timeline.stays)
    return PressRecord(
        "P1",
        shots,
        tuple(at(int(shot)) for shot in shots),
        ("cushion", "peak_pressure"),
        values,
        timeline,
        stretches_of(timeline.stays, 1, n_shots),
        said.episodes,
        said.turns,
        said.accepted,
        said.settling,
        (),
        (),
        tuple(EntryRow(n, event, False) for n, event in enumerate(events, 1)),
        tuple(gaps),
        (),
    )
