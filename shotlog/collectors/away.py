"""What a reading of the shot counter means after nobody watched it for a while. Pure.

The count may have gone on from where it was, over the top once or more often, or from 0 again. Each of these is held
against the time: how many shots fit in it at most, and how many a press makes that runs through. The one that alone
fits is taken, and is certain. Where several fit and one of them is what a press makes that ran through, numbering goes
on by that one; else by the smallest; and `least` and `most` say what it may have been. So it is where none fits. That a
new count ran past the old one is not thought of: then it would look like one that went on.

A new count that starts small says how many shots it has counted; how many there were before it, only the time bounds.
"""

from dataclasses import dataclass

__all__ = ["Away", "after_away"]

_SMALL = 1_000
_NEAR = 1_000
_WATCHED = 50
_DOUBTFUL = 10_000
# What a press that ran through makes differs little from what was expected; one that now runs faster makes more.
_RUNS_THROUGH = 0.15
_FASTER = 1.6
_FEW = 3.0


@dataclass(frozen=True, slots=True)
class Away:
    """What a reading means (see `counter.Step`): how many shots on it is, `least` to `most` where that is uncertain."""

    kind: str
    shots: int
    doubtful: bool = False
    least: int | None = None
    most: int | None = None


def after_away(known: int, raw: int, width: int, expected: float | None, zero_is_shot: bool = False) -> Away:
    """Return what `raw` means after `known`.

    Parameters
    ----------
    width
        How many counts there are: the highest and one.
    expected
        How many shots fit in the time at the usual cycle; None where that is not known.

    Examples
    --------
    >>> after_away(65000, 904, 65536, 1440.0)
    Away(kind='rollover', shots=1440, doubtful=False, least=904, most=1440)
    >>> after_away(65000, 904, 65536, 2880.0)
    Away(kind='uncertain', shots=904, doubtful=True, least=904, most=2880)
    >>> after_away(65000, 904, 65536, None)
    Away(kind='uncertain', shots=904, doubtful=True, least=904, most=1440)
    """
    if raw > known:
        return _on(raw - known, width, expected)
    if expected is None:
        return _below_without_time(known, raw, width, zero_is_shot)
    return _below(known, raw, width, expected, zero_is_shot)


def _on(ahead: int, width: int, expected: float | None) -> Away:
    if expected is None:
        return Away("next", ahead, ahead > _DOUBTFUL)
    fitting = _FASTER * expected + _FEW
    if ahead + width <= fitting:
        return _wrapped(ahead, width, expected, "next")
    if ahead <= max(fitting, _WATCHED):
        return Away("next", ahead)
    # Dry cycles may be as fast as that, and a counter that was set looks the same: the press's own count is taken.
    return Away("next", ahead, True, min(int(fitting), ahead), ahead)


def _below_without_time(known: int, raw: int, width: int, zero_is_shot: bool) -> Away:
    over, again = raw + width - known, max(raw, 1)
    if over <= min(_NEAR, width // 4):
        return Away("rollover", over)
    if raw == 0 and not zero_is_shot:
        return Away("none yet", 0)
    if over <= width // 4:
        return _uncertain(min(over, again), max(over, again))
    return Away("reset", again, raw > 1) if raw <= _SMALL else Away("set", 1, True)


def _below(known: int, raw: int, width: int, expected: float, zero_is_shot: bool) -> Away:
    over, again, fitting = raw + width - known, max(raw, 1), _FASTER * expected + _FEW
    over_fits, again_fits = over <= fitting, again <= fitting
    over_runs = _runs_through(_nearest(over, width, expected), expected)
    again_runs = _runs_through(again, expected)
    if raw == 0 and not zero_is_shot:
        return _wrapped(over, width, expected, "rollover") if over_fits and over_runs else Away("none yet", 0)
    if over_fits and not again_fits:
        return _wrapped(over, width, expected, "rollover")
    if over_fits and over_runs and not again_runs:
        nearest = _nearest(over, width, expected)
        return Away("rollover", nearest, False, min(nearest, again), max(nearest, again))
    if again_fits and again_runs and not over_runs:
        return Away("reset", again, raw > 1, *((min(over, again), max(over, again)) if over_fits else ()))
    if over_fits:
        return _uncertain(min(over, again), max(_most(over, width, fitting), int(expected)))
    if again_fits and raw <= _SMALL:
        before = int(expected) > again
        return Away("reset", again, raw > 1, again if before else None, int(expected) if before else None)
    if over <= width // 4:
        return _uncertain(min(over, again), max(over, again))
    return Away("set", 1, True, *((1, int(expected)) if expected >= _FEW else ()))


def _wrapped(shots: int, width: int, expected: float, kind: str) -> Away:
    """Return so many shots, or as many more as once or several times the width."""
    nearest = _nearest(shots, width, expected)
    if _runs_through(nearest, expected):
        return Away(kind if nearest == shots else "rollover", nearest)
    most = _most(shots, width, _FASTER * expected + _FEW)
    return Away(kind, shots) if most == shots else _uncertain(shots, most)


def _nearest(shots: int, width: int, expected: float) -> int:
    return shots + max(0, round((expected - shots) / width)) * width


def _most(shots: int, width: int, fitting: float) -> int:
    return shots + max(0, int((fitting - shots) // width)) * width


def _runs_through(shots: int, expected: float) -> bool:
    return abs(shots - expected) <= _RUNS_THROUGH * expected + 2.0


def _uncertain(least: int, most: int) -> Away:
    return Away("uncertain", least, True, least, most)
