"""Which folders of a configuration are shared with presses: those we write requests into, and those we only read."""

from pathlib import Path

from shotlog.collectors import options
from shotlog.collectors.euromap_options import EuromapOptions
from shotlog.errors import SettingsError
from shotlog.settings import Settings

__all__ = ["folders_shared"]


def folders_shared(settings: Settings) -> tuple[list[Path], list[Path]]:
    """Return the folders that are written to, and those that are only read."""
    written: list[Path] = []
    read: list[Path] = []
    for press in settings.presses:
        if press.kind == "recording":
            continue
        try:
            checked = options(press)
        except SettingsError:  # what is wrong with it, `check` says
            continue
        if isinstance(checked, EuromapOptions):
            (read if checked.is_passive else written).append(checked.folder)
    return written, read
