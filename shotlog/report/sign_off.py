"""The lines to sign by hand: who decided, who looked, who read it."""

from shotlog.report.html import Html, joined, note, section, table, text
from shotlog.review import Review

__all__ = ["sign_off"]

_BLANK = Html("&nbsp;")

_ROLES = (
    ("decisions taken, entered in the log", "parts inspected, results entered"),
    ("read by production", "read by quality"),
)


def sign_off(review: Review) -> Html:
    """Return the lines, and by which digest the log that was signed for is known again."""
    digest = joined([" Last digest of the log: ", Html(f"<code>{text(review.log.digest)}</code>")])
    roles = [(one, _BLANK, other, _BLANK) for one, other in _ROLES]
    return section(
        "sign",
        "Sign-off",
        table(("", "initials, date", "", "initials, date"), roles),
        note(
            "A signature says that these pages were read and what was decided; it claims no compliance with any rule.",
            digest if review.log.digest else " The log does not verify.",
        ),
    )
