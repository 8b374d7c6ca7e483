"""The words to a supervisor, read from a socket as systemd reads them."""

import os
import socket
import sys
from collections.abc import Iterator

import pytest

from shotlog.recorder.supervisor import Supervisor

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="an address of no file is Linux's")


@pytest.fixture
def ear() -> Iterator[socket.socket]:
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as opened:
        opened.bind(f"\0shotlog-test-{os.getpid()}-{id(opened)}")
        opened.settimeout(10)
        yield opened


def address(ear: socket.socket) -> str:
    return "@" + bytes(ear.getsockname()).decode()[1:]


def test_it_says_that_it_is_ready_at_work_and_ending(ear: socket.socket) -> None:
    environment = {"NOTIFY_SOCKET": address(ear), "WATCHDOG_USEC": "90000000", "WATCHDOG_PID": str(os.getpid())}
    told = Supervisor.of(environment)
    assert environment == {}, "processes that are started have no supervisor"
    assert (told.every_s, told.is_there) == (90.0, True)
    told.ready("presses are read\nshots are logged")
    told.alive("well")
    told.says("NOT READ: P25")
    told.stopping()
    words = [ear.recv(4096).decode() for _ in range(4)]
    assert words[:3] == [
        "READY=1\nSTATUS=presses are read shots are logged",
        "WATCHDOG=1\nSTATUS=well",
        "STATUS=NOT READ: P25",
    ]
    assert words[3].startswith("STOPPING=1\nSTATUS=ending")


def test_a_watchdog_that_waits_for_another_process_is_not_ours(ear: socket.socket) -> None:
    environment = {"NOTIFY_SOCKET": address(ear), "WATCHDOG_USEC": "90000000", "WATCHDOG_PID": "1"}
    assert Supervisor.of(environment).every_s is None
    assert Supervisor.of({"NOTIFY_SOCKET": address(ear), "WATCHDOG_USEC": "soon"}).every_s is None


def test_without_a_supervisor_nothing_is_said_and_one_that_is_gone_is_no_error() -> None:
    assert not Supervisor.of({}).is_there
    Supervisor.of({}).alive("nobody hears it")
    Supervisor("/nowhere/notify").alive("nobody hears it")


def test_one_that_does_not_read_holds_up_nothing(ear: socket.socket) -> None:
    told = Supervisor(address(ear))
    for _ in range(2000):
        told.alive("x" * 200)
