"""Inserts as people enter them: how they were made, mounted, queued and taken out."""
