"""The log and all that is kept in it: rooms for the log itself, inserts, parts, and the questions asked of it."""
