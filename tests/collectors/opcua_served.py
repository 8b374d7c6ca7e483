"""The simulated press on OPC UA, served by a thread of this process, for a collector that is to be tried on a wire."""

import asyncio
import threading
from collections.abc import Coroutine
from contextlib import AbstractContextManager
from types import TracebackType
from typing import Any, Self, TypeVar

from simulators.opc_press import Cycle, OpcPress
from simulators.opc_switches import read_switches

__all__ = ["UNIT", "Served"]

UNIT = "InjectionUnitCycleParameters_1/"
T = TypeVar("T")


class Served(AbstractContextManager["Served"]):
    """A press as `switches` has it (see `simulators.opc_switches`)."""

    def __init__(self, switches: str = "") -> None:
        self.press = OpcPress(read_switches(switches))
        self._loop = asyncio.new_event_loop()
        self._thread = threading.Thread(target=self._loop.run_forever)
        self._thawed = threading.Event()
        self._sending: asyncio.Task[None] | None = None

    @property
    def url(self) -> str:
        return self.press.url

    def __enter__(self) -> Self:
        self._thread.start()
        self.do(self.press.open())
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.do(self.press.close())
        self.do(_end_tasks())
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join()
        self._loop.close()

    def do(self, work: Coroutine[Any, Any, T]) -> T:
        """Have the press do something."""
        return asyncio.run_coroutine_threadsafe(work, self._loop).result(30)

    def send(self, *counters: int, **values: Any) -> None:
        """Send a cycle for each count, all in one step."""
        self.do(self.press.send(*(Cycle(self.values(counter) | values) for counter in counters)))

    def send_soon(self, counter: int) -> None:
        """Send a cycle while the caller does something else."""
        cycle = Cycle(self.values(counter))

        def due() -> None:
            self._sending = self._loop.create_task(self.press.send(cycle))

        self._loop.call_soon_threadsafe(self._loop.call_later, 0.5, due)

    def values(self, counter: int) -> dict[str, Any]:
        """Return what a cycle says: a cushion of 5 mm and a little more each shot."""
        values: dict[str, Any] = {"JobCycleCounter": counter, "MachineCycleCounter": 1000 + counter}
        values |= {"CycleTime": 30_000.0, "CycleQuality": 0, "ProductionStatus": 3}
        own = {"CushionStroke": 5.0 + counter / 64, "SpecificPressureMaximum": 540.0 + counter, "InjectionTime": 721.0}
        own["CushionVolume"] = own["CushionStroke"] * 254.46900494077323 / 1000.0  # of a screw of 18 mm
        return values | {f"{UNIT}{name}": value for name, value in own.items()}

    def freeze(self) -> None:
        """Stand still, with the line open, until `thaw`."""
        self._thawed.clear()
        stands = threading.Event()

        def stand() -> None:
            stands.set()
            self._thawed.wait(60.0)

        self._loop.call_soon_threadsafe(stand)
        stands.wait(10.0)

    def thaw(self) -> None:
        """Go on."""
        self._thawed.set()


async def _end_tasks() -> None:
    tasks = [task for task in asyncio.all_tasks() if task is not asyncio.current_task()]
    for task in tasks:
        task.cancel()
    await asyncio.gather(*tasks, return_exceptions=True)
