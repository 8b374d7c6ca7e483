"""``shotlog probe``: connect once and show raw and scaled values side by side, for commissioning.

A wrong word order, scale or an address off by one shows at once as a value that cannot be: compare with the press's
screen.
"""

import argparse
import sys
from dataclasses import asdict

from shotlog.cli.opening import Subparsers, add_command, print_json
from shotlog.clock import SystemClock
from shotlog.errors import CollectorError
from shotlog.settings import load

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "probe", "connect once; show raw and scaled values of every channel", _run)
    parser.add_argument("--press", metavar="P", help="only this press")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.collectors import options

    settings = load(arguments.config)
    presses = [settings.press(arguments.press)] if arguments.press else list(settings.presses)
    checked = [(press.name, options(press)) for press in presses if arguments.press or press.kind != "recording"]
    found: dict[str, object] = {}
    failed = 0
    for name, collector_options in checked:
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
            _print_table(name, [(r.name, r.where, r.raw, _value(r.value), r.unit, r.remark) for r in readings])
    if arguments.json:
        print_json(found)
    return 1 if failed else 0


def _value(value: float | None) -> str:
    return "not measured" if value is None else f"{value:.10g}"


def _print_table(name: str, rows: list[tuple[str, ...]]) -> None:
    header = ("channel", "read from", "raw", "value", "unit", "remark")
    widths = [max(len(row[n]) for row in [header, *rows]) for n in range(len(header))]
    print(f"press {name}")
    for row in [header, *rows]:
        print("  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
