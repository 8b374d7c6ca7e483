"""``shotlog review``: what happened on a shift or trial, as one HTML file or one JSON document."""

import argparse
import json
import sys
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.cli.every_edge import every_edge
from shotlog.cli.given import moment
from shotlog.cli.opening import Subparsers, add_command, json_escapes, opened, print_json, read_settings
from shotlog.cli.outside import head_told
from shotlog.cli.place_of_output import file_for
from shotlog.cli.progress import Progress
from shotlog.clock import SystemClock
from shotlog.extras import need
from shotlog.outputs import written_aside
from shotlog.settings import Settings
from shotlog.wording.numbers import some

if TYPE_CHECKING:
    from shotlog.answers.table import Table
    from shotlog.review import Review

__all__ = ["add", "write_whole"]


_WORDS = ("doubt", "half", "lots", "missed", "baselines", "lives", "calls", "stops", "bad", "first", "earlier")
"""The questions of `answers.questions`, named here so that the help need not load them (a test compares)."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers, "review", "write what happened on a shift or trial as one HTML file", every_edge(_run, _of_edge)
    )
    parser.add_argument(
        "--since",
        metavar="T",
        help="only shots since this time (ISO 8601; without an offset it is this computer's local time)",
    )
    parser.add_argument(
        "--out",
        type=Path,
        metavar="FILE",
        help="the HTML file (default: review.html); it holds pictures, with the extra pictures installed",
    )
    parser.add_argument(
        "--ask",
        metavar="WORD",
        choices=_WORDS,
        help=f"print the answer to one question in place of the file: {', '.join(_WORDS)}",
    )
    parser.add_argument("--press", metavar="P", help="with --ask: only this press")
    parser.add_argument("--json", action="store_true", help="print one JSON document; a file only with --out")


def _of_edge(arguments: argparse.Namespace, name: str) -> None:
    """Give each edge of a centre its own file, beside the one that was named for all."""
    if not arguments.ask and (arguments.out is not None or not arguments.json):
        out = arguments.out or Path("review.html")
        arguments.out = out.with_name(f"{out.stem}-{name}{out.suffix}")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.review import review
    from shotlog.store.keeping.head import Head

    since, tell = moment(arguments.since), Progress()
    if arguments.ask:
        return _answer(arguments, since, tell)
    out = arguments.out or (None if arguments.json else Path("review.html"))
    if out is not None:
        file_for(out, "--out", (".html", ".htm"), read_settings(arguments.config))
        need("pictures", f"--out {out}")
    with opened(arguments.config) as (settings, log):
        now = SystemClock().now()
        found = review(log, settings, now, since, tell)
        if out is not None:
            _write(out, found, settings, now, tell)
            if found.log.n_transactions is not None:
                head_told(log, settings, Head(found.log.n_transactions, found.log.digest), f"report {out.name}")
    if arguments.json:
        _print(found)
    return 0


def _write(out: Path, found: "Review", settings: Settings, now: datetime, tell: Progress) -> None:
    from shotlog.report import rendered
    from shotlog.store.parts.pictures import picture_bytes, picture_folder

    read = partial(picture_bytes, picture_folder(settings.store, settings.file))
    write_whole(out, rendered(found, now.astimezone().tzinfo or UTC, tell, read))
    print(f"{out}: {some(sum(one.n_seen for one in found.presses), 'shot')} reviewed", file=sys.stderr)


def _answer(arguments: argparse.Namespace, since: datetime | None, tell: Progress) -> int:
    """Print the answer to one question about the presses of the review."""
    from shotlog.answers.asked import Asked
    from shotlog.answers.questions import QUESTIONS
    from shotlog.answers.table import printed
    from shotlog.review import review
    from shotlog.review.chain import chain_of

    question = QUESTIONS[arguments.ask]
    with opened(arguments.config) as (settings, log):
        if arguments.press:
            settings.press(arguments.press)
        now = SystemClock().now()
        found = review(log, settings, now, since, tell, verify=False)  # no answer tells how the log stands
        presses = tuple(one for one in found.presses if arguments.press in (None, one.press))
        asked = Asked(presses, now, lambda part: chain_of(log, settings.designs, part), found.ledger)
        tables = question.answer(asked)
    if arguments.json:
        print_json({"question": question.asks, "tables": [_document(one) for one in tables]})
        return 0
    print(question.asks)
    for table in tables:
        print(f"\n{printed(table)}")
    return 0


def _document(table: "Table") -> dict[str, object]:
    rows = [dict(zip(table.heads, row, strict=True)) for row in table.rows]
    return {"name": table.name, "title": table.title, "about": table.about, "rows": rows}


def write_whole(out: Path, pieces: Iterable[str]) -> None:
    """Write a file that is whole or not there: stopped on the way, what stood there before stands."""
    with written_aside(out) as aside, aside.open("w", encoding="utf-8", newline="\n") as file:
        file.writelines(pieces)


def _print(found: "Review") -> None:
    """Print the review as one JSON document, piece by piece: that of a long log is never held at once."""
    from shotlog.review import as_json

    def pieces(value: object, depth: int) -> Iterator[str]:
        if depth and is_dataclass(value) and not isinstance(value, type):
            for n, field in enumerate(fields(value)):
                yield f"{', ' if n else '{'}{json.dumps(field.name)}: "
                yield from pieces(getattr(value, field.name), depth - 1)
            yield "}"
        elif depth and isinstance(value, tuple) and value:
            for n, one in enumerate(value):
                yield ", " if n else "["
                yield from pieces(one, depth - 1)
            yield "]"
        else:
            yield json.dumps(as_json(value), ensure_ascii=json_escapes(), allow_nan=False)

    sys.stdout.writelines(pieces(found, 3))
    print()
