"""The tables of the log, as SQLAlchemy sees them today; `migrations/` holds how a log got here.

Rows are only ever added. A correction is a row in `corrections` that takes an earlier entry out of force; judgements
made again are rows under a later `judgings` row, which puts those it covers out of force. `checkpoints`, `presence`
and `cursors` are no part of the record: they may be thrown away.
"""

from typing import Any

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    TextClause,
    UniqueConstraint,
    text,
)
from sqlalchemy.schema import SchemaItem

from shotlog.channels import CHANNELS

__all__ = ["CACHES", "ENTERED_IN", "ENTRIES", "METADATA", "RECORD_TABLES", "TELLS_ODD"]

METADATA = MetaData()

_NUMBER = BigInteger().with_variant(Integer(), "sqlite")
"""The number of a row: of 64 bits everywhere, which SQLite knows by this name alone."""


def _table(name: str, *columns: SchemaItem) -> Table:
    return Table(name, METADATA, Column("id", _NUMBER, primary_key=True), *columns)


def _text(name: str, **options: Any) -> Column[str]:
    return Column(name, Text, nullable=False, **options)


def _said(name: str) -> Column[str]:
    """Return a text that may be left unsaid: an earlier row, if any, then holds."""
    return Column(name, Text)


def _whole(name: str, nullable: bool = False) -> Column[int]:
    return Column(name, BigInteger, nullable=nullable)


def _refers(table: str, name: str, nullable: bool = False) -> Column[int]:
    return Column(name, _NUMBER, ForeignKey(f"{table}.id"), nullable=nullable)


def _press() -> Column[int]:
    return _refers("presses", "press_id")


def _of_some(name: str, *columns: str, where: TextClause) -> Index:
    """Return an index of some rows. `info` has the condition for a server: to name a server's kind of database here
    would load all that knows of it, a tenth of what a command takes to start.
    """
    return Index(name, *columns, sqlite_where=where, info={"where": where})


presses = _table("presses", _text("name", unique=True), _text("time"))
trials = _table("trials", _text("name"), _text("part"), _text("resin"), _text("time"))
designs = _table("designs", _text("name", unique=True), _text("resin_family"), _text("time"))
inserts = _table(
    "inserts",
    _text("serial", unique=True),
    _refers("designs", "design_id", nullable=True),
    _text("print_batch"),
    _text("time"),
)
mountings = _table(
    "mountings",
    _press(),
    _refers("inserts", "insert_id"),
    _text("half"),
    _whole("at_shot"),
    Column("single_use", Boolean, nullable=False),
    _text("time"),
    _said("initials"),
    Index("mountings_by_press", "press_id", "at_shot"),
)
removals = _table(
    "removals",
    _press(),
    _refers("inserts", "insert_id"),
    _whole("at_shot"),
    _text("reason"),
    _text("time"),
    _said("initials"),
    _whole("newest_mounting", nullable=True),
    Index("removals_by_press", "press_id", "at_shot"),
)
events = _table(
    "events",
    _press(),
    _whole("at_shot"),
    _text("kind"),
    _text("text"),
    _text("time"),
    _said("half"),
    _said("initials"),
    Index("events_by_press", "press_id", "at_shot"),
)
corrections = _table(
    "corrections",
    _text("entry"),
    _whole("entry_id"),
    _text("reason"),
    _text("time"),
    _said("initials"),
    UniqueConstraint("entry", "entry_id"),
)
shots = _table(
    "shots",
    _press(),
    _whole("shot"),
    _whole("counter"),
    _text("time"),
    _refers("trials", "trial_id", nullable=True),
    *(Column(name, Double) for name in CHANNELS),
    UniqueConstraint("press_id", "shot"),
    Index("shots_by_trial", "trial_id", "press_id", "shot"),
)
gaps = _table(
    "gaps",
    _press(),
    _whole("first"),
    _whole("last"),
    _text("reason"),
    _text("time"),
    *(_whole(name, nullable=True) for name in ("least", "most")),
    Index("gaps_by_press", "press_id", "first"),
)
faults = _table(
    "faults",
    _press(),
    _whole("shot", nullable=True),
    _text("kind"),
    _text("detail"),
    Column("raw", LargeBinary, nullable=False),
    _text("time"),
    _whole("more", nullable=True),
    Index("faults_by_press", "press_id", "id"),
)
links = _table(
    "links", _press(), _text("state"), _text("detail"), _text("time"), Index("links_by_press", "press_id", "id")
)
judgings = _table(
    "judgings",
    _press(),
    _whole("from_shot"),
    _text("basis"),
    _text("reason"),
    _text("time"),
    Index("judgings_by_press", "press_id", "id"),
)
baselines = _table(
    "baselines",
    _refers("judgings", "judging_id"),
    _press(),
    _text("insert"),
    _text("channel"),
    _whole("first"),
    _whole("last"),
    _whole("n_shots"),
    *(Column(name, Double) for name in ("centre", "spread", "lower", "upper")),
    Column("per_100", Integer),
    Index("baselines_by_press", "press_id", "last"),
)
signals = _table(
    "signals",
    _refers("judgings", "judging_id"),
    _press(),
    _whole("shot"),
    _text("chart"),
    _text("channel"),
    _text("rule"),
    *(Column(name, Double) for name in ("value", "centre", "lower", "upper")),
    Index("signals_by_press", "press_id", "shot"),
)
_CALLED = text("verdict != 'keep'")
TELLS_ODD = text("facts LIKE '%\"odd_shot\"%'")
"""Of a verdict, that it tells of a shot far out alone; asked in these very words, so that the index serves it."""

verdicts = _table(
    "verdicts",
    _refers("judgings", "judging_id"),
    _press(),
    _whole("shot"),
    _text("insert"),
    _whole("shots_on_insert"),
    Column("settling", Boolean, nullable=False),
    _text("verdict"),
    _text("sentence"),
    _text("signals"),
    _text("cause"),
    _text("group"),
    Column("weight", Double),
    *(_whole(name, nullable=True) for name in ("onset", "onset_low", "onset_high")),
    *(Column(name, Double) for name in ("left_median", "left_low", "left_high", "statistic", "threshold")),
    *(_said(name) for name in ("facts", "others", "limits")),
    UniqueConstraint("press_id", "shot", "judging_id"),
    _of_some("verdicts_called", "press_id", "shot", "onset_low", "onset", where=_CALLED),
    _of_some("verdicts_odd", "press_id", "shot", where=TELLS_ODD),
)
makings = _table(
    "makings",
    _refers("inserts", "insert_id"),
    *(_said(name) for name in ("design", "print_batch", "resin", "plate", "plate_position", "orientation", "wash")),
    *(_said(name) for name in ("post_cure", "cured", "storage", "remark")),
    *(Column(name, Double) for name in ("layer_um", "mass_g", "cost")),
    _text("initials"),
    _text("time"),
    Index("makings_by_insert", "insert_id", "id"),
)
dimensions = _table(
    "dimensions",
    _refers("inserts", "insert_id"),
    _text("name"),
    Column("value_mm", Double, nullable=False),
    _text("instrument"),
    _text("initials"),
    _text("time"),
    Index("dimensions_by_insert", "insert_id", "id"),
)
queued = _table(
    "queued",
    _refers("inserts", "series_id"),
    _refers("inserts", "insert_id"),
    _text("time"),
    Index("queued_by_series", "series_id", "id"),
)
dispositions = _table(
    "dispositions",
    _press(),
    _whole("first"),
    _whole("last"),
    _whole("cavity", nullable=True),
    _text("decision"),
    _text("reason"),
    _text("initials"),
    _text("time"),
    Index("dispositions_by_press", "press_id", "id"),
)
baths = _table(
    "baths",
    _text("name"),
    *(Column(name, Double) for name in ("concentration_low", "concentration_high")),
    *(Column(name, Double) for name in ("temperature_low", "temperature_high")),
    _text("made_up"),
    _text("initials"),
    _text("time"),
    Index("baths_by_name", "name", "id"),
)
bath_checks = _table(
    "bath_checks",
    _refers("baths", "bath_id"),
    *(Column(name, Double) for name in ("concentration", "temperature")),
    _text("checked"),
    _text("initials"),
    _text("time"),
    Index("bath_checks_by_bath", "bath_id", "id"),
)
soaks = _table(
    "soaks",
    _refers("baths", "bath_id"),
    _press(),
    _whole("shot"),
    _whole("cavity"),
    _text("went_in"),
    _text("due"),
    _text("initials"),
    _text("time"),
    Index("soaks_by_part", "press_id", "shot"),
)
soak_ends = _table(
    "soak_ends",
    _refers("soaks", "soak_id"),
    _text("came_out"),
    Column("cleared", Boolean, nullable=False),
    _text("remark"),
    _text("initials"),
    _text("time"),
    Index("soak_ends_by_soak", "soak_id", "id"),
)
places = _table(
    "places",
    _press(),
    _whole("first"),
    _whole("last"),
    _whole("cavity", nullable=True),
    _text("place"),
    _text("put"),
    _said("due"),
    _whole("newest_soak"),
    _whole("newest_soak_end"),
    _text("initials"),
    _text("time"),
    Index("places_by_press", "press_id", "id"),
)
pictures = _table(
    "pictures",
    _press(),
    _whole("shot", nullable=True),
    _whole("cavity", nullable=True),
    _refers("inserts", "insert_id", nullable=True),
    _refers("events", "event_id", nullable=True),
    _text("digest"),
    _text("media"),
    _whole("bytes"),
    _text("remark"),
    _text("taken"),
    _text("initials"),
    _text("time"),
    Index("pictures_by_press", "press_id", "shot"),
)
inspections = _table(
    "inspections",
    _press(),
    _whole("shot"),
    _whole("cavity"),
    _text("quantity"),
    *(Column(name, Double) for name in ("value", "low", "high")),
    _text("unit"),
    _text("given"),
    _text("finding"),
    _text("half"),
    _text("instrument"),
    _text("inspected"),
    _text("initials"),
    _text("time"),
    Index("inspections_by_part", "press_id", "shot"),
)
weighings = _table(
    "weighings",
    _press(),
    _text("balance"),
    Column("grams", Double, nullable=False),
    *(Column(name, Double) for name in ("g_per_mm", "dose_mm", "after_s")),
    Column("raw", LargeBinary, nullable=False),
    _text("time"),
    Index("weighings_by_press", "press_id", "id"),
)
matches = _table(
    "matches",
    _refers("weighings", "weighing_id"),
    _whole("shot", nullable=True),
    _said("others"),
    _text("basis"),
    _text("reason"),
    _text("initials"),
    _text("time"),
    Index("matches_by_weighing", "weighing_id", "id"),
    Index("matches_by_shot", "shot"),
)
logs = _table(
    "logs", _text("uid", unique=True), _said("follows"), _said("follows_digest"), _text("reason"), _text("time")
)
starts = _table(
    "starts",
    *(_text(name) for name in ("release", "basis", "config", "digest", "maps", "host", "process", "time")),
    _whole("newest_shot"),
)
"""With the newest row of `shots` then: what a press's last shot was read by is told by that."""
clock_steps = _table(
    "clock_steps",
    Column("step_s", Double, nullable=False),
    _text("detail"),
    _text("time"),
    Column("at_least", Boolean, nullable=False),
    *(_whole(f"newest_{name}") for name in ("shot", "weighing", "link")),
)
"""With the newest row of each table whose times come by the clock: what came before a step is told by that."""
anchors = _table("anchors", _text("place"), _whole("links"), _text("digest"), _text("time"))
archives = _table(
    "archives",
    _refers("trials", "trial_id"),
    _text("file"),
    _text("file_digest"),
    *(_whole(name) for name in ("first_link", "last_link", "links", "rows")),
    _text("time"),
)
signed = _table(
    "signed",
    _text("entry"),
    _whole("entry_id"),
    *(_text(name) for name in ("account", "role", "via", "address", "initials")),
    UniqueConstraint("entry", "entry_id"),
)
account_changes = _table(
    "account_changes", *(_text(name) for name in ("account", "initials", "role", "change", "by", "time"))
)
set_points = _table(
    "set_points",
    _press(),
    _whole("shot"),
    *(_text(name) for name in ("name", "value", "unit")),
    _said("old"),
    *(_text(name) for name in ("by", "time")),
    _whole("newest_start"),
    Index("set_points_by_press", "press_id", "name", "shot"),
    Index("set_points_by_shot", "press_id", "shot"),
)
"""What a press was set to, from the first shot that was made with it; a row where something was set otherwise.

An empty `value`: from that shot on it was not read. `old` is NULL where nothing before it compares: it is the first
reading of a name, or was read otherwise, as the configurations of `newest_start` and of that of the row before tell.
"""
told = _table(
    "told",
    _refers("presses", "press_id", nullable=True),
    *(_text(name) for name in ("about", "spell", "phase", "receiver", "said", "time")),
    Index("told_by_spell", "spell"),
)
"""Messages that a receiver took; of no press where they are of the logger itself."""
acknowledgements = _table(
    "acknowledgements",
    _refers("presses", "press_id", nullable=True),
    *(_text(name) for name in ("about", "spell", "time")),
    _said("initials"),
)
ENTERED_IN = text("(rows NOT LIKE 'verdicts:%' AND (rows NOT LIKE 'shots:%' OR rows LIKE '% %'))")
"""Of a link, that people may have entered something in it: most are of a shot alone, or begin with a verdict.

Asked in these very words, so that the index serves it: there are two links a shot.
"""

ledger = _table(
    "ledger",
    _text("rows"),
    _text("digest"),
    Column("origin", Text, unique=True),
    _of_some("ledger_of_entries", "id", where=ENTERED_IN),
)

checkpoints = _table(
    "checkpoints",
    _refers("judgings", "judging_id"),
    _press(),
    _whole("shot"),
    _text("basis"),
    _text("state"),
    Index("checkpoints_by_press", "press_id", "shot"),
)
presence = _table("presence", _text("role", unique=True), _text("detail"), _text("time"))
cursors = _table("cursors", _text("receiver", unique=True), *(_text(name) for name in ("position", "time")))

CACHES = (checkpoints, presence, cursors)
RECORD_TABLES: dict[str, Table] = {
    name: table for name, table in METADATA.tables.items() if table not in (*CACHES, ledger)
}
"""The tables whose rows the hash chain covers."""

ENTRIES: tuple[Table, ...] = (
    mountings, removals, events, corrections, makings, dimensions, queued, dispositions, baths, bath_checks,
    soaks, soak_ends, places, pictures, inspections, matches, acknowledgements,
)  # fmt: skip
"""What people enter; the logger by itself enters some of it as well. Each row has one row of `signed` beside it."""
