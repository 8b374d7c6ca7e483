"""The people of the demo: what they do is entered in the log as a person would with the commands.

They mount and take out, note what they see, put parts into the bath and take them out, inspect and decide. What they do
and when comes from the simulator, one JSON object a line.
"""

import json
import queue
import sys
import threading
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shotlog.cautions import CAUSTIC
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.settings import Bound, Settings, load

if TYPE_CHECKING:
    from shotlog.parts.part import Part
    from shotlog.store.log.log import Log

__all__ = ["enter", "operate"]

Act = Mapping[str, Any]


def operate(config: Path, lines: "queue.Queue[str]", stop: threading.Event) -> None:
    """Enter what the simulated people do, until they have no more to do or it is stopped."""
    from shotlog.store.log.log import open_log

    settings, cautioned = load(config), False
    with open_log(settings.store, read_only=False) as log:
        while not stop.is_set():
            try:
                line = lines.get(timeout=0.2)
            except queue.Empty:
                continue
            if not line:
                return
            act = json.loads(line)
            if "do" not in act:
                continue
            if act["do"] == "make-up" and not cautioned:
                _say(f"demo: CAUTION, where the bath is a real one: {CAUSTIC}")
                cautioned = True
            said = enter(log, settings, act, SystemClock().now())
            _say(f"demo: at shot {act['at_shot']} of {act['press']} the operator {said}")


def enter(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    """Enter one act; returns what was done, or why it could not be entered."""
    from shotlog.store.log.signed import at_this_computer

    log.signature = at_this_computer("demo", act.get("initials", ""))
    try:
        return _ACTS[act["do"]](log, settings, act, now)
    except UsageError as error:
        return f"could not enter {act['do']}: {error}"


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


def _mount(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.inserts import entries

    known = {name: act[name] for name in ("half", "at_shot", "design", "print_batch", "single_use", "initials")
             if name in act}  # fmt: skip
    entries.mount(log, act["press"], act["serial"], now, **known)
    return f"mounts {act['serial']} ({act['half']})"


def _remove(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.inserts import entries

    reason, who = act.get("reason") or "taken out", act.get("initials", "")
    entries.remove(log, act["press"], act["serial"], now, reason=reason, at_shot=act["at_shot"], initials=who)
    return f"takes out {act['serial']}: {reason}"


def _note(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.inserts import entries

    about = {name: act[name] for name in ("at_shot", "half", "initials") if name in act}
    entries.note(log, act["press"], act["kind"], act["text"], now, **about)
    return f"notes {act['kind']}: {act['text']}"


def _make_up(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts import baths

    molar, warm = Bound(*act["concentration"]), Bound(*act["temperature"])
    baths.make_up(log, act["bath"], now, concentration=molar, temperature=warm, initials=act["initials"])
    return f"makes up {act['bath']}, {molar.low:g} to {molar.high:g} mol/l"


def _check(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts import baths

    (molar,), (warm,) = act["concentration"], act["temperature"]
    baths.check_bath(log, act["bath"], now, concentration=molar, temperature=warm, initials=act["initials"])
    return f"checks {act['bath']}: {molar:g} mol/l, {warm:g} degC"


def _put_in(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts import soaks

    put = soaks.put_in(log, act["bath"], _parts(act), now, settings.designs, initials=act["initials"])
    return f"puts parts {act['first']} to {act['last']} into {act['bath']}, due {put[0].due.astimezone():%H:%M:%S}"


def _take_out(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts import soaks

    out = soaks.take_out(log, _parts(act), now, initials=act["initials"])
    return f"takes parts {act['first']} to {act['last']} out of {out[0].bath}"


def _inspect(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts.inspections import inspect
    from shotlog.wording.parts import result_text

    (part,) = _parts(act)
    measured: dict[str, Any] = {}
    if act["quantity"]:
        tolerance = _tolerance(log, settings, part, act["quantity"])
        measured = {"quantity": act["quantity"], "value": act["value"], "unit": "mm", "tolerance": tolerance}
    found = {name: act[name] for name in ("finding", "half", "initials")}
    return f"inspects part {part.shot}: {result_text(inspect(log, part, now, **measured, **found))}"


def _tolerance(log: "Log", settings: Settings, part: "Part", quantity: str) -> Bound:
    designs = (held.design for held in log.timeline(part.press).halves(part.shot).values())
    tolerances = (settings.designs[name].tolerance for name in designs if name in settings.designs)
    return next((one[quantity] for one in tolerances if quantity in one), Bound())


def _decide(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts.dispositions import enter_decision

    decision = {"hold": "held", "release": "released", "scrap": "scrapped"}[act["do"]]
    enter_decision(log, _parts(act), decision, now, reason=act["reason"], initials=act["initials"])
    return f"decides: parts {act['first']} to {act['last']} {decision}, {act['reason']}"


def _place(log: "Log", settings: Settings, act: Act, now: datetime) -> str:
    from shotlog.store.parts.places import put_at

    put_at(log, _parts(act), act["place"], now, initials=act["initials"])
    return f"puts parts {act['first']} to {act['last']} into {act['place']}"


def _parts(act: Act) -> "list[Part]":
    from shotlog.parts.part import Part

    return [Part(act["press"], shot) for shot in range(act["first"], act["last"] + 1)]


_ACTS: Mapping[str, Callable[["Log", Settings, Act, datetime], str]] = {
    "mount": _mount, "remove": _remove, "note": _note,
    "make-up": _make_up, "check": _check, "in": _put_in, "out": _take_out,
    "place": _place, "inspect": _inspect, "hold": _decide, "release": _decide, "scrap": _decide,
}  # fmt: skip
