"""What is wrong with figures off the screen, in plain words. Pure."""

from collections.abc import Sequence

from shotlog.channels import CHANNELS
from shotlog.learning.guesses import ByFigure, Guess
from shotlog.learning.misread import Explained

__all__ = ["figures_said", "odd_said", "unsettled_said"]


def figures_said(unmatched: Sequence[str], doubt: Explained, place: str) -> list[str]:
    """Say which channels no `place` (register, column) agrees with, and whether a neighbouring shot would."""
    if doubt.shift:
        which, where = ("after", "behind") if doubt.shift > 0 else ("before", "ahead of")
        return [
            f"the figures read off the screen fit the shot {which} the one they were given for: is the screen's count "
            f"one {where} the press's? Nothing is written on them; give them with the number that counts here"
        ]
    elsewhere = ", or read another range or table" if place == "register" else ""
    return [
        f"{channel}: no {place} shows what was read off the screen; check the figure and its shot{elsewhere}"
        for channel in unmatched
        if channel not in doubt.odd
    ]


def odd_said(channel: str, place: str, guess: Guess, odd: ByFigure, shot: int) -> str:
    """Say which figure does not fit, and what the place showed instead."""
    value, unit = guess.values[odd.at], CHANNELS[channel].unit
    showed = "nothing" if value is None else f"{value:.5g} {unit}"
    return (
        f"{channel}: {place} shows what was read off the screen but for shot {shot}, where it showed {showed} and "
        f"{odd.figure.typed} was read; check that figure"
    )


def unsettled_said(sure: Sequence[str], writable: bool) -> list[str]:
    """Say what becomes of what is not sure: a remark in a map that is written, or nothing at all."""
    how = 'figures off the press\'s screen settle it (answer when asked, or --seen "shot=1042,cushion=5.12")'
    if not writable:
        return [f"nothing is sure enough to be written; {how}"]
    return [f"what is only possible goes in as a remark, which is not read; {how}"] if "possible" in sure else []
