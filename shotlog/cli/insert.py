"""``shotlog insert``: enter how inserts were made, or show what is known of one."""

import argparse
from typing import Any

from shotlog.cli.given import moment, named_amount
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest, opened, print_json
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.wording.parts import result_text, why_out

__all__ = ["add"]

_TEXTS = {
    "design": "design with its revision",
    "print-batch": "print batch",
    "resin": "print material: what it was printed from",
    "plate": "build plate or job",
    "plate-position": "place on the plate",
    "orientation": "how it stood on the plate",
    "wash": "how it was washed",
    "post-cure": "how it was post-cured, e.g. '60 min 60 degC'",
    "storage": "how it is kept, e.g. 'bag, desiccant'",
    "remark": "anything else",
}
_AMOUNTS = {
    "layer-um": ("um", "layer thickness"),
    "mass-g": ("g", "mass"),
    "cost": ("", "what it cost, free of currency"),
}


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "insert", "enter how inserts were made; without options, show one", _run)
    parser.add_argument("serials", metavar="SERIAL", nargs="+", help="serials; S-001..S-020 is a run")
    for name, words in _TEXTS.items():
        parser.add_argument(f"--{name}", metavar="TEXT", help=words)
    for name, (unit, words) in _AMOUNTS.items():
        parser.add_argument(f"--{name}", type=float, metavar="N", help=f"{words}{f', in {unit}' if unit else ''}")
    parser.add_argument("--cured", metavar="TIME", help="when the post-cure ended (local time, or with an offset)")
    parser.add_argument(
        "--dimension", action="append", default=[], metavar="NAME=VALUE", help="measured dimension, mm unless said"
    )
    parser.add_argument("--instrument", default="", metavar="I", help="what the dimensions were measured with")
    add_initials(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import making
    from shotlog.store.inserts.queue import serials_named

    names = [name.replace("-", "_") for name in (*_TEXTS, *_AMOUNTS)]
    said = {name: getattr(arguments, name) for name in names if getattr(arguments, name) is not None}
    sizes = {name: (value, unit) for name, value, unit in map(named_amount, arguments.dimension)}
    serials = serials_named(arguments.serials)
    cured = moment(arguments.cured)
    if said or sizes or cured:
        with entering(arguments) as (settings, log):
            making.describe(
                log,
                serials,
                SystemClock().now(),
                said=said,
                cured=cured,
                dimensions=sizes,
                instrument=arguments.instrument,
                initials=arguments.initials,
            )
            for press in settings.presses:
                judge_rest(log, settings, press.name)
    with opened(arguments.config) as (_, log):
        cards = [_card(log, serial) for serial in serials]
    if arguments.json:
        print_json(cards)
    else:
        for card in cards:
            _print(card)
    return 0


def _card(log: Any, serial: str) -> dict[str, Any]:
    from shotlog.store.inserts.making import AMOUNTS, TEXTS, makings
    from shotlog.store.inserts.queue import taken_pieces
    from shotlog.store.parts.ends import insert_ends

    known = makings(log).get(serial)
    life = next((end for end in insert_ends(log) if end.serial == serial), None)
    taken = [taken for press in log.presses() for taken in taken_pieces(log, press) if taken.piece.serial == serial]
    if known is None and not taken:
        raise UsageError(f"insert {serial}: given a serial that nobody entered, allowed: one on record")
    now = SystemClock().now()
    card: dict[str, Any] = {"serial": serial}
    if known is not None:
        card |= {name: getattr(known, name) for name in (*TEXTS, *AMOUNTS) if getattr(known, name) not in ("", None)}
        card |= {"dimensions_mm": dict(known.dimensions)} if known.dimensions else {}
        if known.cured is not None:
            card |= {"cured": iso_utc(known.cured), "age_days": round(known.age_days(now) or 0.0, 1)}
    if life is not None:
        card["stays"] = [_stay(stay) for stay in life.stays]
        card |= {"shots": life.shots, "shots_made": life.shots_made, "ended": life.ended}
        card |= _why(life.stays[-1]) if life.bad is None else {"bad_part": result_text(life.bad)}
    if taken:
        card["used_by"] = [f"{one.press}/{one.shot}" for one in taken]
    return card


def _stay(stay: Any) -> dict[str, Any]:
    mounted = stay.end == float("inf")
    where = {"press": stay.mounting.press, "half": stay.mounting.half, "first": stay.first}
    return where | {"last": None if mounted else int(stay.end) - 1} | _why(stay)


def _why(stay: Any) -> dict[str, str]:
    """Return why an insert came out, as JSON has it: in a person's words, and what replaced it where nobody said."""
    return {"reason": stay.reason, "replaced_by": stay.replaced_by}


def _print(card: dict[str, Any]) -> None:
    print(f"insert {card['serial']}")
    for name, value in card.items():
        if name == "stays":
            for stay in value:
                last = (
                    "now"
                    if stay["last"] is None
                    else f"shot {stay['last']} ({why_out(stay['reason'], stay['replaced_by'])})"
                )
                print(f"  {stay['press']} {stay['half']}: shot {stay['first']} to {last}")
        elif name == "dimensions_mm":
            print("  dimensions: " + ", ".join(f"{what} {size:g} mm" for what, size in value.items()))
        elif name == "used_by":
            print(f"  used by shot {', '.join(value)}")
        elif name == "bad_part":
            print(f"  reason: {value}")
        elif name == "reason" and (why := why_out(value, card.get("replaced_by", ""))):
            print(f"  reason: {why}")
        elif name not in ("serial", "replaced_by") and value != "":
            print(f"  {name.replace('_', ' ')}: {value}")
