"""Who comes to the file of accounts: whether this user does, and whether somebody else could replace it."""

import stat
from pathlib import Path

__all__ = ["is_hidden", "why_exposed"]


def is_hidden(accounts: Path) -> bool:
    """Say whether this user may not read it: as it is meant, where another one runs the pages."""
    try:
        accounts.open("rb").close()
    except PermissionError:
        return True
    except OSError:
        pass
    return False


def why_exposed(accounts: Path) -> str:
    """Return who could, and what to do; empty where nobody, or where this system does not tell."""
    folder = accounts.parent
    try:
        import grp
        import pwd

        found = folder.stat()
        owner, group = pwd.getpwuid(found.st_uid), grp.getgrgid(found.st_gid)
    except (ImportError, KeyError, OSError):
        return ""
    if found.st_mode & stat.S_ISVTX:  # a file there is renamed by who owns it alone
        return ""
    alone = group.gr_name == owner.pw_name and set(group.gr_mem) <= {owner.pw_name}
    if found.st_mode & stat.S_IWOTH:
        who = "everybody on this computer"
    elif found.st_mode & stat.S_IWGRP and not alone:
        who = f"everybody in group {group.gr_name}"
    else:
        return ""
    return (
        f"accounts {accounts}: {who} may write to that folder, and so make himself admin; "
        "name a file in a folder of who runs this alone: accounts under [dashboard]"
    )
