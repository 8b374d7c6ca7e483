"""Leaving it running beside the press: collectors, log and evaluator joined. Nothing else joins all three."""

from shotlog.recorder.judge import Judge
from shotlog.recorder.recorder import Ended, Kept, Listener, Recorder

__all__ = ["Ended", "Judge", "Kept", "Listener", "Recorder"]
