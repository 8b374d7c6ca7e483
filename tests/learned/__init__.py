"""Odd presses, not written for it, on which `shotlog learn` is examined; written from the trade notes alone."""
