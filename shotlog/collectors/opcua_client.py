"""The connection to an OPC UA server: connects, browses, subscribes to events, hands them over. It only reads.

Every connection is a new client: one that had seen a server freeze and start again did not come back (measured).
Nothing runs between two looks at the press: the client's loop turns in the thread that polls, and only then, so there
is no thread to leave behind, and what a press sends meanwhile waits in its queue and on the line. A request of a kind
that does not only ask is refused before it is sent (`opcua_secure.ASKED`).
"""

import asyncio
import logging
import socket
from collections.abc import Callable, Coroutine, Sequence
from contextlib import suppress
from os import strerror
from time import monotonic
from typing import Any, TypeVar
from urllib.parse import urlsplit

from asyncua import Client, ua

from shotlog.collectors.opcua_browse import (
    EventType,
    Found,
    cycle_event_types,
    fields_of,
    read_values,
    variables_named,
)
from shotlog.collectors.opcua_decode import status_name
from shotlog.collectors.opcua_options import Server
from shotlog.collectors.opcua_refusals import OurSide, closed_unsaid, nothing_fits, refusal
from shotlog.collectors.opcua_said import CycleEvent, Given, Offer
from shotlog.collectors.opcua_secure import Secured, log_in, secured
from shotlog.collectors.opcua_subscription import Subscription
from shotlog.errors import CollectorError, PressUnreachable

__all__ = ["OpcClient"]

T = TypeVar("T")

_QUIET_S = 0.01
_LONGEST_TURN_S = 0.5
_CONNECT, _CONNECT_MOST_S = 8, 60.0
"""Time-outs that connecting may take in all, a dozen requests and browsing, and seconds: the thread counts as hanging
after two minutes.
"""
_GOODBYE_S = 1.0
_FRESH = 0.6
"""Share of a secure channel's life after which it is renewed."""

# It says much, and at its most talkative what it sends, a password too. What matters is said by our own errors.
logging.getLogger("asyncua").setLevel(logging.CRITICAL + 1)


class OpcClient:
    """One connection at a time, over a client of the library that is made anew for each."""

    def __init__(self, server: Server) -> None:
        self._server = server
        self._loop: asyncio.AbstractEventLoop | None = None
        self._made: Secured | None = None
        self._ours = OurSide(server.url)
        self._types: list[EventType] = []
        self._found = Found()
        self._nodes: dict[str, ua.NodeId] = {}
        self._subscription: Subscription | None = None
        self._renew_at = 0.0

    @property
    def is_open(self) -> bool:
        """Whether a connection was made and not closed."""
        return self._loop is not None

    @property
    def heard_ago_s(self) -> float:
        """How long ago the press was last heard of, in seconds."""
        return 0.0 if self._subscription is None else monotonic() - self._subscription.heard_at

    def open(self, wanted: Sequence[str]) -> Offer:
        """Connect and say what the press offers; `wanted`: variables that are looked for by name, and read.

        Raises
        ------
        CollectorError
            It is not there, or refuses; says what to do.
        """
        self.close()
        self._loop = asyncio.new_event_loop()
        try:
            return self._run(self._connect(wanted), min(_CONNECT * self._server.timeout_s, _CONNECT_MOST_S))
        except BaseException:
            self.close()
            raise

    def subscribe(self, paths: Sequence[str]) -> None:
        """Have events sent, with these fields; of an earlier subscription on this connection nothing is taken more."""
        self._run(self._subscribe(paths), 3 * self._server.timeout_s)

    def turn(self) -> list[CycleEvent]:
        """Return the events that came since; what came before the line was lost is returned first.

        Raises
        ------
        PressUnreachable
            The line was lost, or nothing was heard of the press for too long.
        """
        made, subscription = self._made, self._subscription
        if made is None or subscription is None:
            raise PressUnreachable(f"{self._server.url} is not open")
        try:
            self._run(self._turn(made.client, subscription), self._server.timeout_s + _LONGEST_TURN_S)
        except CollectorError:
            if not subscription.events:
                raise
        events, subscription.events = subscription.events, []
        if not events and subscription.ended:
            raise PressUnreachable(f"{self._server.url} was lost: {subscription.ended}")
        return events

    def overflowed(self) -> int:
        """Return how often the press said, since it was last asked, that its queue ran over."""
        subscription = self._subscription
        if subscription is None:
            return 0
        n, subscription.n_overflows = subscription.n_overflows, 0
        return n

    def read(self, nodes: Sequence[str]) -> dict[str, Given]:
        """Return what variables hold now, by their id or by the path under which they were found."""
        if self._made is None:
            raise PressUnreachable(f"{self._server.url} is not open")
        asked = {each: self._nodes[each] if each in self._nodes else ua.NodeId.from_string(each) for each in nodes}
        session = self._made.client.uaclient.session
        values = self._run(read_values(session, list(asked.values())), self._server.timeout_s)
        return dict(zip(asked, values, strict=True))

    def close(self) -> None:
        """Say goodbye where somebody listens, and leave nothing open."""
        loop, self._loop = self._loop, None
        made, self._made, self._subscription = self._made, None, None
        if loop is None:
            return
        try:
            with suppress(Exception):
                loop.run_until_complete(_goodbye(None if made is None else made.client))
            with suppress(Exception):
                loop.run_until_complete(loop.shutdown_asyncgens())
        finally:
            loop.close()

    def _run(self, work: Coroutine[Any, Any, T], within_s: float) -> T:
        """Do some work on the loop, and say in a sentence what went wrong."""
        loop, url = self._loop, self._server.url
        if loop is None:
            work.close()
            raise PressUnreachable(f"{url} is not open")
        try:
            return loop.run_until_complete(asyncio.wait_for(work, within_s))
        except CollectorError:
            raise
        except ua.UaStatusCodeError as error:
            ours = self._ours if self._made is None else self._made.ours
            raise refusal(status_name(ua.StatusCode(ua.UInt32(int(error.code)))), ours) from error
        except TimeoutError as error:
            raise PressUnreachable(f"{url} does not answer within {self._server.timeout_s:g} s") from error
        except ConnectionRefusedError as error:
            raise PressUnreachable(
                f"{url} cannot be reached: {_reason(error)}; look at the port, and whether the OPC UA server is "
                "switched on at the press"
            ) from error
        except OSError as error:
            raise PressUnreachable(f"{url} cannot be reached: {_reason(error)}") from error
        except (ua.UaError, ValueError, LookupError, TypeError, AttributeError) as error:
            raise PressUnreachable(f"{url} answers what cannot be read: {error}") from error

    async def _connect(self, wanted: Sequence[str]) -> Offer:
        made = self._made = Secured(self._server, *self._addresses())
        await secured(made)
        client = made.client
        await made.connect()
        try:
            await client.open_secure_channel()
        except ConnectionError as error:
            raise closed_unsaid(made.ours) from error
        self._renew_at = _renewal(client)
        try:
            await client.create_session()
        except ua.UaStatusCodeError:
            raise
        except ua.UaError as error:  # no endpoint that it names fits how we came
            raise nothing_fits(made.ours) from error
        await client.activate_session(*log_in(made))
        session = client.uaclient.session
        self._types = await cycle_event_types(session, self._server.url)
        self._found = await fields_of(session, self._types)
        self._nodes = await variables_named(session, wanted)
        values = await read_values(session, list(self._nodes.values()))
        remarks = list(made.remarks)
        if len(self._types) == 1:
            name = self._types[0].name
            remarks.append(f"the press derives no event type of its own from {name}: only the fields of that can come")
        names = tuple(f"{one.name} ({one.node.to_string()})" for one in self._types)
        return Offer(names, self._found.fields, tuple(remarks), dict(zip(self._nodes, values, strict=True)))

    def _addresses(self) -> tuple[list[str], int]:
        """Return the addresses behind the name; the loop's own way would leave a thread behind."""
        parts = urlsplit(self._server.url)
        host, port = parts.hostname or "", parts.port or 4840
        try:
            found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
            return list(dict.fromkeys(str(one[4][0]) for one in found)), port
        except OSError as error:
            raise PressUnreachable(
                f"{self._server.url} cannot be reached: the name {host} leads nowhere: {_reason(error)}"
            ) from error

    async def _subscribe(self, paths: Sequence[str]) -> None:
        if self._made is None:
            raise PressUnreachable(f"{self._server.url} is not open")
        subscription = Subscription(self._server, self._types, self._found, paths)
        await subscription.make(self._made.client.uaclient.session)
        self._subscription = subscription

    async def _turn(self, client: Client, subscription: Subscription) -> None:
        n, until = -1, monotonic() + _LONGEST_TURN_S
        while n != len(subscription.events) and monotonic() < until:
            n = len(subscription.events)
            await asyncio.sleep(_QUIET_S)
        silent_s = monotonic() - subscription.heard_at
        protocol = client.uaclient.protocol
        if subscription.ended:
            return
        if protocol is None or protocol.is_closed:
            subscription.ended = "the press closed the connection"
        elif silent_s > subscription.silent_s:
            subscription.ended = f"nothing was heard of the press for {silent_s:.0f} s: it stands, or has forgotten us"
        elif monotonic() > self._renew_at:
            await client.open_secure_channel(renew=True)
            client.uaclient.revolve_security_token()
            self._renew_at = _renewal(client)


def _renewal(client: Client) -> float:
    return monotonic() + _FRESH * float(client.secure_channel_timeout) / 1000.0


async def _goodbye(client: Client | None) -> None:
    """Close session, channel and socket; nobody may be there to hear it."""
    if client is not None:
        protocol = client.uaclient.protocol
        steps: tuple[Callable[[], Coroutine[Any, Any, Any]], ...] = (
            lambda: client.uaclient.close_session(True),
            client.close_secure_channel,
        )
        for step in steps:
            with suppress(Exception):
                await asyncio.wait_for(step(), _GOODBYE_S)
        client.disconnect_socket()
        await asyncio.sleep(0)
        if protocol is not None and protocol.transport is not None:
            protocol.transport.abort()  # what could not be sent to one that stands would keep it open
    others = [task for task in asyncio.all_tasks() if task is not asyncio.current_task()]
    for task in others:
        task.cancel()
    await asyncio.gather(*others, return_exceptions=True)
    await asyncio.sleep(0)


def _reason(error: OSError) -> str:
    """Return what the system calls it: the library of the loop puts the address into the text."""
    return strerror(error.errno) if error.errno and error.errno > 0 else str(error) or type(error).__name__
