"""The text of a set-up entry that the logger makes by itself, where what a press is set to was found changed."""

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["SetUpChange", "setup_text", "spoken"]


@dataclass(frozen=True, slots=True)
class SetUpChange:
    """One set-point that was changed: from `old` to `new`, as a person reads them, in `unit`.

    `after`: the last shot that was read with the old one, where others lie between or nobody was there; None where it
    is the shot before. `by`: who did it, where the press says so. `restless_since`: the shot from which it changed so
    often that no entry was made of it, None where it did not.
    """

    name: str
    old: str
    new: str
    unit: str = ""
    after: int | None = None
    by: str = ""
    restless_since: int | None = None


def setup_text(changes: Sequence[SetUpChange], at_shot: int) -> str:
    """Return what was changed, as a person says it; `at_shot` is the first shot that was made with it.

    Examples
    --------
    >>> setup_text([SetUpChange("hold_pressure", "350", "360", "bar")], 119)
    'hold pressure 350 -> 360 bar'
    >>> changes = [SetUpChange("cooling", "45", "50", "s", after=118), SetUpChange("dose", "27", "26", "mm", after=118)]
    >>> setup_text(changes, 125)
    'cooling 45 -> 50 s, dose 27 -> 26 mm (between shots 118 and 125)'
    """
    asides = [_aside(change, at_shot) for change in changes]
    if len({*asides}) == 1:
        return f"{', '.join(map(_said, changes))}{asides[0]}"
    return ", ".join(f"{_said(change)}{aside}" for change, aside in zip(changes, asides, strict=True))


def spoken(name: str) -> str:
    """Return the name of a set-point as a person says it."""
    return name.replace("_", " ")


def _said(change: SetUpChange) -> str:
    unit = f" {change.unit}" if change.unit else ""
    return f"{spoken(change.name)} {change.old} -> {change.new}{unit}"


def _aside(change: SetUpChange, at_shot: int) -> str:
    parts = [] if change.after is None else [f"between shots {change.after} and {at_shot}"]
    if change.by:
        parts.append(f"by {change.by} at the press")
    if change.restless_since is not None:
        parts.append(f"it changed again and again from shot {change.restless_since} on")
    return f" ({', '.join(parts)})" if parts else ""
