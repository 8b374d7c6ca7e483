"""The roles of a shop, and what each may do. An act is one row."""

__all__ = ["ACTS", "ROLES", "may"]

ROLES = ("viewer", "operator", "quality", "admin")
"""From the least to the most: each may do what those before it may."""

ACTS = {"look": "viewer", "enter": "operator", "decide": "quality", "let go": "quality", "accounts": "admin"}
"""The least role for each act. `decide`: to release and to scrap; holding is entering, as everybody may hold a part.
`let go`: to take back what another found, so that parts are held for it no longer.
"""


def may(role: str, act: str) -> bool:
    """Say whether a role may do an act; a role that is none of `ROLES` may do nothing.

    Examples
    --------
    >>> may("operator", "enter"), may("operator", "decide"), may("nobody", "look")
    (True, False, False)
    """
    return role in ROLES and ROLES.index(role) >= ROLES.index(ACTS[act])
