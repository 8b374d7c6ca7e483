"""What a service keeps apart from the people beside it: the file of accounts, and the key of its certificate.

Who enters by commands shares the folder of the log with the service, and can write to all in it. The accounts would be
theirs to read, and to replace, there; so they go into a folder of the service alone.
"""

import json
import os
import re
import shlex
import subprocess
from collections.abc import Iterable
from pathlib import Path

from shotlog.access.reach import first_account
from shotlog.service.facts import ServiceFacts
from shotlog.service.systemd import state_folder
from shotlog.service.windows import ADMINISTRATORS, USER

__all__ = ["for_linux", "for_windows", "spared"]


def spared(facts: ServiceFacts, folders: Iterable[Path]) -> str:
    """Return the tests of ``find`` by which it passes over what is kept apart in `folders`, and over links."""
    inside = [one for one in facts.closed if any(one.is_relative_to(folder) for folder in folders)]
    names = (re.sub(r"([*?\[\\])", r"\\\1", str(one)) + "*" for one in inside)  # and what lies beside it, as its lock
    return shlex.join(["!", "-type", "l", *(word for name in names for word in ("!", "-path", name))])


def for_linux(facts: ServiceFacts) -> list[str]:
    """Return the steps by which there are accounts; none where nobody is asked for one."""
    if not facts.login:
        return []
    own, user = state_folder(facts), facts.user
    make = [f"    sudo install -d -o {user} -g {user} -m 0700 {own}"]
    if _is_shared(facts):
        place = own / "accounts"
        there = shlex.quote(str(facts.accounts))
        steps = [
            f"put the accounts where only {user} comes to; here who enters by commands could read and replace them:",
            *make,
            *([f"    sudo install -o {user} -g {user} -m 0600 {there} {place} && sudo rm {there}"]
              if os.path.exists(facts.accounts)  # noqa: PTH110  (the other fails where one may not look)
              else []),
            f"and say so in {facts.config}, below [dashboard]:",
            f"    accounts = {json.dumps(str(place))}",
        ]  # fmt: skip
    elif facts.accounts.parent == own:
        steps = ["make the folder of the accounts, where only that user comes to:", *make]
    else:
        steps = [
            f"user {user} must be able to write to {facts.accounts.parent}, where the accounts lie, and nobody else"
        ]
    return [
        *steps,
        "the pages want accounts; they are made as that user, who has to read them:",
        f"    sudo -u {user} {shlex.join(facts.command(*first_account(facts.config)))}",
    ]


def for_windows(facts: ServiceFacts) -> list[str]:
    """Return the same for Windows."""
    if not facts.login:
        return []
    own = f"C:\\ProgramData\\{facts.name}"
    steps = [
        "put the accounts where only it and administrators come to; here who enters by commands could read them:",
        f'    mkdir "{own}"',
        f'    icacls "{own}" /inheritance:r /grant "*{USER}:(OI)(CI)M" "*{ADMINISTRATORS}:(OI)(CI)F"',
        f"and say so in {facts.config}, below [dashboard]:",
        f"    accounts = '{own}\\accounts'",
    ]
    if not _is_shared(facts):
        steps = [f"let LOCAL SERVICE write to {facts.accounts.parent}, where the accounts lie, and no other user"]
    line = subprocess.list2cmdline(facts.command(*first_account(facts.config)))
    return [*steps, "the pages want accounts; make the first one:", f"    {line}"]


def _is_shared(facts: ServiceFacts) -> bool:
    beside = (facts.config.parent,) if facts.pages_only else facts.given
    return any(facts.accounts.is_relative_to(folder) for folder in beside)
