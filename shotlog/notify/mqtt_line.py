"""One connection to a broker, that of one press: a client of MQTT may leave one last will, and each press has its own.

Nothing here waits for the broker but a thread of its own. What is sent waits in memory for its acknowledgement, few at
a time (`ROOM`), and is sent again by the library after a connection was lost; whatever else there is to send stays in
the log, from which it is read again by whoever comes after us.

Not verified with every broker: written to MQTT 3.1.1 (OASIS, 2014), which all that speak 5.0 speak as well.
"""

import hashlib
import logging
import platform
import ssl
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

import paho.mqtt.client as paho
from paho.mqtt.enums import CallbackAPIVersion

from shotlog.settings.messages import BrokerSettings

__all__ = ["ROOM", "Line", "MqttLine", "Will", "session_of"]

ROOM = 20
"""Messages on their way, unacknowledged. More would not be quicker by much, and would come twice after a lost line."""
_KEEPALIVE_S = 15
"""After half as much again without a word from us the broker publishes the last will (MQTT 3.1.1, 3.1.2.10)."""
_CONNECT_S = 5.0
_FIRST_S, _LONGEST_S = 1.0, 30.0
_TURN_S = 0.5
_LET_GO_S = 0.5

Will = tuple[str, bytes]
"""Topic and payload, retained."""

logger = logging.getLogger(__name__)


class Line(Protocol):
    """What sends for one press."""

    def start(self) -> None:
        """Begin to connect, and go on for ever."""

    def came_up(self) -> bool | None:
        """Return, once after each time it was connected, whether the broker still knew our session; else None."""

    @property
    def has_room(self) -> bool:
        """Whether it is connected, and takes one more message."""

    @property
    def is_idle(self) -> bool:
        """Whether it is connected, and the broker has acknowledged all that was sent."""

    @property
    def trouble(self) -> str:
        """Why it is not connected; empty where it is."""

    def send(self, topic: str, payload: bytes, retain: bool) -> Callable[[], bool]:
        """Send a message, at least once; return what tells whether the broker has acknowledged it."""

    def end(self, cleanly: bool) -> None:
        """Disconnect; `cleanly`: so that the broker publishes no last will."""


def session_of(config: Path, press: str | None) -> str:
    """Return the client id of a press: the same for the same configuration on the same computer, told by no address.

    In 23 letters and digits, which every broker takes (MQTT 3.1.1, 3.1.3.1).
    """
    whole = f"{platform.node()}\0{config.resolve().as_posix()}\0{'' if press is None else press}\0{press is None}"
    return f"shotlog{hashlib.sha256(whole.encode()).hexdigest()[:16]}"


class MqttLine:
    """A `Line` over MQTT.

    Parameters
    ----------
    session
        Our client id, see `session_of`.
    will
        What the broker publishes where we go without a word; None where we only try the way, and it keeps nothing.
    wake
        Called when something was acknowledged or the connection changed.
    """

    def __init__(self, broker: BrokerSettings, session: str, will: Will | None, wake: Callable[[], None]) -> None:
        self._broker, self._wake = broker, wake
        self._client = client = paho.Client(
            CallbackAPIVersion.VERSION2, session, clean_session=will is None, protocol=paho.MQTTv311
        )
        client.connect_timeout = _CONNECT_S
        client.max_inflight_messages_set(ROOM)
        client.max_queued_messages_set(2 * ROOM)
        if will is not None:
            client.will_set(will[0], will[1], qos=1, retain=True)
        client.on_connect, client.on_publish, client.on_disconnect = self._connected, self._published, self._lost
        # else `publish` would write to the wire itself, in the thread of whoever sends
        client.on_socket_register_write = lambda *_: None
        self._lock = threading.Lock()
        self._waiting: set[int] = set()
        self._acknowledged: set[int] = set()
        self._up: bool | None = None
        self._is_connected = self._has_tls = False
        self._trouble = "not connected yet"
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._go_on, name=f"mqtt {session}", daemon=True)

    def start(self) -> None:
        self._thread.start()

    def came_up(self) -> bool | None:
        up, self._up = self._up, None
        return up

    @property
    def has_room(self) -> bool:
        return self._is_connected and len(self._unanswered()) < ROOM

    @property
    def is_idle(self) -> bool:
        return self._is_connected and not self._unanswered()

    @property
    def trouble(self) -> str:
        return "" if self._is_connected else self._trouble

    def send(self, topic: str, payload: bytes, retain: bool) -> Callable[[], bool]:
        info = self._client.publish(topic, payload, qos=1, retain=retain)
        if info.rc != paho.MQTT_ERR_QUEUE_SIZE:
            with self._lock:
                self._waiting.add(info.mid)
        return lambda: info.mid not in self._unanswered()

    def _unanswered(self) -> set[int]:
        """Return the numbers of what was sent and not acknowledged; an answer may be here before its number is."""
        with self._lock:
            done = self._waiting & self._acknowledged
            self._waiting -= done
            self._acknowledged -= done
            return set(self._waiting)

    def end(self, cleanly: bool) -> None:
        is_to_say = cleanly and self._is_connected
        if is_to_say:
            self._client.disconnect()  # written by our thread, which ends once nothing waits to be written
        self._ended.set()
        if is_to_say:
            self._thread.join(_LET_GO_S)

    @property
    def _is_done(self) -> bool:
        return self._ended.is_set() and not self._client.want_write()

    def _go_on(self) -> None:
        pause_s = _FIRST_S
        while not self._ended.is_set():
            was_up = False
            try:
                self._meet()
                while self._client.loop(_TURN_S) == paho.MQTT_ERR_SUCCESS and not self._is_done:
                    was_up = was_up or self._is_connected
            except (OSError, ValueError) as error:
                self._trouble = _why(error)
            self._is_connected = False
            self._wake()
            pause_s = _FIRST_S if was_up else min(2.0 * pause_s, _LONGEST_S)
            self._ended.wait(pause_s)

    def _meet(self) -> None:
        """Connect; the password is read each time, so that a new one needs no start anew."""
        broker, client = self._broker, self._client
        if broker.tls and not self._has_tls:
            context = ssl.create_default_context(cafile=None if broker.ca is None else str(broker.ca))
            if broker.certificate is not None and broker.key is not None:
                context.load_cert_chain(broker.certificate, broker.key, password="")  # it asks at no terminal
            client.tls_set_context(context)
            self._has_tls = True
        if broker.user:
            secret = broker.password if broker.password_file is None else _secret_in(broker.password_file)
            client.username_pw_set(broker.user, secret or None)
        self._trouble = "the broker does not answer"
        client.connect(broker.host, broker.port, _KEEPALIVE_S)

    def _connected(self, _client: object, _data: object, flags: paho.ConnectFlags, reason: object, *_: object) -> None:
        if getattr(reason, "is_failure", False):
            self._trouble = f"the broker refuses us: {reason}"
            return
        self._up, self._is_connected = flags.session_present, True
        self._wake()

    def _published(self, _client: object, _data: object, number: int, *_: object) -> None:
        with self._lock:
            self._acknowledged.add(number)
        self._wake()

    def _lost(self, *_: object) -> None:
        if self._is_connected:
            self._trouble = "the connection to the broker was lost"
        self._is_connected = False


def _secret_in(file: Path) -> str:
    """Return the password in a file; an error of decoding would show a byte of it, and goes no further."""
    try:
        return file.read_text(encoding="utf-8-sig").strip("\r\n")
    except UnicodeDecodeError:
        raise ValueError(f"{file}: it is not in UTF-8") from None


def _why(error: OSError | ValueError) -> str:
    """Return why there is no connection; what was sent to make one is in no such text."""
    if isinstance(error, ssl.SSLCertVerificationError):
        return f"the certificate of the broker is not believed: {error.verify_message}"
    if isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        return f"{where}{error.strerror or type(error).__name__}"
    return str(error)
