"""The screens: what the log holds, in the browser. Read through the log's public functions only."""

from dashboard.app import build
from dashboard.shared.source import Source

__all__ = ["Source", "build"]
