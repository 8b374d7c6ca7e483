"""Cautions shown where people work. General guidance: the site's own rules and the safety data sheet come first."""

__all__ = ["CAUSTIC"]

CAUSTIC = (
    "Caustic: corrosive, eyes first. Goggles and face shield, gloves, apron; eyewash tested and in reach; caustic into "
    "water, never the reverse; no aluminium, zinc or tin in the bath (hydrogen); lid on, ventilated; nobody alone."
)
"""Shown with everything about the bath that dissolves single-use halves."""
