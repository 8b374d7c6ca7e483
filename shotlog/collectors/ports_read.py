"""Which presses and balances of a configuration are read at a serial port of this computer."""

from functools import partial

from shotlog.collectors import balance_options, options
from shotlog.collectors.serial_port import PortSettings
from shotlog.collectors.serial_ports import ports_there
from shotlog.errors import SettingsError
from shotlog.settings import Settings

__all__ = ["ports_read", "reads_serial", "serial_group"]

_USUAL_GROUP = "dialout"


def ports_read(settings: Settings) -> list[tuple[str, PortSettings]]:
    """Return the port that each press and balance is read at, by its name; boxes on the network are none."""
    found = []
    read = [(one.name, partial(options, one)) for one in settings.presses if one.kind != "recording"]
    weigh = [(one.name, partial(balance_options, one)) for one in settings.balances]
    for name, checked in [*read, *weigh]:
        try:
            asked = checked()
        except SettingsError:  # what is wrong with it, `check` says
            continue
        match asked:
            case object(port=PortSettings() as port) if "://" not in port.port or port.port.startswith("hwgrep://"):
                found.append((name, port))
    return found


def reads_serial(settings: Settings) -> bool:
    """Say whether anything is read at a serial port of this computer."""
    return bool(ports_read(settings))


def serial_group() -> str:
    """Return the group whose members may open serial ports here: of an adapter that is there, else the usual one."""
    groups = [one.group for one in ports_there() if one.hwid and one.group not in ("", "root")]
    return groups[0] if groups else _USUAL_GROUP
