"""Attributes of components that the library takes but its types do not name: aria-, data- and newer ones of HTML."""

from typing import Any

__all__ = ["attributes"]


def attributes(**named: str) -> dict[str, Any]:
    """Return keyword arguments for a component, ``aria_label="Entries"`` as its attribute ``aria-label``."""
    return {name.replace("_", "-"): value for name, value in named.items()}
