"""What happened, from the log: lives, drift, suspect parts, swaps, costs. Reads the log, returns plain data."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from shotlog.review.whole import Review, as_json, review

__all__ = ["Review", "as_json", "review"]


def __getattr__(name: str) -> Any:
    """Load the whole review only when somebody asks for it: `status` asks what is held, and waits for no more."""
    if name in __all__:
        from shotlog.review import whole

        return getattr(whole, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
