"""The command line: finds the command, and alone turns errors into one line on stderr and an exit status."""

import argparse
import io
import logging
import os
import re
import sys
import traceback
from collections.abc import Mapping, Sequence
from contextlib import nullcontext, suppress
from types import ModuleType
from typing import Any

from shotlog import __version__
from shotlog.cli import (
    account,
    acknowledge,
    archive,
    backup,
    bath,
    chart,
    check,
    dashboard,
    demo,
    entries,
    explain,
    export,
    import_,
    insert,
    inserts,
    inspect,
    labels,
    learn,
    mount,
    note,
    part,
    parts,
    picture,
    place,
    plan,
    probe,
    queue,
    remove,
    replay,
    restore,
    review,
    run,
    service,
    ship,
    status,
    undo,
    verify,
    weights,
)
from shotlog.errors import SettingsError, ShotlogError, UsageError
from shotlog.talking import talking
from shotlog.withheld import without_secrets

__all__ = ["COMMANDS", "main"]

COMMANDS: tuple[ModuleType, ...] = (
    demo, check, probe, learn, run, mount, remove, queue, note, acknowledge, insert, labels, status, explain, dashboard,
    parts, part, place, bath, inspect, picture, weights, entries, undo, review, inserts, plan, export, import_,
    replay, verify, backup, restore, archive, ship, service, account, chart,
)  # fmt: skip
"""Every command, in the order of the help. Each is a module with `add(subparsers)`."""

_CAUTION = (
    "Reads only; sets nothing at a press. Not a safety device: it does not stop the press and replaces no guard, "
    "interlock, inspection or competent person. If data and eyes disagree, trust eyes and stop the press its own way."
)


_NO_TEXT = re.compile("[\0\ud800-\udfff]")


class _AnyOrder(argparse.ArgumentParser):
    """The words and options of a command in any order: by itself a parser takes no more words after an option."""

    _sorting = False

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """Parse as the base class does; it calls this again for the options, then for the words."""
        if self._sorting:
            return super().parse_known_args(args, namespace)
        self._sorting = True
        try:
            return self.parse_known_intermixed_args(args, namespace)
        finally:
            self._sorting = False


def parser(asked: str = "") -> argparse.ArgumentParser:
    """Return the parser of the whole command line, or of one command alone where that is `asked` for.

    To make those of all commands takes longer than many a command does, and what one says names no other.
    """
    whole = argparse.ArgumentParser(
        prog="shotlog",
        description="Log the shots of presses that run printed mould inserts, chart them, say when something changed.",
        epilog=_CAUTION,
    )
    whole.add_argument("--version", action="version", version=f"shotlog {__version__}")
    subparsers = whole.add_subparsers(dest="command", required=True, metavar="COMMAND", parser_class=_AnyOrder)
    for command in [one for one in COMMANDS if _name(one) == asked] or COMMANDS:
        command.add(subparsers)
    return whole


def _name(command: ModuleType) -> str:
    return command.__name__.rpartition(".")[2].rstrip("_")


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command; return 0 done, 1 a failure while running, 2 bad usage or configuration, 130 stopped by Ctrl-C."""
    _write_whatever_comes()
    given = sys.argv[1:] if argv is None else argv
    arguments = parser(given[0] if given else "").parse_args(given)
    with talking() if getattr(arguments, "stays", False) else nullcontext():
        return _run(arguments)


def _run(arguments: argparse.Namespace) -> int:
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(message)s", datefmt="%H:%M:%S", stream=sys.stderr)
    logging.getLogger("pymodbus").setLevel(logging.CRITICAL)
    try:
        _check_texts(vars(arguments))
        status = int(arguments.run(arguments))
        if sys.stdout is not None:
            sys.stdout.flush()  # here, where a pipe that nobody reads any more is met with a plain end
        return status
    except (SettingsError, UsageError) as error:
        print(f"shotlog {arguments.command}: {error}", file=sys.stderr)
        return 2
    except ShotlogError as error:
        print(f"shotlog {arguments.command}: {error}", file=sys.stderr)
        return 1
    except BrokenPipeError:  # whoever reads what is printed has read enough: the rest goes nowhere
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except OSError as error:
        print(f"shotlog {arguments.command}: {error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print(f"shotlog {arguments.command}: stopped", file=sys.stderr)
        return 130
    except Exception as error:  # noqa: BLE001  (what nobody foresaw: its traceback helps, and holds no secret then)
        sys.stderr.write(without_secrets("".join(traceback.format_exception(error))))
        said = without_secrets(" ".join(f"{type(error).__name__}: {error}".splitlines()))
        print(f"shotlog {arguments.command}: a mistake in this program, told above: {said}", file=sys.stderr)
        return 1


def _write_whatever_comes() -> None:
    """Let a terminal or pipe that has no letter for a name take its number in place of ending the command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _check_texts(given: Mapping[str, object]) -> None:
    """Refuse arguments whose bytes are no text in this terminal's encoding; names of files may be any bytes."""
    for name, value in given.items():
        for text in value if isinstance(value, list) else [value]:
            if isinstance(text, str) and _NO_TEXT.search(text):
                raise UsageError(f"{name}: given {text!r}, allowed: text in the encoding of this terminal")


if __name__ == "__main__":
    sys.exit(main())
