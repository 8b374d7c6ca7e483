"""What a page is: its place in the navigation, its layout, its callbacks. `PAGES` in the package lists them."""

from collections.abc import Callable
from dataclasses import dataclass, field
from urllib.parse import unquote

from dash import Dash
from dash.development.base_component import Component

from dashboard.shared.held import HeldReader
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source

__all__ = ["Context", "Page", "named"]


@dataclass(frozen=True, slots=True)
class Context:
    """What every page is given: the log and the time, and the readers of presses and of held parts, which several ask.

    A page adds to `first_looks` what should be read before somebody asks: over a long log the first look takes longest.
    """

    source: Source
    reader: PressReader
    held: HeldReader
    first_looks: list[Callable[[], object]] = field(default_factory=list)


def named(_context: Context, rest: str) -> str:
    """Return what the address of a page names behind its path, such as a press; empty where it names nothing.

    Examples
    --------
    >>> from unittest.mock import Mock
    >>> named(Mock(), "/hall%203%2F7/12"), named(Mock(), "")
    ('hall 3/7, 12', '')
    """
    return ", ".join(unquote(one) for one in rest.split("/") if one)


@dataclass(frozen=True, slots=True)
class Page:
    """One screen. `layout` is given what follows `path` in the address, and returns the page's components.

    `about`: given the same, what the page is then about, for the tab of the browser. `listed`: it stands in the
    navigation; others are reached from where they are about. `least_presses`: it does so from that many presses on, and
    would be in the way of fewer.
    """

    label: str
    path: str
    layout: Callable[[Context, str], Component]
    register: Callable[[Dash, Context], None]
    listed: bool = True
    least_presses: int = 0
    about: Callable[[Context, str], str] = named

    def is_listed(self, n_presses: int) -> bool:
        """Say whether it stands in the navigation where there are so many presses."""
        return self.listed and n_presses >= self.least_presses
