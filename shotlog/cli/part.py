"""``shotlog part``: the whole chain of one part on one page."""

import argparse
from typing import Any

from shotlog.channels import CHANNELS
from shotlog.cli.opening import Subparsers, add_command, opened, print_json
from shotlog.cli.parts import chosen_parts
from shotlog.clock import iso_utc
from shotlog.wording.numbers import plain
from shotlog.wording.parts import result_text, why_stands
from shotlog.wording.verdicts import told

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "part", "show all that is known of one part, from print batch to decision", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("part", metavar="SHOT[/CAVITY]")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    with opened(arguments.config) as (settings, log):
        settings.press(arguments.press)
        chosen = chosen_parts(log, settings, arguments.press, [arguments.part])
        chains = [_chain(log, settings.designs, part) for part in chosen]
    if arguments.json:
        print_json(chains)
        return 0
    for chain in chains:
        _print(chain)
    return 0


def _chain(log: Any, designs: Any, part: Any) -> dict[str, Any]:
    from shotlog.errors import UsageError
    from shotlog.store.asked.state import signals, verdicts
    from shotlog.store.inserts.making import makings
    from shotlog.store.parts.dispositions import decisions, part_standings
    from shotlog.store.parts.inspections import inspections
    from shotlog.store.parts.soaks import soaks
    from shotlog.store.parts.weights import weighings

    shot, press = part.shot, part.press
    standing = next((one for one in part_standings(log, press, designs, shot, shot) if one.part == part), None)
    if standing is None:
        raise UsageError(f"part {part}: the press has counted no such shot, or it was dry")
    known, timeline = makings(log), log.timeline(press)
    stays = timeline.stays_at(shot)
    said = next(iter(verdicts(log, press, shot, shot)), None)
    logged = next(iter(log.logged(press, shot - 1, shot)), None)
    weighed = next((one for one in weighings(log, press) if one.shot == shot), None)
    return {
        "part": str(part),
        "moulded": None if standing.made.time is None else iso_utc(standing.made.time),
        "halves": {
            half: _half(held, known, timeline.n_taken(stays[half], shot) + 1)
            for half, held in standing.made.halves.items()
        },
        "lot": standing.made.lot,
        "setup": standing.made.setup,
        "values": {} if logged is None else dict(logged.values),
        "units": {} if logged is None else {name: CHANNELS[name].unit for name in logged.values},
        "weighing": None if weighed is None else {"number": weighed.weighing_id, "match": weighed.why},
        "signals": [signal.name for signal in signals(log, press, shot, shot)],
        "verdict": None if said is None else f"{said.verdict}: {told(said)}",
        "bath": [_soak(soak) for soak in soaks(log, press) if soak.part == part],
        "inspections": [
            {"number": one.entry_id, "at": iso_utc(one.inspected), "result": result_text(one), "bad": one.bad}
            for one in inspections(log, press, shot, shot)
            if one.part == part
        ],
        "decisions": [
            {"number": one.entry_id, "at": iso_utc(one.time), "decision": one.decision, "reason": one.reason,
             "initials": one.initials}
            for one in decisions(log, press)
            if one.is_about(part)
        ],
        "state": standing.state,
        "why": why_stands(standing),
    }  # fmt: skip


def _half(held: Any, known: Any, number: int) -> dict[str, Any]:
    made = known.get(held.serial)
    place = made.plate_position if made is not None else ""
    return {
        "serial": held.serial,
        "design": held.design,
        "print_batch": held.print_batch,
        "plate_position": place,
        "single_use": held.single_use,
        "shot_since_mounted": None if held.single_use else number,
    }


def _soak(soak: Any) -> dict[str, Any]:
    out = None if soak.came_out is None else iso_utc(soak.came_out)
    times = {"went_in": iso_utc(soak.went_in), "due": iso_utc(soak.due), "came_out": out}
    numbers = {"number": soak.entry_id, "out_number": soak.end_id}
    return {**numbers, "bath": soak.bath, **times, "cleared": soak.cleared, "remark": soak.remark}


def _print(chain: dict[str, Any]) -> None:
    print(f"part {chain['part']}, moulded {chain['moulded'] or 'while nobody was logging'}: {chain['state'].upper()}")
    if chain["why"]:
        print(f"  {chain['why']}")
    for half, held in chain["halves"].items():
        words = [held["serial"], held["design"], *([f"batch {held['print_batch']}"] if held["print_batch"] else [])]
        words += [f"plate position {held['plate_position']}"] if held["plate_position"] else []
        words += ["single-use" if held["single_use"] else f"shot {held['shot_since_mounted']} since it was mounted"]
        print(f"  {half}: {', '.join(word for word in words if word)}")
    print(f"  lot: {chain['lot'] or 'not noted'}; set-up: {chain['setup'] or 'not noted'}")
    values = (
        f"{CHANNELS[name].label.lower()} {plain(name, value)} {CHANNELS[name].unit}"
        for name, value in chain["values"].items()
    )
    print(f"  values: {', '.join(values) or 'none, the shot was not seen'}")
    if chain["weighing"]:
        print(f"  weighing {chain['weighing']['number']}: {chain['weighing']['match']}")
    if chain["signals"]:
        print(f"  signals: {', '.join(chain['signals'])}")
    print(f"  verdict: {chain['verdict'] or 'none'}")
    for soak in chain["bath"]:
        out = f"out {soak['came_out']} (bath-out {soak['out_number']})" if soak["came_out"] else f"due {soak['due']}"
        print(f"  bath {soak['bath']}: in {soak['went_in']} (bath-in {soak['number']}), {out}")
    for one in chain["inspections"]:
        print(f"  inspection {one['number']} at {one['at']}: {one['result']}")
    for one in chain["decisions"]:
        print(
            f"  decision {one['number']} at {one['at']}: {one['decision']} {one['reason']} {one['initials']}".rstrip()
        )
