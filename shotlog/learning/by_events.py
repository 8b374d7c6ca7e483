"""Learning a press that sends its cycles as OPC UA events: browse, subscribe, watch, propose. It only asks."""

import threading
from collections.abc import Callable, Mapping, Sequence

from shotlog.clock import Clock
from shotlog.collectors.opcua_fields import units_told, with_units
from shotlog.collectors.opcua_options import Server, read_server
from shotlog.collectors.opcua_said import CycleEvent
from shotlog.collectors.opcua_screw import SCREW, diameter_in, screw_path
from shotlog.collectors.opcua_units import Geometry
from shotlog.collectors.opcua_wire import Wire
from shotlog.errors import UsageError
from shotlog.learning.asking import Questions
from shotlog.learning.event_keys import Watched, counter_of, learnt_events
from shotlog.learning.learnt import Learnt, Wishes
from shotlog.learning.session import shot_said
from shotlog.settings import PressSettings

__all__ = ["learn_events"]

_TELL_S = 20.0
_PAUSE_S = 0.1


def _over_the_wire(server: Server) -> Wire:
    from shotlog.collectors.opcua_client import OpcClient

    return OpcClient(server)


def learn_events(
    press: PressSettings, wishes: Wishes, clock: Clock, connect: Callable[[Server], Wire] = _over_the_wire
) -> Learnt:
    """Listen to a press while it shoots and propose its map.

    Raises
    ------
    SettingsError
        The configuration does not say where the press is.
    PressUnreachable, PressRefused
        It cannot be reached, was lost, or refuses.
    """
    if wishes.registers or wishes.table:
        raise UsageError(f"press {press.name} sends events: --registers and --kind are of presses with registers")
    section = press.collector
    server = read_server(section)
    screw_mm = section.number("screw_diameter_mm", 5.0, 200.0) if section.has("screw_diameter_mm") else None
    ratio = section.number("intensification_ratio", 1.0, 50.0) if section.has("intensification_ratio") else None
    unit = section.integer("injection_unit", 0, 99) if section.has("injection_unit") else None
    wishes.tell(
        f"{press.name}: browses and listens at {server.url} and sends nothing but requests to read, until "
        f"{wishes.n_shots} cycle events came, {wishes.most_s / 60:g} minutes at most. Ctrl-C ends it sooner and keeps "
        "what was found."
    )
    wire = connect(server)
    offer = wire.open([SCREW])
    events: list[CycleEvent] = []
    seen = list(wishes.seen)
    screw = screw_path(offer.read, unit or 1)

    def watched() -> Watched:
        eu = offer.read.get(f"{screw}/EngineeringUnits")
        told = diameter_in(offer.read.get(screw), str(eu.value) if eu is not None and eu.value else "")
        known = units_told(offer, events[-1]) if events else offer
        return Watched(known, events, Geometry(screw_mm if screw_mm is not None else told, ratio), unit)

    def counts() -> list[Sequence[int]]:
        events.extend(wire.turn())  # what came while a person was asked
        found = counter_of(watched(), seen)
        return [found[1]] if found is not None else []

    try:
        wire.subscribe(with_units(offer, offer.fields))
        questions, never = Questions(wishes.ask), threading.Event()
        began = told_at = clock.monotonic()
        n_told = 0
        while clock.monotonic() - began < wishes.most_s:
            events += wire.turn()
            clock.wait(never, _PAUSE_S)
            if len(events) != n_told:
                n_told = len(events)
                found = counter_of(watched(), seen)
                shows = f": {found[0]} shows {found[1][-1]}" if found is not None else ""
                wishes.tell(f"{shot_said(n_told, wishes.n_shots)}{shows}")
                if found is not None and questions.are_due(n_told - 1):
                    answer = questions.put(counts)
                    if answer is not None:
                        seen.append(answer)
                if n_told >= wishes.n_shots and not questions.keep_on:
                    break
            elif not events and clock.monotonic() - told_at >= _TELL_S:
                told_at = clock.monotonic()
                wishes.tell("no cycle event came yet: is the press in automatic, and may this user see its events?")
    except KeyboardInterrupt:
        wishes.tell("stopped: this is what was found until then")
    finally:
        wire.close()
    channels = section.peek("channels")
    there = {k: v for k, v in channels.items() if isinstance(v, Mapping)} if isinstance(channels, Mapping) else {}
    return learnt_events(watched(), seen, there)
