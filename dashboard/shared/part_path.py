"""Where the page of one part is found: what a label's code, a list and a report point at."""

from urllib.parse import unquote

from dashboard.shared.address import address_of

__all__ = ["PATH", "named_in", "path_of"]

PATH = "/part"


def path_of(press: str, shot: int, cavity: int = 1) -> str:
    """Return the address of a part's page.

    Examples
    --------
    >>> path_of("P25", 230), path_of("hall 2", 7, 2)
    ('/part/P25/230', '/part/hall%202/7/2')
    """
    return address_of(PATH, press, str(shot), *([str(cavity)] if cavity > 1 else []))


def named_in(scanned: str) -> str:
    """Return the part or serial that was scanned: a label's code may hold the whole address of the part's page.

    Examples
    --------
    >>> named_in("http://10.0.0.7:8050/part/hall%202/7/2"), named_in(" S-019 ")
    ('hall 2/7/2', 'S-019')
    """
    text = scanned.strip()
    _, found, rest = text.partition(f"{PATH}/")
    return unquote(rest.rstrip("/")) if found and "://" in text else text
