"""Two hosts on one machine: network namespaces joined by a cable of their own. Needs Linux, root and iproute2."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass

import pytest

__all__ = ["TwoHosts", "two_hosts"]


@dataclass(frozen=True)
class TwoHosts:
    """The shop's machine and the desk's: the words to begin a command with, to run it there, and the shop's address."""

    shop: tuple[str, ...]
    desk: tuple[str, ...]
    address: str = "10.77.0.1"


@contextmanager
def two_hosts() -> Iterator[TwoHosts]:
    """Give two hosts that see each other and nobody else; skips the test where this machine does not allow them."""
    if shutil.which("ip") is None:
        pytest.skip("no second host could be made, so nothing was opened from one (install iproute2)")
    shop, desk = f"shop{os.getpid()}", f"desk{os.getpid()}"
    try:
        _join(shop, desk)
        yield TwoHosts(("ip", "netns", "exec", shop), ("ip", "netns", "exec", desk))
    finally:
        for host in (shop, desk):
            with suppress(subprocess.CalledProcessError):
                _do("ip", "netns", "del", host)


def _join(shop: str, desk: str) -> None:
    try:
        _do("ip", "netns", "add", shop)
        _do("ip", "netns", "add", desk)
        _do("ip", "-n", shop, "link", "add", "cable", "type", "veth", "peer", "name", "cable", "netns", desk)
        for host, address in ((shop, TwoHosts.address), (desk, "10.77.0.2")):
            _do("ip", "-n", host, "address", "add", f"{address}/24", "dev", "cable")
            _do("ip", "-n", host, "link", "set", "cable", "up")
            _do("ip", "-n", host, "link", "set", "lo", "up")
    except subprocess.CalledProcessError as error:
        pytest.skip(f"no second host could be made, so nothing was opened from one: {error.stderr.strip()}")


def _do(*command: str) -> None:
    subprocess.run(command, check=True, capture_output=True, text=True)
