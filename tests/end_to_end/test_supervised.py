"""A real ``run`` under a supervisor of the test's own, as systemd would be; and one whose storing thread hangs."""

import os
import re
import shlex
import signal
import socket
import sys
from pathlib import Path

import pytest

from shotlog.cli.run import STANDS_STILL
from shotlog.service.facts import facts_of
from shotlog.service.systemd import files
from shotlog.settings import load
from shotlog.store.log.log import open_log
from tests.end_to_end.running import DEADLINE_S, Run, ServedPress, write_config

HANGS = """
import threading
from shotlog.recorder import watchdog
from shotlog.store.log.log import Log
watchdog.STORING_STILL_S, watchdog.STORING_HANGS_S, watchdog._EVERY_S = 0.4, 0.8, 0.1
append = Log.append
def hangs(self, records, *rest, **others):
    if any(getattr(one, "shot", None) == 4 for one in records):
        threading.Event().wait()
    return append(self, records, *rest, **others)
Log.append = hangs
"""
"""The disk does not come back from shot 4, and the limits are short."""


@pytest.mark.skipif(sys.platform != "linux", reason="an address of no file is Linux's")
def test_what_the_unit_starts_tells_its_supervisor_that_it_is_ready_at_work_and_ending(tmp_path: Path) -> None:
    with ServedPress() as press, socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as ear:
        name = f"shotlog-test-{os.getpid()}"
        ear.bind(f"\0{name}")
        ear.settimeout(DEADLINE_S)
        config = write_config(tmp_path, press.config("P25"))
        facts = facts_of(load(config), None, "shotlog", False, "dialout")
        starts = re.search(r"^ExecStart=(.*)$", files(facts, with_user=False)[0].text, re.MULTILINE)
        assert starts is not None
        environment = {"NOTIFY_SOCKET": f"@{name}", "WATCHDOG_USEC": "400000", "XDG_CACHE_HOME": str(tmp_path / "kept")}
        with Run(config, environment=environment, service=shlex.split(starts[1])) as run:
            assert ear.recv(4096).startswith(b"READY=1\n")
            heard = [ear.recv(4096) for _ in range(3)]
            assert all(one.startswith(b"WATCHDOG=1\n") for one in heard), heard
            press.offer(1)
            run.wait_for("P25: shot 1 ")
            assert run.stop(signal.SIGTERM) == 0
            ear.setblocking(False)
            last = b""
            while not last.startswith(b"STOPPING=1\n"):
                last = ear.recv(4096)


def test_storing_that_hangs_ends_the_process_and_all_that_was_acknowledged_is_in_the_log(tmp_path: Path) -> None:
    """It went on for ever, and a supervisor saw a process that lives."""
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        with Run(config, first=HANGS) as run:
            for n in (1, 2, 3):
                press.offer(n)
                run.wait_for(f"P25: shot {n} ")
            press.offer(4)
            assert run.wait() == STANDS_STILL
            said = [line for line in run.lines if line.startswith("shotlog run: storing has stood still for")]
            assert len(said) == 1
            assert "ends itself with status 3: a supervisor starts it again" in said[0]
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        assert [shot.shot for shot in log.logged("P25")] == [1, 2, 3]
        log.verify()
