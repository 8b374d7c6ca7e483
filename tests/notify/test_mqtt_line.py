"""One connection to a broker: what it says of a password file, and that its end is said to the broker."""

import threading
from pathlib import Path

import paho.mqtt.client as paho
import pytest

from shotlog.notify.mqtt_line import MqttLine
from shotlog.settings.messages import BrokerSettings


class FakeClient:
    """Meets its broker at once; what is to be written is written by the next turn of its loop."""

    def __init__(self, line: MqttLine) -> None:
        self.line, self.turning = line, threading.Event()
        self.password: str | None = None
        self._is_to_leave, self.has_left = False, False

    def username_pw_set(self, _user: str, password: str | None) -> None:
        self.password = password

    def connect(self, *_: object) -> None:
        self.line._is_connected = True

    def loop(self, _seconds: float) -> int:
        self.has_left = self._is_to_leave
        self._is_to_leave = False
        self.turning.set()
        assert self.line._ended.wait(30.0)  # whatever is to be written by now comes after this turn
        return int(paho.MQTT_ERR_SUCCESS)

    def want_write(self) -> bool:
        return self._is_to_leave

    def disconnect(self) -> None:
        self._is_to_leave = True


def line_of(file: Path) -> tuple[MqttLine, FakeClient]:
    broker = BrokerSettings("127.0.0.1", 1883, user="logger", password_file=file)
    line = MqttLine(broker, "shotlog0", ("hall/online", b"{}"), lambda: None)
    line._client = client = FakeClient(line)  # type: ignore[assignment]
    return line, client


@pytest.mark.parametrize("written", [b"hush", b"hush\r\n", b"\xef\xbb\xbfhush\n"])
def test_a_password_is_what_stands_in_its_file_whatever_editor_wrote_it(tmp_path: Path, written: bytes) -> None:
    (tmp_path / "password").write_bytes(written)
    line, client = line_of(tmp_path / "password")
    line._meet()
    assert client.password == "hush"


def test_a_password_that_is_not_in_utf_8_is_said_without_a_byte_of_it(tmp_path: Path) -> None:
    (tmp_path / "password").write_bytes("hüsh".encode("cp1252"))
    line, _ = line_of(tmp_path / "password")
    tried = threading.Event()
    line._wake = tried.set
    line.start()
    assert tried.wait(30.0)
    assert line.trouble == f"{tmp_path / 'password'}: it is not in UTF-8"
    line.end(cleanly=True)


def test_the_end_is_written_before_the_line_is_left(tmp_path: Path) -> None:
    """Else the broker publishes the last will over what was said of the end."""
    (tmp_path / "password").write_bytes(b"hush")
    line, client = line_of(tmp_path / "password")
    line.start()
    assert client.turning.wait(30.0)
    line.end(cleanly=True)
    line._thread.join(30.0)
    assert client.has_left
