"""The whole report: review data in, one HTML file out. It loads nothing from anywhere."""

from datetime import tzinfo

from shotlog.report.happened import press_section
from shotlog.report.html import Html, joined, text
from shotlog.report.inserts import inserts_section
from shotlog.report.measurements import measurements_section
from shotlog.report.opening import opening, trial_names
from shotlog.report.record import record_section
from shotlog.report.style import STYLE
from shotlog.review import Review

__all__ = ["render"]


def render(review: Review, zone: tzinfo) -> str:
    """Return the report as one HTML document; times are told in `zone`, each with its offset from UTC."""
    body = joined(
        [
            opening(review, zone),
            _ways(review),
            *(press_section(one, review.ledger, review.made_at, zone) for one in review.presses),
            inserts_section(review),
            measurements_section(review),
            record_section(review),
        ]
    )
    title = text(f"Review of {trial_names(review)}")
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    )


def _ways(review: Review) -> Html:
    places = [(f"press-{one.press}", f"Press {one.press}") for one in review.presses]
    places += [("inserts", "Insert lives"), ("measured", "Measured on parts"), ("record", "The record")]
    links = "".join(f'<a href="#{text(anchor)}">{text(name)}</a>' for anchor, name in places)
    return Html(f"<nav>{links}</nav>\n")
