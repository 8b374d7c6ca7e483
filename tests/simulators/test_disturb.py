"""Every wire fault does on a real socket, or to a real line, what its table says, and only while it lasts."""

import asyncio
import re

import pytest
from pymodbus.client import AsyncModbusTcpClient
from pymodbus.exceptions import ModbusException

from simulators.disturb import MODBUS_FAULTS, WireFault, WireFaults, parse_fault
from simulators.machine import ScenarioError
from simulators.modbus_server import ModbusTcpFace
from simulators.press import mould
from simulators.registers import N_WORDS
from simulators.story import load

RUN = mould(load("demo").presses[0], 12, seed=4)
AT = 6
"""The shot the fault is at."""


class Wire:
    """A face on a socket and a client on it, shown shot after shot."""

    def __init__(self, *faults):
        self.face = ModbusTcpFace(faults=WireFaults(faults))

    async def __aenter__(self):
        await self.face.open()
        self.client = AsyncModbusTcpClient("127.0.0.1", port=self.face.port, timeout=1.5, retries=0, reconnect_delay=0)
        assert await self.client.connect()
        return self

    async def __aexit__(self, *_):
        self.client.close()
        await self.face.close()

    async def show(self, shot):
        await self.face.show(RUN, shot - 1)

    async def read(self, count=N_WORDS):
        return (await self.client.read_holding_registers(0, count=count)).registers

    async def counter(self):
        return (await self.read(2))[1]


def over_loopback(test):
    """Run a coroutine test in its own event loop."""

    def wrapped():
        asyncio.run(test())

    wrapped.__name__, wrapped.__doc__ = test.__name__, test.__doc__
    return wrapped


@over_loopback
async def test_no_fault_leaves_every_word_alone():
    async with Wire() as wire:
        await wire.show(1)
        first = await wire.read()
        assert first[1] == first[2] == first[24] == 1
        await wire.show(2)
        assert (await wire.read())[4:] != first[4:]


@over_loopback
async def test_refused_closes_the_door_and_opens_it_on_the_same_port():
    async with Wire(WireFault("refused", AT)) as wire:
        await wire.show(AT - 1)
        port = wire.face.port
        await wire.show(AT)
        with pytest.raises(ConnectionRefusedError):
            await asyncio.open_connection("127.0.0.1", port)
        await wire.show(AT + 1)
        assert await wire.client.connect()
        assert (await wire.counter()) == AT + 1


@pytest.mark.parametrize("kind", ["half-open", "garbage"])
def test_no_answer_can_be_used(kind):
    async def story():
        async with Wire(WireFault(kind, AT)) as wire:
            await wire.show(AT)
            with pytest.raises(ModbusException):
                await wire.read()

    asyncio.run(story())


@over_loopback
async def test_slow_answers_after_its_seconds():
    async with Wire(WireFault("slow", AT, seconds=0.15)) as wire:
        await wire.show(AT)
        loop = asyncio.get_running_loop()
        asked = loop.time()
        await wire.read()
        assert loop.time() - asked >= 0.15


@over_loopback
async def test_exception_answers_with_its_code():
    async with Wire(WireFault("exception", AT, code=11)) as wire:
        await wire.show(AT)
        assert (await wire.client.read_holding_registers(0, count=4)).exception_code == 11
        await wire.show(AT + 1)
        assert not (await wire.client.read_holding_registers(0, count=4)).isError()


@over_loopback
async def test_short_leaves_out_a_register():
    async with Wire(WireFault("short", AT)) as wire:
        await wire.show(AT)
        assert len(await wire.read(20)) == 19


@over_loopback
async def test_torn_shows_the_new_counter_beside_old_values_and_its_sequence_words_differ():
    async with Wire(WireFault("torn", AT)) as wire:
        await wire.show(AT - 1)
        old = await wire.read()
        await wire.show(AT)
        torn = await wire.read()
        assert (torn[1], torn[2], torn[24]) == (AT, 2, 1)
        assert torn[14:] == old[14:]
        await wire.read()
        whole = await wire.read()
        assert whole[24] == 2
        assert whole[14:] != old[14:]


@over_loopback
async def test_delayed_gives_old_values_first():
    async with Wire(WireFault("delayed", AT, seconds=0.2)) as wire:
        await wire.show(AT - 1)
        old = await wire.read()
        await wire.show(AT)
        assert (await wire.read())[1:] == [AT, *old[2:]]
        while (late := await wire.read())[2:] == old[2:]:
            await asyncio.sleep(0.02)
        assert (late[1], late[2]) == (AT, 2)


@over_loopback
async def test_frozen_and_filler_keep_the_counter_running():
    async with Wire(WireFault("frozen", AT, AT + 2), WireFault("filler", AT + 3)) as wire:
        await wire.show(AT - 1)
        before = await wire.read()
        for shot in (AT, AT + 1, AT + 2):
            await wire.show(shot)
            words = await wire.read()
            assert words[1] == shot
            assert words[2:] == before[2:]
        await wire.show(AT + 3)
        words = await wire.read()
        assert words[1] == AT + 3
        assert words[2:] == [0xFFFF] * (N_WORDS - 2)


@over_loopback
async def test_maps_that_are_not_as_printed():
    async with Wire(WireFault("swapped", 2), WireFault("one-based", 3), WireFault("sentinel", 4)) as wire:
        await wire.show(1)
        await wire.show(2)
        swapped = await wire.read()
        assert swapped[:2] == [2, 0]
        await wire.show(3)
        later = await wire.read()
        assert later[:4] == [0, 0, 3, 3]
        await wire.show(4)
        missing = await wire.read()
        assert missing[21] == 0x8000
        assert missing[:3] == [0, 4, 4]


@over_loopback
async def test_without_a_fault_no_read_is_ever_torn():
    async with Wire() as wire:
        await wire.show(1)
        seen = set()

        async def press():
            for number in range(2, 400):
                await wire.face.show(RUN, number % 12)
                await asyncio.sleep(0)

        making = asyncio.ensure_future(press())
        while not making.done():
            words = await wire.read()
            assert words[2] == words[24]
            seen.add(words[2])
        await making
    assert len(seen) > 20


@pytest.mark.parametrize(
    ("fault", "counts"),
    [
        (WireFault("counter-reset", AT), [4, 5, 1, 2, 3]),
        (WireFault("rollover", AT), [65534, 65535, 0, 1, 2]),
        (WireFault("rollover", AT, modulus=10000), [9998, 9999, 0, 1, 2]),
        (WireFault("stuck", AT, AT + 1), [4, 5, 5, 5, 6]),
        (WireFault("double-count", AT), [4, 5, 7, 8, 9]),
    ],
    ids=lambda value: getattr(value, "kind", ""),
)
def test_the_counter_goes_wrong_as_told(fault, counts):
    faults = WireFaults([fault])
    seen = []
    for shot in range(4, 9):
        faults.shot = shot
        seen.append(faults.counter(shot))
    assert seen == counts


@over_loopback
async def test_bit_errors_change_an_answer():
    async with Wire(WireFault("bit-errors", AT)) as wire:
        await wire.show(AT)
        reader, writer = await asyncio.open_connection("127.0.0.1", wire.face.port)
        request = bytes.fromhex("000100000006010300000004")
        writer.write(request)
        answer = await reader.readexactly(17)
        writer.close()
        await writer.wait_closed()
    clean = bytes.fromhex("00010000000b010308") + b"".join(word.to_bytes(2, "big") for word in wire.face.words[:4])
    assert answer != clean
    assert 1 <= sum((one ^ other).bit_count() for one, other in zip(answer, clean, strict=True)) <= 3


def test_a_fault_in_words():
    assert parse_fault("P25:slow@30-40,seconds=0.8") == ("P25", WireFault("slow", 30, 40, 0.8))
    assert parse_fault("P25:torn@30") == ("P25", WireFault("torn", 30, 30))
    for wrong in ("P25", "P25:slow", "P25:slow@x", "P25:slow@3,minutes=4"):
        with pytest.raises(ScenarioError, match=re.escape(f"fault: given {wrong!r}, allowed: PRESS:KIND@FROM")):
            parse_fault(wrong)
    with pytest.raises(ScenarioError, match="given 'tornado', allowed here: refused"):
        WireFaults([WireFault("tornado")], MODBUS_FAULTS)
