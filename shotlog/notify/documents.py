"""What came into the log as one JSON document each: over MQTT, and as a line of the live feed. Pure.

`docs/messages.md` has every key with its unit, `docs/messages.schema.json` the same for a program. Times are ISO 8601
in UTC. `id` is the same for the same row of the same log, however often it is sent, and can be gone on from.
"""

from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any

from shotlog.answers.verdict import found_documents, verdict_document
from shotlog.channels import CHANNELS
from shotlog.clock import iso_utc
from shotlog.parts.found import FoundWrong, verdict_beside
from shotlog.records import Gap, Link, SetPointChange
from shotlog.store.asked.came import LoggedNow, Record, VerdictMade
from shotlog.store.asked.log_place import Place
from shotlog.store.asked.told import ToldRow

__all__ = ["Document", "document", "judgement_document"]

Document = dict[str, Any]


def document(place: Place, record: Record, found: Sequence[FoundWrong] = ()) -> Document:
    """Return the document of what came at a place; `found`: what people found on its press by now, for a verdict."""
    match record:
        case LoggedNow():
            return {**_head("shot", place, record.press, record.time), **_shot(record)}
        case VerdictMade():
            return judgement_document(place, record, found)
        case Gap():
            said = {name: getattr(record, name) for name in ("first", "last", "reason", "least", "most")}
            return {**_head("gap", place, record.press, record.time), **said}
        case Link():
            said = {"state": record.state, "detail": record.detail}
            return {**_head("link", place, record.press, record.time), **said}
        case SetPointChange():
            said = {"shot": record.shot, "name": record.name, "value": record.new, "unit": record.unit}
            was = {"old": record.old, "by": record.by}
            return {**_head("set_point", place, record.press, record.time), **said, **was}
        case ToldRow():
            said = {"about": record.about, "phase": record.phase, "spell": record.spell, "text": record.said}
            return {**_head("message", place, record.press, record.time), **said}


def judgement_document(place: Place, one: VerdictMade, found: Sequence[FoundWrong]) -> Document:
    """Return the document of a verdict; `stands`: what holds beside what people found, which no later look takes back.

    A part or insert that somebody found wrong is not overruled by values in which nothing is seen.
    """
    verdict = one.verdict
    facts = {} if verdict.facts is None else asdict(verdict.facts)
    return {
        **_head("verdict", place, verdict.press, one.time),
        **verdict_document(verdict),
        "weight": verdict.weight,
        "onset_low": verdict.onset_low,
        "onset_high": verdict.onset_high,
        "left": {"median": verdict.left_median, "low": verdict.left_low, "high": verdict.left_high},
        "facts": {name: value for name, value in facts.items() if value is not None and value != ()},
        "judging": one.judging,
        "again": one.again,
        "newest": one.newest,
        "stands": verdict_beside(verdict.verdict, found),
        "found": found_documents(found),
    }


def _head(kind: str, place: Place, press: str | None, time: datetime | None) -> Document:
    return {"type": kind, "id": str(place), "press": press, "time": None if time is None else iso_utc(time)}


def _shot(shot: LoggedNow) -> Document:
    return {
        "shot": shot.shot,
        "counter": shot.counter,
        "values": dict(shot.values),
        "units": {name: CHANNELS[name].unit for name in shot.values},
        "inserts": {
            half: {
                "serial": one.serial, "design": one.design,
                "print_batch": one.print_batch, "single_use": one.single_use,
            }
            for half, one in shot.halves.items()
        },
        "trial": shot.trial,
    }  # fmt: skip
