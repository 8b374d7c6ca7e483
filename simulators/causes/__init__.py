"""The causes: one entry here for each thing that can go wrong, by the name scenario files use."""

from simulators.causes.base import Drive, SimulatedCause
from simulators.causes.insert import (
    CoreLoss,
    Flaking,
    GateErosion,
    HeatBuildUp,
    PartingLine,
    SeatDamage,
    Softening,
    Sticking,
    VentClogging,
)
from simulators.causes.material import Moisture, NewLot, PotLife
from simulators.causes.measurement import SensorDrift, SensorStuck
from simulators.causes.piece import EarlySoftening, PieceCrack, Swelling
from simulators.causes.press import (
    BarrelDrift,
    CheckRing,
    ClampLoss,
    ColdSlug,
    Drool,
    FeedBridging,
    NozzleSeat,
    OilWarmUp,
    SetPointEdit,
)

__all__ = ["CAUSES", "Drive", "SimulatedCause"]

CAUSES: dict[str, type[SimulatedCause]] = {
    "gate-erosion": GateErosion,
    "softening": Softening,
    "parting-line": PartingLine,
    "core-loss": CoreLoss,
    "flaking": Flaking,
    "vent-clogging": VentClogging,
    "swelling": Swelling,
    "early-softening": EarlySoftening,
    "piece-crack": PieceCrack,
    "heat-build-up": HeatBuildUp,
    "seat-damage": SeatDamage,
    "sticking": Sticking,
    "check-ring": CheckRing,
    "lot-change": NewLot,
    "moisture": Moisture,
    "pot-life": PotLife,
    "barrel-drift": BarrelDrift,
    "drool": Drool,
    "cold-slug": ColdSlug,
    "clamp-loss": ClampLoss,
    "feed-bridging": FeedBridging,
    "sensor-drift": SensorDrift,
    "sensor-stuck": SensorStuck,
    "set-point-edit": SetPointEdit,
    "oil-warm-up": OilWarmUp,
    "nozzle-seat": NozzleSeat,
}
