"""The tokens of EUROMAP 63 under which presses usually give what we chart. A table.

Seen in public programs that speak the standard; those marked so in the trade notes only by common knowledge. They
order what is proposed and settle nothing: which token is which value is said by whoever sets the press up, in the
configuration.
"""

from collections.abc import Mapping

from shotlog.channels import CHANNELS
from shotlog.collectors.euromap_lists import KnownToken
from shotlog.collectors.euromap_rows import token_key
from shotlog.errors import UsageError
from shotlog.units import converter

__all__ = ["COUNTERS", "USUAL_TOKENS", "keys_of", "proposed", "proposed_counter"]

COUNTERS = ("ActCntCyc", "COUNT")
"""Shot counters, the best first: COUNT may count the lines of a report only, and begin anew with each."""

USUAL_TOKENS: Mapping[str, tuple[str, ...]] = {
    "cushion": ("ActStrCsh[1]",),
    "peak_pressure": ("ActPrsMachSpecMax", "ActPrsMachHydMax"),
    "fill_time": ("ActTimFill[1]",),
    "switchover_pressure": ("ActPrsXfrSpec[1]", "ActPrsXfrHyd[1]"),
    "switchover_position": ("ActStrXfr[1]",),
    "recovery_time": ("ActTimPlst[1]",),
    "cycle_time": ("ActTimCyc",),
}
"""By channel, the likeliest first: the specific pressure before the hydraulic one."""


def proposed(known: Mapping[str, KnownToken]) -> dict[str, KnownToken]:
    """Return the usual token of each channel that a press knows."""
    found = {}
    for channel, tokens in USUAL_TOKENS.items():
        there = [known[token_key(token)] for token in tokens if token_key(token) in known]
        if there:
            found[channel] = there[0]
    return found


def proposed_counter(known: Mapping[str, KnownToken]) -> str:
    """Return the token of the best counter that a press knows; COUNT needs not be listed."""
    return next((known[token_key(one)].name for one in COUNTERS if token_key(one) in known), COUNTERS[-1])


def keys_of(channel: str, token: KnownToken) -> dict[str, str]:
    """Return the keys of a channel in the configuration; a unit only where the press tells none that fits."""
    keys = {"token": token.name}
    try:
        converter(token.unit, CHANNELS[channel].unit)
    except UsageError:
        keys["unit"] = "?"
    return keys
