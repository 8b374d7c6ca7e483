"""The review of a shift or trial: everything the report says, as plain data, and as JSON."""

import platform
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime
from importlib.metadata import version
from typing import Any

from shotlog import __version__
from shotlog.errors import StoreDamaged
from shotlog.parts.ending import WORDS
from shotlog.review.beside import read_beside
from shotlog.review.ledger import Ledger, histories_of, ledger_of, states_of
from shotlog.review.press import PressReview, press_review
from shotlog.review.source import PressRecord
from shotlog.settings import Settings
from shotlog.store.asked.trials import TrialShots, trials
from shotlog.store.inserts.making import makings
from shotlog.store.log.engine import SCHEMA
from shotlog.store.log.log import Log
from shotlog.store.parts.inspections import inspections
from shotlog.store.parts.soaks import soaks

__all__ = ["CAUTION", "LogState", "Review", "plain", "review"]

CAUTION = (
    "shotlog only reads from the press. It is no safety device and replaces no guard, interlock, inspection or "
    "competent person. It can say that no change was seen in these values; it never says that a part is sound. The "
    "limits of the charts are statistical and are no tolerances of the part. If data and eyes disagree, trust eyes."
)


@dataclass(frozen=True, slots=True)
class LogState:
    """The log: how many transactions it holds and the last digest of their chain.

    `damage` says why it does not verify.
    """

    store: str
    n_transactions: int | None
    digest: str
    damage: str


@dataclass(frozen=True, slots=True)
class Review:
    """A shift or trial. `since` is what was asked for; `presses` are those that made a shot since then.

    `silent` the others.
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


def review(log: Log, settings: Settings, made_at: datetime, since: datetime | None = None) -> Review:
    """Review what the log holds since a time, or all of it. The lives are always those of the whole log."""
    histories = histories_of(log)
    states = states_of(log, settings)
    made = makings(log)
    reviews, silent = [], [press.name for press in settings.presses if press.name not in log.presses()]
    for history in histories:
        record = history.record
        results = inspections(log, record.press)
        first = _first_since(record, since)
        beside = read_beside(log, record.press, first, since)
        one = press_review(history, beside, first, settings.designs, states, made, results, soaks(log, record.press))
        if one is None:
            silent.append(record.press)
        else:
            reviews.append(one)
    told = trials(log)
    return Review(
        made_at,
        since,
        tuple(trial for trial in told if any(_in_period(one, trial) for one in reviews)),
        tuple(reviews),
        tuple(silent),
        ledger_of(log, settings, histories, states),
        _log_state(log, settings),
        {name: plain(design) for name, design in settings.designs.items()},
        WORDS,
        {
            "shotlog": __version__,
            "schema of the log": SCHEMA,
            "python": platform.python_version(),
            **{name: version(name) for name in ("numpy", "scipy", "lifelines", "matplotlib")},
        },
        CAUTION,
    )


def _in_period(one: PressReview, trial: TrialShots) -> bool:
    return one.press in trial.shots and trial.shots[one.press][1] >= one.first


def _first_since(record: PressRecord, since: datetime | None) -> int:
    if since is None:
        return 0
    later = [shot for shot, time in zip(record.shots.tolist(), record.times, strict=True) if time >= since]
    return later[0] if later else record.last_shot + 1


def _log_state(log: Log, settings: Settings) -> LogState:
    try:
        n, digest = log.verify()
    except StoreDamaged as error:
        return LogState(settings.store_shown, None, "", str(error))
    return LogState(settings.store_shown, n, digest, "")


def plain(value: object) -> Any:
    """Return a record, or anything made of records, as what JSON knows; times in ISO 8601 with their offset."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [plain(one) for one in value]
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bytes):
        return value.hex()
    if isinstance(value, float) and not (abs(value) < float("inf")):
        return None
    return value
