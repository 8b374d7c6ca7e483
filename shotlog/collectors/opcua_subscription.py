"""A subscription to the cycle events of a press, and what comes of it.

That the press lives is known by what it sends: an event, or every few seconds a word that there is none (OPC UA part 4,
5.14.1.1). A subscription that the press forgot sends neither, while the line stands.
"""

from collections.abc import Sequence
from time import monotonic

from asyncua import ua
from asyncua.client.ua_session import UaSession

from shotlog.collectors.opcua_browse import EventType, Found
from shotlog.collectors.opcua_decode import came_in, moment_in, status_name
from shotlog.collectors.opcua_options import SILENT, Server
from shotlog.collectors.opcua_said import CycleEvent
from shotlog.collectors.opcua_secure import session_s

__all__ = ["Subscription"]

_PUBLISH_MS = 250.0
_QUEUE = 10_000
"""Events the press is asked to keep while the line stands; a queue of 1 kept one of a burst of 50 (measured)."""
_AT_ONCE = 500
_BASE = ua.NodeId(ua.ObjectIds.BaseEventType)
_OVERFLOW = ua.NodeId(ua.ObjectIds.EventQueueOverflowEventType)
_OWN_FIELDS = ("EventId", "EventType", "Time")


class Subscription:
    """State: the events that came and were not taken yet, when the press was last heard of, and how it ended."""

    def __init__(self, server: Server, types: Sequence[EventType], found: Found, paths: Sequence[str]) -> None:
        self._server, self._types = server, types
        self._paths = [path for path in paths if path in found.names]
        self._names = [found.names[path] for path in self._paths]
        self.events: list[CycleEvent] = []
        self.ended = ""
        self.n_overflows = 0
        self.heard_at = monotonic()
        self.silent_s = SILENT * server.keep_alive_s

    async def make(self, session: UaSession) -> None:
        """Have events sent. A server that cannot filter by type sends all, and others than cycles are left out here."""
        asked = ua.CreateSubscriptionParameters()
        asked.RequestedPublishingInterval = _PUBLISH_MS
        asked.RequestedMaxKeepAliveCount = max(1, round(self._server.keep_alive_s * 1000.0 / _PUBLISH_MS))
        asked.RequestedLifetimeCount = round(session_s(self._server) * 1000.0 / _PUBLISH_MS)
        asked.MaxNotificationsPerPublish = _AT_ONCE
        asked.PublishingEnabled = True
        made = await session.create_subscription(asked, self.take)
        beat_s = made.RevisedPublishingInterval * made.RevisedMaxKeepAliveCount / 1000.0
        self.silent_s = SILENT * max(beat_s, self._server.keep_alive_s)
        self.heard_at = monotonic()
        for by_type in (True, False):
            (result,) = await session.create_monitored_items(
                ua.CreateMonitoredItemsParameters(
                    made.SubscriptionId, ua.TimestampsToReturn.Both, [self._item(by_type)]
                )
            )
            if result.StatusCode.is_good():
                return
        result.StatusCode.check()

    def _item(self, by_type: bool) -> ua.MonitoredItemCreateRequest:
        wanted = ua.EventFilter()
        own = [[ua.QualifiedName(name, 0)] for name in _OWN_FIELDS]
        wanted.SelectClauses = [
            ua.SimpleAttributeOperand(_BASE, list(path), ua.AttributeIds.Value) for path in [*own, *self._names]
        ]
        if by_type:
            which = ua.SimpleAttributeOperand(_BASE, [ua.QualifiedName("EventType", 0)], ua.AttributeIds.Value)
            nodes = [*(one.node for one in self._types), _OVERFLOW]
            types = [ua.LiteralOperand(ua.Variant(node)) for node in nodes]
            wanted.WhereClause.Elements.append(ua.ContentFilterElement(ua.FilterOperator.InList, [which, *types]))
        node = self._server.node
        item = ua.MonitoredItemCreateRequest()
        item.ItemToMonitor.NodeId = ua.NodeId.from_string(node) if node else ua.NodeId(ua.ObjectIds.Server)
        item.ItemToMonitor.AttributeId = ua.AttributeIds.EventNotifier
        item.MonitoringMode = ua.MonitoringMode.Reporting
        item.RequestedParameters = ua.MonitoringParameters(1, 0.0, wanted, _QUEUE, True)
        return item

    def take(self, result: ua.PublishResult) -> None:
        """Take what the press sent: events, that there are none, or that it ends."""
        self.heard_at = monotonic()
        for sent in result.NotificationMessage.NotificationData or ():
            if isinstance(sent, ua.EventNotificationList):
                for one in sent.Events:
                    self._event(one.EventFields)
            elif isinstance(sent, ua.StatusChangeNotification):
                self.ended = f"the press ended the subscription ({status_name(sent.Status)}): it is made again"

    def _event(self, fields: Sequence[ua.Variant]) -> None:
        own, rest = fields[: len(_OWN_FIELDS)], fields[len(_OWN_FIELDS) :]
        if len(own) < len(_OWN_FIELDS):
            self.events.append(CycleEvent(b"", "", None, {}))  # told as one without a count
            return
        kind = own[1].Value
        if kind == _OVERFLOW:
            self.n_overflows += 1
            return
        name = next((one.name for one in self._types if one.node == kind), None)
        if name is None:
            return
        event_id = own[0].Value if isinstance(own[0].Value, bytes) else b""
        values = {path: came_in(value) for path, value in zip(self._paths, rest, strict=False)}
        self.events.append(CycleEvent(event_id, name, moment_in(own[2]), values))
