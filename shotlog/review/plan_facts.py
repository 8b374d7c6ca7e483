"""What the log knows of a design that a plan for its next trial rests on: lives, scrap, times, what goes with it."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from shotlog.parts.part import Part
from shotlog.records import Stay
from shotlog.review.ledger import histories_of
from shotlog.review.lives import Life, lives_of
from shotlog.review.parts_counted import count_parts
from shotlog.review.source import silent
from shotlog.settings import DesignSettings, Settings
from shotlog.store.asked.pace import Pace
from shotlog.store.asked.trials import trials
from shotlog.store.inserts.lives_told import lives_of_other_logs
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.ends import insert_ends
from shotlog.store.parts.inspections import inspections

__all__ = ["OnRecord", "known_of"]

_LONGEST_CHANGE_MIN = 180.0
"""A longer wait at a swap was a break (judgement)."""


@dataclass(frozen=True, slots=True)
class OnRecord:
    """What is on record of one design; empty and None where nothing is.

    `sound`, `gone_off`: sound shots of each reused insert that made a shot, and whether it then went off; `places`: the
    press that each was on last, with its site where that is another, and `press`, the one that ran the design last.
    `late`: shots made on each of those that went off until it was out. `inspected`, `bad`: parts that were looked at,
    made on sound and settled inserts, and those of them not accepted; `settling`, `settling_bad`: the same of settling
    shots.
    `cycle_s`, `changeover_min`: medians, of so many.
    """

    design: str
    single_use: bool
    moulded: str
    sound: tuple[int, ...] = ()
    gone_off: tuple[bool, ...] = ()
    late: tuple[int, ...] = ()
    inspected: int = 0
    bad: int = 0
    cycle_s: float | None = None
    n_cycles: int = 0
    changeover_min: float | None = None
    n_changes: int = 0
    settling: int = 0
    settling_bad: int = 0
    places: tuple[str, ...] = ()
    press: str = ""


def known_of(log: Log, settings: Settings, design: str, tell: Callable[[str], None] = silent) -> tuple[OnRecord, ...]:
    """Return what is known of a design, and of those it was mounted with last, one for each half, itself first."""
    timelines = {press: log.timeline(press) for press in log.presses()}
    lives = lives_of(histories_of(log, tell, timelines), insert_ends(log, None, timelines))
    names = [design, *_beside(log, design, timelines)]
    found = {name: _known(log, settings, name, timelines, lives) for name in dict.fromkeys(names)}
    return tuple(found[name] for name in names)


def _stays(design: str, timelines: Mapping[str, Timeline]) -> list[Stay]:
    return [stay for line in timelines.values() for stay in line.stays if stay.mounting.insert.design == design]


def _beside(log: Log, design: str, timelines: Mapping[str, Timeline]) -> list[str]:
    """Return the designs of the other halves of the mould in which `design` made its last shot."""
    stays = _stays(design, timelines)
    if not stays:
        return []
    newest = max(stays, key=lambda stay: stay.mounting.came)
    press = newest.mounting.press
    last = log.last_shot(press)
    shot = int(min(newest.end - 1, last[0] if last is not None else newest.first))
    others = (stay for half, stay in timelines[press].stays_at(shot).items() if half != newest.mounting.half)
    return [stay.mounting.insert.design for stay in others if stay.mounting.insert.design]


def _known(
    log: Log,
    settings: Settings,
    design: str,
    timelines: Mapping[str, Timeline],
    lives: Sequence[Life],
) -> OnRecord:
    stays = _stays(design, timelines)
    own = [life for life in lives if life.design == design]
    far = lives_of_other_logs(log, design)
    gone = [life for life in own if life.failed]
    looked_at = _looked_at(log, settings, design, stays, timelines, lives)
    cycle, n_cycles, waits = _times(log, stays)
    return OnRecord(
        design=design,
        single_use=any(stay.mounting.single_use for stay in stays),
        moulded=_moulded(log, settings, stays),
        sound=(*(life.sound for life in own), *(life.sound for life in far)),
        gone_off=(*(life.failed for life in own), *(life.gone_off for life in far)),
        places=(*(life.press for life in own), *(life.where for life in far)),
        press=max(stays, key=lambda one: one.mounting.came).mounting.press if stays else "",
        late=tuple(life.n_shots - life.sound for life in gone),
        inspected=looked_at["settled"],
        bad=looked_at["settled refused"],
        settling=looked_at["settling"],
        settling_bad=looked_at["settling refused"],
        cycle_s=cycle,
        n_cycles=n_cycles,
        changeover_min=float(np.median(waits)) if waits else None,
        n_changes=len(waits),
    )


def _moulded(log: Log, settings: Settings, stays: Sequence[Stay]) -> str:
    """Return the resin that was moulded on a design last, else the one of the trial that is set."""
    newest = max(stays, key=lambda one: one.mounting.came, default=None)
    if newest is not None:
        for trial in reversed(trials(log)):
            first, last = trial.shots.get(newest.mounting.press, (1, 0))
            if first <= last and newest.first <= last and trial.resin:
                return trial.resin
    return settings.trial.resin if settings.trial is not None else ""


def _looked_at(
    log: Log,
    settings: Settings,
    design: str,
    stays: Sequence[Stay],
    timelines: Mapping[str, Timeline],
    lives: Sequence[Life],
) -> Counter[str]:
    """Count the inspected parts of a design that can tell of a plan: settled ones and settling ones, and those refused.

    Parts made on an insert after it had gone off are told of by its life. A part that is held though its inspection was
    sound is undecided.
    """
    counts: Counter[str] = Counter()
    settling = settings.designs.get(design, DesignSettings()).settling_shots
    gone = {life.serial: life for life in lives if life.since_shot is not None}
    for press in {stay.mounting.press for stay in stays}:
        seen: dict[Part, bool] = {}
        for one in inspections(log, press):
            seen[one.part] = seen.get(one.part, False) or one.bad
        if not seen:
            continue
        counted = count_parts(log, press, settings.designs, timelines[press])
        for part, found in seen.items():
            told = _tells(part, timelines[press].stays_at(part.shot), design, settling, gone)
            stands = counted.state(part)
            refused = stands == "scrapped" or (stands == "held" and found)
            if told and (refused or stands in ("made", "released")):
                counts[told] += 1
                counts[f"{told} refused"] += refused
    return counts


def _tells(part: Part, here: Mapping[str, Stay], design: str, settling: int, gone: Mapping[str, Life]) -> str:
    """Return what a part can tell of: ``settling`` shots or ``settled`` ones on a sound insert, empty for neither.

    `gone`: the lives that have gone off, by serial.
    """
    if not any(stay.mounting.insert.design == design for stay in here.values()):
        return ""
    reused = {stay.mounting.insert.serial: stay.first for stay in here.values() if not stay.mounting.single_use}
    if part.shot - max(reused.values(), default=-settling) < settling:
        return "settling"
    ended = (gone[serial] for serial in reused if serial in gone)
    since = (life.since_shot for life in ended if life.press == part.press and life.since_shot is not None)
    return "" if any(part.shot >= shot for shot in since) else "settled"


def _times(log: Log, stays: Sequence[Stay]) -> tuple[float | None, int, list[float]]:
    """Return cycle time in s, of how many shots, and the waits in minutes before inserts that were put in.

    A wait is told in cycles by the clock of the log and turned into minutes by the cycle time of the press.
    """
    cycles: list[float] = []
    swaps: list[tuple[float, float]] = []
    begins: dict[str, int] = {}
    for stay in stays:
        begins[stay.mounting.press] = min(stay.first - 1, begins.get(stay.mounting.press, stay.first))
    paces = {press: Pace(log, press, first) for press, first in begins.items()}
    for stay in stays:
        shots, at, values = paces[stay.mounting.press].between(stay.first - 1, stay.end - 1)
        if len(shots) < 3:
            continue
        ticks = np.diff(at) / np.diff(shots)
        own = values[np.isfinite(values) & (values > 0.0)]
        tick = float(np.median(ticks))
        cycles += own.tolist() if len(own) else ticks[ticks > 0.0].tolist()
        if shots[0] == stay.first - 1 and shots[1] == stay.first and not stay.mounting.single_use and tick > 0.0:
            swaps.append((float(at[1] - at[0]) / tick - 1.0, float(np.median(own)) if len(own) else tick))
    waits = [n * cycle / 60.0 for n, cycle in swaps if 0.0 < n * cycle / 60.0 <= _LONGEST_CHANGE_MIN]
    return (float(np.median(cycles)) if cycles else None), len(cycles), waits
