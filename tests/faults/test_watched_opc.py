"""The watcher of the wire finds whatever a client asks of a press, and most of all what would change something."""

import asyncio
import contextlib
import struct

import pytest

from tests.faults.opc.relay import Relay
from tests.faults.opc.services import MAY_BE_ASKED, SERVICES, Listener

asyncua = pytest.importorskip("asyncua", reason="the extra opcua is not installed")

from asyncua import ua  # noqa: E402

from simulators.opc_names import MAKER  # noqa: E402
from simulators.opc_press import OpcPress  # noqa: E402

CHANGES = {"Write", "Call", "AddNodes", "AddReferences", "DeleteNodes", "DeleteReferences", "HistoryUpdate"}


def test_the_ids_are_those_of_the_foundations_list() -> None:
    for name, number in SERVICES.items():
        assert number == getattr(ua.ObjectIds, f"{name}Request_Encoding_DefaultBinary"), name
    assert not CHANGES & set(MAY_BE_ASKED)


def test_what_a_client_does_to_a_press_is_found() -> None:
    asyncio.run(_played())


async def _played() -> None:
    press = OpcPress()
    await press.open()
    relay = Relay(press.port)
    try:
        async with asyncua.Client(f"opc.tcp://127.0.0.1:{relay.port}") as client:
            index = await client.get_namespace_index(MAKER)
            shown = await client.nodes.objects.get_child(f"{index}:IMM_MES_Interface")
            await client.create_subscription(100, None)
            assert not relay.unread
            assert {"Hello", "OpenSecureChannel", "CreateSession", "ActivateSession", "Read"} <= set(relay.asked)
            assert set(relay.asked) - {"Hello"} <= set(MAY_BE_ASKED)
            await (await shown.get_child([f"{index}:SetPoints", f"{index}:SetDose"])).write_value(1.0)
            await shown.call_method(f"{index}:StopAtCycleEnd")
            for asking in (client.uaclient.add_nodes([]), client.uaclient.delete_nodes(ua.DeleteNodesParameters())):
                with contextlib.suppress(ua.UaError):  # refused or not, it was asked for
                    await asking
    finally:
        relay.close()
        await press.close()
    assert set(relay.asked) - {"Hello"} - set(MAY_BE_ASKED) == {"Write", "Call", "AddNodes", "DeleteNodes"}
    assert relay.asked["Write"] == relay.asked["Call"] == 1
    assert press.done() == {"written": 1, "StopAtCycleEnd": 1, "FinishJob": 0}


def message(kind: bytes, last: bytes, request: int, body: bytes) -> bytes:
    """Return one chunk of a channel without security."""
    return kind + last + struct.pack("<5I", 24 + len(body), 6, 1, request, request) + body


def test_a_request_in_pieces_is_one_and_bytes_may_come_one_by_one() -> None:
    listener = Listener()
    long = b"\x01\x00" + struct.pack("<H", 673)
    sent = message(b"MSG", b"C", 3, long) + message(b"MSG", b"F", 3, b"\x01\x00" + struct.pack("<H", 712))
    sent += message(b"MSG", b"F", 4, b"\x02\x00\x00" + struct.pack("<I", 712))
    sent += message(b"MSG", b"F", 5, b"\x02\x03\x00" + struct.pack("<I", 712))
    for at in range(len(sent)):
        listener.hear(sent[at : at + 1])
    assert listener.asked == {"Write": 1, "Call": 1, "ns=3;i=712": 1}
    assert not listener.unread


def test_a_secured_channel_and_noise_are_said_to_be_unread() -> None:
    policy = b"http://opcfoundation.org/UA/SecurityPolicy#Basic256Sha256"
    opened = struct.pack("<I", 6) + struct.pack("<i", len(policy)) + policy + struct.pack("<ii", -1, -1) + bytes(12)
    listener = Listener()
    listener.hear(b"OPNF" + struct.pack("<I", 8 + len(opened)) + opened)
    listener.hear(message(b"MSG", b"F", 3, b"\x01\x00" + struct.pack("<H", 673)))
    listener.hear(b"GET / HTTP/1.1\r\n")
    assert not listener.asked
    assert len(listener.unread) == 3
