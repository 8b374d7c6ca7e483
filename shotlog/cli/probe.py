"""``shotlog probe``: connect once and show raw and scaled values side by side, for commissioning.

A wrong word order, scale or an address off by one shows at once as a value that cannot be: compare with the press's
screen. With ``--ports`` nothing is connected to: it lists the serial ports of this computer.
"""

import argparse
import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.channels import CHANNELS
from shotlog.cli.opening import Subparsers, print_json, read_settings
from shotlog.cli.ports import show_ports
from shotlog.clock import SystemClock
from shotlog.errors import CollectorError, UsageError

if TYPE_CHECKING:
    from shotlog.collectors.base import Reading

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    does = "connect once; show raw and scaled values of every channel"
    parser = subparsers.add_parser("probe", help=does, description=does)
    parser.add_argument("config", metavar="CONFIG", type=Path, nargs="?", help="configuration file (TOML)")
    parser.set_defaults(run=_run)
    parser.add_argument("--press", metavar="P", help="only this press or balance")
    parser.add_argument("--ports", action="store_true", help="only list the serial ports here; wants no CONFIG")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    if arguments.ports:
        return show_ports(None if arguments.config is None else read_settings(arguments.config), arguments.json)
    if arguments.config is None:
        raise UsageError("CONFIG: given nothing, allowed: a configuration file, or --ports alone")
    from shotlog.collectors import balance_options, options

    settings = read_settings(arguments.config)
    settings.need_presses()
    wanted = arguments.press
    balances = [one for one in settings.balances if wanted in (None, one.name)]
    presses = [one for one in settings.presses if one.kind != "recording"]
    if wanted is not None:
        presses = [] if balances else [settings.press(wanted)]
    checked = [("press", one.name, options(one)) for one in presses]
    checked += [("balance", one.name, balance_options(one)) for one in balances]
    found: dict[str, object] = {}
    failed = 0
    for what, name, collector_options in checked:
        collector = collector_options.build(name, SystemClock(), None)
        try:
            collector.open()
            readings = collector.probe()
        except CollectorError as error:
            failed += 1
            found[name] = {"error": str(error)}
            print(f"shotlog probe: {name}: {error}", file=sys.stderr)
            continue
        finally:
            collector.close()
        found[name] = [asdict(reading) for reading in readings]
        if not arguments.json:
            print(f"{what} {name}")
            _print_table([(r.name, r.where, r.raw, _value(r), r.unit, r.remark) for r in readings])
    if arguments.json:
        print_json(found)
    return 1 if failed else 0


def _value(row: "Reading") -> str:
    """Return the value of a row as it is shown; what is measured nowhere, as an event's name, has none."""
    if row.value is None:
        return "not measured" if row.name in CHANNELS else ""
    return f"{row.value:.10g}"


def _print_table(rows: list[tuple[str, ...]]) -> None:
    header = ("channel", "read from", "raw", "value", "unit", "remark")
    widths = [max(len(row[n]) for row in [header, *rows]) for n in range(len(header))]
    for row in [header, *rows]:
        print("  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
