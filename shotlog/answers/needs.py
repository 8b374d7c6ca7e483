"""Which press needs a person first: one order over the presses of a log, or of many logs.

The order is that of `NEEDS`: where a swap is called the next part is likely bad; parts that are held and lie about may
be used; a limit that is passed and a change that is watched may come to a swap; of a press that nobody reads nothing is
known; then comes what waits for hands, and a press that makes no shots last.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import inf

__all__ = ["FEW", "NEEDS", "PressFacts", "is_ahead", "is_quiet", "needs", "needy_first", "waits_long"]

NEEDS = ("swap", "held", "limit", "watch", "away", "unjudged", "bath", "pieces", "asked", "quiet")
"""What a press may need a person for, the most urgent first.

``swap``: a swap is called, or damage was found. ``held``: parts are held, and nobody has said where they are.
``limit``: an action limit is passed. ``watch``: a change is watched, or a fault was found. ``away``: what the press
does is not known, for its connection, its logger, its log or its edge is away. ``unjudged``: its shots have waited long
for their verdict, so that what they say is not known. ``bath``: parts are overdue. ``pieces``: few single-use pieces
are left. ``asked``: a question about it waits for an answer. ``quiet``: it makes no shots.

What was called when a press was last heard needs a person until it is heard that it does not.
"""

FEW = 3
"""So many pieces left are few: at 75 s a shot there are minutes to fetch more (judgement)."""

_AHEAD_S = 60.0
_QUIET_CYCLES = 3.0
_QUIET_LEAST_S = 30.0
_JUDGED_S = 60.0
_READY_S = 300.0
"""Some compile for minutes at their first start; what takes longer hangs (judgement)."""


@dataclass(frozen=True, slots=True)
class PressFacts:
    """What is known of a press that decides how soon it needs a person.

    `verdict`: what stands, or stood when the press was last heard, people's findings with it: ``keep``, ``watch``,
    ``swap``, or empty where nothing is judged.
    `left`: the shots until parts are bad, where that can be told. `away`: the data are not current; `away_s`: since how
    many seconds, None where nobody knows. `held` parts, of which `loose` were put nowhere; `overdue`: parts that are
    due by now. `few_pieces`: single-use pieces are about to run out. `unjudged`: shots that have waited long for a
    verdict.
    """

    press: str
    verdict: str = ""
    limit: bool = False
    left: float | None = None
    held: int = 0
    loose: int = 0
    away: bool = False
    away_s: float | None = None
    overdue: int = 0
    few_pieces: bool = False
    asked: bool = False
    quiet: bool = False
    unjudged: int = 0
    edge: str = field(default="", kw_only=True)


def needs(facts: PressFacts) -> tuple[str, ...]:
    """Return what a press needs a person for, the most urgent first; nothing where it needs none.

    Examples
    --------
    >>> needs(PressFacts("P25", "swap", held=3, loose=3)), needs(PressFacts("P25", "swap", away=True))
    (('swap', 'held'), ('swap', 'away'))
    """
    holds = {
        "swap": facts.verdict == "swap",
        "held": facts.loose > 0,
        "limit": facts.limit,
        "watch": facts.verdict == "watch",
        "away": facts.away,
        "unjudged": facts.unjudged > 0 and not facts.away,
        "bath": facts.overdue > 0,
        "pieces": facts.few_pieces,
        "asked": facts.asked,
        "quiet": facts.quiet and not facts.away,
    }
    return tuple(one for one in NEEDS if holds[one])


def is_quiet(age_s: float, cycle_s: float | None) -> bool:
    """Say whether a press makes no shots, from how old its last one is and how long a cycle usually takes, in s."""
    return age_s > max(_QUIET_LEAST_S, _QUIET_CYCLES * (cycle_s or 0.0))


def waits_long(age_s: float, gets_ready_s: float | None = None) -> bool:
    """Say whether a shot has waited long for its verdict, which else follows within a second; `age_s`: how long.

    `gets_ready_s`: for how long what judges has been getting ready, None where it is: it is waited for.
    """
    return age_s > _JUDGED_S and (gets_ready_s is None or gets_ready_s > _READY_S)


def is_ahead(age_s: float) -> bool:
    """Say whether the last shot lies so far in the future that clocks disagree: nothing is known of the press."""
    return age_s < -_AHEAD_S


def needy_first(presses: Iterable[PressFacts]) -> list[PressFacts]:
    """Return presses in the order in which they need a person; those alike stay in the order in which they came.

    By the most urgent need, then by what else each needs; then by how few shots are left until parts are bad, by how
    many parts are loose and held, and of those that are away by how long they are.
    """
    return sorted(presses, key=_order)


def _order(facts: PressFacts) -> tuple[object, ...]:
    wanted = [NEEDS.index(one) for one in needs(facts)]
    return (
        (*wanted, len(NEEDS)),
        inf if facts.left is None else facts.left,
        -facts.loose,
        -facts.held,
        0.0 if facts.away_s is None else -facts.away_s,
    )
