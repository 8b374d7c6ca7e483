"""``python -m tests.faults.opc.press``: presses on OPC UA in a process of their own, told what to do line by line.

A line on stdin is a JSON object with one key, what to do; each is answered by one line. It ends when stdin does. So
that it can be frozen, killed and started again, it knows nothing but what it is told.
"""

import asyncio
import json
import logging
import os
import sys
from typing import Any

from simulators.opc_event import BadField
from simulators.opc_press import Cycle, OpcPress
from simulators.opc_switches import read_switches

SCREW_MM = 22.0


def _value(value: Any) -> Any:
    return BadField(value["bad"]) if isinstance(value, dict) else value


async def serve() -> None:
    """Do what stdin says until it ends."""
    presses: dict[str, OpcPress] = {}
    while line := await asyncio.to_thread(sys.stdin.readline):
        ((what, told),) = json.loads(line).items()
        answer: Any = True
        if what == "open":
            for name, switches in told.items():
                presses[name] = OpcPress(read_switches(switches))
                await presses[name].open()
                await presses[name].screw(SCREW_MM)
            answer = {name: press.port for name, press in presses.items()}
        elif what == "send":
            for name, cycles in told.items():
                values = [{key: _value(value) for key, value in cycle.items()} for cycle in cycles]
                await presses[name].send(*[Cycle(one) for one in values])
        elif what == "set":
            for name, points in told.items():
                for point, value in points.items():
                    await presses[name].set_point(point, value)
        elif what == "tell":
            for name, message in told.items():
                await presses[name].tell(message)
        elif what == "subscribed":
            answer = [name for name, press in presses.items() if press.subscribed]
        elif what == "done":
            answer = {name: press.done() for name, press in presses.items()}
        else:
            raise ValueError(what)
        print(json.dumps(answer), flush=True)
    os._exit(0)  # as a press is switched off: the library would wait for clients to leave


if __name__ == "__main__":
    logging.disable(logging.CRITICAL)  # what the library says of clients that were refused
    asyncio.run(serve())
