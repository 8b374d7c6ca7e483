"""Words for what a press is set to."""

from shotlog.setup_text import spoken

__all__ = ["NOT_READ", "set_name", "set_since", "set_value"]

NOT_READ = "not read"
"""What is shown for a value that could not be taken at a shot."""


def set_name(name: str) -> str:
    """Return a name as it heads a row.

    Examples
    --------
    >>> set_name("hold_pressure"), set_name("SetPrsHldSpec[1]")
    ('Hold pressure', 'SetPrsHldSpec[1]')
    """
    said = spoken(name)
    return f"{said[:1].upper()}{said[1:]}"


def set_value(value: str, unit: str) -> str:
    """Return a value with its unit.

    Examples
    --------
    >>> set_value("350", "bar"), set_value("pawl 7", ""), set_value("", "bar")
    ('350 bar', 'pawl 7', 'not read')
    """
    return f"{value} {unit}".strip() if value else NOT_READ


def set_since(since: int, by: str = "", is_change: bool = True) -> str:
    """Return the shot since which it is so, and by whom where the press says so; `is_change`: it was something else
    before.

    Examples
    --------
    >>> set_since(119, "K"), set_since(3, is_change=False)
    ('shot 119, by K at the press', 'shot 3, when it was first read')
    """
    if not is_change:
        return f"shot {since}, when it was first read"
    return f"shot {since}{f', by {by} at the press' if by else ''}"
