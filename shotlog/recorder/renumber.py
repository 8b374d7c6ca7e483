"""Numbering shots again that were numbered while nobody could ask the log where it stands.

After a power failure the log may be away. Shots are then numbered on from the last position that was noted, which may
be some seconds old, or, where there is none, from the counter alone. When the log can be asked, what it holds decides:
shots it has are the same shots, shots after those get numbers of their own, and nothing is taken for a shot of before
only because the numbers are the same.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from shotlog.collectors.base import Resume
from shotlog.collectors.counter import ShotCounter
from shotlog.records import Event, Fault, Gap, SetPointChange, Shot
from shotlog.store.log.journal_line import Spooled

__all__ = ["After", "first_shots", "renumbered", "shift_of"]

After = tuple[int, int] | None
"""The position that numbering went on from without the log: shot and counter; None where none was known."""

_ANY_COUNTER = 2**62
"""Where the counter begins anew is not known here, so that a rollover cannot be told from a new count."""


def first_shots(records: Iterable[Spooled]) -> dict[str, Shot]:
    """Return the first shot of each press."""
    found: dict[str, Shot] = {}
    for record in records:
        if isinstance(record, Shot):
            found.setdefault(record.press, record)
    return found


def shift_of(first: Shot, after: After, last: tuple[int, int] | None) -> int:
    """Return by how much the numbers of a press have to be moved.

    Parameters
    ----------
    first
        Its first shot that was numbered without the log.
    after
        What that was numbered on from.
    last
        The last shot in the log and what the counter read at it, None where the log has none.
    """
    if last is None:
        return 0
    shot, counter = last
    if after is not None and shot >= after[0] and shot - counter == after[0] - after[1]:
        # one count all the while; had it begun anew since, the shots that were not noted go before the new count
        return shot - after[0] if after[1] and first.shot - first.counter == after[0] else 0
    return ShotCounter(_ANY_COUNTER, Resume(shot, counter), zero_is_shot=True).judge(first.counter).shot - first.shot


def renumbered(
    records: Iterable[Spooled], shift: Mapping[str, int], last: Mapping[str, tuple[int, int] | None]
) -> list[Spooled]:
    """Return records with the shots of each press in `shift` moved by as much; shots that the log has are not missed.

    `last`: the last shot in the log and its counter, by press, for those numbered again just now; a gap is then put
    before the first shot where shots lie between, and it is put on record that they were numbered again.
    """
    found: list[Spooled] = []
    told: set[str] = set()
    for record in records:
        press = getattr(record, "press", "")
        if press not in shift:
            found.append(record)
            continue
        moved, by = record, shift[press]
        match record:
            case Gap():
                least = 0 if last.get(press) is None else last[press][0] + 1  # type: ignore[index]
                if record.last + by < least:
                    continue
                moved = replace(record, first=max(record.first + by, least), last=record.last + by)
            case Shot():
                if press not in told and by and last.get(press) is not None:
                    found += _said(record, by, *last[press])  # type: ignore[misc]
                told.add(press)
                moved = replace(record, shot=record.shot + by)
            case Event():
                moved = replace(record, at_shot=record.at_shot + by)
            case SetPointChange():
                moved = replace(record, shot=record.shot + by)
            case Fault() if record.shot is not None:
                moved = replace(record, shot=record.shot + by)
        found.append(moved)
    return found


def _said(first: Shot, by: int, last: int, counter: int) -> list[Spooled]:
    """Return what is put on record before the first shot that is numbered again."""
    detail = (
        f"the log could not be asked at the start; its last shot is {last}, where the counter read {counter}; from "
        f"counter {first.counter} on shots are numbered {first.shot + by}, and not {first.shot}"
    )
    found: list[Spooled] = [Fault(first.press, first.time, "numbered again", detail)]
    if first.shot + by > last + 1:
        why = f"the log could not be asked; counter went on from {counter} to {first.counter}"
        found.append(Gap(first.press, last + 1, first.shot + by - 1, first.time, why))
    return found
