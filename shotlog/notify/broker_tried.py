"""Whether a broker lets us in, tried once because somebody asked."""

import secrets
import threading

from shotlog.notify.mqtt_line import MqttLine
from shotlog.settings.messages import BrokerSettings

__all__ = ["why_not_in"]

_WAIT_S = 15.0
"""Longer than a connection is tried for, and the broker's answer behind it."""


def why_not_in(broker: BrokerSettings) -> str:
    """Return why the broker does not let us in, empty where it does.

    Nothing is published, and what sends beside `shotlog run` is not disturbed: the name that we give is another one,
    which the broker forgets at once.
    """
    changed = threading.Event()
    line = MqttLine(broker, f"shotlog{secrets.token_hex(8)}", None, changed.set)
    line.start()
    changed.wait(_WAIT_S)
    why = line.trouble
    line.end(cleanly=True)
    return why
