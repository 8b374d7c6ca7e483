"""What happened, from the log: lives, drift, suspect parts, swaps, costs. Reads the log, returns plain data."""

from shotlog.review.whole import Review, plain, review

__all__ = ["Review", "plain", "review"]
