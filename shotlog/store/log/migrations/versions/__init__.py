"""The steps from one schema to the next, in the order of their numbers."""
