"""One change in a life, sisters known: how soon it is called, which group, since when, and with what weight."""

from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.best import BestLife, threshold_of
from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.faults import FAULTS, GROUP_SHARES, draw_change, draw_fault
from tests.benchmark.examiner.figures import Figure, mean_of, median_of, ratio_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played, Said
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES", "called_after", "judged_at"]

_N_SHOTS = 90
_LATER = 5
"""Shots after the call at which onset and weight are read: a call may learn a little before it is acted on."""


def _changed(rng: np.random.Generator, n_channels: int, off_table: bool = False) -> History:
    press = draw_press(rng, n_channels)
    history = History(press, rng)
    for _ in range(5):
        history.life(int(rng.integers(50, 80)))
    group = str(rng.choice(list(GROUP_SHARES), p=list(GROUP_SHARES.values())))
    fault = draw_fault(group, press, rng)
    if off_table:  # only what leaves the table is of interest
        fault = FAULTS[str(rng.choice(("slow vents", "lot, recovery the other way")))]
    history.life(_N_SHOTS, [draw_change(press, fault, _N_SHOTS, int(rng.integers(20, 50)), rng)], examined=True)
    return history


CHANGED_3 = Scene("changed-3", 160, partial(_changed, n_channels=3), best=True)
CHANGED_7 = Scene("changed-7", 160, partial(_changed, n_channels=7), best=True)
OFF_3 = Scene("off-table-3", 60, partial(_changed, n_channels=3, off_table=True), best=True, off_table=True)
OFF_7 = Scene("off-table-7", 60, partial(_changed, n_channels=7, off_table=True), best=True, off_table=True)


def called_after(said: Said, nth: int = 0) -> int | None:
    """Return the age at which the nth change was called; None where it was not, or where a call stood before it."""
    age = said.called()
    return age if age is not None and age >= said.life.changes[nth].onset else None


def judged_at(said: Said, later: int = _LATER) -> int | None:
    """Return the last age at which a call stands of the first shots after it came, `later` of them."""
    age = called_after(said)
    if age is None:
        return None
    return max(at for at in range(age, min(age + later + 1, said.life.n_shots)) if said.verdicts[at].cause)


def _calls(played: Sequence[Played], later: int = _LATER) -> Iterator[tuple[Said, int]]:
    for one in played:
        for said in one.said:
            age = judged_at(said, later)
            if age is not None:
                yield said, age


def _seen(played: Sequence[Played], later: int = _LATER) -> Iterator[tuple[Said, BestLife, int]]:
    for one in played:
        for said, life in zip(one.said, one.best, strict=True):
            age = judged_at(said, later)
            if age is not None:
                yield said, life, age


def delay(age: int | None, said: Said) -> float:
    """Return shots from the first onset to a call, both included; one more than there were where none came."""
    return float((said.life.n_shots if age is None else age) - said.life.changes[0].onset + 1)


def _delays(played: Sequence[Played]) -> tuple[list[float], list[float]]:
    """Return the call's delays and those of the best possible, without lives called before the onset by either."""
    threshold = threshold_of([life for one in played for life in one.best])
    own, ideal = [], []
    for one in played:
        for said, life in zip(one.said, one.best, strict=True):
            ages = said.called(), life.called(threshold)
            if all(age is None or age >= said.life.changes[0].onset for age in ages):
                own.append(delay(ages[0], said))
                ideal.append(delay(ages[1], said))
    return own, ideal


def delay_over_best(played: Sequence[Played]) -> Figure:
    """Return the mean delay over that of the best possible detector."""
    return ratio_of(*_delays(played))


def mean_delay(played: Sequence[Played]) -> Figure:
    """Return the mean delay, in shots."""
    return mean_of([[one] for one in _delays(played)[0]])


def best_delay(played: Sequence[Played]) -> Figure:
    """Return the mean delay of the best possible detector, in shots."""
    return mean_of([[one] for one in _delays(played)[1]])


def group_right(played: Sequence[Played]) -> Figure:
    """Return the share of true calls laid to the right group by the last verdict of the life with a call."""
    calls = _calls(played, _N_SHOTS)
    return mean_of([[float(said.verdicts[age].group == said.life.changes[0].group)] for said, age in calls])


def best_group(played: Sequence[Played]) -> Figure:
    """Return the same for the best possible classifier, at the same shots."""
    seen = _seen(played, _N_SHOTS)
    return mean_of([[float(life.group[age] == said.life.changes[0].group)] for said, life, age in seen])


def onset_near(*played: Sequence[Played]) -> Figure:
    """Return the share of true calls with the onset within three shots."""
    return mean_of(
        [
            [float(abs((said.verdicts[age].onset or 0) - said.life.onset()) <= 3)]
            for some in played
            for said, age in _calls(some)
        ]
    )


def best_onset(*played: Sequence[Played]) -> Figure:
    """Return the same for the likeliest onset of one who knows the press."""
    return mean_of(
        [
            [float(abs(int(life.onset[age]) - said.life.changes[0].onset) <= 3)]
            for some in played
            for said, life, age in _seen(some)
        ]
    )


def set_covers(*played: Sequence[Played]) -> Figure:
    """Return the share of true calls whose set of onsets holds the true one."""
    return mean_of([[float(_covers(said, age))] for some in played for said, age in _calls(some)])


def _covers(said: Said, age: int) -> bool:
    verdict = said.verdicts[age]
    if verdict.onset_low is None or verdict.onset_high is None:
        return False
    return verdict.onset_low <= said.life.onset() <= verdict.onset_high


def suspects_kept(*played: Sequence[Played]) -> Figure:
    """Return the share of the parts made from the onset to the judged shot that are held, by life."""
    kept = []
    for some in played:
        for said, age in _calls(some):
            true, low = said.life.onset(), said.verdicts[age].onset_low
            made = said.life.first + age - true + 1
            missed = made if low is None else max(0, min(low - true, made))
            kept.append([1.0 - missed / made])
    return mean_of(kept)


def weights_off(*played: Sequence[Played]) -> Figure:
    """Return how far stated weights are from the share of calls that are right, in the worst tenth with 100 calls."""
    stated, right = [], []
    for some in played:
        for said, age in _calls(some):
            verdict = said.verdicts[age]
            if verdict.weight is not None:
                stated.append(verdict.weight)
                right.append(float(verdict.group == said.life.changes[0].group))
    worst = Figure(float("nan"), 0, float("nan"))
    w, r = np.array(stated), np.array(right)
    tenth = np.minimum((w * 10).astype(int), 9) if w.size else w
    for nth in range(10):
        of = tenth == nth
        if of.sum() >= 100:
            off = abs(float(r[of].mean() - w[of].mean()))
            if not worst.n or off > worst.value:
                worst = Figure(off, int(of.sum()), float(np.sqrt(max(r[of].var(), 0.01) / of.sum())))
    return worst


def charts_saw(*played: Sequence[Played]) -> Figure:
    """Return the share of changed lives on which a chart signals from the onset on."""
    return mean_of([[float(_signal_after(said) is not None)] for some in played for one in some for said in one.said])


def chart_delay(*played: Sequence[Played]) -> Figure:
    """Return the median of shots from the onset to the first signal of a chart, both included, where one came."""
    delays = [_signal_after(said) for some in played for one in some for said in one.said]
    return median_of([[float(one)] for one in delays if one is not None])


def _signal_after(said: Said) -> int | None:
    return next((shot - said.life.onset() + 1 for shot in said.signalled if shot >= said.life.onset()), None)


_ALL = (CHANGED_3, CHANGED_7)
_GROUP = "the group of causes is right, when the life of 90 shots is over"

_OFF = f"{_GROUP}; slow vents, recovery the other way"
_NEAR = "the onset said is near, five shots after the call"
_SOON = "a change is called soon: shots from onset to call"

CASES = (
    Case("group right, 3 channels", _GROUP, Goal(low=0.80), (CHANGED_3,), group_right, best_group),
    Case("group right, 7 channels", _GROUP, Goal(low=0.95), (CHANGED_7,), group_right, best_group),
    Case("group off the table, 3 channels", _OFF, Goal(low=0.75), (OFF_3,), group_right, best_group),
    Case("group off the table, 7 channels", _OFF, Goal(low=0.85), (OFF_7,), group_right, best_group),
    Case("delay, 3 channels", _SOON, None, (CHANGED_3,), mean_delay, best_delay),
    Case("delay, 7 channels", _SOON, None, (CHANGED_7,), mean_delay, best_delay),
    Case("delay over best, 3 channels", _SOON, Goal(high=1.30), (CHANGED_3,), delay_over_best),
    Case("delay over best, 7 channels", _SOON, Goal(high=1.30), (CHANGED_7,), delay_over_best),
    Case("charts, change seen", "charts show a change in the end", Goal(low=0.90), _ALL, charts_saw),
    Case("charts, delay", "charts show it soon: median of those seen", None, _ALL, chart_delay),
    Case("onset within 3 shots", _NEAR, Goal(low=0.80), _ALL, onset_near, best_onset),
    Case("onset set covers", "the 90 % set holds the true onset", Goal(0.88, 0.95), _ALL, set_covers),
    Case("suspects kept", "affected parts are held", Goal(low=0.99), _ALL, suspects_kept),
    Case("weights off, worst tenth", "of calls said with weight w, w are right", Goal(high=0.10),
         (*_ALL, OFF_3, OFF_7), weights_off),
)  # fmt: skip
