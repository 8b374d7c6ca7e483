"""The review of a shift or trial: everything the report says, as plain data, and as JSON."""

import platform
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import datetime
from importlib.metadata import PackageNotFoundError, version
from typing import Any

import numpy as np

from shotlog import __version__
from shotlog.errors import StoreDamaged
from shotlog.parts.ending import WORDS
from shotlog.records import ClockStep, Start
from shotlog.review.history import read_history
from shotlog.review.ledger import Ledger, ledger_of
from shotlog.review.period import first_since, made_before, mounted_since, reach_of
from shotlog.review.press import PressReview
from shotlog.review.reading import read_review
from shotlog.review.source import silent
from shotlog.review.states import counted_through
from shotlog.settings import Settings
from shotlog.store.asked.told import ToldOnce, told_once
from shotlog.store.asked.trials import TrialShots, trials
from shotlog.store.inserts.making import makings
from shotlog.store.log.clock_steps import clock_steps
from shotlog.store.log.engine import SCHEMA
from shotlog.store.log.log import Log
from shotlog.store.log.starts import starts

__all__ = ["CAUTION", "LogState", "Review", "as_json", "review"]

CAUTION = (
    "shotlog only reads from the press. It is no safety device and replaces no guard, interlock, inspection or "
    "competent person. It can say that no change was seen in these values; it never says that a part is sound. The "
    "limits of the charts are statistical and are no tolerances of the part. If data and eyes disagree, trust eyes."
)


@dataclass(frozen=True, slots=True)
class LogState:
    """The log: how many transactions it holds and the last digest of their chain, None and empty where nobody verified.

    `damage` says why it does not verify. `from_transaction`: rows of shots and verdicts were read back from this one
    on, 0 for all of them; before it, those of entries alone.
    """

    store: str
    n_transactions: int | None
    digest: str
    damage: str
    from_transaction: int = 0


@dataclass(frozen=True, slots=True)
class Review:
    """A shift or trial. `since` is what was asked for; `presses` are those that made a shot since then.

    `silent` the others. `starts`: those of the logger since then, and the one before; `config` is empty where it is as
    at the start before. `clock_steps`: what the computer's clock did. `told`: what people were told since then.
    """

    made_at: datetime
    since: datetime | None
    trials: tuple[TrialShots, ...]
    presses: tuple[PressReview, ...]
    silent: tuple[str, ...]
    ledger: Ledger
    log: LogState
    designs: Mapping[str, Any]
    ending_words: Mapping[str, tuple[str, ...]]
    versions: Mapping[str, str]
    caution: str
    starts: tuple[Start, ...] = ()
    clock_steps: tuple[ClockStep, ...] = ()
    told: tuple[ToldOnce, ...] = ()


def review(
    log: Log,
    settings: Settings,
    made_at: datetime,
    since: datetime | None = None,
    tell: Callable[[str], None] = silent,
    verify: bool = True,
) -> Review:
    """Review what the log holds since a time, or all of it; `tell` is told how far it is. `verify`: look whether it is
    as it was written, over the rows that are read and those entered before, which takes longer than all else.

    The lives are those of the inserts that made a shot in the period, whole. Of what was before the period only what
    it is held against is read: these lives, and some shots before it.
    """
    made, timelines = makings(log), {press: log.timeline(press) for press in log.presses()}
    firsts = {press: 0 if since is None else first_since(log, press, since) for press in timelines}
    newest = {press: (log.last_shot(press) or (0, 0))[0] for press in timelines}
    serials = None if since is None else mounted_since(timelines, firsts, newest)
    histories, states, reviews, reached = [], {}, [], dict[str, int]()
    silent_presses = [press.name for press in settings.presses if press.name not in timelines]
    for press, timeline in timelines.items():
        first = firsts[press]
        reach = reach_of(timeline, first, newest[press])
        history = read_history(log, press, reach, timeline=timeline, tell=tell)
        histories.append(history)
        spans = [*made_before(timeline, serials, reach), (reach, counted_through(log, press))]
        reached[press] = min(begin for begin, _ in spans)
        one, states[press] = read_review(
            log, history, first, settings.designs, spans, made, timeline=timeline, since=since, tell=tell
        )
        if one is None:
            silent_presses.append(press)
        else:
            reviews.append(one)
    tell("lives of inserts")
    made_under = trials(log)
    return Review(
        made_at,
        since,
        tuple(trial for trial in made_under if any(_in_period(one, trial) for one in reviews)),
        tuple(reviews),
        tuple(silent_presses),
        ledger_of(log, settings, histories, states, serials=serials, timelines=timelines),
        _log_state(log, settings, reached, tell) if verify else LogState(settings.store_shown, None, "", ""),
        {name: as_json(design) for name, design in settings.designs.items()},
        WORDS,
        {
            "shotlog": __version__,
            "schema of the log": SCHEMA,
            "python": platform.python_version(),
            **dict(_installed("numpy", "scipy", "matplotlib")),
        },
        CAUTION,
        _starts(starts(log), since),
        tuple(one for one in clock_steps(log) if since is None or one.time >= since),
        tuple(one for one in told_once(log) if since is None or one.time >= since),
    )


def _installed(*packages: str) -> Iterator[tuple[str, str]]:
    """Yield name and version of each package that is there; pictures need one that not every installation has."""
    for name in packages:
        with suppress(PackageNotFoundError):
            yield name, version(name)


def _starts(every: Sequence[Start], since: datetime | None) -> tuple[Start, ...]:
    before = [n for n, one in enumerate(every) if since is not None and one.time < since]
    mine = every[before[-1] if before else 0 :]
    same = [n > 0 and one.digest == mine[n - 1].digest for n, one in enumerate(mine)]
    return tuple(replace(one, config="") if is_same else one for one, is_same in zip(mine, same, strict=True))


def _in_period(one: PressReview, trial: TrialShots) -> bool:
    return one.press in trial.shots and trial.shots[one.press][1] >= one.first


def _log_state(log: Log, settings: Settings, reached: Mapping[str, int], tell: Callable[[str], None]) -> LogState:
    try:
        n, digest, first = log.verify_since(reached, tell)
    except StoreDamaged as error:
        return LogState(settings.store_shown, None, "", str(error))
    return LogState(settings.store_shown, n, digest, "", first)


def as_json(value: object) -> Any:
    """Return a record, or anything made of records, as what JSON knows; times in ISO 8601 with their offset."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: as_json(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): as_json(one) for key, one in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [as_json(one) for one in value]
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bytes):
        return value.hex()
    if isinstance(value, np.ndarray):
        return [None if one != one else one for one in value.tolist()]
    if isinstance(value, float) and not (abs(value) < float("inf")):
        return None
    return value
