"""How a log of an earlier release becomes one of this."""
