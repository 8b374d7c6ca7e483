"""Words for a clock that was set: which way, by how much, and what that does not touch."""

from shotlog.wording.times import ago

__all__ = ["set_by", "slept", "step_said"]


def set_by(step_s: float) -> str:
    """Return which way and by how much a clock was set.

    Examples
    --------
    >>> set_by(-7200.0), set_by(4.4)
    ('back by 2 h', 'forward by 4 s')
    """
    size = abs(step_s)
    return f"{'back' if step_s < 0 else 'forward'} by {f'{size:.0f} s' if size < 120 else ago(size)}"


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
