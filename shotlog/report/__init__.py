"""The review as one HTML file that needs nothing beside it."""

from shotlog.report.page import render

__all__ = ["render"]
