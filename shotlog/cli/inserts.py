"""``shotlog inserts``: how long inserts lived, how they ended, what that says of the next.

What an accepted part cost.
"""

import argparse
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING, Any

from shotlog.cli.every_edge import every_edge
from shotlog.cli.opening import Subparsers, add_command, opened, print_json
from shotlog.cli.progress import Progress
from shotlog.cli.signing import who_document
from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.wording.numbers import some
from shotlog.wording.parts import factor_named, life_end, life_text
from shotlog.wording.who import NOT_SAID, by_whom, who_said

if TYPE_CHECKING:
    from shotlog.records import MadeEntry
    from shotlog.review.groups import Group
    from shotlog.review.ledger import LedgerEntry
    from shotlog.store.log.log import Log

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers,
        "inserts",
        "lives of inserts, why they ended, life distribution, cost per accepted part",
        every_edge(_run),
    )
    parser.add_argument("--design", metavar="D", help="only inserts of this design")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.review import as_json
    from shotlog.review.ledger import histories_of, ledger_of, states_of
    from shotlog.store.inserts.lives_told import lives_counted
    from shotlog.wording.verdicts import lives_counted as counted_said

    tell = Progress()
    with opened(arguments.config) as (settings, log):
        timelines = {press: log.timeline(press) for press in log.presses()}
        histories = histories_of(log, tell, timelines)
        states = states_of(log, settings, tell, timelines)
        ledger = ledger_of(log, settings, histories, states, arguments.design, timelines=timelines)
        known = sorted({row.mounting.insert.design for line in timelines.values() for row in line.stays} - {""})
        counted = lives_counted(log)
        entered = _swapped(log, {entry.life.serial for entry in ledger.entries})
    if arguments.design and not ledger.entries and arguments.design not in {*known, *settings.designs}:
        raise UsageError(f"--design: given {arguments.design!r}, allowed: {', '.join(known) or 'none on record yet'}")
    if arguments.json:
        by_serial = {serial: [_document(one) for one in made] for serial, made in entered.items()}
        print_json({**as_json(ledger), "entered": by_serial, "counted": [_counted(*one) for one in counted.items()]})
        return 0
    if not ledger.entries:
        print("no reused insert has made a shot yet")
        return 0
    print(f"{'insert':<12} {'design':<20} {'shots':>6} {'sound':>6} {'end':<23} {'per part':>16}  how that is known")
    for entry in ledger.entries:
        print(_line(entry) + _out_by(entered[entry.life.serial]))
    for group in ledger.groups:
        print(_group(group))
    for one in ledger.comparisons:
        print(f"compared by {factor_named(one.factor)} ({', '.join(one.groups)}): log-rank p = {one.p:.3f}")
    for (press, design), (here, elsewhere) in counted.items():
        if arguments.design in (None, design):
            print(f"on {press}, how long {design} will do rests on the {counted_said(here, elsewhere)}")
    return 0


def _counted(where: tuple[str, str], lives: tuple[int, int]) -> dict[str, Any]:
    return dict(zip(("press", "design", "here", "elsewhere"), (*where, *lives), strict=True))


def _swapped(log: "Log", serials: Collection[str]) -> dict[str, list["MadeEntry"]]:
    """Return what people entered of each insert's mountings and removals, taken back or not, by serial."""
    from shotlog.store.asked.entries_made import entries_made

    found: dict[str, list[MadeEntry]] = {serial: [] for serial in sorted(serials)}
    for one in entries_made(log, kinds=("mounting", "removal")):
        if one.about in found:
            found[one.about].append(one)
    return found


def _document(one: "MadeEntry") -> dict[str, Any]:
    about = {"kind": one.kind, "number": one.number, "press": one.press, "shot": one.first}
    in_force = {"entered": iso_utc(one.time), "in_force": one.taken_back is None}
    return {**about, **in_force, **who_document(one.who)}


def _line(entry: "LedgerEntry") -> str:
    life, bill = entry.life, entry.bill
    each = "no costs given"
    if bill is not None and bill.per_accepted is not None:
        worst = "none" if bill.per_accepted_if_held_bad is None else f"{bill.per_accepted_if_held_bad:.2f}"
        each = f"{bill.per_accepted:.2f} to {worst}"
    end = life_end(life)
    place = f"{life.serial:<12} {life.design or '-':<20}"
    return f"{place} {life.n_shots:>6} {life.sound:>6} {end:<23} {each:>16}  {life_text(life)}"


def _out_by(entered: Sequence["MadeEntry"]) -> str:
    """Return who entered that an insert was taken out last, as far as anything is known of it."""
    out = [one.who for one in entered if one.kind == "removal" and one.taken_back is None]
    if not out or who_said(out[-1]) == NOT_SAID:
        return ""
    return f"; taken out, entered{by_whom(out[-1]).removeprefix(',')}"


def _group(group: "Group") -> str:
    lives = some(group.curve.n, "life", "lives")
    head = f"\n{factor_named(group.factor)} {group.name}: {lives}, {group.n_failed} gone off"
    fitted = group.weibull
    if fitted is None:
        return f"{head}; {group.why_not}"
    lines = [head]
    for share, q in (("10 %", fitted.b10), ("half", fitted.b50)):
        lines.append(f"  {share} have gone off by shot {q.value:.0f} (95 %: {q.low:.0f} to {q.high:.0f})")
    lines.append(f"  Weibull shape {fitted.shape.value:.2f} ({fitted.shape.low:.2f} to {fitted.shape.high:.2f})")
    if group.plan is not None and group.blind_plan is not None:
        plan = (
            "no planned swap beats waiting for the call"
            if group.plan.shots is None
            else f"planned swap after {group.plan.shots} shots"
        )
        lines.append(f"  {plan}; after {group.blind_plan.shots} where nobody watches")
    return "\n".join(lines)
