"""The columns of a recording that are no channels, in their order."""

from shotlog.records import HALVES

__all__ = ["FIXED_COLUMNS", "OF_HALVES", "OPTIONAL_COLUMNS", "REQUIRED"]

REQUIRED = ("press", "shot", "time")
FIXED_COLUMNS = (*REQUIRED, *HALVES, "design", "event")
OPTIONAL_COLUMNS = ("single_use", "print_batch")

OF_HALVES = (*HALVES, "design", *OPTIONAL_COLUMNS)
"""Those that say which inserts made a shot."""
