"""The pictures taken of a press's parts and inserts, embedded: the report stays one file that opens anywhere.

A picture of a phone may have some megabytes and a log of years hundreds of them, so what is embedded is bounded; the
rest is listed and lies beside the log.
"""

from base64 import b64encode
from collections.abc import Callable

from shotlog.errors import StoreDamaged
from shotlog.parts.picture import Picture
from shotlog.report.html import Html, items, joined, note, section, text
from shotlog.review import Review
from shotlog.review.press import PressReview
from shotlog.wording.numbers import counted
from shotlog.wording.pictures import picture_text

__all__ = ["ReadPicture", "pictures_section"]

ReadPicture = Callable[[Picture], bytes]
"""Gives the file of a picture; raises StoreDamaged where it is missing or was changed."""

_MOST, _MOST_BYTES = 24, 16_000_000
"""Pictures embedded in one report, the newest, and what they may have together: what a mail still takes (own)."""


def pictures_section(review: Review, press: PressReview, read: ReadPicture | None) -> Html:
    """Return the pictures of a press, nothing where none was taken; without `read` they are listed only."""
    if not press.pictures:
        return Html("")
    shown = [] if read is None else [one for one in _embedded(review) if one.press == press.press]
    figures = [_figure(one, read) for one in sorted(shown, key=lambda one: (one.shot or 0, one.entry_id)) if read]
    listed = [picture_text(one) for one in press.pictures if one not in shown]
    return section(
        "",
        "Pictures",
        joined([Html('<div class="pictures">\n'), *figures, Html("</div>\n")]) if figures else "",
        note(f"{counted(len(listed), 'picture')} not shown here, kept beside the log:") if listed else "",
        items(listed),
        level=3,
    )


def _embedded(review: Review) -> list[Picture]:
    """Return the newest pictures of all presses, within the bounds."""
    chosen: list[Picture] = []
    for one in sorted((p for press in review.presses for p in press.pictures), key=lambda one: -one.entry_id):
        if len(chosen) == _MOST or sum(other.n_bytes for other in chosen) + one.n_bytes > _MOST_BYTES:
            break
        chosen.append(one)
    return chosen


def _figure(one: Picture, read: ReadPicture) -> Html:
    said = text(picture_text(one))
    try:
        data = b64encode(read(one)).decode("ascii")
    except StoreDamaged:
        return Html(f"<figure><figcaption><strong>Missing or changed:</strong> {said}</figcaption></figure>\n")
    return Html(
        f'<figure><img src="data:{text(one.media)};base64,{data}" alt="{said}">'
        f"<figcaption>{said}</figcaption></figure>\n"
    )
