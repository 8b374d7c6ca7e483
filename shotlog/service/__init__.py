"""Leaving a logger running: what a supervisor of the system has to be told, as files and as steps for a person."""
