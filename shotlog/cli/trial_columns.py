"""The tables of a trial's folder: which columns each file has, their units, what they mean, and the cell of a row."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from shotlog.records import HALVES
from shotlog.store.inserts import making
from shotlog.wording.parts import why_out, why_stands, wrong_text
from shotlog.wording.who import who_said

__all__ = [
    "CHECKS",
    "CLOCK",
    "ENTRIES",
    "EVENTS",
    "GAPS",
    "INSERTS",
    "INSPECTIONS",
    "PARTS",
    "PICTURES",
    "PICTURE_FOLDER",
    "PLACES",
    "SOAKS",
    "STARTS",
    "STAYS",
    "VERDICTS",
    "WEIGHINGS",
    "Column",
]

PICTURE_FOLDER = "pictures"
"""Where the files of pictures lie in the folder of a trial."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a file: name, unit (empty if none), meaning, and the cell it has for a row."""

    name: str
    unit: str
    meaning: str
    cell: Callable[[Any], object]


def _of(name: str) -> Callable[[Any], object]:
    return lambda row: getattr(row, name)


def _serial(half: str) -> Callable[[Any], object]:
    return lambda standing: standing.made.halves[half].serial if half in standing.made.halves else ""


def _signed(name: str, before: str) -> list[Column]:
    """Return the columns of a signature; empty where none was kept."""
    meanings = {
        "account": "account that was logged in; empty where nobody was",
        "role": "its role",
        "via": "page, command, import, python, centre, demo, or program for the logger itself",
        "address": "of the browser, or login name and computer",
    }
    return [Column(f"{before}{field}", "", meaning, _in(name, field)) for field, meaning in meanings.items()]


def _in(name: str, field: str) -> Callable[[Any], object]:
    return lambda row: "" if getattr(row, name) is None else getattr(getattr(row, name), field)


PARTS = [
    Column("press", "", "name of the press", lambda s: s.part.press),
    Column("shot", "", "shot counter, unwrapped", lambda s: s.part.shot),
    Column("cavity", "", "cavity, from 1", lambda s: s.part.cavity),
    Column("time", "", "when it was moulded; empty if nobody saw the shot", lambda s: s.made.time),
    *(Column(half, "", f"serial in the {half} half", _serial(half)) for half in HALVES),
    Column("lot", "", "material lot noted last", lambda s: s.made.lot),
    Column("setup", "", "set-up noted last", lambda s: s.made.setup),
    Column("state", "", "made (nothing against it), held, released or scrapped", _of("state")),
    Column("why", "", "reason in words", why_stands),
]
INSPECTIONS = [
    Column("press", "", "name of the press", lambda i: i.part.press),
    Column("shot", "", "shot counter, unwrapped", lambda i: i.part.shot),
    Column("cavity", "", "cavity, from 1", lambda i: i.part.cavity),
    Column("inspected", "", "when", _of("inspected")),
    Column("quantity", "", "part_weight, the name of a dimension, or look", _of("quantity")),
    Column("value", "as in unit", "measured value", _of("value")),
    Column("unit", "", "unit of value, low and high", _of("unit")),
    Column("low", "as in unit", "lower tolerance", _of("low")),
    Column("high", "as in unit", "upper tolerance", _of("high")),
    Column("finding", "", "what was wrong", _of("finding")),
    Column("half", "", "half to blame, where a person said so", _of("half")),
    Column("instrument", "", "measured with", _of("instrument")),
    Column("initials", "", "by whom", _of("initials")),
]
SOAKS = [
    Column("part", "", "PRESS/SHOT/CAVITY", lambda s: str(s.part)),
    Column("bath", "", "name of the bath", _of("bath")),
    Column("went_in", "", "when it went in", _of("went_in")),
    Column("due", "", "when it was due, as set that day", _of("due")),
    Column("came_out", "", "when it came out; empty while in", _of("came_out")),
    Column("cleared", "", "nothing of the half was left", _of("cleared")),
    Column("remark", "", "in words", _of("remark")),
]
PLACES = [
    Column("press", "", "name of the press", _of("press")),
    Column("first", "", "first shot whose part was put there", _of("first")),
    Column("last", "", "last shot whose part was put there", _of("last")),
    Column("cavity", "", "cavity, from 1; empty for all", _of("cavity")),
    Column("place", "", "bag, box or shelf, in a word", _of("place")),
    Column("put", "", "when they were put there", _of("put")),
    Column("due", "", "when something was due with them; empty for nothing", _of("due")),
    Column("initials", "", "by whom", _of("initials")),
    Column("entered", "", "when it was written down", _of("entered")),
]
CHECKS = [
    Column("bath", "", "name of the bath", lambda pair: pair[0].name),
    Column("made_up", "", "when it was filled", lambda pair: pair[0].made_up),
    Column("checked", "", "when it was checked", lambda pair: pair[1].checked),
    Column("concentration", "mol/l", "sodium hydroxide", lambda pair: pair[1].concentration),
    Column("temperature", "degC", "of the bath", lambda pair: pair[1].temperature),
    Column("wrong", "", "what was outside its range", lambda pair: wrong_text(pair[1].wrong)),
]
WEIGHINGS = [
    Column("number", "", "number of the weighing", _of("weighing_id")),
    Column("press", "", "press it weighed for", _of("press")),
    Column("balance", "", "name of the balance", _of("balance")),
    Column("time", "", "when", _of("time")),
    Column("grams", "g", "weight shown", _of("grams")),
    Column("shot", "", "shot it was taken for; empty if none", _of("shot")),
    Column("by_hand", "", "a person said which shot", _of("by_hand")),
    Column("why", "", "reason of the match", _of("why")),
]
INSERTS = [
    Column("serial", "", "serial of the insert", _of("serial")),
    *(Column(name, "", name.replace("_", " "), _of(name)) for name in making.TEXTS),
    *(Column(name, unit, name.replace("_", " "), _of(name)) for name, unit in making.AMOUNTS.items()),
    Column("cured", "", "when the post-cure ended", _of("cured")),
    Column(
        "dimensions",
        "mm",
        "measured, NAME=VALUE separated by ;",
        lambda m: ";".join(f"{n}={v!r}" for n, v in m.dimensions.items()),
    ),
]
STAYS = [
    Column("press", "", "name of the press", lambda s: s.mounting.press),
    Column("half", "", "half of the mould", lambda s: s.mounting.half),
    Column("serial", "", "serial mounted; the first of a single-use series", lambda s: s.mounting.insert.serial),
    Column("single_use", "", "each shot took a new piece", lambda s: s.mounting.single_use),
    Column("first", "", "first shot made with it", _of("first")),
    Column(
        "last",
        "",
        "last shot made with it; empty while mounted",
        lambda s: None if s.end == float("inf") else int(s.end) - 1,
    ),
    Column("reason", "", "why it came out", lambda s: why_out(s.reason, s.replaced_by)),
]
EVENTS = [
    Column("press", "", "name of the press", lambda e: e.event.press),
    Column("at_shot", "", "shot from which it holds", lambda e: e.event.at_shot),
    Column("kind", "", "kind of event", lambda e: e.event.kind),
    Column("text", "", "in words", lambda e: e.event.text),
    Column("entered", "", "when it was written down", lambda e: e.event.time),
    Column("half", "", "half it is about, where a person said so", lambda e: e.event.half),
    Column("initials", "", "by whom", lambda e: e.event.initials),
    Column("who", "", "who entered it, and how that is known, in words", lambda e: who_said(e.who)),
]
ENTRIES = [
    Column("kind", "", "kind of entry, as undo takes it", _of("kind")),
    Column("number", "", "number of the entry, as undo takes it", _of("number")),
    Column("press", "", "name of the press; empty if it is about none", _of("press")),
    Column("first", "", "first shot it is about; empty if none", _of("first")),
    Column("last", "", "last shot it is about", _of("last")),
    Column("cavity", "", "cavity, from 1; empty for all", _of("cavity")),
    Column("about", "", "serial, kind of note, quantity, bath, decision or place", _of("about")),
    Column("text", "", "what was said", _of("text")),
    Column("half", "", "half it is about, where a person said so", _of("half")),
    Column("initials", "", "whose it is", _of("initials")),
    Column("entered", "", "when it was written down", _of("time")),
    Column("who", "", "who entered it, and how that is known, in words", lambda e: who_said(e.who)),
    *_signed("signature", ""),
    Column("taken_back", "", "when it was taken back; empty while in force", _of("taken_back")),
    Column("why", "", "why it was taken back", _of("why")),
    Column("who_back", "", "who took it back", lambda e: "" if e.taken_back is None else who_said(e.who_back)),
    *_signed("back", "back_"),
]
VERDICTS = [
    *(
        Column(name, "", meaning, _of(name))
        for name, meaning in (
            ("press", "name of the press"), ("shot", "shot counter, unwrapped"), ("insert", "serial judged"),
            ("settling", "at the start or after a stop: not charted"), ("verdict", "keep, watch or swap"),
            ("cause", "likeliest cause"),
            ("group", "insert, material, press or measurement"), ("weight", "weight of that cause, 0 to 1"),
            ("onset", "shot from which the level changed"), ("onset_low", "its early edge"),
            ("onset_high", "its late edge"), ("left_median", "shots until parts are bad, median"),
            ("sentence", "in words"),
        )
    ),
    Column("others", "", "other changes that stand open, GROUP:CAUSE:ONSET separated by ;",
            lambda v: ";".join(other.name for other in v.others)),
    Column("limits", "", "channels beyond an action limit, separated by ;", lambda v: ";".join(v.limits)),
]  # fmt: skip
GAPS = [
    Column("press", "", "name of the press", _of("press")),
    Column("first", "", "first of the shots still missing", _of("first")),
    Column("last", "", "last of the shots still missing", _of("last")),
    Column("reason", "", "how it was noticed", _of("reason")),
    Column("least", "shots", "how many it was at least", lambda gap: gap.n_shots - gap.n_fewer),
    Column("most", "shots", "how many it was at most", lambda gap: gap.n_shots + gap.n_more),
]
STARTS = [
    Column("time", "", "when the logger was started", _of("time")),
    Column("release", "", "release of shotlog", _of("release")),
    Column("basis", "", "digest of all that decides a verdict besides the shots", _of("basis")),
    Column("digest", "", "SHA-256 of the text of the configuration, in hex", _of("digest")),
    Column("host", "", "computer", _of("host")),
    Column("process", "", "number of the process", _of("process")),
    Column("maps", "", "how each channel of each press is read, JSON", _of("maps")),
    Column("config", "", "the configuration in force, without its passwords", _of("config")),
]
CLOCK = [
    Column("time", "", "what the clock showed after it", _of("time")),
    Column("step_s", "s", "by how much it was set, forward where positive; 0 if the computer slept", _of("step_s")),
    Column("at_least", "", "it may have been more: nobody was logging", _of("at_least")),
    Column("detail", "", "in words", _of("detail")),
]
PICTURES = [
    Column("number", "", "number of the picture", _of("entry_id")),
    Column("press", "", "name of the press", _of("press")),
    Column("shot", "", "shot counter, unwrapped", _of("shot")),
    Column("cavity", "", "cavity it shows, from 1; empty if the whole shot", _of("cavity")),
    Column("insert", "", "serial of the insert it shows, where a person said so", _of("insert")),
    Column("finding", "", "number of the finding it was taken with", _of("event_id")),
    Column("file", "", "name of the file, SHA-256 of its bytes in hex", lambda p: f"{PICTURE_FOLDER}/{p.file_name}"),
    Column("remark", "", "in words", _of("remark")),
    Column("taken", "", "when, as far as anybody said", _of("taken")),
    Column("entered", "", "when it came into the log", _of("entered")),
    Column("initials", "", "by whom", _of("initials")),
]
