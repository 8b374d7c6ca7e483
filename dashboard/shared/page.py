"""What a page is: its place in the navigation, its layout, its callbacks. `PAGES` in the package lists them."""

from collections.abc import Callable
from dataclasses import dataclass, field

from dash import Dash
from dash.development.base_component import Component

from dashboard.shared.held import HeldReader
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source

__all__ = ["Context", "Page"]


@dataclass(frozen=True, slots=True)
class Context:
    """What every page is given: the log and the time, and the readers of presses and of held parts, which several ask.

    A page adds to `first_looks` what should be read before somebody asks: over a long log the first look takes longest.
    """

    source: Source
    reader: PressReader
    held: HeldReader
    first_looks: list[Callable[[], object]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Page:
    """One screen. `layout` is given what follows `path` in the address, and returns the page's components.

    `listed`: it stands in the navigation; others are reached from where they are about. `least_presses`: it does so
    from that many presses on, and would be in the way of fewer.
    """

    label: str
    path: str
    layout: Callable[[Context, str], Component]
    register: Callable[[Dash, Context], None]
    listed: bool = True
    least_presses: int = 0

    def is_listed(self, n_presses: int) -> bool:
        """Say whether it stands in the navigation where there are so many presses."""
        return self.listed and n_presses >= self.least_presses
