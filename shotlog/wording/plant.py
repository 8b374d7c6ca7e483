"""What the page of a plant says of many presses at once, in few words."""

from collections.abc import Mapping

from shotlog.records import Verdict
from shotlog.wording.numbers import some

__all__ = ["held_where", "not_put", "on_presses", "until_in_short"]

_PLACES = 3
"""Places named in one line, those with the most parts; of the others it is said how many there are."""


def held_where(places: Mapping[str, int], loose: int) -> str:
    """Return where held parts are, those of which nobody has said it first; empty where nothing is held.

    Examples
    --------
    >>> held_where({"": 12, "bag 3": 30, "bath 1": 9}, 8)
    '8 nobody has put anywhere, 30 in bag 3, 9 in bath 1, 4 set aside'
    >>> held_where({"a": 1, "b": 2, "c": 3, "d": 4, "e": 5}, 0)
    '5 in e, 4 in d, 3 in c, 3 in 2 more places'
    """
    named = sorted(((n, place) for place, n in places.items() if place), key=lambda one: (-one[0], one[1]))
    said = [not_put(loose)] if loose else []
    said += [f"{n} in {place}" for n, place in named[:_PLACES]]
    rest = named[_PLACES:]
    said += [f"{sum(n for n, _ in rest)} in {some(len(rest), 'more place')}"] if rest else []
    aside = places.get("", 0) - loose
    return ", ".join([*said, *([f"{aside} set aside"] if aside > 0 else [])])


def not_put(n: int) -> str:
    """Return that parts lie where nobody has said.

    >>> not_put(1)
    '1 nobody has put anywhere'
    """
    return f"{n} nobody has put anywhere"


def on_presses(n: int) -> str:
    """Return on how many presses something is.

    >>> on_presses(1), on_presses(4)
    ('on 1 press', 'on 4 presses')
    """
    return f"on {n} press" if n == 1 else f"on {n} presses"


def until_in_short(verdict: Verdict) -> str:
    """Return for how many shots parts are expected to be what they should, with the interval; empty where that cannot
    be told. The page at the press says it in a sentence.

    >>> until_in_short(Verdict("P25", 30, "A-07", 30, False, "swap", left_median=8.2, left_low=3.0, left_high=20.4))
    'until bad: 8 (3 to 20)'
    >>> until_in_short(Verdict("P25", 30, "A-07", 30, False, "swap", left_median=0.1, left_low=0.0, left_high=0.4))
    'the next part is likely bad'
    """
    if verdict.left_median is None or verdict.limits:
        return ""
    if verdict.left_high is not None and round(verdict.left_high) == 0:
        return "the next part is likely bad"
    high = "more" if verdict.left_high is None else f"{verdict.left_high:.0f}"
    return f"until bad: {verdict.left_median:.0f} ({verdict.left_low or 0.0:.0f} to {high})"
