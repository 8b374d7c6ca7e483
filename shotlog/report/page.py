"""The whole report: review data in, one HTML file out. It loads nothing from anywhere."""

from collections.abc import Callable, Iterator
from datetime import tzinfo

from shotlog.report.happened import press_section
from shotlog.report.html import Html, text
from shotlog.report.inserts import inserts_section
from shotlog.report.measurements import measurements_section
from shotlog.report.opening import opening, trial_names
from shotlog.report.pictures import ReadPicture
from shotlog.report.reading import reading_section
from shotlog.report.record import record_section
from shotlog.report.style import STYLE
from shotlog.report.told import told_section
from shotlog.review import Review
from shotlog.review.source import silent

__all__ = ["render", "rendered"]


def render(review: Review, zone: tzinfo, read: ReadPicture | None = None) -> str:
    """Return the report as one HTML document; times are told in `zone`, each with its offset from UTC."""
    return "".join(rendered(review, zone, silent, read))


def rendered(
    review: Review, zone: tzinfo, tell: Callable[[str], None] = silent, read: ReadPicture | None = None
) -> Iterator[str]:
    """Yield the report piece by piece: that of a long log is never held at once.

    `tell` is told how far it is; `read` gives the files of pictures, which are listed only without it.
    """
    yield (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{text(f'Review of {trial_names(review)}')}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
    )
    yield from opening(review, zone)
    yield '<div id="evidence">\n'
    yield _ways(review)
    for one in review.presses:
        yield from press_section(review, one, zone, tell, read)
    yield inserts_section(review)
    yield measurements_section(review)
    yield told_section(review, zone)
    yield record_section(review, zone)
    yield reading_section()
    yield "</div>\n"
    yield "</body>\n</html>\n"


def _ways(review: Review) -> Html:
    places = [(f"press-{one.press}", f"Press {one.press}") for one in review.presses]
    told = [("told", "What people were told")] if review.told else []
    places += [("inserts", "Insert lives"), *told, ("record", "The record"), ("reading", "How to read the evidence")]
    links = "".join(f'<a href="#{text(anchor)}">{text(name)}</a>' for anchor, name in places)
    return Html(f"<nav>{links}</nav>\n")
