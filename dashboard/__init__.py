"""The screens: what the log holds, in the browser. Read through the log's public functions only."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dashboard.app import build
    from dashboard.shared.source import Source

__all__ = ["Source", "build"]


def __getattr__(name: str) -> Any:
    """Load the screens when they are asked for: ``python -m dashboard`` has to leave its folder before."""
    if name == "build":
        from dashboard.app import build

        return build
    if name == "Source":
        from dashboard.shared.source import Source

        return Source
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
