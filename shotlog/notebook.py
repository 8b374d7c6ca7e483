"""The log as a notebook holds it: everything in it as pandas frames, with units in ``frame.attrs["units"]``.

Every frame holds what is in force now: entries that were taken back, and verdicts that a later judging replaced, are in
the log and not here; only `Log.entries` tells of the former. A column that nobody filled is there and empty, and its
type does not depend on what is in it: texts are empty where there is none, whole numbers that may be missing are
``Int64``, other numbers NaN, times are in UTC, NaT where there is none. Values are in the units of the channels,
whatever the press sends.
"""

from collections.abc import Mapping
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import URL

from shotlog.errors import StoreUnreachable, UsageError
from shotlog.extras import need
from shotlog.records import HALVES
from shotlog.settings import DesignSettings, load
from shotlog.store.asked import state
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.asked.faults import faults_since
from shotlog.store.asked.told import told_once
from shotlog.store.log.columns import COUNT, NUMBER, TEXT, TIME, WHOLE, YES_NO, Columns, frame_of
from shotlog.store.log.log import Log as StoredLog
from shotlog.store.log.log import opened_as
from shotlog.store.log.signed import at_this_computer
from shotlog.store.parts.dispositions import part_standings
from shotlog.store.parts.ends import insert_ends
from shotlog.store.parts.inspections import inspections
from shotlog.store.parts.places import where_is
from shotlog.wording.parts import life_end, why_stands

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Log", "open_log"]


class Log(StoredLog):
    """A log, open for a notebook: frames of one press by its name, or of all.

    What the press said: `shots`, `set_points`, `gaps`, `faults`. Who was in the mould: `inserts`, `lives`. What was
    made of it: `signals`, `verdicts`, `parts`. What people said: `events`, `inspections`, `entries`. What people were
    told: `told`. A name of a press that the log does not know is a `UsageError`.

    `designs`: what the configuration says of designs; without one, every shot is taken to make one part.
    """

    designs: Mapping[str, DesignSettings] = {}

    def shots(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a shot that was seen, press by press in the order they were made.

        Columns: press, shot (the log's number, carried on over roll-over and restart), time, fixed, moving, core
        (serials), design (one, or one a half, ``;``-separated), event (``KIND:TEXT``, ``;``-separated), single_use and
        print_batch where any insert has one, every channel that was ever measured, counter (what the press's display
        showed), trial, dry (it made no part). ``fixed_shots``, ``moving_shots`` and ``core_shots`` count the shots on
        the insert in each half, that shot included and those before a pause or in a gap as well; 1 on a single-use
        half, NA where none is entered.
        """
        from shotlog.store.log import frames

        name = self._one(press)
        names = self.presses() if name is None else [name]
        with self.one_moment():
            present = self.channels_present(names)
            blocks = chain.from_iterable(self.recorded(name, channels=present) for name in names)
            frame = frames.shots(blocks, present, frames.COUNTED)
            frames.add_made(frame, {name: self.timeline(name) for name in names})
        frame.attrs["units"] |= {f"{half}_shots": "shots" for half in HALVES}
        return frame

    def inserts(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a stay of an insert in a half; pieces of a series are one stay, under its first serial.

        Columns: press, half, serial, design, print_batch, single_use, first, last (its last shot so far while it is
        mounted), shots (that the press counted, gaps included), mounted, reason (why it came out: a person's words,
        else what took its place).
        """
        frame, name = super().inserts(), self._one(press)
        return frame if name is None else frame[frame["press"] == name].reset_index(drop=True)

    def set_points(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row where something of a press was set otherwise, or was first read.

        Columns: press, shot (the first that was made with it), name, value (text, as a person reads it; empty where it
        could not be read), number (of the value, NaN where it is none), unit (as the configuration or the press gives
        it), old (the value before, empty where none compares), by (who did it, as the press says), time.
        """
        return super().set_points(self._one(press))

    def signals(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a signal of a chart: a rule fired at a shot.

        Columns: press, shot, chart, channel, rule, value, centre, lower, upper (of the chart, in the unit of the
        channel; charts that add up or join channels have a scale of their own).
        """
        return super().signals(self._one(press))

    def verdicts(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a judged shot: what was said of it.

        Columns: press, shot, insert, shots_on_insert, settling, verdict (``keep``: no change seen, ``watch``,
        ``swap``), sentence, signals, cause, group (insert, material, press, measurement), weight (of the cause, 0 to
        1), onset, onset_low, onset_high (shots), left_median, left_low, left_high (shots until parts are bad),
        statistic, threshold, facts (JSON), others (changes open beside it), limits (channels beyond an action limit).
        """
        return super().verdicts(self._one(press))

    def parts(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a part, those of shots nobody saw included; dry shots made none.

        Columns: press, shot, cavity, time (of the shot), fixed, moving, core (serials), lot, setup, state (made, held,
        released, scrapped), why, decided (when a person last decided on it), initials (whose decision), place (where it
        was put last: bath, box, shelf), due (when something is to be done with it there).
        """
        lie = where_is(self)
        rows = []
        for name in self._named(press):
            for one in part_standings(self, name, self.designs):
                made, decision, place = one.made, one.ground.decision, lie.of(one.made.part)
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
                        "place": "" if place is None else place.name,
                        "due": None if place is None else place.due,
                    }
                )
        return frame_of(rows, _PARTS)

    def inspections(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a result of an inspection.

        Columns: number (by which it is undone), press, shot, cavity, quantity, value, low, high (tolerance), unit (of
        these three), finding, half, instrument, bad, initials, inspected, entered.
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
        return frame_of(rows, _INSPECTIONS, dict.fromkeys(("value", "low", "high"), "see column unit"))

    def events(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row an event that people noted, in order of shot.

        Columns: number (by which it is undone), press, shot (in force from it on), kind, text, half, initials, time (of
        the entry).
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
        return frame_of(rows, _EVENTS)

    def entries(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row an entry of any kind that can be taken back, in the order they were entered.

        Columns: kind and number (what ``shotlog undo`` takes), press, first, last (shots it is about), cavity, about,
        text, half, initials, account and role (of who was logged in), via (page, command, import, python, centre,
        program, demo), address (of the browser, or login name and computer), time (of the entry), taken_back (when, NaT
        while it is in force), why, by (who took it back). An entry of an earlier release has no via.
        """
        rows = [
            {
                **{word: getattr(one, word) for word in _ENTRIES if word not in _SIGNATURE},
                **{word: getattr(one.signature, word, "") for word in _SIGNATURE},
            }
            for one in entries_made(self, self._one(press))
        ]
        return frame_of(rows, _ENTRIES)

    def told(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a message that somebody took, and one a change of state as such, in the order of the log.

        Columns: press (empty where it is of the logger itself), time, about (the word of the configuration), phase
        (begins, again, becomes a worse one, ends), receiver (its name in the configuration; empty where the change was
        noted, whoever was told of it), text, spell (one state for as long as it lasts), seen (when somebody said at the
        press that it was seen, NaT where nobody did), seen_by (initials), seen_account (of who was logged in).
        """
        rows = [
            {
                **{word: getattr(one, word) for word in ("press", "time", "about", "phase", "receiver", "spell")},
                "text": one.said,
                "seen": None if one.seen is None else one.seen.time,
                "seen_by": "" if one.seen is None else one.seen.who.initials,
                "seen_account": "" if one.seen is None else getattr(one.seen.who.signature, "account", ""),
            }
            for one in told_once(self, self._one(press))
        ]
        return frame_of(rows, _TOLD)

    def gaps(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a gap: shots the press counted and nobody saw.

        Columns: press, first, last, shots, time, reason, least and most shots that it may have been.
        """
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
        return frame_of(rows, _GAPS, dict.fromkeys(("shots", "least", "most"), "shots"))

    def faults(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a fault that was kept: what came from a press and could not be taken as it was.

        Columns: press, shot (NA where it belongs to none), time, kind, detail, times (how many it stands for).
        """
        rows = [
            {
                **{word: getattr(one, word) for word in ("press", "shot", "time", "kind", "detail")},
                "times": 1 + one.more,
            }
            for name in self._named(press)
            for one in faults_since(self, name)
        ]
        return frame_of(rows, _FAULTS)

    def lives(self, press: str | None = None) -> "pd.DataFrame":
        """Return one row a reused insert that made a shot: its life over all its stays.

        Columns: press (of its last stay), half, serial, design, print_batch, shots (made on it, gaps included), sound,
        sound_low, sound_high (those before it went off, with both ends; all of them where it is not known to have),
        gone_off, mounted, end (how it ended, in words), reason (why it came out, in a person's words). For a life
        distribution `sound` is the time, and `gone_off` whether its end was seen.
        """
        from shotlog.review.ledger import histories_of
        from shotlog.review.lives import lives_of

        name = self._one(press)
        rows = [
            {**{word: getattr(life, of) for word, of in _OF_LIFE.items()}, "end": life_end(life)}
            for life in lives_of(histories_of(self), insert_ends(self))
            if name in (None, life.press)
        ]
        return frame_of(rows, _LIVES, dict.fromkeys(("shots", "sound", "sound_low", "sound_high"), "shots"))

    def _named(self, press: str | None) -> list[str]:
        return [name for name in self.presses() if press is None or name == self._one(press)]

    def _one(self, press: str | None) -> str | None:
        """Return the name of a press as given, once the log is known to have it; an empty frame would hide a slip."""
        known = self.presses()
        if press is not None and press not in known:
            raise UsageError(f"press: given {press!r}, allowed: {' | '.join(known) or 'none, nothing is logged yet'}")
        return press


def _all(kind: str, *names: str) -> Columns:
    return dict.fromkeys(names, kind)


_TOLD = {
    **_all(TEXT, "press"), **_all(TIME, "time"), **_all(TEXT, "about", "phase", "receiver", "text", "spell"),
    **_all(TIME, "seen"), **_all(TEXT, "seen_by", "seen_account"),
}  # fmt: skip
_SIGNATURE = ("account", "role", "via", "address")
_RESULT = ("quantity", "value", "low", "high", "unit", "finding", "half", "instrument")
_PARTS: Columns = {
    "press": TEXT,
    **_all(COUNT, "shot", "cavity"),
    "time": TIME,
    **_all(TEXT, *HALVES, "lot", "setup", "state", "why"),
    "decided": TIME,
    **_all(TEXT, "initials", "place"),
    "due": TIME,
}
_INSPECTIONS: Columns = {
    "number": COUNT,
    "press": TEXT,
    **_all(COUNT, "shot", "cavity"),
    "quantity": TEXT,
    **_all(NUMBER, "value", "low", "high"),
    **_all(TEXT, "unit", "finding", "half", "instrument"),
    "bad": YES_NO,
    "initials": TEXT,
    **_all(TIME, "inspected", "entered"),
}
_EVENTS: Columns = {
    "number": COUNT,
    "press": TEXT,
    "shot": COUNT,
    **_all(TEXT, "kind", "text", "half", "initials"),
    "time": TIME,
}
_ENTRIES: Columns = {
    "kind": TEXT,
    "number": COUNT,
    "press": TEXT,
    **_all(WHOLE, "first", "last", "cavity"),
    **_all(TEXT, "about", "text", "half", "initials", *_SIGNATURE),
    **_all(TIME, "time", "taken_back"),
    **_all(TEXT, "why", "by"),
}
_GAPS: Columns = {
    "press": TEXT,
    **_all(COUNT, "first", "last", "shots"),
    "time": TIME,
    "reason": TEXT,
    **_all(COUNT, "least", "most"),
}
_FAULTS: Columns = {"press": TEXT, "shot": WHOLE, "time": TIME, **_all(TEXT, "kind", "detail"), "times": COUNT}
_LIVES: Columns = {
    **_all(TEXT, "press", "half", "serial", "design", "print_batch"),
    **_all(COUNT, "shots", "sound", "sound_low", "sound_high"),
    **_all(YES_NO, "gone_off", "mounted"),
    **_all(TEXT, "end", "reason"),
}
_OF_LIFE = {name: {"shots": "n_shots", "gone_off": "failed"}.get(name, name) for name in _LIVES if name != "end"}


def open_log(where: str | Path, *, read_only: bool = True, initials: str = "") -> Log:
    """Open a log by its file, by the configuration that names it, or by its SQLAlchemy URL.

    From a configuration (a file that ends in ``.toml``) come the designs as well, and with them the cavities. Reading
    never holds a logger up, and goes on while it writes: each frame is the log as it stands at that moment. A log that
    is only read stays as it is: one of an earlier schema reads what it has no place for as empty, and its folder need
    not be writable. One opened for writing is made when it does not exist, and brought to this release's schema; what
    is entered through it is signed with the login name and computer, and `initials`.

    Raises
    ------
    StoreUnreachable
        There is no such log (when only reading), or it cannot be opened or written.
    StoreDamaged
        It was written by a newer release, or is no log.
    SettingsError
        The configuration is wrong.
    UsageError
        pandas is not installed: it comes with the extra `notebook`.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> from tempfile import TemporaryDirectory
    >>> from shotlog.records import Shot
    >>> folder = TemporaryDirectory()
    >>> file = Path(folder.name) / "trial.db"
    >>> with open_log(file, read_only=False) as log:
    ...     _ = log.append([Shot("P25", 118, 118, datetime(2026, 3, 2, 8, 41, tzinfo=UTC), {"cushion": 4.97})])

    A notebook reads it like this:

    >>> with open_log(file) as log:
    ...     shots, parts = log.shots(), log.parts("P25")
    >>> shots[["press", "shot", "cushion", "counter", "dry"]].to_dict("records")
    [{'press': 'P25', 'shot': 118, 'cushion': 4.97, 'counter': 118, 'dry': False}]
    >>> shots.attrs["units"]["cushion"], str(shots["time"].dt.tz_convert("Europe/Berlin")[0])
    ('mm', '2026-03-02 09:41:00+01:00')
    >>> len(parts.query("state == 'held'"))
    0
    >>> folder.cleanup()
    """
    need("notebook", "open_log")
    url, designs = _meant(where)
    log = opened_as(Log, url, read_only)
    log.designs = designs
    if not read_only:
        log.signature = at_this_computer("python", initials)
    return log


def _meant(where: str | Path) -> tuple[str, Mapping[str, DesignSettings]]:
    """Return the URL that a file, a configuration or a URL stands for, and what is known of designs."""
    text = str(where)
    if text.lower().endswith(".toml"):
        settings = load(where)
        return settings.store, settings.designs
    if "://" in text:
        return text, {}
    file = Path(where).expanduser().resolve()
    if file.is_dir():
        allowed = "the file of a log, or the configuration that names it"
        raise StoreUnreachable(f"log {file}: this is a folder, allowed: {allowed}")
    return URL.create("sqlite", database=file.as_posix()).render_as_string(), {}
