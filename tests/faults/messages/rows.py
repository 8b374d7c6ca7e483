"""What is done to broker, inbox, messenger, logger and log while a press shoots and states change."""

import os
import signal
import socket
import sqlite3
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress

from pyModbusTCP.server import ModbusServer

from tests.faults.messages.counted import Changes
from tests.faults.messages.shop import Shop

_BEGINS: Changes = Counter({("watch", "begins"): 1, ("limit", "begins"): 1, ("hold", "begins"): 1})
_ENDS: Changes = Counter({("watch", "ends"): 1, ("limit", "ends"): 1})
_LOST: Changes = Counter({("lost", "begins"): 1, ("lost", "ends"): 1})


def odd_shot(shop: Shop) -> Changes:
    """A shot beyond its limit, and so many sound ones behind it that it is over."""
    shop.shots(1, low=True)
    time.sleep(2.5)
    shop.shots(16)
    time.sleep(1.5)
    return _BEGINS + _ENDS


def unplugged(shop: Shop) -> Changes:
    """The press does not answer, and answers again."""
    answered = shop.answers()
    shop.press.stop()
    time.sleep(4)
    while True:
        try:
            shop.press.start()
            break
        except ModbusServer.NetworkError:  # the port is not free yet
            time.sleep(0.2)
    shop.until(lambda: shop.answers() > answered)
    shop.shots(8)
    time.sleep(24)
    return _LOST


def nothing(shop: Shop) -> Changes:
    return odd_shot(shop) + unplugged(shop)


def broker_killed(shop: Shop) -> Changes:
    shop.shots(5)
    shop.broker.kill()
    told = odd_shot(shop) + unplugged(shop)
    shop.broker.start()
    return told


def broker_killed_in_the_midst(shop: Shop) -> Changes:
    told: Changes = Counter()
    for _ in range(4):
        shop.shots(8)
        shop.broker.kill()
        shop.shots(8)
        shop.broker.start()
        told += odd_shot(shop)
    return told


def broker_stopped(shop: Shop) -> Changes:
    shop.shots(5)
    shop.broker.signal(signal.SIGSTOP)
    told = odd_shot(shop) + unplugged(shop)
    shop.broker.signal(signal.SIGCONT)
    return told


@contextmanager
def dumb(port: int) -> Iterator[None]:
    """Something that takes connections at a port and never says a word."""
    with closing(socket.socket()) as one:
        one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        one.bind(("127.0.0.1", port))
        one.listen(64)
        yield


def broker_dumb(shop: Shop) -> Changes:
    shop.broker.kill()
    with dumb(shop.broker.port):
        told = odd_shot(shop) + unplugged(shop)
    shop.broker.start()
    return told


def inbox_killed(shop: Shop) -> Changes:
    shop.inbox.kill()
    told = odd_shot(shop) + unplugged(shop)
    shop.inbox.start()
    return told


def inbox_stopped(shop: Shop) -> Changes:
    shop.inbox.signal(signal.SIGSTOP)
    told = odd_shot(shop) + unplugged(shop)
    shop.inbox.signal(signal.SIGCONT)
    return told


def inbox_dumb(shop: Shop) -> Changes:
    shop.inbox.signal(signal.SIGUSR1)
    told = odd_shot(shop) + unplugged(shop)
    shop.inbox.signal(signal.SIGUSR2)
    return told


def messenger_killed(shop: Shop) -> Changes:
    told: Changes = Counter()
    for _ in range(2):
        shop.shots(1, low=True)
        shop.kill_messenger()
        shop.shots(16)
        shop.kill_messenger()
        time.sleep(3)
        told += _BEGINS + _ENDS
    return told


def logger_killed(shop: Shop) -> Changes:
    shop.shots(1, low=True)
    time.sleep(3)
    shop.kill_logger()
    time.sleep(12)
    shop.log()
    shop.shots(16)
    return _BEGINS + _ENDS + Counter({("logger", "begins"): 1, ("logger", "ends"): 1})


def both_killed(shop: Shop) -> Changes:
    """All ends at once, as when the power goes: nobody is left to tell of that, and the rest is told afterwards."""
    shop.shots(1, low=True)
    time.sleep(3)
    sends = shop.messenger()
    shop.kill_logger()
    if sends is not None:
        with suppress(ProcessLookupError):
            os.kill(sends, signal.SIGKILL)
    time.sleep(10)
    shop.log()
    shop.shots(16)
    return _BEGINS + _ENDS


def log_held(shop: Shop) -> Changes:
    """Another program keeps the log from being written; what is offered meanwhile is in the journal."""
    with closing(sqlite3.connect(shop.folder / "trial.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        shop.shots(20)  # none is said to be stored meanwhile, which is waited for
        other.execute("ROLLBACK")
    time.sleep(5)
    return odd_shot(shop) + Counter({("log", "begins"): 1, ("log", "ends"): 1})


def all_killed(shop: Shop) -> Changes:
    shop.broker.kill()
    shop.inbox.kill()
    shop.shots(1, low=True)
    shop.kill_messenger()
    shop.shots(16)
    shop.broker.start()
    shop.kill_messenger()
    shop.inbox.start()
    return _BEGINS + _ENDS


def late(shop: Shop) -> Changes:
    """The receivers are there only after all has happened."""
    told = odd_shot(shop) + unplugged(shop)
    shop.listen()
    shop.inbox.start()
    return told


ROWS: dict[str, Callable[[Shop], Changes]] = {
    "nothing fails": nothing,
    "broker killed, back after half a minute": broker_killed,
    "broker killed and back four times": broker_killed_in_the_midst,
    "broker stopped, goes on": broker_stopped,
    "broker takes connections, never speaks": broker_dumb,
    "inbox killed, back": inbox_killed,
    "inbox stopped, goes on": inbox_stopped,
    "inbox takes messages, never answers": inbox_dumb,
    "messenger killed four times": messenger_killed,
    "logger killed, started again": logger_killed,
    "logger and messenger killed, started again": both_killed,
    "log held by another program": log_held,
    "broker, inbox and messenger killed": all_killed,
    "receivers there only afterwards": late,
}
