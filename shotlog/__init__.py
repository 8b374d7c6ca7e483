"""Log the shots of presses that run printed mould inserts, chart them, and say when something changed."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from shotlog.notebook import Log, open_log

__all__ = ["Log", "__version__", "open_log"]

__version__ = "0.2.0"


def __getattr__(name: str) -> Any:
    """Load the log only when somebody asks for it: a command that needs no database starts at once."""
    if name in ("Log", "open_log"):
        from shotlog import notebook

        return getattr(notebook, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
