"""Flow of a power-law melt: stress = K * rate^n. What a restriction costs, and how long a fill takes at the press's
limit.
"""

from math import pi

import numpy as np

from simulators.noise import Array

__all__ = ["gate_scale", "limited_fill_s", "round_duct_pa", "slit_pa"]


def round_duct_pa(flow_m3_s: float, radius_m: float, length_m: float, consistency: float, index: float) -> float:
    """Pressure drop of a power-law melt in a round duct, Pa: dp = (2 K L / R) * [ (3n+1)/n * Q / (pi R^3) ]^n.

    `consistency` K in Pa s^n. With n = 1 it is Hagen-Poiseuille, 8 mu L Q / (pi R^4).

    References
    ----------
    Bird, Armstrong, Hassager: Dynamics of Polymeric Liquids, vol. 1, section 4.2 (from memory); derived anew:
    wall stress R dp / (2 L), wall rate (3n+1)/(4n) * 4 Q / (pi R^3).
    """
    rate = (3.0 * index + 1.0) / index * flow_m3_s / (pi * radius_m**3)
    return 2.0 * consistency * length_m / radius_m * float(rate**index)


def slit_pa(
    flow_m3_s: float, width_m: float, height_m: float, length_m: float, consistency: float, index: float
) -> float:
    """Pressure drop of a power-law melt in a wide slit, Pa: dp = (2 K L / H) * [ (2n+1)/n * 2 Q / (W H^2) ]^n.

    With n = 1 it is 12 mu L Q / (W H^3). References as for the round duct.
    """
    rate = (2.0 * index + 1.0) / index * 2.0 * flow_m3_s / (width_m * height_m**2)
    return 2.0 * consistency * length_m / height_m * float(rate**index)


def gate_scale(radius_mm: Array, as_made_mm: float, index: float) -> Array:
    """Pressure drop of a round gate relative to the one as made, at equal flow: (R0/R)^(3n+1)."""
    scale: Array = (as_made_mm / np.maximum(radius_mm, 0.05)) ** (3.0 * index + 1.0)
    return scale


def limited_fill_s(need_bar: Array, limit_bar: Array, slope_bar_mm: float, speed_mm_s: Array, index: float) -> Array:
    """Extra fill time where the pressure needed passes the limit, s.

    Near the end of the fill the pressure needed at full speed rises by `slope_bar_mm`; at the limit the melt flows at
    v * (limit/need)^(1/n) only. Integrated over the stretch y = (need - limit) / slope: t = limit / (slope v (1/n +
    1)) * [ (need/limit)^(1/n+1) - 1 ], less the y / v the same stretch takes at full speed. Own derivation from the
    power law.
    """
    ratio = np.maximum(need_bar / limit_bar, 1.0)
    power = 1.0 / index + 1.0
    taken = limit_bar / (slope_bar_mm * speed_mm_s * power) * (ratio**power - 1.0)
    extra: Array = taken - np.maximum(need_bar - limit_bar, 0.0) / (slope_bar_mm * speed_mm_s)
    return extra
