"""``shotlog parts``: how parts stand, and a person's decision on them."""

import argparse
import sys
from collections.abc import Callable, Sequence
from typing import Any

from shotlog.answers.entered_there import not_in_yet, not_taken_in
from shotlog.cli.every_edge import every_edge
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, opened, print_json
from shotlog.cli.waiting import waiting_document
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.wording.entries import display_said
from shotlog.wording.held import held_said
from shotlog.wording.numbers import some
from shotlog.wording.parts import why_stands
from shotlog.wording.waiting import numbered
from shotlog.wording.where import where_text

__all__ = ["add", "chosen_parts"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "parts", "show which parts are held, and hold, release or scrap parts", _run)
    parser.add_argument("press", metavar="PRESS", nargs="?", help="default: what is held of each press")
    parser.add_argument("parts", metavar="PARTS", nargs="*", help="SHOT, SHOT-SHOT, SHOT/CAVITY (default: all)")
    decision = parser.add_mutually_exclusive_group()
    for name, word in (("hold", "held"), ("release", "released"), ("scrap", "scrapped")):
        decision.add_argument(
            f"--{name}", dest="decision", action="store_const", const=word, help=f"the parts are {word}"
        )
    parser.add_argument("--reason", default="", metavar="TEXT", help="needed to release or scrap")
    add_initials(parser, "of who decides; needed to release or scrap")
    parser.add_argument("--all", action="store_true", help="show the parts nothing speaks against as well")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def chosen_parts(log: Any, settings: Any, press: str, words: Sequence[str]) -> list[Any]:
    """Return the parts that a person names on the command line, one for each cavity where none is named.

    Numbers that were taken for those of the press's display are said on stderr.
    """
    from shotlog.store.parts.parts import parts_meant

    def say(typed: Any) -> None:
        print(f"{press}: {display_said(typed.display, typed.shot)}", file=sys.stderr)

    return [part for word in words for part in parts_meant(log, press, settings.designs, word, say)]


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.parts import dispositions
    from shotlog.store.parts.places import where_is

    press = arguments.press
    if press is None:
        return _held_of_each(arguments)
    if arguments.decision and not arguments.parts:
        raise UsageError("parts: given none, allowed: SHOT, SHOT-SHOT or SHOT/CAVITY")
    with entering(arguments) if arguments.decision else opened(arguments.config) as (settings, log):
        settings.press(press)
        chosen = chosen_parts(log, settings, press, arguments.parts)
        if arguments.decision:
            made = dispositions.enter_decision(
                log,
                chosen,
                arguments.decision,
                SystemClock().now(),
                reason=arguments.reason,
                initials=arguments.initials,
            )
            numbers = numbered("decision", [one.entry_id for one in made], log.edge)
            print(f"{press}: {arguments.decision} ({numbers})", file=sys.stderr)
        shots = [part.shot for part in chosen]
        about = (min(shots, default=0), max(shots, default=-1)) if arguments.parts else ()
        standings = dispositions.part_standings(log, press, settings.designs, *about)
        where = where_is(log, press)
        now = SystemClock().now()
        about_these = set(shots) if arguments.parts else None
        on_the_way = not_taken_in(log, now, press, about_these)
        waiting = [waiting_document(one) for one in not_in_yet(log, now, press, about_these)]
    asked = set(chosen)
    wanted = [one for one in standings if one.part in asked] if arguments.parts else standings
    if arguments.json:
        listed = [_document(one, where.of(one.part)) for one in wanted]
        print_json({"press": press, "parts": listed, "entered_at_centre": waiting})
        return 0
    counts = {state: sum(one.state == state for one in wanted) for state in ("made", "held", "released", "scrapped")}
    print(f"{press}: {some(len(wanted), 'part')}; " + ", ".join(f"{n} {_SHOWN[state]}" for state, n in counts.items()))
    _print([one for one in wanted if arguments.all or arguments.parts or one.state != "made" or one.lifted], where)
    for line in on_the_way:
        print(f"  {line}")
    if arguments.parts and wanted:
        _print_made_with(wanted)
    return 0


def _held_of_each(arguments: argparse.Namespace) -> int:
    """Say what is held of each press, of a whole centre edge by edge."""
    if arguments.decision:
        raise UsageError("PRESS: given nothing, allowed: the press whose parts are decided on")
    return every_edge(_held_now)(arguments)


def _held_now(arguments: argparse.Namespace) -> int:
    from shotlog.review.still_held import held_on

    with opened(arguments.config) as (settings, log):
        held = [(press.name, held_on(log, press.name, settings.designs)) for press in settings.presses]
        now = SystemClock().now()
        on_the_way = not_taken_in(log, now)
        waiting = {press: not_in_yet(log, now, press) if on_the_way else [] for press, _ in held}
    if arguments.json:
        print_json(
            [
                {
                    "press": press,
                    "held": 0 if one is None else one.n_parts,
                    "entered_at_centre": [waiting_document(each) for each in waiting[press]],
                }
                for press, one in held
            ]
        )
        return 0
    for press, one in held:
        print(f"{press}: {'nothing held' if one is None else held_said(one)}")
    for line in on_the_way:
        print(line)
    return 0


_SHOWN = {"made": "with nothing against them", "held": "HELD", "released": "released", "scrapped": "scrapped"}


def _document(standing: Any, where: Any) -> dict[str, Any]:
    made = standing.made
    return {
        "part": str(made.part),
        "shot": made.part.shot,
        "cavity": made.part.cavity,
        "time": None if made.time is None else iso_utc(made.time),
        "halves": {half: held.serial for half, held in made.halves.items()},
        "lot": made.lot,
        "setup": made.setup,
        "state": standing.state,
        "why": why_stands(standing),
        "held_again": standing.again,
        "where": _where(where),
        "due": None if where is None or where.due is None else iso_utc(where.due),
        "overdue_h": 0.0 if where is None else round(where.overdue_h(SystemClock().now()), 1),
    }


def _where(where: Any) -> str:
    """Say where a part is and what is due with it; empty where nobody has said."""
    return "" if where is None else where_text(where, SystemClock().now())


def _print(standings: list[Any], where: Any) -> None:
    """Print runs of parts that stand alike, in the same place, on one line."""
    for run in _runs(standings, lambda one: (one.ground.alike, one.lifted, where.of(one.part))):
        again = ", held again: newer than its release" if run[0].again else ""
        said = why_stands(run[0])
        why = f" ({said})" if said else ""
        place = _where(where.of(run[0].part))
        n = some(len(run), "part")
        print(f"  {_shots(run)}, {n}: {_SHOWN[run[0].state]}{again}{why}{f'; {place}' if place else ''}")


def _print_made_with(standings: list[Any]) -> None:
    """Print what the parts named were made with: lot, set-up, inserts, print batches, each with its shots."""
    halves = dict.fromkeys(half for one in standings for half in one.made.halves)
    told: list[tuple[str, Callable[[Any], str]]] = [("lot", lambda one: one.made.lot or "not noted")]
    told += [("set-up", lambda one: one.made.setup or "not noted")]
    told += [(half, _insert_in(half)) for half in halves]
    print("made with:")
    for name, of in told:
        print(f"  {name}: " + "; ".join(f"{of(run[0])} ({_shots(run)})" for run in _runs(standings, of)))


def _insert_in(half: str) -> Callable[[Any], str]:
    def said(one: Any) -> str:
        held = one.made.halves.get(half)
        if held is None:
            return "none on record"
        batch = f"batch {held.print_batch}" if held.print_batch else ""
        return (batch or f"pieces of {held.design or 'no design on record'}") if held.single_use else held.serial

    return said


def _runs(standings: list[Any], of: Callable[[Any], Any]) -> list[list[Any]]:
    """Return unbroken runs of parts alike in what `of` says."""
    runs: list[list[Any]] = []
    for one in standings:
        if runs and of(runs[-1][-1]) == of(one) and one.part.shot - runs[-1][-1].part.shot <= 1:
            runs[-1].append(one)
        else:
            runs.append([one])
    return runs


def _shots(run: list[Any]) -> str:
    first, last = run[0].part.shot, run[-1].part.shot
    return f"shot {first}" if first == last else f"shots {first} to {last}"
