"""What a plan for a trial comes to: what to print, how long it takes, what it costs, and the figures it rests on."""

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["CERTAINTIES", "Plan", "PlanFigure", "PlanRow", "Stock"]

CERTAINTIES = (0.5, 0.9)
"""The shares of trials that a stock is enough for, in the order they are told."""


@dataclass(frozen=True, slots=True)
class PlanFigure:
    """A figure a plan rests on: what it is, of which design, its value and its ends (8 in 10).

    `source`: ``log`` (of `n`, of which `n_bad` went off or were not accepted), ``given``, ``configuration`` or
    ``assumed``. `costs`: it is a cost, named as in the configuration. Of lives: the Weibull `shape` of given ones, and
    whether it is assumed; the resins that assumed ones are of, `moulded` and `family` of the insert. `settling`: all
    shots that settle, where the figure is the share of them that was lost. `elsewhere`: of the lives, those that ended
    on other presses than the one that ran the design last; None where there are none, or presses were not told apart.
    """

    name: str
    design: str
    value: float
    low: float
    high: float
    source: str
    n: int = 0
    n_bad: int | None = None
    costs: bool = False
    shape: float | None = None
    shape_assumed: bool = False
    moulded: str = ""
    family: str = ""
    settling: int | None = None
    elsewhere: int | None = None


@dataclass(frozen=True, slots=True)
class Stock:
    """What is enough with `certainty`: inserts and pieces by design, None where no stock is.

    `press_h`: hours the press runs without a break. `bath_h`: hours from the first shot until the last part is out of
    the bath, None where parts must not go into one.
    """

    certainty: float
    inserts: Mapping[str, int | None]
    pieces: Mapping[str, int | None]
    shots: int | None
    press_h: float | None
    bath_h: float | None


@dataclass(frozen=True, slots=True)
class PlanRow:
    """The plan with a planned swap after `planned` shots; None: each runs until it goes off.

    `stocks` as in `CERTAINTIES`; `cost` expected per accepted part, None where no stock is enough.
    """

    planned: int | None
    stocks: tuple[Stock, ...]
    cost: float | None
    cheapest: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan for `parts` accepted parts of `design`, mounted with the designs `beside`.

    `chosen` is the row that was asked for; `rows` compare planned lives of `swapped`, the design that is reused: empty
    where none is. `on_record`: whether log or configuration know the design. `cost_high`: cost per accepted part that 9
    of 10 trials do not exceed.
    """

    design: str
    parts: int
    beside: tuple[str, ...]
    single_use: tuple[str, ...]
    swapped: str
    on_record: bool
    figures: tuple[PlanFigure, ...]
    chosen: PlanRow
    cost_high: float | None
    rows: tuple[PlanRow, ...]
