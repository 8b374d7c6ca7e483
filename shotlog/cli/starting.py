"""Starts of the logger and steps of the clock, as commands print them and as JSON."""

import json
from typing import Any

from shotlog.clock import iso_utc
from shotlog.records import ClockStep, Start

__all__ = ["start_document", "step_document"]


def start_document(start: Start) -> dict[str, Any]:
    """Return a start with all that is on record of it but the text of the configuration."""
    return {
        "time": iso_utc(start.time),
        "release": start.release,
        "basis": start.basis,
        "digest": start.digest,
        "host": start.host,
        "process": start.process,
        "maps": json.loads(start.maps),
    }


def step_document(step: ClockStep) -> dict[str, Any]:
    """Return a step of the clock, in seconds, forward where positive."""
    return {"time": iso_utc(step.time), "step_s": step.step_s, "at_least": step.at_least, "said": step.detail}
