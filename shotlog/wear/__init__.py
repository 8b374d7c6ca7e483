"""The call: insert, material or press; since which shot; how many shots left; swap or not."""

from shotlog.wear.change.causes import CAUSES, GROUPS, Cause
from shotlog.wear.change.signatures import SIGNATURES, Signature
from shotlog.wear.life.carried import SwapFinding
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.evidence import CauseEvidence, Evidence

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
