"""What is known of the callbacks of an application: which one a request asks, and what they make of one another."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from dash import Dash

__all__ = ["PATH", "Callback", "asked_of", "made_of", "plain"]

PATH = "/_dash-update-component"
_UNIQUE = re.compile("@[0-9a-f]{64}")
"""What the library puts behind an output that several callbacks have."""


@dataclass(frozen=True, slots=True)
class Callback:
    """A callback that is asked: its output as it is known by, its function, its inputs and state as registered."""

    output: str
    function: Callable[..., Any]
    known: Mapping[str, Any]


def asked_of(app: Dash, asked: Any) -> Callback | None:
    """Return the callback that a request, as it came as JSON, asks of the server; None where there is none."""
    output = asked.get("output") if isinstance(asked, dict) else None
    known = app.callback_map.get(output, {}) if isinstance(output, str) else {}
    function = getattr(known.get("callback"), "__wrapped__", None)
    return None if function is None else Callback(str(output), function, known)


def plain(output: str) -> str:
    """Return an output, or several, as a page names it."""
    return _UNIQUE.sub("", output)


def made_of(app: Dash, ending: str) -> frozenset[str]:
    """Return the properties that end so, and all that callbacks make of them, one after the other.

    Each is named as a request names what changed: ``tick.n_intervals``.
    """
    callbacks = [
        (
            {f"{one['id']}.{one['property']}" for one in known["inputs"]},
            set(plain(output).strip(".").split("...")),
        )
        for output, known in app.callback_map.items()
    ]
    made = {one for inputs, _ in callbacks for one in inputs if one.endswith(ending)}
    more = made
    while more:
        more = {one for inputs, outputs in callbacks if inputs & made for one in outputs} - made
        made |= more
    return frozenset(made)
