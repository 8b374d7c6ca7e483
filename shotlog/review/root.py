"""Where a function of one number is zero, by Brent's method.

SciPy has it, in a library that takes most of a second to load; this takes its steps in the same order, so that the root
is the same to the last bit (a test compares).
"""

from collections.abc import Callable
from math import copysign

__all__ = ["root"]


def root(of: Callable[[float], float], low: float, high: float, tolerance: float) -> float:
    """Return where a function that changes its sign between `low` and `high` is zero.

    `tolerance`: how far off it may be, in itself and as a share of it together.

    References
    ----------
    Brent 1973, Algorithms for Minimization without Derivatives, chapter 4.
    """
    before, here = low, high
    at_before, at_here = of(before), of(here)
    if at_before == 0.0:
        return before
    other, at_other, step_before, step = 0.0, 0.0, 0.0, 0.0
    while at_here != 0.0:
        if at_before != 0.0 and copysign(1.0, at_before) != copysign(1.0, at_here):
            other, at_other = before, at_before
            step_before = step = here - before
        if abs(at_other) < abs(at_here):
            before, here, other = here, other, here
            at_before, at_here, at_other = at_here, at_other, at_here
        least = (tolerance + tolerance * abs(here)) / 2
        half = (other - here) / 2
        if at_here == 0.0 or abs(half) < least:
            break
        tried = None
        if abs(step_before) > least and abs(at_here) < abs(at_before):
            if before == other:  # a straight line through two
                tried = -at_here * (here - before) / (at_here - at_before)
            else:  # a parabola through three, on its side
                to_before = (at_before - at_here) / (before - here)
                to_other = (at_other - at_here) / (other - here)
                over = to_other * to_before * (at_other - at_before)
                tried = -at_here * (at_other * to_other - at_before * to_before) / over
            if 2 * abs(tried) >= min(abs(step_before), 3 * abs(half) - least):
                tried = None
        step_before, step = (half, half) if tried is None else (step, tried)
        before, at_before = here, at_here
        here += step if abs(step) > least else copysign(least, half)
        at_here = of(here)
    return here
