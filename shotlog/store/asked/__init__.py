"""Questions asked of the log: how things stand, what is missing, what was said. Nothing here writes the record."""
