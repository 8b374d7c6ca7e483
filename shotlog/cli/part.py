"""``shotlog part``: the whole chain of one part, the same as on its page."""

import argparse
from typing import Any

from shotlog.channels import CHANNELS
from shotlog.cli.opening import Subparsers, add_command, opened, print_json
from shotlog.cli.parts import chosen_parts
from shotlog.cli.set_points import set_document
from shotlog.cli.signing import who_document
from shotlog.clock import SystemClock, iso_utc
from shotlog.wording.parts import result_text, why_stands
from shotlog.wording.verdicts import told
from shotlog.wording.where import where_text

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "part", "show all that is known of one part, from print batch to decision", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("part", metavar="SHOT[/CAVITY]")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.review.chain import chain_of

    with opened(arguments.config) as (settings, log):
        settings.press(arguments.press)
        chosen = chosen_parts(log, settings, arguments.press, [arguments.part])
        chains = [chain_of(log, settings.designs, part) for part in chosen]
    if arguments.json:
        print_json([_document(chain) for chain in chains])
    else:
        for chain in chains:
            _print(chain)
    return 0


def _print(chain: Any) -> None:
    from shotlog.answers.part import STATES, blocks_of
    from shotlog.answers.table import printed

    print(f"part {chain.part}: {STATES[chain.standing.state].upper()}")
    for block in blocks_of(chain, SystemClock().now()):
        print(printed(block))


def _document(chain: Any) -> dict[str, Any]:
    made, values = chain.standing.made, {} if chain.shot is None else dict(chain.shot.values)
    weighed = chain.weighed

    def by(table: str, number: int) -> dict[str, Any]:
        return who_document(chain.who(table, number))

    return {
        "part": str(chain.part),
        "moulded": None if made.time is None else iso_utc(made.time),
        "halves": {one.half: _half(one) for one in chain.halves},
        "lot": made.lot,
        "setup": made.setup,
        "set_points": {one.name: set_document(one) for one in chain.set_points},
        "values": values,
        "units": {name: CHANNELS[name].unit for name in values},
        "neighbours": list(chain.neighbours),
        "beside": {one.channel: _beside(one) for one in chain.beside},
        "weighing": None if weighed is None else {"number": weighed.weighing_id, "match": weighed.why},
        "notes": [
            {"number": one.entry_id, "at": iso_utc(one.event.time), "kind": one.event.kind, "text": one.event.text,
             **by("events", one.entry_id)}
            for one in chain.notes
        ],
        "signals": [signal.name for signal in chain.signals],
        "verdict": _verdict(chain.said),
        "verdict_on_the_day": _verdict(chain.first_said or chain.said),
        "verdict_in_archive": chain.archive or None,
        "where": "" if chain.where is None else where_text(chain.where),
        "places": [{**_place(one), **by("places", one.entry_id)} for one in chain.places],
        "bath": [{**_soak(one), **by("soaks", one.entry_id), **_out_by(chain, one)} for one in chain.soaks],
        "inspections": [
            {"number": one.entry_id, "at": iso_utc(one.inspected), "result": result_text(one), "bad": one.bad,
             "initials": one.initials, **by("inspections", one.entry_id)}
            for one in chain.inspections
        ],
        "decisions": [
            {"number": one.entry_id, "at": iso_utc(one.time), "decision": one.decision, "reason": one.reason,
             "initials": one.initials, **by("dispositions", one.entry_id)}
            for one in chain.decisions
        ],
        "pictures": [
            {"number": one.entry_id, "taken": iso_utc(one.taken), "remark": one.remark, "digest": one.digest,
             **by("pictures", one.entry_id)}
            for one in chain.pictures
        ],
        "state": chain.standing.state,
        "why": why_stands(chain.standing),
    }  # fmt: skip


def _verdict(said: Any) -> str | None:
    return None if said is None else f"{said.verdict}: {told(said)}"


def _half(one: Any) -> dict[str, Any]:
    return {
        "serial": one.held.serial,
        "design": one.held.design,
        "print_batch": one.held.print_batch,
        "plate_position": "" if one.made is None else one.made.plate_position,
        "single_use": one.held.single_use,
        "shot_since_mounted": one.on_insert,
    }


def _beside(one: Any) -> dict[str, Any]:
    about = {"median": one.median, "low": one.low, "high": one.high, "spread": one.spread}
    return {"value": one.value, "n": one.n, **about, "off_in_spreads": one.off}


def _place(one: Any) -> dict[str, Any]:
    due = None if one.due is None else iso_utc(one.due)
    return {
        "number": one.entry_id, "place": one.place, "put": iso_utc(one.put), "due": due, "initials": one.initials,
    }  # fmt: skip


def _soak(soak: Any) -> dict[str, Any]:
    out = None if soak.came_out is None else iso_utc(soak.came_out)
    times = {"went_in": iso_utc(soak.went_in), "due": iso_utc(soak.due), "came_out": out}
    numbers = {"number": soak.entry_id, "out_number": soak.end_id}
    return {**numbers, "bath": soak.bath, **times, "cleared": soak.cleared, "remark": soak.remark}


def _out_by(chain: Any, soak: Any) -> dict[str, Any]:
    """Return who took a part out of its bath, in the same words as who put it in."""
    said = {} if soak.end_id is None else who_document(chain.who("soak_ends", soak.end_id))
    return {f"out_{name}": said.get(name) for name in ("who", "signature")}
