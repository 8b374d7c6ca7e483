"""Words for a clock that was set: which way, by how much, and what that does not touch."""

from datetime import datetime, timedelta

from shotlog.records import ClockStep, Start
from shotlog.wording.times import ago, at_time, clock_time

__all__ = ["clock_said", "is_of_today", "set_by", "slept", "start_said", "step_said"]

_TODAY = timedelta(hours=24)


def set_by(step_s: float) -> str:
    """Return which way and by how much a clock was set.

    Examples
    --------
    >>> set_by(-7199.993), set_by(4.4)
    ('back by 2 h', 'forward by 4 s')
    """
    size = round(abs(step_s))
    return f"{'back' if step_s < 0 else 'forward'} by {f'{size} s' if size < 120 else ago(size)}"


def step_said(step_s: float, at_least: bool = False) -> str:
    """Return what is said of a step of the clock.

    Examples
    --------
    >>> step_said(-7200.0)
    'the clock of this computer was set back by 2 h; what is logged keeps the order in which it came'
    """
    if at_least:
        return (
            f"the clock of this computer went {set_by(step_s)} or more while nobody was logging; what is logged keeps "
            "the order in which it came, and how long the press stood meanwhile is not known"
        )
    return f"the clock of this computer was set {set_by(step_s)}; what is logged keeps the order in which it came"


def slept(seconds: float) -> str:
    """Return what is said where the computer was suspended: its clock is right, and nobody was logging."""
    return f"this computer was suspended for {ago(seconds)}: nobody was logging meanwhile, and its clock is right"


def is_of_today(step: ClockStep, now: datetime) -> bool:
    """Say whether a step is worth saying beside what stands now: it was made within a day, by either clock."""
    return abs(now - step.time) < _TODAY


def clock_said(step: ClockStep, now: datetime) -> str:
    """Return a step of the clock in one sentence, with when it was."""
    return f"At {at_time(step.time, now)} {step.detail}."


def start_said(start: Start) -> str:
    """Return a start of the logger in one sentence, without its full stop."""
    number, _, more = start.process.partition(", ")
    where = f"{start.host or 'a host without a name'}, process {number}"
    when = clock_time(start.time)
    how = f"Entered again {when}, {more}," if more else f"Started {when}"
    return f"{how} by shotlog {start.release} on {where}, under the configuration {start.digest[:12]}"
