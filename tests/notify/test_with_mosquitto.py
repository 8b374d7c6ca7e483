"""The whole way, with a broker and a client that are not ours: a press, `shotlog run`, mosquitto, `mosquitto_sub`."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.end_to_end.running import Run, ServedPress, expected, shotlog, write_config
from tests.notify.brokers import Broker, Subscriber, free_port, needs_mosquitto
from tests.notify.schema_of_messages import check

pytestmark = needs_mosquitto
BEFORE = "shotlog/hall-2/P25"
ROOT = Path(__file__).parents[2]
SECRET = "hush-4711"


def config_of(folder: Path, press: ServedPress, port: int) -> Path:
    table = f'[messages]\nsite = "hall-2"\nmqtt = "mqtt://127.0.0.1:{port}"\n'
    return write_config(folder, press.config("P25"), table)


@pytest.mark.skipif(os.name == "nt", reason="there is no signal to kill by")
def test_what_a_press_makes_comes_once_over_outages_and_a_dead_logger_is_told(tmp_path: Path) -> None:
    with ServedPress() as press, Broker(tmp_path) as broker:
        press.offer(1)
        config = config_of(tmp_path, press, broker.port)
        reader = ("-c", "-i", "reader")  # its session outlives the broker, as that of whoever must miss nothing
        with Subscriber(broker.port, "shotlog/#", *reader) as heard, Run(config) as run:
            heard.wait_for("P25/online", online=True, state="at work")
            heard.wait_for("P25/link", state="connected")
            for n in (2, 3):
                press.offer(n)
                heard.wait_for("P25/shot", shot=n)
            heard.wait_for("P25/verdict", shot=3)
            broker.stop()
            for n in (4, 5):
                press.offer(n)
                run.wait_for(rf"P25: shot {n} ")
            broker.start()
        with Subscriber(broker.port, "shotlog/#", *reader) as later, Run(config) as run:
            later.wait_for("P25/online", online=True)
            press.offer(6)
            later.wait_for("P25/shot", shot=6)
            later.wait_for("P25/verdict", shot=6)
            assert run.stop() == 0
            (ended,) = later.wait_for("P25/online", state="ended")
            assert ended["online"] is False
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
    assert shotlog("verify", config).returncode == 0


@pytest.mark.skipif(os.name == "nt", reason="there is no signal to kill by")
def test_a_logger_that_is_killed_and_a_messenger_that_is(tmp_path: Path) -> None:
    with ServedPress() as press, Broker(tmp_path) as broker, Subscriber(broker.port) as heard:
        press.offer(1)
        with Run(config_of(tmp_path, press, broker.port)) as run:
            heard.wait_for("P25/online", online=True)
            heard.wait_for("P25/shot", shot=1)
            tasks = Path(f"/proc/{run.process.pid}/task").glob("*/children")  # of each of its threads
            children = [one for task in tasks for one in task.read_text(encoding="utf-8").split()]
            (messenger,) = [one for one in children if b"shotlog.notify" in Path(f"/proc/{one}/cmdline").read_bytes()]
            os.kill(int(messenger), signal.SIGKILL)
            heard.wait_for("P25/online", state="gone")
            run.wait_for(r"the messages are gone \(killed by SIGKILL\); logging goes on")
            press.offer(2)
            heard.wait_for("P25/shot", shot=2)
            heard.wait_for("P25/online", count=2, online=True)
            run.process.kill()
            (dead,) = heard.wait_for("P25/online", state="dead")
            assert "the logger has died" in dead["text"]
            heard.wait_for("hall-2/online", state="dead")
            (told,) = heard.wait_for("hall-2/message", about="logger", phase="begins")
            assert told["text"].startswith("hall-2: the logger is dead")
        for _, document, _ in heard.heard:
            check(document)


def test_a_lamp_and_a_broker_over_tls_that_asks_for_a_password(tmp_path: Path) -> None:
    """The lamp of config/ as it is, over the broker's plain port; the logger over TLS, known by user and password."""
    for command in (
        "req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=127.0.0.1 -addext subjectAltName=IP:127.0.0.1 "
        "-keyout broker.key -out broker.pem",
    ):
        subprocess.run(["openssl", *command.split()], cwd=tmp_path, check=True, capture_output=True)
    (tmp_path / "password").write_text(f"{SECRET}\n", encoding="utf-8")
    words = ["mosquitto_passwd", "-b", "-c", str(tmp_path / "users"), "logger", SECRET]
    subprocess.run(words, check=True, capture_output=True)
    tls_port = free_port()
    more = (
        f"listener {tls_port} 127.0.0.1\nallow_anonymous false\n"
        f"password_file {tmp_path}/users\ncertfile {tmp_path}/broker.pem\nkeyfile {tmp_path}/broker.key"
    )
    table = (
        f'[messages]\nsite = "hall-2"\nmqtt = "mqtts://logger@127.0.0.1:{tls_port}"\n'
        'mqtt_ca = "broker.pem"\nmqtt_password_file = "password"\n'
    )
    with ServedPress() as press, Broker(tmp_path, more=more) as broker:
        press.offer(1)
        lamp = subprocess.Popen(
            [sys.executable, str(ROOT / "config" / "lamp.py"), f"127.0.0.1:{broker.port}", "shotlog/hall-2/P25"],
            stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
        assert lamp.stdout is not None
        config = write_config(tmp_path, press.config("P25", poll_s=0.05), table)
        with Run(config) as run:
            shows = iter(lamp.stdout.readline, "")
            assert "green\n" in shows
            said = shotlog("note", config, "P25", "finding", "cracked rib", "--half", "moving", "--at-shot", "1")
            assert said.returncode == 0, said.stderr
            assert "red\n" in shows
            press.stop()
            assert "red and yellow: press lost\n" in shows
            press.start()
            assert "red\n" in shows
            run.process.kill()
            assert "dark\n" in shows
            spoken = "\n".join(run.lines)
        lamp.terminate()
        lamp.wait()
        lamp.stdout.close()
        assert SECRET not in spoken
        for file in tmp_path.iterdir():
            if file.name not in ("password", "users") and file.is_file():
                assert SECRET.encode() not in file.read_bytes(), file
