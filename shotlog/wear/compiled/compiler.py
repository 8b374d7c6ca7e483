"""How an inner loop is compiled, where a compiler is there; else it runs as it is written, to the same last bit."""

from collections.abc import Callable
from typing import Any, TypeVar, cast

try:
    import numba
except ImportError:  # without it all works the same, some hundred times slower
    numba = None  # type: ignore[assignment]

__all__ = ["KERNELS", "compiled", "compiler_named", "compiles"]

Kernel = TypeVar("Kernel", bound=Callable[..., Any])

KERNELS: list[Callable[..., Any]] = []
"""Every inner loop, in the order in which they are defined."""


def compiles() -> bool:
    """Say whether inner loops are compiled in this process."""
    return numba is not None and not numba.config.DISABLE_JIT  # type: ignore[attr-defined]


def compiler_named() -> str:
    """Return which compiler it is; empty where there is none."""
    return "" if numba is None else f"numba {numba.__version__}"


def compiled(kernel: Kernel) -> Kernel:
    """Compile a function at its first call in a process, from what is kept on the machine; NUMBA_DISABLE_JIT=1: never.

    Plain Python and the compiler must come to the same bits, so inside: functions of `math` on single numbers (both
    ask the C library), no powers but `math.pow`, sums and products as loops, no matrix functions of NumPy.
    """
    made = kernel if numba is None else _kept(kernel)
    KERNELS.append(made)
    return cast(Kernel, made)


def _kept(kernel: Callable[..., Any]) -> Callable[..., Any]:
    """Compile so that the machine keeps it; where there is no place for that, for this process only."""
    try:
        return cast(Callable[..., Any], numba.njit(cache=True)(kernel))
    except RuntimeError:  # no place that may be written to
        return cast(Callable[..., Any], numba.njit(kernel))
