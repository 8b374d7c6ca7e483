"""Fields of a line that a press writes over EUROMAP 63. Pure.

Fields are parted by commas, and commas stand as well in quotes and, in the line of names, in brackets:
``ActTmpBrlZn[1,2]``.
"""

import re

__all__ = ["counts_by_report", "fields_of", "is_absent", "token_key"]


def fields_of(line: str, brackets: bool = True) -> list[str]:
    """Return the fields of a line without blanks and quotes around them; `brackets`: whether they hold commas.

    Examples
    --------
    >>> fields_of('DATE, ActTmpBrlZn[1,2], "Resin, grey"')
    ['DATE', 'ActTmpBrlZn[1,2]', 'Resin, grey']
    """
    fields, field, quoted, depth = [], "", False, 0
    for letter in line:
        if letter == '"':
            quoted = not quoted
            continue
        if brackets and not quoted and letter in "[]":
            depth = max(0, depth + (1 if letter == "[" else -1))
        if letter == "," and not quoted and not depth:
            fields.append(field.strip())
            field = ""
            continue
        field += letter
    return [*fields, field.strip()]


def token_key(name: str) -> str:
    """Return what a token is compared by: capitals, blanks and quotes may be other ones at the press.

    Examples
    --------
    >>> token_key('"ActTmpBrlZn[1, 2]"')
    'acttmpbrlzn[1,2]'
    """
    return re.sub(r'[\s"]', "", name).lower()


def counts_by_report(token: str) -> bool:
    """Say whether a counter may count the lines of a report only, and begin anew with each."""
    return token_key(token) == "count"


def is_absent(field: str) -> bool:
    """Say whether a field says that there is no value: ``?``, nothing, dashes; never a zero."""
    return not field.strip("?*-. ")
