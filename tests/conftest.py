"""Generated examples are the same in every run, and none is judged by how long it took."""

from hypothesis import settings

settings.register_profile("repeatable", deadline=None, derandomize=True)
settings.load_profile("repeatable")
