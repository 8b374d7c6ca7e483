"""What an installation may lack: the extras, what each brings, and the line that says which one to install."""

from collections.abc import Mapping
from importlib.util import find_spec
from types import MappingProxyType

from shotlog.errors import UsageError

__all__ = ["EXTRAS", "has", "need", "to_install"]

EXTRAS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "messages": ("apprise", "paho"),
        "notebook": ("pandas",),
        "opcua": ("asyncua", "cryptography"),
        "parquet": ("pandas", "pyarrow"),
        "pictures": ("matplotlib",),
        "postgres": ("psycopg",),
        "speed": ("numba",),
    }
)
"""Extra -> the packages it brings, by the names they are imported by; pyproject.toml declares the same."""


def has(extra: str) -> bool:
    """Say whether all that an extra brings is installed; nothing of it is loaded."""
    return all(find_spec(package) is not None for package in EXTRAS[extra])


def need(extra: str, what: str) -> None:
    """Refuse `what` where its extra is not installed.

    Raises
    ------
    UsageError
        It is not; names the packages and how to install them.
    """
    lacking = [package for package in EXTRAS[extra] if find_spec(package) is None]
    if lacking:
        raise UsageError(f"{what}: {' and '.join(lacking)} not installed here, allowed after: {to_install(extra)}")


def to_install(extra: str) -> str:
    """Return the command that adds an extra to this installation, in quotes that every system's prompt takes."""
    return f'pip install "shotlog[{extra}]"'
