"""Files that hold a secret and that everybody on this computer may read. What is in them is not looked at."""

import os
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path

__all__ = ["exposed_secrets"]

_SECRET = ("password_file", "private_key", "mqtt_password_file", "mqtt_key", "address_file", "key")
"""Keys of the configuration that name such a file."""


def exposed_secrets(keys: Mapping[str, tuple[object, bool]], beside: Path) -> Iterator[str]:
    """Yield a sentence for each, with what to do; none where this system does not tell.

    Parameters
    ----------
    keys
        Every key of the configuration with its value, and whether it was given.
    beside
        The folder of the configuration, from which names of files count.
    """
    for key, (value, _) in keys.items():
        if key.rpartition(".")[2] not in _SECRET or not isinstance(value, str):
            continue
        file = beside / value
        if _everybody_reads(file):
            yield f"{key}: everybody on this computer may read {file}, and only the logger should: chmod 600 {file}"


def _everybody_reads(file: Path) -> bool:
    try:
        return os.name == "posix" and bool(file.stat().st_mode & stat.S_IROTH)
    except OSError:
        return False
