"""Simulated insert lives with their truth, for the benchmark of the call."""
