"""``shotlog learn``: find the register map or the line layout beside the press, while it shoots.

It reads and listens, proposes, asks, and writes the press's map into the configuration; it sets nothing at a press.
"""

import argparse
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from shotlog.cli.opening import Subparsers, add_command, print_json, read_settings
from shotlog.cli.typed_ahead import forget_typed_ahead
from shotlog.clock import SystemClock
from shotlog.errors import OutputError, SettingsError, UsageError
from shotlog.outputs import written_aside
from shotlog.settings import PressSettings, Settings, load

__all__ = ["add"]

_LONGEST_WHY = 100


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "find the register map or line layout of a press while it shoots; only reads, asks before it writes the file"
    parser = add_command(subparsers, "learn", text, _run)
    parser.add_argument("--press", metavar="P", help="which press of the configuration (not needed where there is one)")
    parser.add_argument(
        "--registers", default="", metavar="A-B", help="addresses that may be read, from 0: 0-99,300-349"
    )
    parser.add_argument(
        "--kind", choices=("holding", "input"), help="table of registers (default: the configuration's)"
    )
    parser.add_argument("--shots", type=int, default=12, metavar="N", help="how many shots to watch (default 12)")
    parser.add_argument("--minutes", type=float, default=60.0, metavar="M", help="longest time to watch (default 60)")
    parser.add_argument("--pace", type=float, default=10.0, metavar="R", help="requests a second at most (default 10)")
    seen = 'figures off the press\'s screen: "shot=1042,cushion=5.12,peak_pressure=812 bar"; may be given again'
    parser.add_argument("--seen", action="append", default=[], metavar="TEXT", help=seen)
    parser.add_argument(
        "--screen", type=Path, metavar="FILE.csv", help="such figures as a CSV: shot and channels, a row a shot"
    )
    parser.add_argument("--out", type=Path, metavar="FILE", help="write there in place of CONFIG")
    parser.add_argument("--yes", action="store_true", help="write without asking")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.learning.by_events import learn_events
    from shotlog.learning.by_files import learn_files
    from shotlog.learning.by_lines import learn_lines
    from shotlog.learning.by_registers import KINDS, learn_registers
    from shotlog.learning.learnt import Wishes

    ways: dict[str, Callable[..., Any]] = dict.fromkeys(KINDS, learn_registers)
    ways |= {"serial-line": learn_lines, "euromap63": learn_files, "opcua-40077": learn_events}

    settings = read_settings(arguments.config)
    press = _press(settings, arguments.press)
    if press.kind not in ways:
        raise UsageError(f"press {press.name}: given kind {press.kind}, allowed: {', '.join(ways)}")
    _check(arguments)
    asks = sys.stdin is not None and sys.stdin.isatty() and not arguments.yes
    seen = _seen(arguments)
    wishes = Wishes(
        arguments.shots,
        arguments.minutes * 60.0,
        arguments.registers,
        arguments.kind,
        arguments.pace,
        seen,
        _tell,
        _asker() if asks and not seen else None,
    )
    learnt = ways[press.kind](press, wishes, SystemClock())
    if not arguments.json:
        _show(learnt)
    written = _write(arguments, settings, press, learnt, asks)
    if arguments.json:
        print_json({"press": press.name, **learnt.document, "notes": list(learnt.notes), "written": written})
    return 0 if learnt.map is not None else 1


def _press(settings: Settings, name: str | None) -> PressSettings:
    if name is not None:
        return settings.press(name)
    if len(settings.presses) != 1:
        names = ", ".join(press.name for press in settings.presses)
        raise UsageError(f"--press: given nothing, allowed: one of {names or 'the presses, of which there is none'}")
    return settings.presses[0]


def _check(arguments: argparse.Namespace) -> None:
    for name, low, high in (("shots", 3, 1000), ("minutes", 0.05, 10_000.0), ("pace", 0.1, 50.0)):
        if not low <= getattr(arguments, name) <= high:
            raise UsageError(f"--{name}: given {getattr(arguments, name):g}, allowed: {low:g} to {high:g}")


def _seen(arguments: argparse.Namespace) -> list[Any]:
    from shotlog.learning.screen import seen_in, seen_in_file

    seen = [seen_in(text) for text in arguments.seen]
    if arguments.screen is not None:
        try:
            seen += seen_in_file(arguments.screen.read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError) as error:
            raise UsageError(
                f"--screen: given {arguments.screen}, allowed: a readable CSV in UTF-8 ({error})"
            ) from error
    if any(one.shot is None for one in seen):
        raise UsageError('--seen: given no shot, allowed: figures with their shot, such as "shot=1042,cushion=5.12"')
    return seen


def _tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


def _asker() -> Callable[[Any], Any]:
    from shotlog.learning.asking import Asker

    return Asker(input, _tell, forget_typed_ahead)


def _show(learnt: Any) -> None:
    header = ("channel", "read from", "type", "scale", "latest", "how sure")
    rows = [(row.channel, row.where, row.type, row.scale, row.latest, row.sure) for row in learnt.rows]
    widths = [max(len(row[n]) for row in [header, *rows]) for n in range(len(header))]
    for row, reason in zip([header, *rows], ["", *(row.why for row in learnt.rows)], strict=True):
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
        if reason:
            print(f"    {reason}")
    for note in learnt.notes:
        print(note)


def _write(
    arguments: argparse.Namespace, settings: Settings, press: PressSettings, learnt: Any, asks: bool
) -> str | None:
    """Write the map into the configuration, after asking; return where, or None."""
    from shotlog.learning.config_text import with_map

    target: Path = arguments.out or settings.file
    if learnt.map is None:
        return None
    text = _with_its_line_ends(settings.file, lambda text: with_map(text, press.name, learnt.map))
    if not arguments.yes and not _is_taken(target, settings.file, text, press.name, asks):
        return None
    kept = _free(target, "before-learn") if target.exists() else None
    if kept is not None:
        shutil.copy2(target, kept)
    _put(target, settings.file, text, press.name)
    _tell(f"written: {target}" + (f"; as it was before: {kept}" if kept else ""))
    _tell(f"next: shotlog check {target}; then shotlog probe {target}, and compare with the press's screen")
    return str(target)


def _is_taken(target: Path, like: Path, text: str, press: str, asks: bool) -> bool:
    """Say whether a proposal is to be written; one that is not stays in a file of its own, which is named."""
    proposal = _free(target, "learnt")
    try:
        # before it is asked: what took a dozen shots outlives a wrong key and a closed terminal
        _put(proposal, like, text, press)
    except OutputError as error:
        _tell(f"the proposal cannot be kept: {error}")
        return asks and _is_wanted(target)
    if asks:
        _tell(f"the proposal is kept in {proposal}")
    if asks and _is_wanted(target):
        proposal.unlink()
        return True
    why = "" if asks else "add --yes, or answer at a terminal; "
    _tell(f"nothing was written into {target}: {why}{proposal} is the same configuration with the map in it")
    return False


def _is_wanted(target: Path) -> bool:
    """Ask until yes or no is answered: an empty line may be one Enter too many, at the questions before."""
    forget_typed_ahead()
    while True:
        try:
            answer = input(f"write this into {target}? [y/n] ").strip().lower()
        except EOFError:
            return False
        if answer in ("y", "yes", "n", "no"):
            return answer.startswith("y")
        _tell("answer y or n")


def _free(target: Path, ending: str) -> Path:
    """Return a name beside a file that nothing has yet."""
    names = (target.with_name(f"{target.name}.{ending}{f'-{n}' if n else ''}") for n in range(1000))
    return next(name for name in names if not name.exists())


def _put(place: Path, like: Path, text: str, press: str) -> None:
    """Write a configuration, once it was read as `check` does; it may be read by those who may read `like`."""
    with written_aside(place) as aside:
        aside.touch(0o600)
        aside.write_bytes(text.encode("utf-8"))
        shutil.copymode(like, aside)
        _check_written(aside, place, press)


def _with_its_line_ends(file: Path, edit: Callable[[str], str]) -> str:
    """Return a text file edited, with the line ends and the mark at its head that it had."""
    text = file.read_bytes().decode("utf-8")
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    edited = edit(text.removeprefix(mark).replace("\r\n", "\n"))
    return mark + (edited.replace("\n", "\r\n") if "\r\n" in text else edited)


def _check_written(aside: Path, target: Path, name: str) -> None:
    """Read what was written as `check` does.

    Raises
    ------
    UsageError
        It is not valid: what stood there stands.
    """
    from shotlog.collectors import options

    try:
        options(load(aside).press(name))
    except SettingsError as error:
        raise UsageError(f"{target}: not written, for it would not be valid: {error}") from error
