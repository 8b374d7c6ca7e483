"""Set-points of a press on OPC UA: a field of the event, a variable by its BrowseName, or a node by its id. Read only.

A field comes with its own cycle. A variable is read when an event has come, once for all that came at once, and stands
for the last of them; of those before it is known what was read before them and has not changed since.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from shotlog.collectors.base import Reading
from shotlog.collectors.opcua_fields import Parts, find
from shotlog.collectors.opcua_said import CycleEvent, Given, Offer
from shotlog.collectors.set_points import ChosenSetPoint, Raw, Untaken, set_points_of
from shotlog.errors import CollectorError
from shotlog.records import SetPoint

__all__ = ["Reads", "SetPointFields", "Where"]


@dataclass(frozen=True, slots=True)
class Where:
    """Where a set-point is found: by a BrowseName, or by a node's id."""

    name: str = ""
    node: str = ""

    def __str__(self) -> str:
        return f"node {self.node}" if self.node else self.name


class Reads(Protocol):
    """Who can read variables."""

    def read(self, nodes: Sequence[str]) -> dict[str, Given]: ...


class SetPointFields:
    """Where the set-points of a press are found on this connection."""

    def __init__(self, chosen: Sequence[ChosenSetPoint[Where]]) -> None:
        self._chosen = chosen
        self._fields: dict[str, str] = {}
        self._variables: dict[str, str] = {}
        self._lacking: dict[str, str] = {}
        self._units: dict[str, str] = {}

    @property
    def names(self) -> list[str]:
        """The BrowseNames that are looked for among the press's variables too."""
        return [one.place.name.rpartition("/")[2] for one in self._chosen if one.place.name]

    def found(self, offer: Offer, parts: Parts) -> None:
        """Take what a press offers; a field of the event goes before a variable of the same name."""
        self._fields, self._variables, self._lacking, self._units = {}, {}, {}, {}
        for one in self._chosen:
            if one.place.node:
                self._variables[one.name] = one.place.node
                continue
            path, remark = find(one.place.name, offer.fields, parts)
            if path:
                self._fields[one.name], self._units[one.name] = path, offer.fields[path].unit
                continue
            variable, also = _variable(one.place.name, offer.read)
            if variable:
                self._variables[one.name] = variable
                unit = offer.read.get(f"{variable}/EngineeringUnits", Given(None)).value
                self._units[one.name] = "" if unit is None else str(unit)
            else:
                self._lacking[one.name] = also or remark

    @property
    def paths(self) -> list[str]:
        """The fields that events are to bring for them."""
        return list(self._fields.values())

    @property
    def remarks(self) -> list[str]:
        """What there is to say of those that were not found."""
        return [f"set-point {name} has no value: {why}" for name, why in self._lacking.items()]

    def read(self, wire: Reads) -> Mapping[str, Given]:
        """Return what the variables hold, by the set-point's name; none where the line was just lost."""
        if not self._variables:
            return {}
        try:
            came = wire.read(list(self._variables.values()))
        except CollectorError:
            return {}  # the shots are at hand; the next look at the press says that the line is lost
        return {name: came[node] for name, node in self._variables.items() if node in came}

    def of(self, event: CycleEvent, variables: Mapping[str, Given]) -> tuple[dict[str, SetPoint], list[Untaken]]:
        """Return what the set-points were for an event; a variable that was not read for it is left out."""
        here = {name: event.fields.get(path, Given(None)) for name, path in self._fields.items()} | dict(variables)
        due = [one for one in self._chosen if one.name in here]
        return set_points_of(due, lambda one: raw_in(here[one.name]), lambda one: self._units.get(one.name, ""))

    def rows(self, event: CycleEvent | None, variables: Mapping[str, Given]) -> Iterable[Reading]:
        """Yield the rows of ``probe``."""
        for one in self._chosen:
            where = self._fields.get(one.name) or self._variables.get(one.name) or str(one.place)
            came = variables.get(one.name) or (None if event is None else event.fields.get(where))
            if one.name in self._lacking:
                yield Reading(one.subject, where, "", None, one.unit, self._lacking[one.name])
            elif came is None:
                yield Reading(one.subject, where, "", None, one.unit, "no event came to read it from")
            else:
                yield one.row(where, came.text, _always(came), self._units.get(one.name, ""))


def _always(came: Given) -> Callable[[ChosenSetPoint[Where]], Raw]:
    return lambda one: raw_in(came)


def raw_in(came: Given) -> Raw:
    """Return a number or a text as it came.

    Raises
    ------
    ValueError
        There is none.
    """
    if came.status:
        raise ValueError(f"the press gives it as {came.status}")
    if came.value is None:
        raise ValueError("it has no value")
    if isinstance(came.value, bool):
        return str(came.value).lower()
    return came.value if isinstance(came.value, int | float | str) else str(came.value)


def _variable(name: str, variables: Mapping[str, Given]) -> tuple[str, str]:
    """Return the path of the one variable a name means, and else what to say."""
    fitting = [path for path in variables if path == name or path.endswith(f"/{name}")]
    if len(fitting) == 1:
        return fitting[0], ""
    if fitting:
        return (
            "",
            f"{name} stands in several places, {', '.join(fitting[:4])}: give one of these as the name, or a node",
        )
    return "", f"neither an event nor a variable of this press is called {name}"
