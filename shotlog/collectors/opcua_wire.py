"""What a connection to a press on OPC UA does for those who use it; `opcua_client` is the one over the wire."""

from collections.abc import Sequence
from typing import Protocol

from shotlog.collectors.opcua_said import CycleEvent, Given, Offer

__all__ = ["Wire"]


class Wire(Protocol):
    """The connection to the press."""

    @property
    def is_open(self) -> bool:
        """Whether a connection was made and not closed."""

    @property
    def heard_ago_s(self) -> float:
        """How long ago the press was last heard of, in seconds."""

    def open(self, wanted: Sequence[str]) -> Offer:
        """Connect and say what the press offers; variables called as in `wanted` are looked for, and read."""

    def subscribe(self, paths: Sequence[str]) -> None:
        """Have events sent, with these fields."""

    def turn(self) -> list[CycleEvent]:
        """Return the events that came since."""

    def overflowed(self) -> int:
        """Return how often the press said, since it was last asked, that its queue ran over."""

    def read(self, nodes: Sequence[str]) -> dict[str, Given]:
        """Return what variables hold now."""

    def close(self) -> None:
        """Leave nothing open."""
