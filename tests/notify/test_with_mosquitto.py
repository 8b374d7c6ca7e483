"""The whole way, with a broker and a client that are not ours: a press, `shotlog run`, mosquitto, `mosquitto_sub`.

One long story, because each start of a logger takes seconds: the logger over TLS, known by user and password, and the
lamp of config/ as it is, over the broker's plain port.
"""

import os
import queue
import signal
import subprocess
import sys
import threading
from pathlib import Path
from typing import Self

import pytest

from tests.end_to_end.running import DEADLINE_S, Run, ServedPress, expected, shotlog, write_config
from tests.notify.brokers import Broker, Subscriber, free_port, needs_mosquitto
from tests.notify.schema_of_messages import check

pytestmark = needs_mosquitto
BEFORE = "shotlog/hall-2/P25"
ROOT = Path(__file__).parents[2]
SECRET = "hush-4711"


def over_tls(folder: Path) -> tuple[str, str]:
    """Make a certificate and a user; return the broker's further listener, and the table of the configuration."""
    made = (
        "req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -days 2 -subj /CN=127.0.0.1 "
        "-addext subjectAltName=IP:127.0.0.1 -keyout broker.key -out broker.pem"
    )
    subprocess.run(["openssl", *made.split()], cwd=folder, check=True, capture_output=True)
    (folder / "password").write_text(f"{SECRET}\n", encoding="utf-8")
    users = ["mosquitto_passwd", "-b", "-c", str(folder / "users"), "logger", SECRET]
    subprocess.run(users, check=True, capture_output=True)
    port = free_port()
    listener = (
        f"listener {port} 127.0.0.1\nallow_anonymous false\npassword_file {folder}/users\n"
        f"certfile {folder}/broker.pem\nkeyfile {folder}/broker.key"
    )
    table = f'[messages]\nsite = "hall-2"\nmqtt = "mqtts://logger@127.0.0.1:{port}"\n'
    return listener, f'{table}mqtt_ca = "broker.pem"\nmqtt_password_file = "password"\n'


def messenger_of(run: Run) -> int:
    """Return the process that sends, started from a thread of the logger's."""
    tasks = Path(f"/proc/{run.process.pid}/task").glob("*/children")
    children = [one for task in tasks for one in task.read_text(encoding="utf-8").split()]
    (found,) = [one for one in children if b"shotlog.notify" in Path(f"/proc/{one}/cmdline").read_bytes()]
    return int(found)


class Lamp:
    """The lamp's process, and what it shows."""

    def __init__(self, port: int) -> None:
        command = [sys.executable, str(ROOT / "config" / "lamp.py"), f"127.0.0.1:{port}", BEFORE]
        self._process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        self._lines: queue.Queue[str] = queue.Queue()
        self._thread = threading.Thread(target=self._read)
        self._thread.start()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._process.wait()
        self._thread.join()

    def _read(self) -> None:
        assert self._process.stdout is not None
        with self._process.stdout as lines:
            for line in lines:
                self._lines.put(line.rstrip("\n"))

    def shows(self, wanted: str) -> None:
        """Wait until it shows that, from where the last wait ended on."""
        while self._lines.get(timeout=DEADLINE_S) != wanted:
            pass


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="needs signals, and /proc to find a child by")
def test_what_a_press_makes_comes_once_over_outages_and_a_dead_logger_is_told(tmp_path: Path) -> None:
    listener, table = over_tls(tmp_path)
    reader = ("-c", "-i", "reader")  # its session outlives the broker, as that of whoever must miss nothing
    with ServedPress() as press, Broker(tmp_path, more=listener) as broker:
        press.offer(1)
        config = write_config(tmp_path, press.config("P25"), table)
        with Lamp(broker.port) as lamp, Subscriber(broker.port, "shotlog/#", *reader) as heard:
            with Run(config) as run:
                heard.wait_for("P25/online", online=True, state="at work")
                heard.wait_for("P25/link", state="connected")
                for n in (2, 3):
                    press.offer(n)
                    heard.wait_for("P25/shot", shot=n)
                heard.wait_for("P25/verdict", shot=3)
                lamp.shows("green")
                noted = shotlog("note", config, "P25", "finding", "cracked rib", "--at-shot", "3")
                assert noted.returncode == 0, noted.stderr
                lamp.shows("red")
                press.stop()
                lamp.shows("red and yellow: press lost")
                press.start()
                lamp.shows("red")
                os.kill(messenger_of(run), signal.SIGKILL)
                heard.wait_for("P25/online", state="gone")
                lamp.shows("dark")
                run.wait_for(r"the messages are gone \(killed by SIGKILL\); logging goes on")
                heard.wait_for("P25/online", count=2, online=True)
                broker.stop()
                for n in (4, 5):
                    press.offer(n)
                    run.wait_for(rf"P25: shot {n} ")
                broker.start()
                heard.wait_for("P25/shot", shot=5)
                lamp.shows("red")
                run.process.kill()
                (dead,) = heard.wait_for("P25/online", state="dead")
                assert "the logger is dead since" in dead["text"]
                lamp.shows("dark")
                (told,) = heard.wait_for("hall-2/message", about="logger", phase="begins")
                assert told["text"].startswith("hall-2: the logger is dead")
            spoken = run.lines
        with Subscriber(broker.port, "shotlog/#", *reader) as later, Run(config) as run:
            later.wait_for("P25/online", online=True)
            press.offer(6)
            later.wait_for("P25/shot", shot=6)
            later.wait_for("P25/verdict", shot=6)
            assert run.stop() == 0
            later.wait_for("P25/online", state="ended", online=False)
        shots = [*heard.of("P25/shot"), *later.of("P25/shot")]
        numbers = [one["shot"] for one in shots]
        assert sorted(set(numbers)) == [1, 2, 3, 4, 5, 6]
        assert len({one["id"] for one in shots}) == 6
        assert numbers == sorted(numbers), "in order"
        assert shots[1]["values"] == pytest.approx(expected(2))
        assert shots[1]["units"] == {"cushion": "mm", "peak_pressure": "bar", "fill_time": "s"}
        for topic, document, _ in (*heard.heard, *later.heard):
            check(document)
            assert topic.startswith("shotlog/hall-2/")
        with Subscriber(broker.port) as late:  # who comes late is told how it stands
            late.wait_for("P25/verdict", shot=6)
            late.wait_for("P25/link")
            late.wait_for("P25/online", state="ended")
            late.wait_for("hall-2/online", state="ended")
            assert {topic for topic, _, retained in late.heard if retained} == {
                f"{BEFORE}/verdict", f"{BEFORE}/link", f"{BEFORE}/online", "shotlog/hall-2/online",
            }  # fmt: skip
            assert late.of("P25/shot") == []
    assert SECRET not in "\n".join(spoken)
    for file in tmp_path.iterdir():
        if file.name not in ("password", "users") and file.is_file():
            assert SECRET.encode() not in file.read_bytes(), file
