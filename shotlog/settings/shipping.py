"""Where the log is shipped to: the table `[ship]`. Nothing leaves without it, or without `shotlog ship --to`."""

from dataclasses import dataclass, field

from shotlog.settings.section import Section, fits_a_cell
from shotlog.settings.store_address import server_url
from shotlog.withheld import without_secrets

__all__ = ["EDGE_NAME", "ShipSettings", "is_edge_name", "ship"]

EDGE_NAME = "a name other than . or .., without / + # $ , ; : line breaks, or blanks at its ends"


@dataclass(frozen=True, slots=True)
class ShipSettings:
    """The centre that the log is shipped to, by its SQLAlchemy URL, and the name that it has there, empty where none
    is given.
    """

    to: str = field(repr=False)
    name: str = ""

    @property
    def shown(self) -> str:
        """The centre as it may be shown: without a password."""
        return without_secrets(self.to)


def is_edge_name(name: str) -> bool:
    """Say whether an edge may be called that."""
    below_an_address = name not in (".", "..")  # which lead to another page
    return fits_a_cell(name, "/+#,;:$") and len(name) <= 200 and below_an_address


def ship(root: Section) -> ShipSettings | None:
    """Read the table; None where the file has none."""
    if not root.has("ship"):
        return None
    table = root.section("ship")
    to, name = server_url(table, "to"), table.text("as", "")
    if name and not is_edge_name(name):
        raise table.wrong("as", EDGE_NAME)
    table.finish()
    return ShipSettings(to, name)
