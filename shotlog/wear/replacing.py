"""A frozen record with some fields otherwise, as `dataclasses.replace` makes it: every shot makes some of 20 to 40
fields, and asking for them one by one took more than what is worked out between.
"""

from collections.abc import Callable
from dataclasses import fields
from operator import attrgetter
from typing import Any, TypeVar, cast

__all__ = ["replaced"]

Record = TypeVar("Record")


Fields = tuple[Callable[[Any], tuple[Any, ...]], dict[str, int]]

_KNOWN: dict[type, Fields] = {}
"""By kind: what takes the values of all fields at once, and where each stands among them."""


def replaced(record: Record, **otherwise: object) -> Record:
    """Return a record of the same kind, two fields or more, each given when it is made; checked as any.

    Raises
    ------
    KeyError
        There is no such field.
    """
    kind = type(record)
    known = _KNOWN.get(kind)
    if known is None:
        names = [one.name for one in fields(cast(Any, kind))]
        known = _KNOWN[kind] = attrgetter(*names), {name: at for at, name in enumerate(names)}
    taken, at = known
    values = list(taken(record))
    for name, value in otherwise.items():
        values[at[name]] = value
    return kind(*values)
