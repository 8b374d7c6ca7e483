"""``shotlog labels``: a printable sheet of labels with a square code for each serial, or for each part."""

import argparse
from html import escape
from pathlib import Path
from typing import Any

from shotlog.cli.opening import Subparsers, add_command, opened, read_settings
from shotlog.cli.parts import chosen_parts
from shotlog.cli.place_of_output import file_for
from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.outputs import written_aside
from shotlog.settings import Settings

__all__ = ["add"]

_STYLE = """
@page { size: A4; margin: 8mm }
body { font: 8pt sans-serif; margin: 0 }
.label { display: inline-flex; width: 62mm; height: 30mm; margin: 0 1mm 1mm 0; border: 0.2mm dashed #888;
         align-items: center; page-break-inside: avoid; overflow: hidden }
.label svg { width: 24mm; height: 24mm; margin: 2mm; flex: none }
.label b { font-size: 12pt; overflow-wrap: anywhere }
""".strip()


_ONLY_HERE = ("127.0.0.1", "localhost", "::1", "0.0.0.0", "::", "")  # noqa: S104  (hosts to refuse; binds nothing)
"""Hosts by which no other machine finds the pages."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers, "labels", "write a printable sheet of labels (square codes) for serials or parts", _run
    )
    parser.add_argument(
        "named",
        metavar="SERIAL|PRESS/PARTS",
        nargs="+",
        help="serials, S-001..S-020 is a run; or parts: P25/230, P25/152-168, P25/19/2",
    )
    parser.add_argument("--out", required=True, type=Path, metavar="FILE.html")
    parser.add_argument(
        "--address",
        default="",
        metavar="URL",
        help="where the pages are found, such as http://10.0.0.7:8050: the code of a part leads to its page there "
        "(default: dashboard.host and .port of CONFIG, where other machines can reach them)",
    )


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts.making import Making, makings
    from shotlog.store.inserts.queue import serials_named
    from shotlog.store.parts.parts import made_parts

    file_for(arguments.out, "--out", (".html", ".htm"), read_settings(arguments.config))
    with opened(arguments.config) as (settings, log):
        of_parts = [word for word in arguments.named if _press_of(settings, word)]
        address = _address(settings, arguments.address) if of_parts else ""
        serials = serials_named([word for word in arguments.named if word not in of_parts])
        known = makings(log)
        labels = [_label(known.get(serial, Making(serial))) for serial in serials]
        for word in of_parts:
            press = _press_of(settings, word)
            chosen = set(chosen_parts(log, settings, press, [word.removeprefix(f"{press}/")]))
            shots = [part.shot for part in chosen]
            made = made_parts(log, press, settings.designs, min(shots), max(shots))
            labels += [_part_label(one, address) for one in made if one.part in chosen]
    page = f'<!doctype html>\n<html lang="en"><meta charset="utf-8"><title>Labels</title><style>{_STYLE}</style>\n'
    sheet = "\n".join([page.rstrip("\n"), *labels, "</html>\n"])
    with written_aside(arguments.out) as aside:
        aside.write_text(sheet, encoding="utf-8", newline="\n")
    print(f"{arguments.out}: {len(labels)} labels")
    return 0


def _press_of(settings: Settings, word: str) -> str:
    """Return the press whose parts a word names, empty where it is a serial."""
    return next((press.name for press in settings.presses if word.startswith(f"{press.name}/")), "")


def _address(settings: Settings, given: str) -> str:
    """Return where other machines find the pages, empty where nobody has said."""
    if given and not given.startswith(("http://", "https://")):
        raise UsageError(f"--address: given {given!r}, allowed: http://HOST:PORT")
    if given or settings.dashboard_host in _ONLY_HERE:
        return given.rstrip("/")
    scheme = "http" if settings.walls.certificate is None else "https"
    return f"{scheme}://{settings.dashboard_host}:{settings.dashboard_port}"


def _label(made: Any) -> str:
    """Return one label; the code holds the bare serial, so that a scanner types it where a serial is asked for."""
    batch = f"batch {made.print_batch}" if made.print_batch else ""
    place = f"{made.plate} {made.plate_position}".strip()
    cured = f"cured {iso_utc(made.cured)[:10]}" if made.cured is not None else ""
    return _drawn(made.serial, made.serial, [made.design, made.resin, batch, place, cured])


def _part_label(made: Any, address: str) -> str:
    """Return the label of one part: its code leads to its page, or is read as the part where no address is known.

    How the part stands is not on it: that may change while the label stays.
    """
    from dashboard.shared.part_path import path_of

    part = made.part
    code = f"{address}{path_of(part.press, part.shot, part.cavity)}" if address else str(part)
    named = f"{part.press} {part.shot}" + (f"/{part.cavity}" if part.cavity > 1 else "")
    halves = ", ".join(held.serial for held in made.halves.values())
    moulded = "" if made.time is None else f"moulded {made.time.astimezone():%Y-%m-%d %H:%M}"
    return _drawn(code, named, [halves, f"lot {made.lot}" if made.lot else "", moulded])


def _drawn(code: str, name: str, told: list[str]) -> str:
    import segno

    try:
        drawn = segno.make(code, error="m", micro=False).svg_inline(border=1, omitsize=True)
    except ValueError as error:  # of the library, where a code has no room for it
        raise UsageError(f"label: given {code!r}, allowed: a shorter name, that fits into a square code") from error
    lines = "<br>".join(escape(text) for text in told if text)
    return f'<div class="label">{drawn}<div><b>{escape(name)}</b><br>{lines}</div></div>'
