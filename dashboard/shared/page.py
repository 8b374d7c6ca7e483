"""What a page is: its place in the navigation, its layout, its callbacks. `PAGES` in the package lists them."""

from collections.abc import Callable
from dataclasses import dataclass

from dash import Dash
from dash.development.base_component import Component

from dashboard.shared.desk import Desk
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from dashboard.shift import ShiftReader

__all__ = ["Context", "Page"]


@dataclass(frozen=True, slots=True)
class Context:
    """What every page is given: the log and the time, the readers of presses and of shifts, the desk for entries."""

    source: Source
    reader: PressReader
    shifts: ShiftReader
    desk: Desk


@dataclass(frozen=True, slots=True)
class Page:
    """One screen. `layout` is given what follows `path` in the address, and returns the page's components."""

    label: str
    path: str
    layout: Callable[[Context, str], Component]
    register: Callable[[Dash, Context], None]
