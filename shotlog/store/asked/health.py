"""How it stands with the logging, for machines that watch it: what `status --json` and the address ``/healthz`` say."""

import shutil
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from shotlog.clock import iso_utc
from shotlog.settings import BackupSettings, Settings
from shotlog.store.asked.backed_up import BackedUp, backed_up
from shotlog.store.asked.heartbeat import STALE_S
from shotlog.store.asked.kept import KeptNow
from shotlog.store.asked.links import last_link
from shotlog.store.asked.logger_state import LoggerState
from shotlog.store.log.log import Log

__all__ = ["health"]


def health(log: Log | None, settings: Settings, state: LoggerState, kept: KeptNow, now: datetime) -> dict[str, Any]:
    """Return plain facts, nothing secret among them.

    `stale_after_s`: how long no sign of life may come. `silent`: presses that are not read because a thread hangs, and
    for how many seconds; `silent_since`: since when. `presses_lost`: presses and balances that do not answer, since
    when; none where the log (None) cannot be read. `unjudged`: shots that wait until judging is ready. `shots_waiting`:
    shots in the journal of this configuration, on disk and not in the log yet; None where that cannot be told here.
    `waiting_since`: since when. `shots_in_memory`: neither in the log nor on disk. `disks`: as the logger saw them
    last. `disk_free_mb`: where the log lies, else where the configuration does, or None. `backup`: when the last good
    one was made, since when none could be, and whether one is long due; None where none is made as a routine.
    """
    sign = state.sign
    links = {} if log is None else {name: last_link(log, name) for name in _named(settings)}
    return {
        "state": state.state,
        "since": None if sign is None else iso_utc(sign.since),
        "last_beat": None if state.seen is None else iso_utc(state.seen),
        "stale_after_s": STALE_S,
        "host": None if sign is None else sign.host,
        "process": None if sign is None else sign.process,
        "silent": {} if sign is None else {name: round(seconds, 1) for name, seconds in sign.silent.items()},
        "silent_since": {}
        if sign is None
        else {name: iso_utc(sign.time - timedelta(seconds=seconds)) for name, seconds in sign.silent.items()},
        "presses_lost": {
            name: iso_utc(link.time) for name, link in links.items() if link is not None and link.state == "lost"
        },
        "unjudged": 0 if sign is None else sign.unjudged,
        "shots_waiting": kept.shots,
        "shots_in_memory": kept.unsafe,
        "waiting_since": None if kept.since is None else iso_utc(kept.since),
        "disks": [
            {"of": one.what, "free_mb": round(one.free_bytes / 1e6, 1), "shots": one.shots, "hours": one.hours}
            for one in kept.disks
        ],
        "backup": None if log is None or settings.backup is None else _backup(backed_up(log), settings.backup, now),
        "disk_free_mb": _free_mb(settings.text_log.parent),
    }


def _backup(state: BackedUp, wanted: BackupSettings, now: datetime) -> dict[str, Any]:
    return {
        "done": None if state.done is None else iso_utc(state.done),
        "failed_since": None if state.failed is None else iso_utc(state.failed),
        "due": state.is_due(wanted, now),
    }


def _named(settings: Settings) -> list[str]:
    return [*(one.name for one in settings.presses), *(one.name for one in settings.balances)]


def _free_mb(folder: Path) -> float | None:
    try:
        return round(shutil.disk_usage(folder).free / 1e6, 1)
    except OSError:
        return None
