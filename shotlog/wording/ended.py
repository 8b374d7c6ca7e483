"""How what was called ended, in words."""

from collections.abc import Mapping

__all__ = ["ENDED"]

ENDED: Mapping[str, str] = {
    "stood": "stood to the end",
    "withdrawn": "withdrawn later",
    "answered": "answered by who looked",
    "within": "within its limits again",
}
"""The words for `review.episodes.Episode.ended`."""
