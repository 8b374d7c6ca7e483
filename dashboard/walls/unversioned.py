"""The application as it tells nobody of which versions it is made: the library writes them into every page."""

import re
from typing import Any

from dash import Dash

__all__ = ["Unversioned"]

_VERSION = re.compile(r'("\w*version\w*":\s*)"(?:[^"\\]|\\.)*"')
"""An entry in what a page tells the scripts of the library, which use none of them."""


class Unversioned(Dash):
    """The library's application without the versions of itself, of Python, and where to ask for newer ones."""

    def interpolate_index(self, *parts: Any, **named: Any) -> Any:
        plain = named | {"config": _VERSION.sub(r'\1""', named["config"])}
        return super().interpolate_index(*parts, **plain)  # type: ignore[no-untyped-call]  # the library has no types
