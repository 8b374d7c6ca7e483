"""The configuration by which an edge's log is read at a centre: the presses and designs are what that log keeps."""

from shotlog.settings import Settings
from shotlog.settings.of_edge import settings_of_edge
from shotlog.store.log.log import open_log
from shotlog.store.log.starts import starts

__all__ = ["configured"]


def configured(settings: Settings) -> Settings:
    """Return a configuration as it is, or, where its store is an edge's log at a centre, with what is kept there.

    Raises
    ------
    StoreError, UsageError
        That log cannot be opened.
    """
    if not settings.edge:
        return settings
    with open_log(settings.store) as log:
        newest = starts(log, 1)
        return settings_of_edge(settings, newest[-1].config if newest else None, log.presses())
