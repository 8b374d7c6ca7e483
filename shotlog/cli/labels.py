"""``shotlog labels``: a printable sheet of labels with a square code for each serial."""

import argparse
from html import escape
from pathlib import Path
from typing import Any

from shotlog.cli.opening import Subparsers, add_command, opened
from shotlog.clock import iso_utc
from shotlog.errors import UsageError

__all__ = ["add"]

_STYLE = """
@page { size: A4; margin: 8mm }
body { font: 8pt sans-serif; margin: 0 }
.label { display: inline-flex; width: 62mm; height: 30mm; margin: 0 1mm 1mm 0; border: 0.2mm dashed #888;
         align-items: center; page-break-inside: avoid; overflow: hidden }
.label svg { width: 24mm; height: 24mm; margin: 2mm; flex: none }
.label b { font-size: 12pt; overflow-wrap: anywhere }
""".strip()


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "labels", "write a printable sheet of labels (square codes) for serials", _run)
    parser.add_argument("serials", metavar="SERIAL", nargs="+", help="serials; S-001..S-020 is a run")
    parser.add_argument("--out", required=True, type=Path, metavar="FILE.html")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts.making import Making, makings
    from shotlog.store.inserts.queue import serials_named

    if arguments.out.suffix.lower() != ".html":
        raise UsageError(f"--out: given {arguments.out.name!r}, allowed: a name that ends in .html")
    serials = serials_named(arguments.serials)
    with opened(arguments.config) as (_, log):
        known = makings(log)
    labels = "\n".join(_label(known.get(serial, Making(serial))) for serial in serials)
    page = f'<!doctype html>\n<html lang="en"><meta charset="utf-8"><title>Labels</title><style>{_STYLE}</style>\n'
    arguments.out.write_text(f"{page}{labels}\n</html>\n", encoding="utf-8", newline="\n")
    print(f"{arguments.out}: {len(serials)} labels")
    return 0


def _label(made: Any) -> str:
    """Return one label; the code holds the bare serial, so that a scanner types it where a serial is asked for."""
    import segno

    code = segno.make(made.serial, error="m", micro=False).svg_inline(border=1, omitsize=True)
    batch = f"batch {made.print_batch}" if made.print_batch else ""
    place = f"{made.plate} {made.plate_position}".strip()
    cured = f"cured {iso_utc(made.cured)[:10]}" if made.cured is not None else ""
    lines = "<br>".join(escape(text) for text in (made.design, made.resin, batch, place, cured) if text)
    return f'<div class="label">{code}<div><b>{escape(made.serial)}</b><br>{lines}</div></div>'
