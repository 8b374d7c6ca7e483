"""What looks like a worn insert and is none, rhythm, melt, sensors; wear from the first shot and beside a note."""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.best import threshold_of
from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.several import started
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played, Said, stands
from tests.benchmark.examiner.press import Press

__all__ = ["CASES"]

_N_SHOTS = 90


def _cadence(rng: np.random.Generator) -> History:
    """Cycle 60 to 90 s at shot 35-50, and the insert, colder by 6-14 K in the end, follows in 6-12 shots.

    Trade notes: an insulating insert climbs with 6-12 shots and swings with every change of rhythm; pressure rises by
    0.2 % and cushion by 0.006 mm for each K that it is colder.
    """
    history = started(rng, sisters=0)
    slow = np.full(_N_SHOTS, 60.0)
    for _ in range(5):
        history.life(65, cycle_s=_paced(slow[:65], rng), added=_shown(history.press, slow[:65]))
    at = int(rng.integers(35, 51))
    slow[at:] = 90.0
    age = np.maximum(np.arange(_N_SHOTS) - at + 1.0, 0.0)
    colder = rng.uniform(6.0, 14.0) * (1.0 - np.exp(-age / rng.uniform(6.0, 12.0)))
    press = history.press
    bar, mm = press.bar_per_k, press.mm_per_k
    effect = press.vector(
        {
            "switchover_pressure": bar,
            "peak_pressure": bar,
            "cushion": mm,
            "part_weight": -press.g_per_mm * mm,
            "insert_temperature": -1.0,
        }
    )
    followed = colder[:, None] * effect + _shown(press, slow)
    history.life(_N_SHOTS, added=followed, cycle_s=_paced(slow, rng), examined=True)
    history.known["at"] = at
    return history


def _paced(cycle_s: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Return cycles as an operator keeps them: never shorter, sometimes longer (75 + |N(0, 1.2)| in the notes)."""
    return np.asarray(cycle_s + np.abs(1.2 * rng.standard_normal(len(cycle_s))))


def _shown(press: Press, cycle_s: np.ndarray) -> np.ndarray:
    """Return what brings the press's own reading of the cycle, where it gives one, to `cycle_s`."""
    return (cycle_s - press.cycle_s)[:, None] * press.vector({"cycle_time": 1.0})


def _one(
    rng: np.random.Generator, faults: Sequence[str], n_channels: int | None = None, noted: bool = False
) -> History:
    history = started(rng, n_channels)
    at = int(rng.integers(25, 45))
    change = draw_change(history.press, FAULTS[str(rng.choice(list(faults)))], _N_SHOTS, at, rng)
    events = {at - 3: ("lot", "next bag")} if noted else {}
    history.life(_N_SHOTS, [change], events=events, examined=True)
    return history


def _from_first(rng: np.random.Generator) -> History:
    """Wear from the first shot, 0.1-0.35 sigma a shot."""
    history = started(rng)
    wear = FAULTS[str(rng.choice(("gate erosion", "parting line", "creep")))]
    rate = rng.uniform(0.1, 0.35)
    change = draw_change(history.press, wear, 70, 0, rng, size=rate * 30.0, shape="ramp", over=30.0)
    history.life(70, [change], examined=True)
    return history


def _frozen(rng: np.random.Generator) -> History:
    """Peak pressure repeats itself from shot 30; the gate erodes from shot 50 on."""
    history = started(rng, 7)
    change = draw_change(history.press, FAULTS["gate erosion"], 110, 50, rng, shape="ramp")
    history.life(110, [change], frozen={"peak_pressure": 30}, examined=True)
    return history


CADENCE = Scene("cadence", 48, _cadence)
UNSEEN = Scene("unseen-melt", 48, partial(_one, faults=("unseen melt",)))
SENSOR = Scene("sensor", 48, partial(_one, faults=("pressure sensor", "position sensor"), n_channels=7), best=True)
EROSION = Scene("erosion", 48, partial(_one, faults=("gate erosion",), n_channels=7), drawn_as="erosion")
NOTED = Scene(
    "erosion-noted", 48, partial(_one, faults=("gate erosion",), n_channels=7, noted=True), drawn_as="erosion"
)
FIRST = Scene("from-first", 60, _from_first, best=True)
FROZEN = Scene("frozen", 36, _frozen)

_RHYTHM = ("rhythm", "cadence", "cycle", "heat")
"""Words of which one has to stand in the cause, or the reading channel, where the rhythm is said."""


def _ages(said: Said, since: int) -> range:
    return range(since, said.life.n_shots)


def cadence_blames_insert(played: Sequence[Played]) -> Figure:
    """Return the share of lives on which the insert is blamed at any shot after the change of rhythm."""
    out = []
    for one in played:
        for said in one.said:
            after = _ages(said, int(one.known["at"]))
            out.append([float(any(said.verdicts[age].group == "insert" for age in after))])
    return mean_of(out)


def cadence_said(played: Sequence[Played]) -> Figure:
    """Return the share of lives on which the rhythm is said as the cause at some shot after it changed."""
    out = []
    for one in played:
        for said in one.said:
            causes = [cause for age in _ages(said, int(one.known["at"])) for _, cause, _ in stands(said.verdicts[age])]
            out.append([float(any(word in cause for cause in causes for word in _RHYTHM))])
    return mean_of(out)


def sure_of_a_group(played: Sequence[Played]) -> Figure:
    """Return the share of called lives that end with a weight over 0.7 for any one group."""
    last = [said.verdicts[-1] for one in played for said in one.said if said.verdicts[-1].cause]
    return mean_of([[float((verdict.weight or 0.0) > 0.7)] for verdict in last])


def laid_to(group: str, played: Sequence[Played]) -> Figure:
    """Return the share of called lives that end laid to `group`."""
    last = [said.verdicts[-1] for one in played for said in one.said if said.verdicts[-1].cause]
    return mean_of([[float(verdict.group == group)] for verdict in last])


def best_laid_to(group: str, played: Sequence[Played]) -> Figure:
    """Return the same for the best possible classifier."""
    return mean_of(
        [
            [float(life.group[-1] == group)]
            for one in played
            for said, life in zip(one.said, one.best, strict=True)
            if said.verdicts[-1].cause
        ]
    )


def shots_to_call(played: Sequence[Played]) -> Figure:
    """Return the mean number of shots until wear from the first shot is called, all of them where it is not."""
    ages = [(said.called(), said.life.n_shots) for one in played for said in one.said]
    return mean_of([[float(n if age is None else age + 1)] for age, n in ages])


def best_shots_to_call(played: Sequence[Played]) -> Figure:
    """Return the same for the best possible detector."""
    threshold = threshold_of([life for one in played for life in one.best])
    ages = [(life.called(threshold), len(life.log_ratio)) for one in played for life in one.best]
    return mean_of([[float(n if age is None else age + 1)] for age, n in ages])


def frozen_named(played: Sequence[Played]) -> Figure:
    """Return the share of lives on which a fault of measurement stands, with an onset near, before the gate erodes."""
    out = []
    for one in played:
        for said in one.said:
            near = [
                group == "measurement" and abs(onset - said.life.first - 30) <= 5
                for age in range(30, 50)
                for group, _, onset in stands(said.verdicts[age])
            ]
            out.append([float(any(near))])
    return mean_of(out)


def frozen_misleads(played: Sequence[Played]) -> Figure:
    """Return the share of lives on which erosion behind a frozen channel ends as called a parting line."""
    return mean_of(
        [
            [float(any("parting" in cause for _, cause, _ in stands(said.verdicts[-1]))) for said in one.said]
            for one in played
        ]
    )


CASES = (
    Case("cadence: insert blamed", "60 to 90 s and the pressure follows: not the insert", Goal(high=0.15),
         (CADENCE,), cadence_blames_insert),
    Case("cadence: rhythm said", "and it is said that it is the rhythm", Goal(low=0.85), (CADENCE,), cadence_said),
    Case("melt drift unseen: group over 0.7", "hotter melt that no reading shows: no group over 0.7", Goal(high=0.05),
         (UNSEEN,), sure_of_a_group),
    Case("sensor drift: measurement said", "a shared transducer drifts in all its channels: measurement",
         Goal(low=0.75), (SENSOR,), partial(laid_to, "measurement"), partial(best_laid_to, "measurement")),
    Case("erosion: insert said", "real erosion, for comparison", None, (EROSION,), partial(laid_to, "insert")),
    Case("erosion, next bag noted: insert said", "a note 3 shots before raises, it does not decide", Goal(low=0.75),
         (NOTED,), partial(laid_to, "insert")),
    Case("wear from the first shot", "0.1-0.35 sigma a shot: shots until called", Goal(high=14.0), (FIRST,),
         shots_to_call, best_shots_to_call),
    Case("frozen pressure: named", "a channel frozen from shot 30 is said as measurement", Goal(low=0.85), (FROZEN,),
         frozen_named),
    Case("frozen pressure: misleads", "later erosion is not called a parting line", Goal(high=0.10), (FROZEN,),
         frozen_misleads),
)  # fmt: skip
