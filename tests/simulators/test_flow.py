"""Flow of a power-law melt against a worked example of polymer processing, against Newton's limit, and against its
own integral.
"""

import numpy as np
import pytest

from simulators.flow import gate_scale, limited_fill_s, round_duct_pa, slit_pa

# Worked example: Imperial College London, ME4 Polymer Processing Technology, solutions to problem sheet 5 (April 2008),
# problem 3.1: a melt of K = 16e3 Pa s^0.3, n = 0.3 through a round channel at 1e-5 m3/s; at 3 mm diameter the gradient
# is 290 MPa/m (2.897e8 Pa/m), and a linear taper from 3 to 6 mm over 0.06 m takes 8.96 MPa.
CONSISTENCY, INDEX, FLOW = 16e3, 0.3, 1e-5


def test_gradient_of_the_worked_example():
    assert round_duct_pa(FLOW, 1.5e-3, 1.0, CONSISTENCY, INDEX) == pytest.approx(2.897e8, rel=5e-4)


def test_taper_of_the_worked_example_by_slices():
    slices, length = 4000, 0.06
    radii = 1.5e-3 + 1.5e-3 * (np.arange(slices) + 0.5) / slices
    total = sum(round_duct_pa(FLOW, float(radius), length / slices, CONSISTENCY, INDEX) for radius in radii)
    assert total == pytest.approx(8.96e6, rel=1e-3)


def test_at_index_one_they_are_the_newtonian_laws():
    assert round_duct_pa(2e-6, 1e-3, 0.05, 250.0, 1.0) == pytest.approx(8 * 250.0 * 0.05 * 2e-6 / (np.pi * 1e-12))
    assert slit_pa(2e-6, 0.02, 1e-3, 0.05, 250.0, 1.0) == pytest.approx(12 * 250.0 * 0.05 * 2e-6 / (0.02 * 1e-9))


def test_a_slit_is_its_velocity_profile_integrated():
    """The flow of u = n/(n+1) (G/K)^(1/n) [(H/2)^(1+1/n) - y^(1+1/n)], summed over the height, needs the gradient it
    was made with.
    """
    width, height, gradient = 0.02, 1.2e-3, 4e8
    y = (np.arange(20000) + 0.5) / 20000 * height / 2
    power = 1 + 1 / INDEX
    speed = INDEX / (INDEX + 1) * (gradient / CONSISTENCY) ** (1 / INDEX) * ((height / 2) ** power - y**power)
    flow = 2 * width * float(speed.mean()) * height / 2
    assert slit_pa(flow, width, height, 1.0, CONSISTENCY, INDEX) == pytest.approx(gradient, rel=1e-6)


def test_a_gate_ten_per_cent_wider_costs_eighteen_per_cent_less():
    assert gate_scale(np.array([0.66]), 0.60, 0.35)[0] == pytest.approx(0.822, abs=0.002)


def test_the_gate_follows_the_round_duct():
    wide, narrow = (round_duct_pa(1e-5, radius, 1e-3, 5e3, 0.35) for radius in (0.66e-3, 0.60e-3))
    assert gate_scale(np.array([0.66]), 0.60, 0.35)[0] == pytest.approx(wide / narrow, rel=1e-12)


def test_fill_at_the_limit_is_the_integral_of_the_slowed_speed():
    need, limit, slope, speed, index = 650.0, 500.0, 60.0, 30.0, 0.35
    y = (np.arange(200000) + 0.5) / 200000 * (need - limit) / slope
    slowed = ((limit + slope * y) / limit) ** (1 / index)
    extra = float((slowed - 1.0).mean()) * (need - limit) / slope / speed
    found = limited_fill_s(np.array([need, 480.0]), np.array([limit, limit]), slope, np.array([speed, speed]), index)
    assert found[0] == pytest.approx(extra, rel=1e-6)
    assert found[1] == 0.0
