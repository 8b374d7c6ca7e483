"""What a page sends to its callbacks, by type. What does not fit is refused before one is called (`walls.payloads`)."""

from typing import Literal, NewType, NotRequired, TypedDict

__all__ = ["Clicked", "Mode", "Option", "PressName", "Touch", "TouchOfParts", "Typed"]

PressName = NewType("PressName", str)
"""The name of a press of this configuration, and of no other."""

Mode = Literal["day", "dark"]
Typed = str | None
"""What a field or a choice holds; None before anything was typed or chosen."""


class Touch(TypedDict):
    """A touch of a button at the press: what it stands for, about what, and when (ms)."""

    what: str
    arg: str
    at: NotRequired[float]


class TouchOfParts(TypedDict):
    """A touch of a button of the page of parts."""

    do: str
    arg: str
    at: float


class Option(TypedDict):
    """One of a list to choose from."""

    value: str
    label: str


class _Point(TypedDict):
    customdata: NotRequired[list[str | float | None] | None]


class Clicked(TypedDict):
    """What was touched in a figure."""

    points: list[_Point]
