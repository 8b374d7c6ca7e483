"""Words for inserts and parts: why an insert came out."""

__all__ = ["why_out"]


def why_out(reason: str, replaced_by: str) -> str:
    """Return why an insert came out: what a person said, else what took its place, empty where nothing is known."""
    return reason or (f"replaced by {replaced_by}" if replaced_by else "")
