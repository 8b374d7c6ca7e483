"""``shotlog plan``: before a trial, how many inserts and pieces to print, how long it takes, what a part will cost."""

import argparse
import sys
from typing import TYPE_CHECKING

from shotlog.cli.given import amount
from shotlog.cli.opening import Subparsers, add_command, print_json, read_settings
from shotlog.cli.progress import Progress
from shotlog.errors import UsageError
from shotlog.wording.numbers import cost
from shotlog.wording.plan import (
    CAVEATS,
    assumed_text,
    beside_text,
    cost_text,
    count_text,
    figure_text,
    headline,
    hours_text,
    planned_text,
    stock_text,
    unread_text,
)

if TYPE_CHECKING:
    from shotlog.parts.plan import Plan, PlanRow

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "before a trial: how many inserts to print, hours, and what a part will cost, from this log"
    parser = add_command(subparsers, "plan", text, _run)
    parser.add_argument("--design", required=True, metavar="D", help="design of the inserts to print")
    parser.add_argument("--parts", required=True, type=int, metavar="N", help="accepted parts that are wanted")
    parser.add_argument("--swap-after", type=int, metavar="L", help="swap each insert after L shots though sound")
    parser.add_argument(
        "--single-use", action="store_true", help="each shot takes a new piece (default: as this log says)"
    )
    parser.add_argument(
        "--bath-parts", type=int, metavar="N", help="parts the bath takes at a time (default: any number)"
    )
    given = parser.add_argument_group("figures given by hand, in place of those of this log and of assumed ones")
    given.add_argument("--life", type=float, metavar="SHOTS", help="half of the inserts reach it")
    given.add_argument("--shape", type=float, metavar="B", help="how alike they live: Weibull shape (with --life; 2.5)")
    given.add_argument("--scrap", metavar="SHARE", help="parts of a sound insert not accepted: 0.05 or 5%%")
    given.add_argument("--breakage", metavar="SHARE", help="pieces that break before they make a part")
    given.add_argument("--settling", type=int, metavar="SHOTS", help="shots after a change that make no accepted part")
    given.add_argument("--late", type=int, metavar="SHOTS", help="bad shots until an insert that has gone off is out")
    given.add_argument("--cycle-s", type=float, metavar="S", help="cycle time")
    given.add_argument("--changeover-min", type=float, metavar="MIN", help="change of an insert")
    given.add_argument("--dissolve-h", type=float, metavar="H", help="hours in the bath")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _share(name: str, text: str | None) -> float | None:
    """Read a share, 0.05 or 5 %; None where none is given."""
    if text is None:
        return None
    value, unit = amount(text)
    if unit not in ("", "%"):
        raise UsageError(f"{name}: given {text!r}, allowed: a share, such as 0.05 or 5%")
    return value / 100.0 if unit else value


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.review import as_json
    from shotlog.review.plan import plan_for
    from shotlog.review.plan_asked import PlanAsked

    names = ("life", "shape", "settling", "late", "cycle_s", "changeover_min", "dissolve_h", "bath_parts")
    asked = PlanAsked(
        arguments.design,
        arguments.parts,
        planned=arguments.swap_after,
        single_use=True if arguments.single_use else None,
        scrap=_share("--scrap", arguments.scrap),
        breakage=_share("--breakage", arguments.breakage),
        **{name: getattr(arguments, name) for name in names},
    )
    plan, unread = plan_for(read_settings(arguments.config), asked, Progress())
    if unread:
        print(unread_text(unread), file=sys.stderr)
    if arguments.json:
        print_json(as_json(plan))
        return 0
    _print(plan)
    return 0


def _print(plan: "Plan") -> None:
    print(headline(plan))
    if plan.beside:
        print(beside_text(plan))
    for stock in plan.chosen.stocks:
        print(f"  {stock_text(stock)}")
    print(cost_text(plan))
    if said := assumed_text(plan):
        print(said)
    if plan.rows:
        heads = f"{'inserts, 50 %':>14} {'90 %':>6} {'hours, 50 %':>12} {'90 %':>8} {'a part costs':>13}"
        print(f"\n{f'If {plan.swapped} is swapped':<36}{heads}")
        for row in plan.rows:
            print(_row(plan, row))
    print("\nRests on:")
    for one in plan.figures:
        print(f"  {figure_text(one)}")
    for caveat in CAVEATS:
        print(caveat)


def _row(plan: "Plan", row: "PlanRow") -> str:
    shown = [count_text(stock.inserts[plan.swapped]) for stock in row.stocks]
    hours = [hours_text(stock.press_h) for stock in row.stocks]
    mark = "  <- cheapest" if row.cheapest else ""
    enough = f"{shown[0]:>14} {shown[1]:>6} {hours[0]:>12} {hours[1]:>8}"
    return f"  {planned_text(row):<34}{enough} {cost(row.cost):>13}{mark}"
