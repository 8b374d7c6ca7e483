"""Reading the set-points of a press on Modbus in requests of their own: what it refuses of them costs no channel."""

from collections.abc import Callable, Sequence

from shotlog.collectors.register_map import RegisterMap, SetRegister
from shotlog.collectors.registers import Block
from shotlog.errors import PressRefused

__all__ = ["SetRegisters"]


class SetRegisters:
    """State: the requests, one for each set-point where the press refused several at once; and why it refused which."""

    def __init__(self, registers: RegisterMap) -> None:
        self._cells: Sequence[SetRegister] = [one.place for one in registers.set_points]
        self._blocks = list(registers.set_blocks)
        self._refused: dict[Block, str] = {}
        self._said: dict[str, str] = {}

    def begin(self) -> None:
        """Ask for all of them again: for each shot once, and not in all of its readings."""
        self._refused = {}

    def read(self, read: Callable[[Block], Sequence[int]]) -> dict[int, int]:
        """Return the registers that the press gives, by address."""
        words: dict[int, int] = {}
        waiting = list(self._blocks)
        while waiting:
            block = waiting.pop(0)
            if block in self._refused:
                continue
            try:
                words |= zip(range(block.address, block.last + 1), read(block), strict=True)
            except PressRefused as error:
                inside = [cell.span for cell in self._cells if cell.span.overlaps(block)]
                if len(inside) > 1:
                    at = self._blocks.index(block)
                    self._blocks[at : at + 1] = inside
                    waiting = [*inside, *waiting]
                else:
                    self._refused[block] = str(error)
        return words

    def refused(self) -> dict[str, str]:
        """Return why a set-point was refused, by the name of its registers."""
        return {
            cell.name: why for cell in self._cells for block, why in self._refused.items() if cell.span.overlaps(block)
        }

    def newly_refused(self) -> set[str]:
        """Return which were not refused in these words with the shot before; to be asked once a shot."""
        refused, before = self.refused(), self._said
        self._said = refused
        return {name for name, why in refused.items() if before.get(name) != why}
