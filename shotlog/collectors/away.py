"""What a reading of the shot counter means after nobody watched it for a while. Pure.

The count may have gone on from where it was, over the top once or more often, or from 0 again. Each of these is held
against the time: how many shots fit in it at most, and how many a press makes that runs through. The one that alone
fits is taken, and is certain. Where several fit and one of them is what a press makes that ran through, numbering goes
on by that one; else by the smallest; and `least` and `most` say what it may have been. So it is where none fits. That
it went over the top more than once is never taken, only said: a press stands for days more often than it runs for weeks
unseen. That a new count ran past the old one is not thought of: then it would look like one that went on.

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
    fitting = _fitting(expected)
    most = _most(ahead, width, expected)
    if most > ahead and not _runs_through(ahead, width, expected):
        return Away("uncertain", ahead, False, ahead, most)
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
    over, again, fitting = raw + width - known, max(raw, 1), _fitting(expected)
    over_fits, again_fits = over <= fitting, again <= fitting
    over_runs, again_runs = (_runs_through(shots, width, expected) for shots in (over, again))
    if raw == 0 and not zero_is_shot:
        return Away("rollover", over) if over_fits and over_runs else Away("none yet", 0)
    if over_fits and over_runs and not again_runs:
        return Away("rollover", over, False, *((min(over, again), max(over, again)) if again_fits else ()))
    if again_fits and again_runs and not over_runs:
        return Away("reset", again, raw > 1, *((min(over, again), max(over, again)) if over_fits else ()))
    if over_fits and not again_fits:
        most = _most(over, width, expected)
        return Away("rollover", over) if most == over else _uncertain(over, most)
    if over_fits:
        return _uncertain(min(over, again), max(_most(over, width, expected), int(expected)))
    if again_fits and raw <= _SMALL:
        before = int(expected) > again
        return Away("reset", again, raw > 1, again if before else None, int(expected) if before else None)
    if over <= width // 4:
        return _uncertain(min(over, again), max(over, again))
    return Away("set", 1, True, *((1, int(expected)) if expected >= _FEW else ()))


def _fitting(expected: float) -> float:
    """Return how many shots can have been made at most."""
    return _FASTER * expected + _FEW


def _scatter(expected: float) -> float:
    """Return by how much what a press made that ran through may differ from what was expected."""
    return _RUNS_THROUGH * expected + 2.0


def _runs_through(shots: int, width: int, expected: float) -> bool:
    """Say whether so many shots are what a press makes that ran through; where that spans much of the counter's width
    any number would agree, and none does.
    """
    return abs(shots - expected) <= _scatter(expected) <= width / 8


def _most(shots: int, width: int, expected: float) -> int:
    """Return the most it can have been, with the counter over its top as often as there was time."""
    return shots + max(0, int((expected + _scatter(expected) - shots) // width)) * width


def _uncertain(least: int, most: int) -> Away:
    return Away("uncertain", least, True, least, most)
