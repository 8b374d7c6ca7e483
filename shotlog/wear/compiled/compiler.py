"""How an inner loop is compiled."""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba

__all__ = ["compiled"]

Kernel = TypeVar("Kernel", bound=Callable[..., Any])


def compiled(kernel: Kernel) -> Kernel:
    """Compile a function at its first call on a machine."""
    return cast(Kernel, numba.njit(cache=True)(kernel))
