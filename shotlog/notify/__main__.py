"""``python -m shotlog.notify CONFIG``: send what comes into the log of a configuration; `shotlog run` starts it.

It ends when its standard input does: with the logger, however that ends. Which process that is, is told it: between the
two there may be another one, as there is where a virtual environment starts Python on Windows.
"""

from shotlog.own_python import leave_folder

leave_folder()  # before anything else is imported

import argparse
import logging
import os
import sys
import threading
from pathlib import Path

from shotlog.clock import SystemClock
from shotlog.errors import ShotlogError, UsageError
from shotlog.extras import need
from shotlog.notify.lifeline import Lifeline
from shotlog.notify.signals import heed_signals
from shotlog.settings import load
from shotlog.talking import talking

__all__ = ["main"]


def main(arguments: list[str] | None = None) -> int:
    """Send until the logger ends; return 0, 1 for a failure, 2 for a wrong configuration, each said in one line."""
    parser = argparse.ArgumentParser(prog="python -m shotlog.notify", description="send what comes into the log")
    parser.add_argument("config", metavar="CONFIG", type=Path, help="configuration file")
    parser.add_argument(
        "--logger", metavar="PID", type=int, required=True, help="number of the logger's process, as its log has it"
    )
    given = parser.parse_args(arguments)
    lifeline, asked = Lifeline(sys.stdin.fileno()), threading.Event()
    heed_signals(asked)
    with talking():
        logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(message)s", datefmt="%H:%M:%S")
        for library in ("paho", "urllib3", "requests"):
            logging.getLogger(library).setLevel(logging.CRITICAL)
        try:
            _send(given.config, given.logger, lifeline, asked)
        except ShotlogError as error:
            print(f"messages: {error}", file=sys.stderr)  # noqa: T201  (as every command says it)
            return 2 if isinstance(error, UsageError) else 1
    return 0


def _send(config: Path, process: int, lifeline: Lifeline, asked: threading.Event) -> None:
    settings = load(config)
    if settings.messages is None:
        raise UsageError(f"{config}: given no table [messages], allowed: with one")
    need("messages", f"{config}: [messages]")
    from shotlog.notify.messenger import Messenger
    from shotlog.notify.own_log import OwnLog
    from shotlog.notify.sender import Sender
    from shotlog.notify.teller import Teller

    clock, wake, broker = SystemClock(), threading.Event(), settings.messages.broker
    log, sends, sender = OwnLog(settings.store, read_only=False), OwnLog(settings.store, read_only=False), None
    if broker is not None:
        from shotlog.notify.mqtt_line import MqttLine, Will, session_of

        names = [press.name for press in settings.presses]

        def line(press: str | None, will: Will) -> MqttLine:
            return MqttLine(broker, session_of(config, press), will, wake.set)

        sender = Sender(broker.shown, settings.messages.site, names, settings.designs, sends, line, clock, process)
    told = bool(settings.messages.receivers) or broker is not None  # the broker is told of each change as well
    teller = Teller(log, settings, clock) if told else None
    lifeline.start()
    Messenger(settings, clock, lifeline, sender, teller, log, wake, process, asked.is_set).run()


if __name__ == "__main__":
    status = main()
    sys.stderr.flush()
    os._exit(status)  # a connection that waits for its broker must not hold up the end
