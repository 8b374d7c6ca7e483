"""A serial port by a name that stays: the link by its identity, the hardware address; what is there is named."""

import os
import sys
from pathlib import Path
from typing import Any

import pytest
import serial
from serial.tools import list_ports
from serial.tools.list_ports_common import ListPortInfo

from shotlog.collectors import serial_ports
from shotlog.collectors.serial_port import PortSettings, open_port, read_port
from shotlog.collectors.serial_ports import named, port_of_hardware, ports_there
from shotlog.errors import PressUnreachable, SettingsError
from shotlog.settings import Section, load


def usb(device: str, number: str | None, location: str, product: str = "USB serial") -> ListPortInfo:
    one = ListPortInfo(device, skip_link_detection=True)
    one.vid, one.pid, one.serial_number, one.location, one.product = 0x0403, 0x6001, number, location, product
    one.apply_usb_info()
    return one


@pytest.fixture
def there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> list[ListPortInfo]:
    """Two adapters, of which a link names the first, and a port of the board."""
    plain = ListPortInfo(str(tmp_path / "ttyS0"), skip_link_detection=True)
    found = [usb(str(tmp_path / "ttyUSB0"), "A1", "1-1"), usb(str(tmp_path / "ttyUSB1"), "A10", "1-2"), plain]
    for one in found:
        Path(one.device).touch()
    monkeypatch.setattr(list_ports, "comports", lambda *_: found)
    monkeypatch.setattr(serial_ports, "BY_ID", tmp_path / "by-id")
    (tmp_path / "by-id").mkdir()
    if hasattr(os, "symlink") and sys.platform != "win32":
        (tmp_path / "by-id" / "usb-adapter_A1-if00").symlink_to(tmp_path / "ttyUSB0")
    return found


@pytest.mark.skipif(sys.platform == "win32", reason="Linux makes these links")
def test_what_is_there_has_its_lasting_name_address_and_whether_it_may_be_opened(
    there: list[ListPortInfo], tmp_path: Path
) -> None:
    board, first, second = ports_there()
    assert (first.device, first.stable) == (str(tmp_path / "ttyUSB0"), str(tmp_path / "by-id" / "usb-adapter_A1-if00"))
    assert first.hwid == "USB VID:PID=0403:6001 SER=A1 LOCATION=1-1"
    assert first.lasting_hwid == "USB VID:PID=0403:6001 SER=A1", "it may go into another socket"
    assert (second.stable, board.stable, board.hwid, board.description) == ("", "", "", "")
    assert first.may_open
    assert first.group == Path(first.device).group()


def test_a_hardware_address_is_compared_word_by_word(there: list[ListPortInfo], tmp_path: Path) -> None:
    """A number that another one begins with was taken for it by a search for the text."""
    assert port_of_hardware("USB VID:PID=0403:6001 SER=A1") == str(tmp_path / "ttyUSB0")
    assert port_of_hardware("ser=a10") == str(tmp_path / "ttyUSB1")
    with pytest.raises(PressUnreachable, match=r'no serial port has hwid "SER=B2"; ports here: .*ttyS0, .*SER=A10"\)'):
        port_of_hardware("SER=B2")


def test_two_alike_adapters_are_not_told_by_luck(there: list[ListPortInfo]) -> None:
    with pytest.raises(PressUnreachable, match=r"2 serial ports have hwid .*add the word that tells them apart"):
        port_of_hardware("VID:PID=0403:6001")
    there[:] = [usb("/dev/ttyUSB0", None, "1-1"), usb("/dev/ttyUSB1", None, "1-2")]
    assert port_of_hardware("VID:PID=0403:6001 LOCATION=1-2") == "/dev/ttyUSB1"


def test_an_adapter_is_looked_for_anew_each_time_it_is_opened(
    there: list[ListPortInfo], monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(serial, "serial_for_url", lambda port, **_: opened.append(port))
    settings = PortSettings("", 9600, "N", 8, 1, hwid="SER=A1")
    open_port(settings, 0.1)
    there[:] = [usb("/dev/ttyUSB7", "A1", "3-4")]
    open_port(settings, 0.1)
    assert [Path(port).name for port in opened] == ["ttyUSB0", "ttyUSB7"]
    assert str(settings) == 'hwid "SER=A1" at 9600 8N1'


def refusing(error: Exception) -> Any:
    def refuse(*_: Any, **__: Any) -> None:
        raise error

    return refuse


def test_a_port_that_is_not_there_names_those_that_are(
    there: list[ListPortInfo], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(serial, "serial_for_url", refusing(serial.SerialException(2, "no such file")))
    with pytest.raises(PressUnreachable, match=r"cannot be opened: .*no such file; ports here: .*ttyS0, .*A1"):
        open_port(PortSettings("/dev/nowhere", 9600, "N", 8, 1), 0.1)
    there.clear()
    with pytest.raises(PressUnreachable, match="no serial port now: is the adapter plugged in"):
        open_port(PortSettings("/dev/nowhere", 9600, "N", 8, 1), 0.1)
    with pytest.raises(PressUnreachable, match=r"no such file$"):
        open_port(PortSettings("socket://192.0.2.1:4001", 9600, "N", 8, 1), 0.1)


@pytest.mark.skipif(sys.platform == "win32", reason="a port has no group there")
def test_a_port_that_may_not_be_opened_says_whose_members_may(
    there: list[ListPortInfo], monkeypatch: pytest.MonkeyPatch
) -> None:
    port = there[0].device
    monkeypatch.setattr(serial, "serial_for_url", refusing(serial.SerialException(13, "Permission denied")))
    with pytest.raises(PressUnreachable, match=f"; members of the group {Path(port).group()} may open it$"):
        open_port(PortSettings(port, 9600, "N", 8, 1), 0.1)


def test_a_pattern_that_is_none_is_a_port_that_cannot_be_opened(there: list[ListPortInfo]) -> None:
    with pytest.raises(PressUnreachable, match="cannot be opened: missing"):
        open_port(PortSettings("hwgrep://(", 9600, "N", 8, 1), 0.1)


@pytest.mark.skipif(sys.platform == "win32", reason="a terminal of two ends is POSIX")
def test_a_line_is_read_through_the_link_that_stays(there: list[ListPortInfo], tmp_path: Path) -> None:
    import pty
    import tty

    ours, theirs = pty.openpty()
    tty.setraw(theirs)
    link = tmp_path / "by-id" / "usb-press_7-if00"
    link.symlink_to(os.ttyname(theirs))
    there[:] = [usb(os.ttyname(theirs), "7", "1-3")]
    try:
        for settings in (PortSettings(str(link), 9600, "N", 8, 1), PortSettings("", 9600, "N", 8, 1, hwid="SER=7")):
            with open_port(settings, 1.0) as port:
                os.write(ours, b"118;4,97\r\n")
                assert port.read(10) == b"118;4,97\r\n"
        assert ports_there()[0].stable == str(link)
    finally:
        os.close(ours)
        os.close(theirs)


def test_port_or_hwid_and_not_both() -> None:
    assert read_port(Section("c.toml", "", {"hwid": "SER=A1"}), 9600, "N").hwid == "SER=A1"
    with pytest.raises(SettingsError, match="allowed: either port or hwid"):
        read_port(Section("c.toml", "", {"hwid": "SER=A1", "port": "COM3"}), 9600, "N")
    with pytest.raises(SettingsError, match="port: given nothing"):
        read_port(Section("c.toml", "", {}), 9600, "N")


def test_one_adapter_named_twice_is_said(tmp_path: Path) -> None:
    press = '[[press]]\nname = "{}"\n[press.collector]\nkind = "modbus-rtu"\nhwid = "SER=A1"\n'
    (tmp_path / "c.toml").write_text('[log]\nstore = "sqlite:///t.db"\n' + press.format("P1") + press.format("P2"))
    assert load(tmp_path / "c.toml").cautions == (
        "P2 and P1 name one port, SER=A1; only one of them can be read over it",
    )


def test_which_device_a_configuration_means(there: list[ListPortInfo], tmp_path: Path) -> None:
    found = ports_there()
    assert named("", "SER=A10", found) == named("hwgrep://A10", "", found) == str(tmp_path / "ttyUSB1")
    assert named(str(tmp_path / "ttyS0"), "", found) == str(tmp_path / "ttyS0")
    assert named("", "SER=C3", found) == named("/dev/nowhere", "", found) == named("hwgrep://(", "", found) == ""
    if sys.platform != "win32":
        assert named(str(tmp_path / "by-id" / "usb-adapter_A1-if00"), "", found) == str(tmp_path / "ttyUSB0")
