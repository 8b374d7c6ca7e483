"""A leaking check ring against a parting line that wears: on three channels both lower the cushion and little else.

That the leak varies from shot to shot, more and more, and wear does not: common practice, no source.
"""

from made import SPREAD, knowing, life

from shotlog.wear.monitor import Monitor

LIVES = 24


def blamed_on_the_press(shape: str, bar_per_mm: float) -> int:
    """Return for how many lives of 90 shots, gone off from shot 46 on, the last verdict names the press.

    `bar_per_mm`: by how much the pressure falls with the cushion (trade notes: 10 with a leak, 22 with flash).
    """
    monitor = knowing(4)
    state, found = monitor.save(), 0
    for seed in range(LIVES):
        monitor = Monitor("p", {})
        monitor.restore(state)
        change = {
            "cushion": (shape, -0.2),
            "peak_pressure": ("ramp", -0.2 * bar_per_mm * SPREAD["cushion"] / SPREAD["peak_pressure"]),
        }
        verdicts = [monitor.step(shot) for shot in life(seed, "B", 90, 241, change=change, onset=46, hours=13)]
        assert verdicts[-1].verdict != "keep"
        found += verdicts[-1].group == "press"
    return found


def test_a_growing_spread_of_the_cushion_is_the_check_ring() -> None:
    """All 24 are here (seeds 0 to 23); fewer than 20 would be rare, one in 300, were nine in ten found."""
    assert blamed_on_the_press("ring", 10.0) >= 19


def test_the_evidence_tells_the_fall_about_which_the_spread_grows() -> None:
    monitor = knowing(4)
    for shot in life(0, "B", 90, 241, change={"cushion": ("ring", -0.2)}, onset=46, hours=13):
        monitor.step(shot)
    evidence = monitor.evidence()
    ring = next(one for one in evidence.causes if one.cause == "check-ring leak")
    assert ring.log_likelihood == max(one.log_likelihood for one in evidence.causes)
    assert ring.change["cushion"] < -5 * evidence.spread["cushion"]
    assert evidence.change["cushion"] < -5 * evidence.spread["cushion"]


def test_a_steady_fall_of_the_cushion_is_not_blamed_on_the_check_ring() -> None:
    assert blamed_on_the_press("ramp", 22.0) <= 2
