"""A lamp for one press, as a listener to MQTT: `python lamp.py HOST shotlog/SITE/PRESS`, with an output for print."""

import json
import sys

import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion

(HOST, _, PORT), PRESS = sys.argv[1].partition(":"), sys.argv[2]
SHOWS = {"keep": "green", "watch": "yellow", "swap": "red"}  # green: no change seen, and no word on any part
known = {}


def show(*_):
    online, link = known.get("online", {}).get("online"), known.get("link", {}).get("state")
    verdict = SHOWS.get(known.get("verdict", {}).get("stands"), "yellow, slowly blinking")  # no verdict yet
    print("dark" if not online else verdict if link == "connected" else "red and yellow: press lost", flush=True)


def heard(_client, _data, message):
    known[message.topic.rpartition("/")[2]] = json.loads(message.payload)
    show()


def lost(*_):
    known.clear()  # what was known may be over: dark until the broker has said it again
    show()


lamp = mqtt.Client(CallbackAPIVersion.VERSION2)
lamp.on_connect = lambda *_: [lamp.subscribe((f"{PRESS}/{what}", 1)) for what in ("online", "link", "verdict")]
lamp.on_message, lamp.on_disconnect = heard, lost
lamp.connect_async(HOST, int(PORT or 1883), keepalive=15)
show()
lamp.loop_forever(retry_first_connection=True)
