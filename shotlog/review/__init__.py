"""What happened, from the log: lives, drift, suspect parts, swaps, costs. Reads the log, returns plain data."""

from shotlog.review.whole import Review, as_json, review

__all__ = ["Review", "as_json", "review"]
