"""``shotlog ship``: bring the log of this edge to a centre, a PostgreSQL database that holds the logs of many edges."""

import argparse
import logging
import sys
from typing import TYPE_CHECKING

from shotlog.answers.entered_there import entered_line
from shotlog.cli.opening import Subparsers, add_command, judge_rest, read_settings
from shotlog.cli.progress import Progress
from shotlog.errors import CentreAway, ShotlogError, StoreError, UsageError
from shotlog.settings import Settings
from shotlog.settings.shipping import EDGE_NAME, is_edge_name
from shotlog.settings.store_address import SERVER, is_server
from shotlog.withheld import without_secrets
from shotlog.wording.numbers import some
from shotlog.wording.waiting import newer_said

if TYPE_CHECKING:
    from shotlog.clock import Clock
    from shotlog.shipping.shipper import Shipper
    from shotlog.store.centre.lives import LivesElsewhere
    from shotlog.store.centre.shipping import Shipping

__all__ = ["add", "edge_name"]

logger = logging.getLogger(__name__)

_NO_SITE = "shop"
"""How a site is called that nobody named: many would be."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "bring the log to a PostgreSQL server that holds the logs of many, and go on as it grows"
    parser = add_command(subparsers, "ship", text, _run)
    parser.add_argument("--to", metavar="URL", help="postgresql+psycopg://USER@HOST/DB (default: to of [ship])")
    parser.add_argument(
        "--as", dest="name", metavar="NAME", help="what it is called there (default: as of [ship], else the site)"
    )
    parser.add_argument("--once", action="store_true", help="end when all that there is now is there")
    parser.add_argument(
        "--anew", action="store_true", help="after the log was put back from a backup: keep there what it has lost"
    )
    parser.add_argument("--beside", action="store_true", help=argparse.SUPPRESS)  # a logger, with which it ends
    parser.description = (
        f"{text}. The log stays what counts, and is only copied: a server that is away costs nothing. A password is "
        "best left to ~/.pgpass or PGPASSFILE."
    )
    parser.set_defaults(stays=True)


def edge_name(settings: Settings, given: str | None = None) -> str:
    """Return what the log of a configuration is called at a centre.

    Raises
    ------
    UsageError
        The name given, or the one of the file, is none.
    """
    site = "" if settings.messages is None else settings.messages.site
    name = given or (settings.ship.name if settings.ship else "") or (site if site != _NO_SITE else "")
    name = name or settings.file.stem
    if not is_edge_name(name):
        raise UsageError(f"--as: given {name!r}, allowed: {EDGE_NAME}")
    return name


def _run(arguments: argparse.Namespace) -> int:
    settings = read_settings(arguments.config)
    settings.need_presses()
    to = arguments.to or ("" if settings.ship is None else settings.ship.to)
    if not to:
        raise UsageError(f"--to: given nothing, allowed: {SERVER}; or [ship] with to = ... in {settings.file}")
    if not is_server(to):
        raise UsageError(f"--to: given {without_secrets(to)!r}, allowed: {SERVER}")
    name = edge_name(settings, arguments.name)

    from shotlog import __version__
    from shotlog.clock import SystemClock
    from shotlog.notify.own_log import OwnLog
    from shotlog.shipping.shipper import Shipper
    from shotlog.store.asked.heartbeat import this_host

    log = OwnLog(settings.store, read_only=False)
    also = [lambda shipping: _take_in(shipping, settings)]
    if settings.sisters_elsewhere:
        from shotlog.store.centre.lives import LivesElsewhere

        lives, clock = LivesElsewhere(), SystemClock()
        also.append(lambda shipping: _tell_of_lives(lives, shipping, clock))
    shipper = Shipper(log, to, name, this_host(), __version__, SystemClock(), Progress(), also)
    try:
        if arguments.beside:
            _beside(shipper)
        elif arguments.once:
            return _once(shipper, name, to, arguments.anew)
        else:
            _follow(shipper, name, to, arguments.anew)
    finally:
        shipper.finish()
        log.close()
    return 0


def _take_in(shipping: "Shipping", settings: Settings) -> int:
    """Enter what people entered at the centre for this edge, judge what that asks for, and bring it back there.

    Returns how many transactions went there so.
    """
    from shotlog.clock import SystemClock
    from shotlog.store.centre.taking import take_entered

    taken = take_entered(shipping.centre, shipping.edge.number, shipping.log, settings.designs, newer_said)
    for one in taken:
        print(
            f"from the centre: {entered_line(one, shipping.edge.name, SystemClock().now())}",
            file=sys.stderr,
            flush=True,
        )
    if not any(one.entries for one in taken):
        return 0
    for press in settings.presses:
        judge_rest(shipping.log, settings, press.name)
    return sum(at.went for at in shipping.ship())


def _tell_of_lives(lives: "LivesElsewhere", shipping: "Shipping", clock: "Clock") -> int:
    """Tell the presses here how inserts of their designs lived at other edges; the centre gets what that entered.

    Returns how many transactions went there so.
    Whatever the log of another edge holds, this one is shipped.
    """
    try:
        n = lives.turn(shipping, clock.now())
    except ShotlogError:
        raise
    except Exception:
        logger.exception("telling of lives at other edges failed; shipping goes on")
        return 0
    return sum(at.went for at in shipping.ship()) if n else 0


def _once(shipper: "Shipper", name: str, to: str, anew: bool) -> int:
    from shotlog.cli.run import stop_on_signals

    with stop_on_signals() as stop, shipper.leaving(stop):
        try:
            n, at = shipper.once(anew, stop.is_set)
        except CentreAway:
            if not stop.is_set():
                raise
    if stop.is_set():
        raise KeyboardInterrupt
    print(
        f"{name} at {without_secrets(to)}: {some(n, 'transaction')} went there; it has all up to transaction "
        f"{at.head.number}, last digest {at.head.digest}"
    )
    return 0


def _follow(shipper: "Shipper", name: str, to: str, anew: bool) -> None:
    from shotlog.cli.run import stop_on_signals

    print(f"shipping {name} to {without_secrets(to)}; Ctrl-C ends", file=sys.stderr, flush=True)
    with stop_on_signals() as stop, shipper.leaving(stop):
        if anew:
            shipper.once(anew, stop.is_set)
        shipper.follow(stop)
    print("shotlog ship: ended", file=sys.stderr)


def _beside(shipper: "Shipper") -> None:
    """Ship until the logger is gone, and then what came last."""
    from shotlog.notify.lifeline import Lifeline
    from shotlog.notify.signals import heed_signals

    lifeline = Lifeline(sys.stdin.fileno())
    heed_signals(lifeline.ended)
    lifeline.start()
    with shipper.leaving(lifeline.ended):
        shipper.follow(lifeline.ended)
    if lifeline.said_farewell:
        try:
            shipper.once()
        except StoreError:
            return  # it waits in the log
