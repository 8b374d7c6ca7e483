"""The figures of *Inserts*."""
