"""The ledger of inserts: every life in the log with its end, cost and place in its group."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from shotlog.review.costs import Bill, Hindsight, PartCounts, bill_of, hindsight_of
from shotlog.review.groups import FACTORS, Group, grouped
from shotlog.review.lives import Life, Told, lives_of
from shotlog.review.lives_read import LivesRead, read_lives
from shotlog.review.parts_counted import count_parts
from shotlog.review.source import silent
from shotlog.review.survival import Comparison
from shotlog.settings import DesignSettings, Settings
from shotlog.store.asked.trials import TrialShots, trials
from shotlog.store.inserts.making import Making, makings
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.ends import insert_ends

__all__ = ["Ledger", "LedgerEntry", "PartStates", "histories_of", "insert_cost", "ledger_of", "states_of"]


class _Counts(Protocol):
    def count(self, first: int, last: int) -> PartCounts:
        """Return how the parts of shots `first` to `last` stand."""


PartStates = Mapping[str, _Counts]
"""How parts stand, by press."""


@dataclass(frozen=True, slots=True)
class LedgerEntry:
    """One insert: its life, how its parts stand, what they cost with it, and the swap against hindsight."""

    life: Life
    resin_family: str
    material: str
    parts: PartCounts
    bill: Bill | None
    hindsight: Hindsight | None


@dataclass(frozen=True, slots=True)
class Ledger:
    """Every life, grouped and compared; `costs` are the configured ones by design."""

    entries: tuple[LedgerEntry, ...]
    groups: tuple[Group, ...]
    comparisons: tuple[Comparison, ...]
    costs: Mapping[str, Mapping[str, float]]


def histories_of(
    log: Log, tell: Callable[[str], None] = silent, timelines: Mapping[str, Timeline] | None = None
) -> tuple[LivesRead, ...]:
    """Read every press of a log, as far as its lives are told from it; `timelines`: where they have been read."""
    known = timelines or {}
    return tuple(read_lives(log, press, timeline=known.get(press), tell=tell) for press in log.presses())


def states_of(
    log: Log,
    settings: Settings,
    tell: Callable[[str], None] = silent,
    timelines: Mapping[str, Timeline] | None = None,
) -> PartStates:
    """Return how every part of a log stands, counted; `timelines`: where they have been read."""
    known, designs = timelines or {}, settings.designs
    return {press: count_parts(log, press, designs, known.get(press), tell) for press in log.presses()}


def ledger_of(
    log: Log,
    settings: Settings,
    histories: Sequence[Told],
    states: PartStates,
    design: str | None = None,
    serials: Collection[str] | None = None,
    timelines: Mapping[str, Timeline] | None = None,
) -> Ledger:
    """Return the ledger of all inserts, or of one design's, or of those named.

    `timelines`: those of the presses, where they have been read already.
    """
    ends = insert_ends(log, serials, timelines)
    lives = [life for life in lives_of(histories, ends) if design in (None, life.design)]
    made = makings(log)
    costs = {name: known.cost for name, known in settings.designs.items() if known.cost}
    told = trials(log)
    materials = {life.serial: _material(life, told) for life in lives}
    names = {factor: {life.serial: _name(factor, life, settings, materials) for life in lives} for factor in FACTORS}
    groups, comparisons = grouped(lives, names, costs)
    fitted = {
        group.name: (group.weibull.shape.value, group.weibull.scale.value)
        for group in groups
        if group.factor == "design" and group.weibull is not None
    }
    entries = tuple(
        _entry(life, settings, states, made.get(life.serial), materials[life.serial], fitted.get(life.design))
        for life in lives
    )
    return Ledger(entries, groups, comparisons, costs)


def _material(life: Life, told: Sequence[TrialShots]) -> str:
    """Return what was moulded on an insert: the resins of the trials its stays lie in."""
    found = [
        trial.resin
        for trial in told
        for press, first, last in life.stays
        if press in trial.shots and trial.shots[press][0] <= last and first <= trial.shots[press][1]
    ]
    return " and ".join(dict.fromkeys(resin for resin in found if resin))


def _name(factor: str, life: Life, settings: Settings, materials: Mapping[str, str]) -> str:
    known = settings.designs.get(life.design, DesignSettings())
    return {
        "design": life.design,
        "resin family": known.resin_family,
        "print batch": life.print_batch,
        "moulded material": materials[life.serial],
    }[factor]


def _entry(
    life: Life,
    settings: Settings,
    states: PartStates,
    making: Making | None,
    material: str,
    shape_scale: tuple[float, float] | None,
) -> LedgerEntry:
    known = settings.designs.get(life.design, DesignSettings())
    parts = counts_of(states, [(press, first, last) for press, first, last in life.stays])
    costs = dict(known.cost)
    own = insert_cost(known, making)
    if own is not None:
        costs["insert"] = own
    bill = None
    if costs:
        bill = bill_of(parts, costs, costs.get("insert", 0.0), len(life.stays) * costs.get("changeover", 0.0))
    return LedgerEntry(
        life,
        known.resin_family,
        material,
        parts,
        bill,
        hindsight_of(life, costs, shape_scale),
    )


def insert_cost(known: DesignSettings, making: Making | None) -> float | None:
    """Return what an insert cost: its own, where somebody said so, else its design's."""
    if making is not None and making.cost is not None:
        return making.cost
    return known.cost.get("insert")


def counts_of(states: PartStates, spans: Sequence[tuple[str, int, int]]) -> PartCounts:
    """Return how the parts of spans of shots, (press, first, last), stand."""
    each = [states[press].count(first, last) for press, first, last in spans if press in states]
    return sum(each, PartCounts())
