"""The review as one HTML file that needs nothing beside it."""

from shotlog.report.page import render, rendered

__all__ = ["render", "rendered"]
