"""Action limits that the technician configured: passed after a step, while settling, and by inserts that age alike."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from shotlog.settings import Bound
from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.several import started
from tests.benchmark.examiner.faults import FAULTS, Change, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played, Said
from tests.benchmark.examiner.press import draw_press
from tests.benchmark.examiner.shapes import shape_of

__all__ = ["CASES", "limited"]


def limited(history: History, low: float) -> None:
    """Configure the lowest cushion, so many sigma below the settled level."""
    press = history.press
    at = press.channels.index("cushion")
    limit = round(float(press.level[at] - low * press.spread[at]), 3)
    history.known.update({"limit": limit, "cushion at": at})
    history.design = replace(history.design, limits={"cushion": Bound(low=limit)})


def _passed_at(rng: np.random.Generator, onset: int, n_shots: int) -> History:
    history = started(rng)
    limited(history, 8.0)
    fault = FAULTS["parting line"]
    # further than the limit by more than sisters and warm-up differ
    broken = draw_change(history.press, fault, n_shots, onset, rng, size=16.0, shape="step")
    at = history.press.channels.index("cushion")
    deep = 16.0 * history.press.spread[at] + history.press.cold[at]
    history.life(n_shots, [replace(broken, added=broken.added * deep / abs(broken.added[-1, at]))], examined=True)
    return history


def _settled(rng: np.random.Generator) -> History:
    return _passed_at(rng, 30, 90)


def _settling(rng: np.random.Generator) -> History:
    return _passed_at(rng, 2, 12)


def _from_first(rng: np.random.Generator) -> History:
    """An insert that reads beyond the limit from its first shot on, half of the time the first of its design."""
    history = started(rng, sisters=int(rng.choice((0, 5))))
    limited(history, 4.0)
    press = history.press
    at = press.channels.index("cushion")
    deep = 9.0 * press.spread[at] + press.cold[at] + 3.0 * float(np.linalg.norm(press.sisters[:, at]))
    along = press.vector(FAULTS["parting line"].moves(press, rng))
    history.life(60, added=np.tile(along / abs(along[at]) * deep, (60, 1)), examined=True)
    return history


def _ageing(rng: np.random.Generator) -> History:
    """Every insert of the design wears alike from its first shot, and passes the limit near shot 35-55."""
    history = History(draw_press(rng, int(rng.choice((3, 7)))), rng)
    deep = rng.uniform(5.0, 12.0)
    limited(history, deep)
    press = history.press
    typical = rng.uniform(35.0, 55.0)
    at = press.channels.index("cushion")
    along = press.vector(FAULTS["parting line"].moves(press, rng))
    along *= press.spread[at] / abs(along[at])
    for nth in range(9):
        over = typical * float(np.exp(0.15 * rng.standard_normal()))
        added = deep * shape_of("ramp", 70, 0, over)[:, None] * along
        change = Change(FAULTS["parting line"], 0, "ramp", deep, over, along, added)
        history.life(70, [change], examined=nth >= 5)
    return history


SETTLED = Scene("limit-settled", 30, _settled)
SETTLING = Scene("limit-settling", 30, _settling)
FROM_FIRST = Scene("limit-from-first", 30, _from_first)
AGEING = Scene("ageing", 24, _ageing)


def _beyond(one: Played, said: Said) -> list[int]:
    """Return the ages at which the cushion was reported below its limit."""
    reported = said.life.values[:, int(one.known["cushion at"])]
    return [int(age) for age in np.flatnonzero(reported < one.known["limit"])]


def kept_beyond(played: Sequence[Played]) -> Figure:
    """Return the share of shots reported beyond the limit at which the verdict is keep."""
    return mean_of(
        [[float(said.verdicts[a].verdict == "keep") for said in one.said for a in _beyond(one, said)] for one in played]
    )


def limit_said(*played: Sequence[Played]) -> Figure:
    """Return the share of shots beyond the limit at which the verdict names the channel as beyond."""
    return mean_of(
        [[float(_names(said, a)) for said in one.said for a in _beyond(one, said)] for some in played for one in some]
    )


def _names(said: Said, age: int) -> bool:
    verdict = said.verdicts[age]
    passed = getattr(verdict.facts, "passed", None)
    named = [str(getattr(one, "channel", one)) for one in getattr(verdict, "limits", ())]
    return any("cushion" in name for name in named) or (passed is not None and passed.channel == "cushion")


def ageing_said(played: Sequence[Played]) -> Figure:
    """Return the share of inserts that age alike on which shots left are stated half way to the limit."""
    out = []
    for one in played:
        for said in one.said:
            passed = np.flatnonzero(said.life.means[:, int(one.known["cushion at"])] < one.known["limit"])
            if passed.size:
                age = int(passed[0]) // 2
                left = said.verdicts[age].left_median
                out.append([float(left is not None and abs(left - (passed[0] - age)) <= 0.5 * (passed[0] - age))])
    return mean_of(out)


_NEVER = "never keep while a value is beyond a configured action limit"

CASES = (
    Case("limit passed: kept", _NEVER, Goal(high=0.0), (SETTLED,), kept_beyond),
    Case("limit passed while settling: kept", _NEVER, Goal(high=0.0), (SETTLING,), kept_beyond),
    Case("limit passed from the first shot: kept", _NEVER, Goal(high=0.0), (FROM_FIRST,), kept_beyond),
    Case("limit passed, ageing alike: kept", _NEVER, Goal(high=0.0), (AGEING,), kept_beyond),
    Case("limit passed: said", "the channel beyond its limit is named", Goal(low=1.0),
         (SETTLED, SETTLING, FROM_FIRST, AGEING), limit_said),
    Case("ageing alike: said", "half way to the limit the shots left are stated, within a half", Goal(low=0.8),
         (AGEING,), ageing_said),
)  # fmt: skip
