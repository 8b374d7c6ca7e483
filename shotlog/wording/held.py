"""What is held and what to do next with it, in two short sentences that stand at the press at all times."""

from shotlog.parts.held import HeldNow
from shotlog.wording.numbers import shots, some

__all__ = ["held_next", "held_said"]

_SHOWN = 6
"""Ranges told at the press, the newest: those before them have mostly left it, and are counted."""


def held_said(held: HeldNow) -> str:
    """Return how many parts are held, from which shot on.

    Examples
    --------
    >>> from shotlog.parts.held import HeldBlock
    >>> held_said(HeldNow(17, (HeldBlock(152, 168, 17),), (151, 152)))
    '17 parts held, from shot 152'
    >>> held_next(HeldNow(17, (HeldBlock(152, 168, 17),), (151, 152)))
    'put them aside: shots 152 to 168; inspect 151 and 152 first'
    >>> held_next(HeldNow(17, (HeldBlock(152, 168, 17),), ()))
    'put them aside: shots 152 to 168; all inspected: release or scrap them'
    """
    where = f", from shot {held.first}" if held.n_parts > 1 else f": shot {held.first}"
    return f"{some(held.n_parts, 'part')} held{where}"


def held_next(held: HeldNow) -> str:
    """Return which parts to put aside, and which to inspect first.

    Of more ranges than are read at the press the rest are counted, and it is said where they stand.

    Examples
    --------
    >>> from shotlog.parts.held import HeldBlock
    >>> many = HeldNow(8, tuple(HeldBlock(shot, shot, 1) for shot in range(10, 90, 10)), (79, 80))
    >>> held_next(many)
    'put them aside: shots 30, 40, 50, 60, 70, 80, and 2 more ranges before these, see Parts; inspect 79 and 80 first'
    """
    spans = [shots(one.first, one.last) for one in held.blocks]
    rest = len(spans) - _SHOWN
    more = [f"and {some(rest, 'more range')} before these, see Parts"] if rest > 0 else []
    named = ", ".join([*spans[-_SHOWN:], *more])
    them = "them" if held.n_parts > 1 else "it"
    word = "shot" if named.isdecimal() else "shots"
    first = " and ".join(str(shot) for shot in held.look_first)
    then = (
        f"inspect {first} first"
        if first
        else f"{'all' if held.n_parts > 1 else 'it'} inspected: release or scrap {them}"
    )
    return f"put {them} aside: {word} {named}; {then}"
