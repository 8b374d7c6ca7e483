"""Sending a message to one receiver, through Apprise: mail, chat and push by an address.

Nothing but the address of the configuration is contacted: no redirection is followed, no picture, plug-in or
configuration is fetched from anywhere, nothing is kept on disk, and nothing is told to anybody of who sends. What the
library says of a failure may hold any part of an address, and is not written anywhere.
"""

import threading
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from shotlog.errors import SettingsError
from shotlog.extras import need
from shotlog.notify.not_taken import NotTaken, listened, why_not
from shotlog.settings import ReceiverSettings
from shotlog.wording.messages import NO_SAFETY_DEVICE

__all__ = ["Message", "Send", "address_of", "is_known", "sender"]

_MOST_ADDRESS = 10_000
_LOADING = threading.Lock()
_MAIL = ("mailto:", "mailtos:")


@dataclass(frozen=True, slots=True)
class Message:
    """What is sent: a subject of a few words, and sentences."""

    subject: str
    text: str


Send = Callable[[Message], bool]
"""Sends a message to one receiver within some seconds, and says whether it was taken; `NotTaken` says why not."""


def address_of(receiver: ReceiverSettings) -> str:
    """Return the address of a receiver, from its file where it lies in one.

    Raises
    ------
    SettingsError
        The file cannot be read, or holds no address.
    """
    if receiver.address_file is None:
        return receiver.address
    file = receiver.address_file
    try:
        with file.open(encoding="utf-8-sig") as lines:
            address = lines.read(_MOST_ADDRESS).strip()
    except (OSError, UnicodeDecodeError) as error:
        why = "a readable file that holds the address"
        raise SettingsError(str(file), f"messages.to {receiver.name}", "nothing", why) from error
    if "://" not in address or any(one.isspace() for one in address):
        raise SettingsError(str(file), f"messages.to {receiver.name}", "something else", "one address, SERVICE://...")
    return address


def sender(receiver: ReceiverSettings) -> Send:
    """Return what sends to a receiver, or raises `NotTaken`. Its file is read at each message: a new one holds at once.

    Raises
    ------
    UsageError
        The extra is not installed.
    """
    need("messages", "messages to people")

    def send(message: Message) -> bool:
        try:
            address = address_of(receiver)
        except SettingsError as error:
            raise NotTaken(f"its file: given {error.given}, allowed: {error.allowed}") from None
        _deliver(address, message)
        return True

    return send


def is_known(address: str) -> bool:
    """Say whether the library knows the service of an address, and all that it needs stands in it; nothing is sent."""
    return _service(address) is not None


def _deliver(address: str, message: Message) -> None:
    service = _service(address)
    if service is None:
        raise NotTaken("its address is of no service that is known, or lacks something it needs")
    text = f"{message.text}\n\n{NO_SAFETY_DEVICE}" if address.lower().startswith(_MAIL) else message.text
    with listened() as heard:
        taken = service.notify(body=text, title=message.subject)
    if not taken:
        raise NotTaken(why_not(heard))


def _service(address: str) -> Any:
    """Return what sends to an address, None where the library cannot. It may do nothing besides."""
    with _LOADING, listened(), warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it looks for modules that are on their way out of Python
        from apprise import Apprise, AppriseAsset

        asset = AppriseAsset(
            app_id="shotlog",
            app_desc="shotlog",
            app_url="",
            image_url_mask="",
            image_url_logo="",
            async_mode=False,
            http_redirects=False,
            pgp_autogen=False,
            pem_autogen=False,
            storage_mode="memory",
            plugin_paths=[],
        )
        return Apprise.instantiate(address, asset=asset, suppress_exceptions=True)
