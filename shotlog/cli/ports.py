"""The serial ports of this computer, for ``shotlog probe --ports``: by which names, for whom, and who reads them."""

from dataclasses import asdict
from typing import TYPE_CHECKING

from shotlog.cli.opening import print_json
from shotlog.settings import Settings

if TYPE_CHECKING:
    from shotlog.collectors.serial_ports import PortThere

__all__ = ["show_ports"]


def show_ports(settings: Settings | None, as_json: bool) -> int:
    """Print the ports, and where there is a configuration also which press or balance reads them; return 0."""
    from shotlog.collectors.ports_read import ports_read
    from shotlog.collectors.serial_ports import named, ports_there

    there = ports_there()
    read_by: dict[str, list[str]] = {}
    missing = []
    for name, port in [] if settings is None else ports_read(settings):
        device = named(port.port, port.hwid, there)
        if device:
            read_by.setdefault(device, []).append(name)
        else:
            missing.append((name, port.name))
    if as_json:
        rows = [{**asdict(one), "read_by": read_by.get(one.device, [])} for one in there]
        print_json({"ports": rows, "not_here": [{"name": name, "port": shown} for name, shown in missing]})
        return 0
    if not there:
        print("this computer has no serial port now: is the adapter plugged in?")
    for one in there:
        print(one.device)
        for label, text in _lines(one, read_by.get(one.device, []), settings is not None):
            print(f"  {label:<12} {text}")
    for name, shown in missing:
        print(f"{name} is to be read at {shown}: not here now")
    return 0


def _lines(one: "PortThere", read_by: list[str], asked: bool) -> list[tuple[str, str]]:
    lasting = one.lasting_hwid
    write = f'hwid = "{lasting}"' if lasting and not one.stable else f'port = "{one.name}"'
    lines = [("write", write)]
    if one.hwid:
        lines.append(("hardware", one.hwid))
    if one.description:
        lines.append(("is", one.description))
    if asked:
        lines.append(("read by", ", ".join(read_by) or "nothing in this configuration"))
    lines.append(("may open", _may_open(one)))
    return lines


def _may_open(one: "PortThere") -> str:
    if one.may_open is None:
        return "not known before it is tried"
    if one.may_open:
        return "yes"
    return f"no: members of the group {one.group} may" if one.group else "no"
