"""What a page may send when it asks a callback: its shape, and values of the types that the callback's function takes.

The annotations of that function say them, so that there is one place for both. What does not fit is refused before the
function is called: it is no request of this release, and no mistake of this program.
"""

import json
from collections.abc import Callable, Collection, Mapping
from functools import cache
from inspect import Parameter, signature
from itertools import chain, repeat
from math import isfinite
from types import UnionType
from typing import Any, Literal, NewType, Union, get_args, get_origin, get_type_hints, is_typeddict

import flask
from dash import Dash
from werkzeug.exceptions import HTTPException

from dashboard.shared.sent import PressName
from dashboard.walls.callbacks import PATH, asked_of, plain

__all__ = ["Payloads", "fits"]

_MOST_DEPTH = 32
_MOST_ITEMS = 5_000
"""Of one request. The deepest that a page sends is a touch in a figure, ten deep; the most, a form of fifty fields."""


class Payloads:
    """Looks at what is sent to the callbacks of an application, which knows `presses`."""

    def __init__(self, app: Dash, presses: Collection[str]) -> None:
        self._app = app
        self._presses = presses

    def wrong(self, request: flask.Request) -> str:
        """Return in a few words what is wrong with a request, empty where nothing is."""
        if request.path != PATH or request.method != "POST":
            return ""
        try:
            asked = request.get_json()
        except (HTTPException, RecursionError):
            return "no JSON"
        return _beyond(asked) or self._unlike(asked)

    def _unlike(self, asked: Any) -> str:
        """Return in what a request is unlike those that its callback takes."""
        callback = asked_of(self._app, asked)
        if callback is None:
            return "no callback of this release"
        if asked.get("outputs") not in (_outputs(callback.output), _outputs(plain(callback.output))):
            return "other outputs"
        if not fits(asked.get("changedPropIds"), list[str]):
            return "other triggers"
        parts: list[tuple[Any, Any]] = []
        for name in ("inputs", "state"):
            given = asked.get(name, [])
            if not isinstance(given, list) or len(given) != len(callback.known[name]):
                return f"other {name}"
            parts += zip(given, callback.known[name], strict=True)
        if not all(_is_one(part, of["id"], of["property"]) for part, of in parts):
            return "other inputs"
        for name, value, hint in _taken(callback.function, parts):
            if not fits(value, hint):
                return f"a wrong {name}"
            if hint is PressName and value not in self._presses:
                return "a press that is not in this configuration"
        return ""


def _beyond(asked: Any) -> str:
    """Return which bound is passed by what was sent, or that a text or number in it can be stored nowhere."""
    level, items = [asked], 0
    for _ in range(_MOST_DEPTH):
        below: list[Any] = []
        for one in level:
            if isinstance(one, dict):
                below += [*one.keys(), *one.values()]
            elif isinstance(one, list):
                below += one
            elif isinstance(one, str) and not _is_unicode(one):
                return "half a character"
            elif isinstance(one, str) and "\0" in one:  # which no log holds, and a server does not even look for
                return "a NUL"
            elif isinstance(one, float) and not isfinite(one):
                return "no number"
        items += len(below)
        if items > _MOST_ITEMS:
            return "too many items"
        if not below:
            return ""
        level = below
    return "nested too deep"


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _outputs(output: str) -> Any:
    """Return what a page says under ``outputs`` for a callback that is known by its output, or by several."""
    if output.startswith(".."):
        return [_outputs(one) for one in output[2:-2].split("...")]
    named, _, of = output.rpartition(".")
    return {"id": named, "property": of}


def _is_one(part: Any, named: str, of: str) -> bool:
    """Say whether a part of a request is of a component and property, or a list of them where any of a kind may be."""
    if not named.startswith("{"):
        return isinstance(part, dict) and part.get("id") == named and part.get("property") == of
    pattern = json.loads(named)
    if ["ALL"] in pattern.values():
        return isinstance(part, list) and all(_is_like(one, pattern, of) for one in part)
    return _is_like(part, pattern, of)


def _is_like(part: Any, pattern: Mapping[str, Any], of: str) -> bool:
    given = part.get("id") if isinstance(part, dict) else None
    return (
        isinstance(given, dict)
        and given.keys() == pattern.keys()
        and all(isinstance(given[key], str) if one == ["ALL"] else given[key] == one for key, one in pattern.items())
        and part.get("property") == of
    )


def _taken(function: Callable[..., Any], parts: list[Any]) -> list[tuple[str, Any, Any]]:
    """Return name, value and type of each argument of a callback's function."""
    values = [[one.get("value") for one in part] if isinstance(part, list) else part.get("value") for part, _ in parts]
    named, rest = _arguments(function)
    arguments = chain(named, repeat(rest or ("", Any)))
    return [(name, value, hint) for value, (name, hint) in zip(values, arguments, strict=False)]


@cache
def _arguments(function: Callable[..., Any]) -> tuple[list[tuple[str, Any]], tuple[str, Any] | None]:
    """Return name and type of each argument that a function takes, and of any number more, None where it takes none."""
    hints = get_type_hints(function)
    several = [one.name for one in signature(function).parameters.values() if one.kind is Parameter.VAR_POSITIONAL]
    named = [(one, hints[one]) for one in signature(function).parameters if one not in several]
    return named, (several[0], hints[several[0]]) if several else None


def fits(value: Any, hint: Any) -> bool:
    """Say whether a value that came as JSON is of a type.

    Examples
    --------
    >>> fits(None, int | None), fits(True, int), fits({"at": ["x"]}, dict[str, list[str]])
    (True, False, True)
    """
    inner = get_args(hint)
    if hint is Any:
        return True
    if get_origin(hint) in (Union, UnionType):
        return any(fits(value, one) for one in inner)
    if get_origin(hint) is list:
        return isinstance(value, list) and all(fits(one, inner[0]) for one in value)
    if get_origin(hint) is tuple:
        return isinstance(value, list) and len(value) == len(inner) and all(map(fits, value, inner))
    if get_origin(hint) is Literal:
        return isinstance(value, str) and value in inner
    if get_origin(hint) is dict:
        return isinstance(value, dict) and all(fits(one, inner[1]) for one in value.values())
    if is_typeddict(hint):
        asked = get_type_hints(hint)
        return (
            isinstance(value, dict)
            and hint.__required_keys__ <= value.keys()
            and all(fits(value[name], one) for name, one in asked.items() if name in value)
        )
    if hint is type(None):
        return value is None
    if isinstance(hint, NewType):
        return fits(value, hint.__supertype__)
    if isinstance(value, bool):
        return hint is bool
    return isinstance(value, (int, float) if hint is float else hint)
