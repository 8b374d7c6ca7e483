"""The log as a notebook holds it: everything in it as pandas frames, with units in ``frame.attrs["units"]``.

Every frame holds what is in force now: entries that were taken back, and verdicts that a later judging replaced, are in
the log and not here. A column that nobody filled is there and empty.
"""

from collections.abc import Iterator, Mapping
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sqlalchemy import URL

from shotlog.records import HALVES, Stay
from shotlog.settings import DesignSettings, load
from shotlog.store.asked import state
from shotlog.store.log.log import Log as StoredLog
from shotlog.store.log.log import opened_as
from shotlog.store.parts.dispositions import part_standings
from shotlog.store.parts.inspections import inspections
from shotlog.wording.parts import why_stands

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Log", "open_log"]


class Log(StoredLog):
    """A log, open for a notebook: `shots`, `inserts`, `signals`, `verdicts`, `parts`, `inspections`, `events`, `gaps`.

    `designs`: what the configuration says of designs; without one, every shot is taken to make one part.
    """

    designs: Mapping[str, DesignSettings] = {}

    def shots(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a shot: press, shot, time, the inserts mounted, design, events and every channel measured.

        ``fixed_shots``, ``moving_shots`` and ``core_shots`` count the shots on the insert in each half, that shot
        included and those before a pause or in a gap as well; 1 on a single-use half, empty where none is entered.
        """
        frame = super().shots(press)
        for half in HALVES:
            counts = (_counts(self, name, half, frame[frame["press"] == name]) for name in frame["press"].unique())
            frame[f"{half}_shots"] = _whole(chain.from_iterable(counts))
        frame.attrs["units"] |= {f"{half}_shots": "shots" for half in HALVES}
        return frame

    def parts(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a part, those of shots nobody saw included.

        Columns: press, shot, cavity, time (of the shot, UTC), fixed, moving, core (serials), lot, setup, state (made,
        held, released, scrapped), why, decided (when a person last decided on it, UTC), initials (whose decision).
        """
        rows = []
        for name in self._named(press):
            for one in part_standings(self, name, self.designs):
                made, decision = one.made, one.ground.decision
                rows.append(
                    {
                        "press": name,
                        "shot": made.part.shot,
                        "cavity": made.part.cavity,
                        "time": made.time,
                        **{half: made.halves[half].serial if half in made.halves else "" for half in HALVES},
                        "lot": made.lot,
                        "setup": made.setup,
                        "state": one.state,
                        "why": why_stands(one),
                        "decided": None if decision is None else decision.time,
                        "initials": "" if decision is None else decision.initials,
                    }
                )
        return _frame(rows, _PARTS, times=("time", "decided"))

    def inspections(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a result of an inspection.

        Columns: number (by which it is undone), press, shot, cavity, quantity, value, low, high (tolerance), unit (of
        these three), finding, half, instrument, bad, initials, inspected, entered (UTC).
        """
        rows = [
            {
                "number": one.entry_id,
                "press": name,
                "shot": one.part.shot,
                "cavity": one.part.cavity,
                **{word: getattr(one, word) for word in _RESULT},
                "bad": one.bad,
                "initials": one.initials,
                "inspected": one.inspected,
                "entered": one.entered,
            }
            for name in self._named(press)
            for one in inspections(self, name)
        ]
        units = dict.fromkeys(("value", "low", "high"), "see column unit")
        return _frame(rows, _INSPECTIONS, units, ("inspected", "entered"))

    def events(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row an event that people noted, in order of shot.

        Columns: number (by which it is undone), press, shot (in force from it on), kind, text, half, initials, time (of
        the entry, UTC).
        """
        rows = [
            {
                "number": row.entry_id,
                "press": name,
                "shot": row.event.at_shot,
                **{word: getattr(row.event, word) for word in ("kind", "text", "half", "initials", "time")},
            }
            for name in self._named(press)
            for row in state.entries(self, name)
            if not row.taken_back
        ]
        return _frame(rows, _EVENTS, times=("time",))

    def gaps(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a gap: press, first, last (shots the press counted and nobody saw), shots, time, reason;
        least and most it may have been."""
        rows = [
            {
                "press": name,
                "first": gap.first,
                "last": gap.last,
                "shots": gap.n_shots,
                "time": gap.time,
                "reason": gap.reason,
                "least": gap.n_shots - gap.n_fewer,
                "most": gap.n_shots + gap.n_more,
            }
            for name in self._named(press)
            for gap in state.gaps(self, name)
        ]
        return _frame(rows, _GAPS, {"shots": "shots"}, ("time",))

    def _named(self, press: str | None) -> list[str]:
        return self.presses() if press is None else [press]


_RESULT = ("quantity", "value", "low", "high", "unit", "finding", "half", "instrument")
_PARTS = ("press", "shot", "cavity", "time", *HALVES, "lot", "setup", "state", "why", "decided", "initials")
_INSPECTIONS = ("number", "press", "shot", "cavity", *_RESULT, "bad", "initials", "inspected", "entered")
_EVENTS = ("number", "press", "shot", "kind", "text", "half", "initials", "time")
_GAPS = ("press", "first", "last", "shots", "time", "reason", "least", "most")


def _frame(
    rows: list[dict[str, Any]],
    columns: tuple[str, ...],
    units: Mapping[str, str] | None = None,
    times: tuple[str, ...] = (),
) -> "pd.DataFrame":
    import pandas as pd

    frame = pd.DataFrame(rows, columns=list(columns))
    for name in times:
        frame[name] = pd.to_datetime(frame[name], utc=True)
    frame.attrs["units"] = dict(units or {})
    return frame


def _whole(counts: Iterator[int | None]) -> "pd.Series[int]":
    import pandas as pd

    return pd.Series(list(counts), dtype="Int64")


def _counts(log: StoredLog, press: str, half: str, shots: "pd.DataFrame") -> Iterator[int | None]:
    """Yield how many shots the insert in a half had made at each of some shots of a press, earlier stays included."""
    timeline = log.timeline(press)
    earlier: dict[str, int] = {}
    before: dict[Stay, int] = {}
    for stay in timeline.stays:
        serial = stay.mounting.insert.serial
        before[stay] = earlier.get(serial, 0)
        earlier[serial] = before[stay] + (0 if stay.end == float("inf") else int(stay.end) - stay.first)
    for shot in shots["shot"]:
        held = timeline.stays_at(int(shot)).get(half)
        if held is None:
            yield None
        else:
            yield 1 if held.mounting.single_use else before[held] + int(shot) - held.first + 1


def open_log(where: str | Path, *, read_only: bool = True) -> Log:
    """Open a log by its file, by the configuration that names it, or by its SQLAlchemy URL.

    From a configuration (a file that ends in ``.toml``) come the designs as well, and with them the cavities. A log
    opened for writing is made when it does not exist, and brought to this release's schema; one of an earlier schema
    that is only read stays as it is.

    Raises
    ------
    StoreUnreachable
        There is no such log (when only reading), or it cannot be opened or written.
    StoreDamaged
        It was written by a newer release, or is no log.
    SettingsError
        The configuration is wrong.

    Examples
    --------
    A notebook reads a trial like this::

        log = shotlog.open_log("trial.db")
        shots = log.shots()
        shots.attrs["units"]["cushion"]   # 'mm'
        held = log.parts().query("state == 'held'")
    """
    text = str(where)
    if text.endswith(".toml"):
        settings = load(where)
        log = opened_as(Log, settings.store, read_only)
        log.designs = settings.designs
        return log
    return opened_as(Log, text if "://" in text else _url_of(Path(where)), read_only)


def _url_of(file: Path) -> str:
    return URL.create("sqlite", database=file.expanduser().resolve().as_posix()).render_as_string()
