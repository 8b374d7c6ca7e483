"""``shotlog run``: log and judge every press of the configuration until stopped. Leave it running beside the press."""

import argparse
import os
import queue
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.cli.messages import check_messages, messages
from shotlog.cli.narrator import Narrator, ended_said
from shotlog.cli.opening import Subparsers, add_command, opened_to_log
from shotlog.cli.pages import pages
from shotlog.cli.shipping import shipping
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.extras import has, to_install
from shotlog.talking import Said
from shotlog.writable_folders import compiles_anew

if TYPE_CHECKING:
    from shotlog.recorder import Ended, Listener

__all__ = ["STANDS_STILL", "add", "how_it_judges", "log_presses", "stop_on_signals"]

STANDS_STILL = 3
"""Exit status of a `run` that ended itself because storing did not go on."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "log and judge every press until Ctrl-C; leave running beside the press"
    parser = add_command(subparsers, "run", text, _run)
    parser.add_argument("--shots", type=int, metavar="N", help="end after N shots are stored, all presses together")
    parser.add_argument("--no-dashboard", action="store_true", help="log only, serve no pages")
    parser.description = f"{text}; with the extra speed installed shots are judged a hundred times quicker"
    parser.set_defaults(stays=True)


def _run(arguments: argparse.Namespace) -> int:
    if arguments.shots is not None and arguments.shots < 1:
        raise UsageError(f"--shots: given {arguments.shots}, allowed: 1 or more")
    with stop_on_signals() as stop:
        ended = log_presses(arguments.config, stop, arguments.shots, with_pages=not arguments.no_dashboard)
    print(f"shotlog run: ended; {ended_said(ended)}", file=sys.stderr)
    return 1 if ended.lost else 0


@contextmanager
def stop_on_signals() -> Iterator[threading.Event]:
    """Return an event that Ctrl-C, a request to terminate and the closing of the terminal set.

    A thread sets it and not the handler: an event takes a lock, and a second signal comes while the first one has it.
    What the handler does instead may be interrupted by itself.
    """
    stop = threading.Event()
    asked: queue.SimpleQueue[bool] = queue.SimpleQueue()
    names = [name for name in ("SIGINT", "SIGTERM", "SIGBREAK") if hasattr(signal, name)]
    if hasattr(signal, "SIGHUP") and signal.getsignal(signal.SIGHUP) is not signal.SIG_IGN:
        names.append("SIGHUP")  # else somebody took care that it goes on when they leave
    setter = threading.Thread(target=_set_when_asked, args=(asked, stop), name="signals", daemon=True)
    setter.start()
    before = {name: signal.signal(getattr(signal, name), lambda *_: asked.put(True)) for name in names}
    try:
        yield stop
    finally:
        for name, handler in before.items():
            signal.signal(getattr(signal, name), handler)
        asked.put(False)
        setter.join()


def _set_when_asked(asked: "queue.SimpleQueue[bool]", stop: threading.Event) -> None:
    if asked.get():
        stop.set()


def log_presses(
    config: Path, stop: threading.Event, n_shots: int | None, with_pages: bool, listeners: tuple["Listener", ...] = ()
) -> "Ended":
    """Log every press of a configuration until `stop` or `n_shots`; return how it ended."""
    with opened_to_log(config) as (settings, log):
        from shotlog.collectors import balance_options, options
        from shotlog.recorder import Recorder
        from shotlog.recorder.supervisor import Supervisor
        from shotlog.recorder.watchdog import Watched

        checked = {press.name: options(press) for press in settings.presses if press.kind != "recording"}
        balances = {balance.name: balance_options(balance) for balance in settings.balances}
        check_messages(settings)
        if not checked and not balances:
            raise UsageError(f"{config}: every press is of kind recording; use shotlog replay")
        for line in filter(None, (*settings.cautions, how_it_judges())):
            print(f"WARNING: {line}", file=sys.stderr)
        clock, about = SystemClock(), settings.trial
        trial = None if about is None else (about.name, about.part, about.resin, iso_utc(clock.now()))
        print(f"logging {', '.join([*checked, *balances])} to {settings.store_shown}; Ctrl-C ends", file=sys.stderr)
        watched = Watched(Supervisor.of(), _end)  # before the pages are started: nobody supervises them but us
        with messages(settings), shipping(settings), pages(settings, with_pages, stop):
            shown: tuple[Listener, ...] = (Narrator(), *listeners)
            recorder = Recorder(log, settings, checked, clock, shown, balances, _prepare, trial, watched)
            return recorder.run(stop, n_shots)


def _prepare() -> None:
    """Load what judges, beside the first polls, and make it ready."""
    from shotlog.recorder.compiling import compile_apart_then_rehearse

    compile_apart_then_rehearse()


def _end(why: str) -> None:
    """End this process, whose storing thread does not come back: nothing can be asked of it any more.

    What is stored or in the journal is on disk. The system lets go of ports and locks, and the pages end with us.
    """
    again = "a supervisor starts it again, else start shotlog run yourself"
    print(f"shotlog run: {why}; it ends itself with status {STANDS_STILL}: {again}", file=sys.stderr)
    if isinstance(sys.stderr, Said):
        sys.stderr.last_words()
    os._exit(STANDS_STILL)


def how_it_judges() -> str:
    """Say what makes judging slow on this machine and how to mend it; empty where nothing does."""
    if has("speed"):
        return compiles_anew()
    return (
        "shots are judged without a compiler: the same verdicts, each for some tenths of a second of one core "
        f"instead of milliseconds; quicker after {to_install('speed')}"
    )
