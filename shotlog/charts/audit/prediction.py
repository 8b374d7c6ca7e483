"""Prediction limits: the individuals chart whose limits hold a later shot with a stated probability."""

from shotlog.charts.individuals import Individuals
from shotlog.charts.limits import check_alpha
from shotlog.errors import UsageError

__all__ = ["Prediction"]


class Prediction(Individuals):
    """Individuals chart with t prediction limits from a short baseline.

    The right chart for "is this shot like the first ones?" when the first ones are few. It sees single far-off shots
    and large shifts; the fewer the baseline shots, the wider the limits.

    Parameters
    ----------
    baseline: how many first readings the limits are learnt from, at least 3. None of them is judged.
    alpha: false-alarm probability of each later shot; of all `future` shots together if that is above 1 (Bonferroni).
    future: how many later shots are to be held together.
    least: half-width below which no limit goes, in the channel's unit.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), in the channel's unit.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: as `Individuals`; an update is O(1).
    In control: exactly alpha for each later shot, on average over baselines. The chance given one baseline varies:
    with 10 baseline shots and alpha 0.0027 one insert in ten gets limits with a run length below 195.

    Examples
    --------
    >>> chart = Prediction(baseline=3)
    >>> [round(chart.update(x).upper, 3) for x in (1.0, 2.0, 3.0, 4.0)]
    [nan, nan, nan, 24.177]

    References
    ----------
    Hahn & Meeker 1991, Statistical Intervals; Whitmore 1986 (formula, from memory).
    """

    kind = "prediction"

    def __init__(self, *, baseline: int = 12, alpha: float = 0.0027, future: int = 1, least: float = 0.0) -> None:
        if future < 1:
            raise UsageError(f"{self.kind}: given {future} future shots, allowed: 1 or more")
        check_alpha(self.kind, alpha)
        super().__init__(baseline=baseline, estimate="sd", width=None, alpha=alpha / future, least=least)
        self.future = future
