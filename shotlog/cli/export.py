"""``shotlog export``: the shots as a recording (CSV) or as Parquet with units in its metadata; or all as it comes."""

import argparse
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.channels import CHANNELS
from shotlog.cli.every_edge import edge_names, every_edge, one_of
from shotlog.cli.opening import Subparsers, add_command, opened, read_settings
from shotlog.cli.outside import head_told
from shotlog.cli.place_of_output import file_for, folder_for
from shotlog.errors import UsageError
from shotlog.extras import need
from shotlog.outputs import written_aside
from shotlog.settings import load
from shotlog.settings.store_address import with_edge
from shotlog.wording.numbers import some

if TYPE_CHECKING:
    from shotlog.recording import Columns
    from shotlog.store.log.log import Log

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "export", "write the shots to a file that replay and other programs read", _run)
    parser.add_argument(
        "--out",
        type=Path,
        metavar="FILE",
        help="FILE.csv, FILE.parquet (with the extra parquet installed), or a folder; with --follow FILE.ndjson, which "
        "is added to (default there: standard output)",
    )
    parser.add_argument("--press", metavar="P", help="only this press")
    parser.add_argument(
        "--follow", action="store_true", help="write what comes from now on, a JSON document a line, until stopped"
    )
    parser.add_argument("--since", metavar="T", help="with --follow: begin with the first shot made since then")
    parser.add_argument("--after", metavar="ID", help="with --follow: go on after the line with this id")


def _run(arguments: argparse.Namespace) -> int:
    names = edge_names(arguments.config)
    if names is not None:
        return _export_edges(arguments, names)
    if arguments.follow:
        from shotlog.cli.export_follow import follow

        return follow(arguments)
    for name in ("since", "after"):
        if getattr(arguments, name) is not None:
            raise UsageError(f"--{name}: given without --follow, allowed: together with it")
    if arguments.out is None:
        raise UsageError("--out: given nothing, allowed: FILE.csv, FILE.parquet or a folder; or --follow")
    suffix = arguments.out.suffix.lower()
    if not suffix and not arguments.press:
        return _export_folders(arguments)
    from shotlog.store.keeping.head import head_of

    file_for(arguments.out, "--out", (".csv", ".parquet"), read_settings(arguments.config))
    if suffix == ".parquet":
        need("parquet", f"--out {arguments.out}")
    with opened(arguments.config) as (settings, log):
        head = head_of(log)
        names = [settings.press(arguments.press).name] if arguments.press else log.presses()
        n = (
            _write_csv([(log, name, "") for name in names], arguments.out)
            if suffix == ".csv"
            else _write_parquet(log, arguments.press, arguments.out)
        )
        head_told(log, settings, head, f"export {arguments.out.name}")
    print(f"{arguments.out}: {some(n, 'shot')}")
    return 0


def _export_edges(arguments: argparse.Namespace, names: list[str]) -> int:
    """Write the shots of all edges of a centre into one recording, or each into a folder of its own."""
    out, is_folder = arguments.out, arguments.out is not None and not arguments.out.suffix
    if arguments.follow or arguments.press or out is None or not (is_folder or out.suffix.lower() == ".csv"):
        raise UsageError(f"export: given a whole centre, allowed: --out FILE.csv or a folder alone; or {one_of(names)}")
    if is_folder:

        def apart(of_one: argparse.Namespace, folder: str) -> None:
            of_one.out = out / folder

        return every_edge(_export_folders, apart)(arguments)
    settings = load(arguments.config)
    file_for(out, "--out", (".csv",), settings)
    from shotlog.store.log.log import open_log

    with ExitStack() as stack:
        logs = {name: stack.enter_context(open_log(with_edge(settings.store, name))) for name in names}
        n = _write_csv([(log, press, name) for name, log in logs.items() for press in log.presses()], out)
    print(f"{out}: {some(n, 'shot')} of {some(len(names), 'edge')}")
    return 0


def _export_folders(arguments: argparse.Namespace) -> int:
    from shotlog.cli.trial_folder import write_folders
    from shotlog.store.keeping.head import head_of
    from shotlog.store.parts.pictures import picture_folder

    folder_for(arguments.out, "--out", read_settings(arguments.config))
    with opened(arguments.config) as (settings, log):
        pictures, head = picture_folder(settings.store, settings.file), head_of(log)
        for name, n in write_folders(log, settings.designs, pictures, arguments.out):
            print(f"{arguments.out / name}: {some(n, 'shot')}")
        head_told(log, settings, head, f"export {arguments.out.name}")
    return 0


def _write_csv(presses: "Sequence[tuple[Log, str, str]]", out: Path) -> int:
    """Write the shots of presses, each of a log, and of an edge where there are several."""
    from shotlog import recording

    present: set[str] = set()
    optional = False
    for log, press, _ in presses:
        present.update(log.channels_present([press]))
        stays = log.timeline(press).stays
        optional |= any(stay.mounting.single_use or stay.mounting.insert.print_batch for stay in stays)
    channels = [name for name in CHANNELS if name in present]
    return recording.write(out, _shots(presses, channels), channels, optional)


def _shots(presses: "Sequence[tuple[Log, str, str]]", channels: Sequence[str]) -> "Iterator[Columns]":
    """Yield the shots of presses; where two edges have a press of one name, it bears that of its edge before it."""
    named = Counter(press for _, press, _ in presses)
    for log, press, edge in presses:
        name = press if named[press] == 1 else f"{edge}/{press}"
        for block in log.recorded(press, channels=channels):
            yield {**block, "press": [name] * len(block["press"])}


def _write_parquet(log: "Log", press: str | None, out: Path) -> int:
    import json

    import pyarrow as pa
    import pyarrow.parquet as pq

    frame = log.shots(press)
    table = pa.Table.from_pandas(frame, preserve_index=False)
    units = frame.attrs["units"]
    fields = [
        field.with_metadata({"unit": units[field.name]}) if field.name in units else field for field in table.schema
    ]
    schema = pa.schema(fields, metadata={**(table.schema.metadata or {}), b"units": json.dumps(units).encode()})
    with written_aside(out) as aside:
        pq.write_table(table.cast(schema), aside)
    return len(frame)
