"""What the operator logs at the press, shot by shot: mounts, removals, notes, and what is done with the parts.

What was forgotten stays out.
"""

from collections.abc import Iterator
from dataclasses import asdict

from simulators.story import Press

__all__ = ["Act", "acts"]

Act = dict[str, object]


def acts(press: Press, shots: int) -> list[tuple[int, Act]]:
    """Return what is logged up to shot `shots`, as (shot after which it is too late to be first, entry), in order.

    The number is when the operator does it, which is later than the entry's own `at_shot` where he logs it late.
    """
    entries = [(when, act) for when, act in _acts(press, shots) if when <= shots]
    return sorted(entries, key=lambda entry: entry[0])


def _acts(press: Press, shots: int) -> Iterator[tuple[int, Act]]:
    """Yield the acts; those of one moment in the order of a day: what was seen, the half changed, the parts."""
    who = {"initials": press.operator} if press.operator else {}
    for when, at_shot, note in _notes(press):
        yield when, {"press": press.name, "at_shot": at_shot, "do": "note", **note, **who}
    for when, act in _changes(press, shots):
        yield when, {**act, **who}
    for task in press.tasks:
        yield task.at_shot, {**asdict(task), "press": press.name}


def _changes(press: Press, shots: int) -> Iterator[tuple[int, Act]]:
    mounted: dict[str, str] = {}
    for mount in press.mounts_until(shots):
        if not mount.logged:
            continue
        when, start = mount.at_shot + mount.late, {"press": press.name, "at_shot": mount.at_shot}
        before = mounted.get(mount.half)
        if before is not None:
            yield when, {**start, "do": "remove", "half": mount.half, "serial": before, "reason": mount.reason}
        mounted[mount.half] = mount.serial
        what = {"half": mount.half, "serial": mount.serial, "design": mount.design, "single_use": mount.single_use}
        yield when, {**start, "do": "mount", **what, "print_batch": mount.print_batch}


def _notes(press: Press) -> Iterator[tuple[int, int, Act]]:
    for lot in press.lots:
        if lot.logged:
            yield lot.at_shot + lot.late, lot.at_shot, {"kind": "lot", "text": lot.name}
    for stop in press.stops:
        if stop.logged:
            text = f"{stop.minutes:g} min" + (f", {stop.text}" if stop.text else "")
            yield stop.at_shot + stop.late, stop.at_shot, {"kind": "pause", "text": text}
            if stop.purge:
                yield stop.at_shot + stop.late, stop.at_shot, {"kind": "purge", "text": "after the pause"}
    for edit in press.edits:
        if edit.logged:
            yield edit.at_shot + edit.late, edit.at_shot, {"kind": "setup", "text": f"{edit.key} {edit.value:g}"}
    for remark in press.remarks:
        half = {"half": remark.half} if remark.half else {}
        yield remark.at_shot + 1 + remark.late, remark.at_shot, {"kind": remark.kind, "text": remark.text, **half}
