"""State as plain JSON data and back: dataclasses become lists of their fields, arrays nested lists.

Floats survive exactly.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

import numpy as np

__all__ = ["STATE", "from_plain", "to_plain"]

STATE = 11
"""Number of the form in which the state of a press is kept; raised with every change of it."""

T = TypeVar("T")


def to_plain(value: object) -> Any:
    """Return `value` as lists, dicts, strings, numbers, booleans and None."""
    if is_dataclass(value) and not isinstance(value, type):
        return [to_plain(getattr(value, field.name)) for field in fields(value) if field.metadata.get("saved", True)]
    if isinstance(value, np.ndarray):
        return value.tolist()
    if isinstance(value, Mapping):
        return {str(key): to_plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [to_plain(one) for one in value]
    if isinstance(value, np.generic):
        return value.item()
    return value


def from_plain(kind: type[T], data: Any) -> T:
    """Return the value of type `kind` that `data` was made from."""
    made: T = _revived(kind, data)
    return made


def _revived(kind: Any, data: Any) -> Any:
    origin, args = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return None if data is None else _revived(next(a for a in args if a is not NoneType), data)
    if isinstance(kind, type) and is_dataclass(kind):
        hints = get_type_hints(kind)
        names = [field.name for field in fields(kind) if field.metadata.get("saved", True)]
        return kind(**{name: _revived(hints[name], one) for name, one in zip(names, data, strict=True)})
    if origin is np.ndarray:
        return np.array(data, dtype=np.float64)
    if origin is tuple and len(args) == 2 and args[1] is Ellipsis:
        return tuple(_revived(args[0], one) for one in data)
    if origin is tuple:
        return tuple(_revived(a, one) for a, one in zip(args, data, strict=True))
    if origin is list:
        return [_revived(args[0], one) for one in data]
    if origin is not None and isinstance(data, dict):
        return {key: _revived(args[1], one) for key, one in data.items()}
    return data
