"""Leaving it running beside the press: collectors, log and evaluator joined. Nothing else joins all three."""

from typing import TYPE_CHECKING, Any

from shotlog.recorder.recorder import Ended, Kept, Listener, Recorder

if TYPE_CHECKING:
    from shotlog.recorder.judge import Judge

__all__ = ["Ended", "Judge", "Kept", "Listener", "Recorder"]


def __getattr__(name: str) -> Any:
    """Load what judges only when somebody asks for it: presses are asked for their first shot before."""
    if name == "Judge":
        from shotlog.recorder.judge import Judge

        return Judge
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
