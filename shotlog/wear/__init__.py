"""The call: insert, material or press; since which shot; how many shots left; swap or not."""

from shotlog.wear.cause import CAUSES, GROUPS, Cause
from shotlog.wear.evidence import CauseEvidence, Evidence, SwapFinding
from shotlog.wear.monitor import Monitor
from shotlog.wear.signatures import SIGNATURES, Signature

__all__ = [
    "CAUSES",
    "GROUPS",
    "SIGNATURES",
    "Cause",
    "CauseEvidence",
    "Evidence",
    "Monitor",
    "Signature",
    "SwapFinding",
]
