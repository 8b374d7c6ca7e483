"""What is said of pictures."""

from shotlog.parts.picture import Picture

__all__ = ["PRIVACY", "kept_text", "picture_text", "there_text"]

PRIVACY = "Of a picture only the image is kept: place, camera and time that a phone writes into it are left out."


def picture_text(one: Picture) -> str:
    """Return what is known of a picture: what it shows, the remark, when and by whom it was taken.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> now = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
    >>> one = Picture(3, "P25", 230, 2, "B-11", None, "0a", "image/png", 9, "flash at the gate", "R. K.", now, now)
    >>> picture_text(one).partition(", taken")[0]
    'shot 230, cavity 2, insert B-11: flash at the gate'
    """
    of = [f"shot {one.shot}"]
    of += [f"cavity {one.cavity}"] if one.cavity is not None else []
    of += [f"insert {one.insert}"] if one.insert else []
    remark = f": {one.remark}" if one.remark else ""
    by = f" by {one.initials}" if one.initials else ""
    return f"{', '.join(of)}{remark}, taken {one.taken.astimezone():%d %b %Y %H:%M}{by}"


def kept_text(one: Picture) -> str:
    """Return what became of a picture that was just taken."""
    return f"picture {one.entry_id} kept, of {one.press} {picture_text(one)}"


def there_text(edge: str) -> str:
    """Return where a picture is that was taken at an edge: the log comes to a centre, its pictures do not.

    Examples
    --------
    >>> there_text("hall-2")
    'The picture is at hall-2.'
    """
    return f"The picture is at {edge}."
