"""The collector over events against a real server of OPC UA: browsing, bursts, security, a press that stands or leaves.

The library takes two seconds to import, so all that wants it here is in this module.
"""

import ast
import logging
import socket
import threading
import traceback
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from shotlog.clock import SystemClock
from shotlog.collectors import Collector, options
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import Fault, Gap, SetPoint, Shot
from shotlog.settings import PressSettings, Section

asyncua = pytest.importorskip("asyncua", reason="the extra opcua is not installed")

from asyncua import Node, ua  # noqa: E402
from asyncua.client.ua_session import UaSession  # noqa: E402
from asyncua.crypto.cert_gen import generate_private_key, generate_self_signed_app_certificate  # noqa: E402
from cryptography import x509  # noqa: E402
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat  # noqa: E402
from cryptography.x509.oid import ExtendedKeyUsageOID  # noqa: E402

from shotlog.collectors import opcua_client  # noqa: E402
from shotlog.collectors.opcua_client import OpcClient  # noqa: E402
from shotlog.collectors.opcua_options import Server, read_server  # noqa: E402
from shotlog.collectors.opcua_secure import ASKED, Secured, log_in  # noqa: E402
from tests.collectors.opcua_served import UNIT, Served  # noqa: E402

CHANNELS = {
    "cushion": {"name": "CushionVolume"},
    "peak_pressure": {"name": "SpecificPressureMaximum"},
    "fill_time": {"name": "InjectionTime"},
}
Records = list[Any]


def collector(url: str, **more: Any) -> Collector:
    keys = {"kind": "opcua-40077", "url": url, "timeout_s": 10.0, "shot_counter": {"name": "JobCycleCounter"}}
    keys |= {"channels": CHANNELS} | more
    return options(PressSettings("P25", "opcua-40077", Section("t.toml", "press[1].collector", keys))).build(
        "P25", SystemClock(), None
    )


def until_shots(reading: Collector, n: int) -> Records:
    """Poll until so many shots came."""
    records: Records = []
    for _ in range(2000):
        records += reading.poll()
        if sum(isinstance(one, Shot) for one in records) >= n:
            return records
    raise AssertionError(f"{n} shots were awaited, there came {records}")


def both_addresses(host: str, port: int, **more: Any) -> list[tuple[Any, ...]]:
    """Answer as for a name with an address where nobody listens before the press's own; all of 127 is this computer."""
    return [(socket.AF_INET, socket.SOCK_STREAM, 6, "", (one, port)) for one in ("127.0.0.2", "127.0.0.1")]


def test_it_reads_a_press_whole_and_leaves_nothing_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    """One server, which costs a second: types two steps down, units, the screw, set-points, a burst, gaps; a press that
    leaves, comes back, stands still; and what is never sent.
    """
    setpoints = {"hold": {"name": "SetHoldPressure"}, "stage": {"name": "SetSwitchover", "text": True}}
    with Served("deep") as press:
        press.do(press.press.screw(18.0))
        press.do(press.press.set_point("SetHoldPressure", 380.0))
        press.do(press.press.set_point("SetSwitchover", "position"))
        reading = collector(press.url, setpoints=setpoints, wait_s=5.0)
        reading.open()
        press.send(7)
        (shot,) = until_shots(reading, 1)
        assert shot.values == {"cushion": pytest.approx(5.109375), "peak_pressure": 547.0, "fill_time": 0.721}
        assert shot.set_points == {"hold": SetPoint(380.0, "bar"), "stage": SetPoint("position")}
        press.do(press.press.tell("heating zone 2 below limit"))
        press.send(*range(8, 508))
        burst = until_shots(reading, 500)
        assert [one.shot for one in burst] == list(range(8, 508)), "a burst lost something, or an alarm was taken"
        press.send(510, **{f"{UNIT}CushionVolume": None})
        gap, shot, fault = until_shots(reading, 1)
        assert isinstance(gap, Gap)
        assert isinstance(fault, Fault)
        assert (gap.first, gap.last, shot.shot, fault.kind) == (508, 509, 510, "cushion not given")
        press.do(press.press.close())
        with pytest.raises(PressUnreachable, match="was lost: the press closed the connection"):
            until_shots(reading, 1)
        assert reading.close() == []
        with pytest.raises(PressUnreachable, match=r"cannot be reached: .*; look at the port, and whether the OPC UA"):
            reading.open()
        press.do(press.press.open())
        with monkeypatch.context() as names:
            names.setattr(socket, "getaddrinfo", both_addresses)
            reading.open()
        press.send(512)
        assert [one.shot for one in until_shots(reading, 1) if isinstance(one, Shot)] == [512]
        press.send_soon(513)
        rows = {row.where: row for row in reading.probe()}
        assert rows[f"{UNIT}SpecificPressureMaximum"].value == 1053.0
        assert rows[f"{UNIT}CushionStroke"].unit == "mm"
        assert "PressCycleEventType (ns=3;i=2)" in rows
        reading.close()
        reading.close()
        _nothing_but_what_asks(press)
        _stands_still(press)
        assert press.press.done() == {"written": 0, "StopAtCycleEnd": 0, "FinishJob": 0}


def _nothing_but_what_asks(press: Served) -> None:
    """The library's client can do all of it; the one that is connected by lets no such request out."""
    threads = threading.enumerate()
    link = OpcClient(server_of(press.url))
    link.open([])
    assert threading.enumerate() == threads
    assert link._made is not None
    session, run = link._made.client.uaclient.session, link._run
    for attempt in (
        session.write(ua.WriteParameters()),
        session.call([]),
        session.add_nodes([]),
        session.delete_nodes(ua.DeleteNodesParameters()),
        session.history_update(ua.HistoryUpdateParameters()),
        session.register_nodes([]),
        session.delete_subscriptions([1]),
        session.set_publishing_mode(ua.SetPublishingModeParameters()),
    ):
        with pytest.raises(PressRefused, match="Request is no request to read, and is not sent"):
            run(attempt, 5.0)
    link.close()
    writing = ("Write", "Call", "Delete", "Add", "Set", "Update", "Modify", "Register")
    assert not [kind for kind in ASKED if any(word in kind for word in writing)]


def _stands_still(press: Served) -> None:
    """With the line open: noticed in three words of life, and read again by a new connection."""
    reading = collector(press.url, keep_alive_s=0.5, timeout_s=1.0)
    reading.open()
    press.send(600)
    until_shots(reading, 1)
    press.freeze()
    with pytest.raises(PressUnreachable, match=r"nothing was heard of the press for \d s: it stands"):
        until_shots(reading, 1)
    reading.close()
    with pytest.raises(PressUnreachable, match="does not answer within 1 s"):
        reading.open()
    press.thaw()
    reading.open()
    press.send(602)
    assert [one.shot for one in until_shots(reading, 1) if isinstance(one, Shot)] == [602]
    reading.close()


class Files:
    """Certificates of ours, one that has ended, and passwords."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.key = generate_private_key()
        names = [x509.UniformResourceIdentifier("urn:shotlog:logger"), x509.DNSName(socket.gethostname())]
        own = generate_self_signed_app_certificate(self.key, "shotlog", {}, names, [ExtendedKeyUsageOID.CLIENT_AUTH])
        self.put("ours.der", own.public_bytes(Encoding.DER))
        self.put("ours.key", self.key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
        self.put("old.pem", self.ended(own).public_bytes(Encoding.PEM))
        self.put("right", b"let-me-see\n")
        self.put("wrong", b"not-this\n")

    def put(self, name: str, data: bytes) -> None:
        self.put_into(self.folder, name, data)

    @staticmethod
    def put_into(folder: Path, name: str, data: bytes) -> None:
        (folder / name).write_bytes(data)

    def ended(self, like: x509.Certificate) -> x509.Certificate:
        from cryptography.hazmat.primitives.hashes import SHA256

        builder = x509.CertificateBuilder(like.issuer, like.subject, self.key.public_key(), 7)
        past = datetime.now(UTC) - timedelta(days=30)
        return builder.not_valid_before(past).not_valid_after(past + timedelta(days=1)).sign(self.key, SHA256())

    def keys(self, certificate: str = "ours.der", **more: Any) -> dict[str, Any]:
        given = {"security_policy": "Basic256Sha256", "certificate": certificate, "private_key": "ours.key"} | more
        files = ("certificate", "private_key", "server_certificate", "password_file")
        return {key: str(self.folder / value) if key in files else value for key, value in given.items()}


def said(press: Served, **more: Any) -> str:
    """Return what a press says to a connection it refuses."""
    reading = collector(press.url, **more)
    with pytest.raises(PressRefused) as caught:
        reading.open()
    reading.close()
    assert "let-me-see" not in str(caught.value) + "\n".join(map(repr, (reading, caught.value)))
    assert "not-this" not in str(caught.value)
    return str(caught.value)


def test_who_is_refused_is_told_what_to_do(tmp_path: Path) -> None:
    files = Files(tmp_path)
    with Served("encrypt+user+sessions=1") as press:
        reading = collector(press.url, **files.keys(user="operator", password_file="right"))
        reading.open()
        press.send(7)
        until_shots(reading, 1)
        with pytest.raises(PressUnreachable, match="has no session left: mostly another program holds them"):
            collector(press.url, **files.keys()).open()
        reading.close()
        wrong = said(press, **files.keys(user="operator", password_file="wrong"))
        assert "BadUserAccessDenied: the press does not let this user in with this password" in wrong
        assert wrong.endswith("given user 'operator'")
        assert "give user and password_file" in said(press, **files.keys())
        assert "takes no connection without security: give security_policy" in said(press)
        other = said(press, **files.keys(security_mode="sign"))
        assert "does not offer Basic256Sha256, sign; it offers Basic256Sha256, sign-and-encrypt" in other
        assert "which ended on" in said(press, **files.keys("old.pem"))
        pinned = said(press, **files.keys(server_certificate="ours.der"))
        assert "shows another certificate (thumbprint " in pinned
        assert "compare thumbprints" in pinned


def test_a_password_that_anybody_could_read_is_not_sent(tmp_path: Path) -> None:
    Files.put_into(tmp_path, "right", b"let-me-see\n")
    keys = {"user": "operator", "password_file": str(tmp_path / "right")}
    plain = Secured(server_of("opc.tcp://127.0.0.1:1", **keys), ["127.0.0.1"], 1)
    with pytest.raises(PressRefused, match="would go over the network to be read by anybody") as caught:
        log_in(plain)
    assert "let-me-see" not in str(caught.value)
    allowed = Secured(server_of("opc.tcp://127.0.0.1:1", **keys, unprotected_login=True), ["127.0.0.1"], 1)
    assert log_in(allowed) == ("operator", "let-me-see")
    assert allowed.remarks == ["the password goes over the network to be read by anybody (unprotected_login)"]
    assert "let-me-see" not in repr(allowed.server)
    Files.put_into(tmp_path, "right", b"\xef\xbb\xbflet-me-see\r\n")
    assert log_in(allowed) == ("operator", "let-me-see"), "a mark that an editor puts first is no part of it"
    Files.put_into(tmp_path, "right", b"let-me-s\xe4e\n")
    with pytest.raises(PressRefused, match=r"right is not in UTF-8: save it as UTF-8$") as caught:
        log_in(allowed)
    shown = "".join(traceback.format_exception(caught.value))
    assert "UnicodeDecodeError" not in shown, "it shows a byte"
    talker = logging.getLogger("asyncua.client.ua_client")
    assert not talker.isEnabledFor(logging.CRITICAL), "at its most talkative the library says what it sends"


def server_of(url: str, **more: Any) -> Server:
    return read_server(Section("t.toml", "press[1].collector", {"url": url} | more))


ASKS = {"activate_session", "browse", "browse_next", "close_session", "create_monitored_items", "create_session"}
ASKS |= {"create_subscription", "read", "read_attributes"}


def test_the_code_names_no_request_that_changes_something() -> None:
    """Of all that a session and a node of the library can do, it names what reads, listens and leaves."""
    can = {name for kind in (UaSession, Node) for name in dir(kind) if not name.startswith("_")}
    assert {"write", "call", "write_value", "call_method", "add_nodes", "delete_nodes", "set_value"} <= can
    plain = {"state", "observer", "nodeid", "session"}
    for path in sorted(Path(opcua_client.__file__).parent.glob("opcua_*.py")):
        named = {node.attr for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Attribute)}
        assert not named & can - ASKS - plain, path.name
