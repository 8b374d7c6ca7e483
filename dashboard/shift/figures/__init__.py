"""The figures of *After the shift*."""
