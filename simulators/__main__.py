"""The command line: ``python -m simulators serve|record|list``."""

from shotlog.own_python import leave_folder

leave_folder()  # before anything else is imported

import argparse
import os
import sys
from dataclasses import fields
from pathlib import Path

from simulators.causes import CAUSES, SimulatedCause
from simulators.disturb import MODBUS_FAULTS, OPC_FAULTS, PRINTER_FAULTS, parse_fault
from simulators.faces import FACES, FaceError
from simulators.file_press_faults import FILE_FAULTS
from simulators.machine import ScenarioError
from simulators.opc_switches import SWITCHES
from simulators.picture import draw
from simulators.press import PressRun
from simulators.printout import DIALECTS
from simulators.recording import runs, write_levels, write_recording, write_truth
from simulators.story import load, scenario_names
from simulators.trace import trace, write_trace

_EXAMPLES = """\
examples:
  python -m simulators list
      which stories there are
  python -m simulators record gate_erosion --out shots.csv --truth truth.csv --png shots.png
      one of them as a file the logger replays, what was true in it, and a picture
  python -m simulators serve demo --speed 60
      two presses on this computer, a shot every second or so; the first line says where they are
      and holds the [press.collector] table to paste into a configuration; Ctrl-C ends it
  python -m simulators serve demo --speed 60 --fault P25:refused@20-25 --fault P15:garbage@10
      the same with a press that goes away for six shots and noise on the other's line
  python -m simulators serve set_point_edits --speed 60 --press P25=opcua-40077:no-units+two-units
      a press on OPC UA that tells no units and has two injection units
  python -m simulators serve demo --speed 60 --press P25=euromap63:pieces=two,processed=plain
      one of them gives its shots as files in a folder instead; a wrong switch is told with all that there are
"""


def main(arguments: list[str] | None = None) -> int:
    """Run one command; return the exit status (0 done, 2 bad usage or scenario)."""
    parser = _parser()
    options = parser.parse_args(arguments)
    try:
        if options.command == "list":
            return _causes() if options.causes else _list()
        if options.command == "record":
            return _record(options)
        return _serve(options)
    except (ScenarioError, FaceError) as error:
        print(error, file=sys.stderr)
        return 2
    except BrokenPipeError:
        # whoever read the events is gone: so is the reason to serve
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m simulators",
        description="Simulated presses with printed inserts: to try the logger on, without a press.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(dest="command", required=True)
    told = commands.add_parser("list", help="list the scenarios that come along")
    told.add_argument("--causes", action="store_true", help="list what can go wrong instead, for scenarios of your own")
    _record_options(commands.add_parser("record", help="write a scenario as a recording (CSV)"))
    _serve_options(commands.add_parser("serve", help="serve a scenario on real wires, as a press would"))
    return parser


def _record_options(record: argparse.ArgumentParser) -> None:
    add = record.add_argument
    add("scenario", metavar="SCENARIO", help="name of a scenario (see list) or a TOML file")
    add("--out", type=Path, metavar="F.csv", help="write the recording")
    add("--truth", type=Path, metavar="T.csv", help="write what was true: causes, onsets, first bad parts")
    add("--levels", type=Path, metavar="L.csv", help="write the true level at every shot")
    add("--png", type=Path, metavar="P.png", help="draw the scenario")
    add("--traces", type=Path, metavar="DIR", help="write each shot's sampled pressure and position")
    add("--trace-rate", type=float, default=500.0, metavar="HZ", help="samples a second (100 to 1000)")
    add("--shots", type=_count, metavar="N", help="shots on each press (default: the scenario's own story)")
    add("--seed", type=int, metavar="S", help="another seed than the scenario's")


def _serve_options(serve: argparse.ArgumentParser) -> None:
    add = serve.add_argument
    faces = ", ".join(FACES)
    faults = ", ".join({**MODBUS_FAULTS, **PRINTER_FAULTS, **OPC_FAULTS, **FILE_FAULTS})
    switches, dialects, form = (
        ", ".join(SWITCHES),
        ", ".join(DIALECTS),
        "NAME:KIND@FROM[-TO][,seconds=S][,code=N][,modulus=N]",
    )
    add("scenario", metavar="SCENARIO", nargs="?", default="demo", help="as for record (default: demo)")
    add("--speed", type=float, default=1.0, metavar="X", help="how many times faster than real (1 to 1000)")
    add("--shots", type=_count, metavar="N", help="shots on each press, then stop making any")
    add("--longest-wait", type=float, default=0.0, metavar="S", help="cut stops on the wire to S seconds")
    add(
        "--press",
        action="append",
        default=[],
        metavar="NAME=FACE[:DIALECT]",
        help=f"face of one press: {faces}; printed lines in the dialect {dialects}; "
        "files with switches as euromap63:ftp=whole,units=other; "
        f"OPC UA with switches joined by +: {switches}; may be repeated",
    )
    add(
        "--fault",
        action="append",
        default=[],
        metavar=form,
        help=f"a fault of the wire during these shots: {faults}; may be repeated",
    )
    add("--ready", default="-", metavar="FILE", help="also write the first line (where the presses are) to FILE")
    add("--wait", action="store_true", help="wait for a line 'go' on stdin; stop when stdin closes")
    add("--end", action="store_true", help="end after the last shot instead of keeping it on the wire")


def _count(text: str) -> int:
    count = int(text)
    if count < 1:
        raise argparse.ArgumentTypeError(f"given {text}, allowed: 1 or more")
    return count


def _causes() -> int:
    """Print every kind of cause with what it is and its own keys."""
    shared = [field.name for field in fields(SimulatedCause)]
    for name, kind in CAUSES.items():
        first = (kind.__doc__ or "").strip().split("\n\n", 1)[0]
        own = [field.name for field in fields(kind) if field.name not in shared]
        keys = ", ".join(f"{key} = {getattr(kind(), key)!r}" for key in own)
        print(f"{name} ({kind.group})\n    {' '.join(first.split())}\n    keys: {keys}")
    print(f"all of them: {', '.join(shared)}")
    return 0


def _list() -> int:
    for name in scenario_names():
        scenario = load(name)
        presses = ", ".join(press.name for press in scenario.presses)
        print(f"{name:22} {scenario.shots:5} shots  {presses}: {scenario.title}")
    return 0


def _record(options: argparse.Namespace) -> int:
    wanted = ("out", "truth", "levels", "png", "traces")
    if not any(getattr(options, name) for name in wanted):
        raise ScenarioError(f"record: given nothing to write, allowed: {', '.join(f'--{name}' for name in wanted)}")
    scenario = load(options.scenario)
    made = runs(scenario, options.shots, options.seed)
    if options.out:
        with options.out.open("w", newline="", encoding="utf-8") as out:
            write_recording(scenario, made, out)
    if options.truth:
        write_truth(made, options.truth)
    if options.levels:
        write_levels(made, runs(scenario, options.shots, options.seed, quiet=True), options.levels)
    if options.png:
        draw(scenario, made, options.png)
    if options.traces:
        _traces(made, options.traces, options.trace_rate)
    print(f"{sum(map(len, made))} shots on {len(made)} presses", file=sys.stderr)
    return 0


def _traces(made: list[PressRun], folder: Path, rate_hz: float) -> None:
    if not 100.0 <= rate_hz <= 1000.0:
        raise ScenarioError(f"--trace-rate: given {rate_hz:g}, allowed: 100 to 1000")
    folder.mkdir(parents=True, exist_ok=True)
    for run in made:
        for index in range(len(run)):
            name = f"{run.press.name}_{run.press.first_count + index + 1:06d}.csv"
            with (folder / name).open("w", encoding="utf-8") as out:
                write_trace(trace(run, index, rate_hz), out)


def _serve(options: argparse.Namespace) -> int:
    # the Modbus library takes longer to load than a recording to write
    from simulators.serve import ServePlan, as_line, run_server

    scenario = load(options.scenario)
    if not 0.1 <= options.speed <= 10000:
        raise ScenarioError(f"--speed: given {options.speed:g}, allowed: 0.1 to 10000")
    kinds = dict(item.partition("=")[::2] for item in options.press)
    names = [press.name for press in scenario.presses]
    faults = tuple(parse_fault(text) for text in options.fault)
    for name in (*kinds, *(name for name, _ in faults)):
        if name not in names:
            raise ScenarioError(f"press: given {name!r}, allowed: {', '.join(names)}")

    def say(event: dict[str, object]) -> None:
        print(as_line(event), flush=True)
        if "serving" in event and options.ready != "-":
            Path(options.ready).write_text(as_line(event) + "\n", encoding="utf-8")

    plan = ServePlan(options.speed, options.shots, options.wait, options.end, kinds, faults, options.longest_wait)
    run_server(scenario, plan, say)
    return 0


if __name__ == "__main__":
    sys.exit(main())
