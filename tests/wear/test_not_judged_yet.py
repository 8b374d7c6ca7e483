"""Why a first insert is not judged yet, and from when on it is: said in its facts, and kept to."""

from datetime import UTC, datetime, timedelta
from random import Random

from shotlog.evaluator import Evaluator
from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wording.verdicts import told

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def judged(n_shots: int, pauses: dict[int, float]) -> list[Verdict]:
    """Return the verdicts on a first insert; before the shots of `pauses` the press stood so many minutes."""
    noise, at = Random(7), START
    evaluator = Evaluator("P25", {"cap": DesignSettings("cap", settling_shots=10)})
    said = []
    for shot in range(101, 101 + n_shots):
        at += timedelta(seconds=75, minutes=pauses.get(shot, 0.0))
        values = {
            "cushion": round(4.9 + noise.gauss(0, 0.03), 2),
            "peak_pressure": round(540 + noise.gauss(0, 3), 1),
            "fill_time": round(0.72 + noise.gauss(0, 0.003), 3),
        }
        found = evaluator.step(LoggedShot("P25", shot, at, values, {"moving": InForce("B-11", "cap")}))
        said += [one for one in found if isinstance(one, Verdict)]
    return said


def stages(verdicts: list[Verdict]) -> list[str]:
    return [one.facts.stage for one in verdicts if one.facts is not None]


def test_without_a_wait_it_is_judged_after_its_settling_shots_and_its_level() -> None:
    said = judged(16, {})
    assert stages(said) == ["settling"] * 10 + ["learning"] + ["quiet"] * 5
    assert "at shot 112 of the press at the earliest" in told(said[10])


def test_after_a_wait_it_says_until_when_it_is_not_judged_and_is_judged_by_then() -> None:
    said = judged(60, {113: 30.0})
    waited = [one for one in said if one.facts is not None and one.facts.stage == "waited"]
    assert waited
    assert waited[0].shot == 113
    facts = waited[0].facts
    assert facts is not None
    assert facts.waited_at == 113
    assert facts.judged_from is not None
    assert waited[-1].shot < facts.judged_from <= 145
    assert (
        f"not judged: the press waited before shot 113, and what a wait does is not known yet of such inserts; "
        f"judged from shot {facts.judged_from} at the latest, if it does not wait again"
    ) in told(waited[0])
    assert stages(said)[-1] == "quiet"


def test_a_second_wait_puts_it_off_and_says_so() -> None:
    one, two = judged(60, {113: 30.0}), judged(60, {113: 30.0, 120: 30.0})
    last = [[v.shot for v in said if v.facts is not None and v.facts.stage == "waited"][-1] for said in (one, two)]
    assert last[1] > last[0]
    at_120 = next(v for v in two if v.shot == 120).facts
    assert at_120 is not None
    assert at_120.waited_at == 120
