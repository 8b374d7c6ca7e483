"""Where libraries may keep what they make for later: compiled code, fonts, temporary files.

A service often runs as a user without a home, on packages it may not write to. Left to themselves the libraries then
refuse to be loaded. A place is chosen before they are, and told them, and the processes we start, by environment.
"""

import atexit
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

__all__ = ["code_can_be_kept", "compiled_folder", "compiles_anew", "find_places"]

_COMPILED = "NUMBA_CACHE_DIR"
_FONTS = "MPLCONFIGDIR"
_TEMPORARY = "TMPDIR"
_BESIDE_CODE = Path(__file__).parent / "wear" / "compiled" / "__pycache__"


def find_places(beside: Path) -> None:
    """Choose places that may be written to where those that libraries would take may not; call before they are loaded.

    In this order: what is set already, beside the code as it is installed, the user's cache folder, a folder in
    `beside` (where the log lies), a temporary folder of this process, none.
    """
    compiled_kept, home = _writable(compiled_folder()), _cache_folder()
    home_kept = home is not None and _own(home)
    if compiled_kept and (home_kept or _FONTS in os.environ):
        return
    place = home if home_kept else next((one for one in _others(beside) if _own(one)), None)
    if place is None:
        return
    if not compiled_kept:
        os.environ[_COMPILED] = str(place / "compiled")
    if not home_kept:
        os.environ.setdefault(_FONTS, str(place / "fonts"))
    if _temporary() is None:
        os.environ[_TEMPORARY] = tempfile.tempdir = str(place)


def compiles_anew() -> str:
    """Say that compiled code cannot be kept for the next start, and what to do; empty where it can."""
    folder, own = compiled_folder(), _own_temporary()
    if _writable(folder) and (own is None or not folder.is_relative_to(own)):
        return ""
    return (
        "nowhere on this machine may compiled code be kept, so judging gets ready anew at each start: some 15 s, in "
        f"which all shots are logged; set {_COMPILED} to a folder that may be written to"
    )


def code_can_be_kept() -> bool:
    """Say whether compiled code can be kept at all, for other processes of ours at least."""
    return _writable(compiled_folder())


def compiled_folder() -> Path:
    """Return where compiled code is kept, if it is at all."""
    told = os.environ.get(_COMPILED)
    return Path(told) if told else _BESIDE_CODE


def _others(beside: Path) -> Iterator[Path]:
    yield beside / "shotlog-cache"
    own = _own_temporary()
    if own is not None:
        yield own


def _cache_folder() -> Path | None:
    """Return the folder that the system means for this: below the user's home."""
    try:
        if os.name == "nt":
            local = os.environ.get("LOCALAPPDATA")
            return Path(local) / "shotlog" if local else None
        if sys.platform == "darwin":
            return Path.home() / "Library" / "Caches" / "shotlog"
        given = os.environ.get("XDG_CACHE_HOME")
        return (Path(given) if given and Path(given).is_absolute() else Path.home() / ".cache") / "shotlog"
    except RuntimeError:  # nobody knows a home of this user
        return None


def _writable(folder: Path) -> bool:
    """Say whether files can be made in a folder; makes it where it is not there."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            return True
    except OSError:
        return False


def _own(folder: Path) -> bool:
    """Say the same of a folder that nobody else can write to: what is kept there is executed later."""
    if not _writable(folder):
        return False
    found, user = folder.stat(), getattr(os, "geteuid", None)
    return user is None or (found.st_uid == user() and not found.st_mode & 0o022)


def _temporary() -> str | None:
    try:
        return tempfile.gettempdir()
    except FileNotFoundError:
        return None


@cache
def _own_temporary() -> Path | None:
    """Return a new folder that only this user can write to, removed at the end; None where there is none."""
    try:
        made = tempfile.mkdtemp(prefix="shotlog-")
    except OSError:
        return None
    atexit.register(shutil.rmtree, made, ignore_errors=True)
    return Path(made)
