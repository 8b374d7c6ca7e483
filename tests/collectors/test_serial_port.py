"""A port that refuses is told as a press that cannot be reached, whatever the system calls it."""

import sys
from pathlib import Path
from typing import Any

import pytest
import serial

from shotlog.collectors.serial_port import PORT_ERRORS, PortSettings, open_port
from shotlog.errors import PressUnreachable

REFUSALS: list[Exception] = [
    serial.SerialException("held by another program"),
    OSError(13, "Permission denied"),
    ValueError("invalid URL"),
]
if sys.platform != "win32":
    import termios

    REFUSALS.append(termios.error(22, "Invalid argument"))


@pytest.mark.parametrize("refusal", REFUSALS, ids=lambda error: type(error).__name__)
def test_a_port_that_refuses_says_which_port_at_which_settings_and_why(
    refusal: Exception, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    port = tmp_path / "ttyUSB0"
    port.touch()

    def refuse(*_: Any, **__: Any) -> None:
        raise refusal

    monkeypatch.setattr(serial, "serial_for_url", refuse)
    with pytest.raises(PressUnreachable) as told:
        open_port(PortSettings(str(port), 9600, "E", 7, 1.5), 0.1)
    assert str(told.value) == f"serial port {port} at 9600 7E1.5 cannot be opened: {refusal}"
    assert isinstance(refusal, PORT_ERRORS)
