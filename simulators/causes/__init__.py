"""The causes: one entry here for each thing that can go wrong, by the name scenario files use."""

from simulators.causes.base import Cause, Drive
from simulators.causes.insert import CoreLoss, GateErosion, PartingLine, PieceCrack, Swelling
from simulators.causes.press import CheckRing

__all__ = ["CAUSES", "Cause", "Drive"]

CAUSES: dict[str, type[Cause]] = {
    "gate-erosion": GateErosion,
    "parting-line": PartingLine,
    "core-loss": CoreLoss,
    "piece-crack": PieceCrack,
    "swelling": Swelling,
    "check-ring": CheckRing,
}
