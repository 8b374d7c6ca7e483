"""The whole chain of one part as blocks of rows: what `shotlog part` prints is what its page shows."""

from datetime import datetime

from shotlog.answers.table import Cell, Table
from shotlog.parts.standing import Decision
from shotlog.records import Verdict
from shotlog.review.chain import BesideOthers, MadeHalf, PartChain
from shotlog.review.held import gravest
from shotlog.wording.entries import entry_text, half_named
from shotlog.wording.numbers import heading, number, shots_named, some, value
from shotlog.wording.parts import decision_text, doubt_text, lifted_text, result_text
from shotlog.wording.pictures import picture_text
from shotlog.wording.set_points import set_name, set_since, set_value
from shotlog.wording.times import clock_time
from shotlog.wording.verdicts import announced
from shotlog.wording.where import NOWHERE, bath_named, where_text
from shotlog.wording.who import by_whom, who_said

__all__ = ["STATES", "blocks_of", "part_named"]

STATES = {"made": "nothing against it", "held": "HELD", "released": "released", "scrapped": "scrapped"}
"""How a part stands, in the words of the screens."""

_WORDS = ("", "")


def part_named(chain: PartChain) -> str:
    """Return which part it is, the cavity only where its shot made several."""
    part = chain.part
    cavity = f", cavity {part.cavity} of {chain.n_cavities}" if chain.n_cavities > 1 else ""
    return f"{part.press}, shot {part.shot}{cavity}"


def blocks_of(chain: PartChain, now: datetime) -> tuple[Table, ...]:
    """Return all that is known of a part at a time, in the order in which it is asked."""
    return (
        _stands(chain, now),
        _made_with(chain),
        *_set_to(chain),
        _values(chain),
        _noted(chain),
        _against(chain),
        _said(chain),
        _been(chain),
        _inspected(chain),
        _decided(chain),
        _pictured(chain),
    )


def _stands(chain: PartChain, now: datetime) -> Table:
    standing = chain.standing
    again = "; held again: something newer than its release speaks against it" if standing.again else ""
    rows: list[tuple[Cell, ...]] = [("state", STATES[standing.state] + again)]
    main = gravest(standing.doubts)
    why = [] if standing.decision is None or standing.again else [_decision(chain, standing.decision)]
    why += [doubt_text(main)] if main is not None and (not why or standing.state == "held") else []
    rows += [("why", "; ".join(why))] if why else []
    rows += [("where it is", where_text(chain.where, now))]
    rows += [("moulded", "while nobody was logging" if standing.made.time is None else clock_time(standing.made.time))]
    return Table("stands", _WORDS, tuple(rows), title="How it stands")


def _decision(chain: PartChain, decision: Decision) -> str:
    return f"{decision_text(decision)}{by_whom(chain.who('dispositions', decision.entry_id))}"


def _against(chain: PartChain) -> Table:
    standing, main = chain.standing, gravest(chain.standing.doubts)
    rest = [doubt for doubt in standing.doubts if doubt is not main]
    said = [*([main] if main is not None else []), *rest]
    rows: list[tuple[Cell, ...]] = [(f"{n}", doubt_text(doubt)) for n, doubt in enumerate(said, 1)]
    rows += [("no longer", lifted_text(one)) for one in standing.lifted]
    return Table("against", _WORDS, tuple(rows), title="All that speaks against it", empty="nothing")


def _made_with(chain: PartChain) -> Table:
    rows: list[tuple[Cell, ...]] = [(half_named(one.half), _half(one)) for one in chain.halves]
    rows += [("insert", "none on record")] if not chain.halves else []
    made = chain.standing.made
    rows += [("lot", made.lot or "not noted"), ("set-up", made.setup or "not noted")]
    return Table("made with", _WORDS, tuple(rows), title="Made with")


def _set_to(chain: PartChain) -> list[Table]:
    """Return what the press was set to; no block where it does not tell."""
    rows = tuple(
        (
            set_name(one.name),
            set_value(one.value, one.unit),
            set_since(one.since, one.by, one.is_change or not one.value),
        )
        for one in chain.set_points
    )
    heads = ("Set-point", "Set to", "Since")
    return [Table("set to", heads, rows, title="What the press was set to")] if rows else []


def _half(one: MadeHalf) -> str:
    held, made = one.held, one.made
    words = [
        held.serial,
        held.design,
        f"print batch {held.print_batch}" if held.print_batch else "print batch not noted",
    ]
    if made is not None:
        plate = " ".join(filter(None, (made.plate, made.plate_position)))
        words += [f"plate position {plate}" if plate else "", made.resin, made.post_cure]
    words.append("a piece of its own for this shot" if one.on_insert is None else f"shot {one.on_insert} of this half")
    return ", ".join(filter(None, words))


def _values(chain: PartChain) -> Table:
    heads = ("Value", "This part", "Neighbours, median", "Away, in spreads", "Lowest", "Highest")
    rows = tuple(_value(one) for one in chain.beside)
    return Table(
        "values", heads, rows, frozenset(heads[1:]), title="Values beside its neighbours",
        about=_neighbours(chain) if rows else "", empty="none: the press counted this shot and nobody saw it",
    )  # fmt: skip


def _value(one: BesideOthers) -> tuple[Cell, ...]:
    off = "" if one.off is None else number(one.off, 1) if one.off < 0 else f"+{one.off:.1f}"
    middle, low, high = (value(one.channel, given, none="") for given in (one.median, one.low, one.high))
    return (heading(one.channel), value(one.channel, one.value), middle, off, low, high)


def _neighbours(chain: PartChain) -> str:
    first = "the onset" if chain.before < chain.part.shot else "it"
    settled = chain.said is not None and chain.said.settling
    warming = " This shot was still settling, which moves values by itself." if settled else ""
    if not chain.neighbours:
        return f"There is no part with nothing against it before {first} to set it beside.{warming}"
    shots = shots_named(chain.neighbours[0], chain.neighbours[-1])
    how = "the same reused inserts, lot and set-up" if chain.alike else "OTHER inserts, lot or set-up"
    but = "nothing against them"
    if chain.held_too:
        but = "nothing against them but what was found on an insert later, for which some are held as well"
    n = some(len(chain.neighbours), "part")
    return f"Beside {n}, {shots}: the nearest before {first} with {but}, made with {how}.{warming}"


def _noted(chain: PartChain) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (
            entry_text(one.event.kind, one.event.text),
            clock_time(one.event.time),
            who_said(chain.who("events", one.entry_id)),
        )
        for one in chain.notes
    ]
    return Table("noted", ("Entry", "Entered", "By"), tuple(rows), title="Noted at its shot", empty="nothing")


def _said(chain: PartChain) -> Table:
    rows: list[tuple[Cell, ...]] = []
    if chain.first_said is not None and chain.said is not None and _verdict(chain.first_said) != _verdict(chain.said):
        rows.append(("on the day", _verdict(chain.first_said)))
        rows.append(("judged again", _verdict(chain.said)))
    elif chain.said is not None:
        rows.append(("on the day", _verdict(chain.said)))
    elif chain.archive:
        rows.append(("on the day", f"no change seen; the whole of it is in the archive {chain.archive}"))
    rows += [
        ("signal", f"{heading(one.channel)} {value(one.channel, one.value)}: {one.rule}, {one.chart} chart, limits "
                 f"{value(one.channel, one.lower)} to {value(one.channel, one.upper)}")
        for one in chain.signals
    ]  # fmt: skip
    rows += [("weighing", f"{chain.weighed.grams:.3f} g, number {chain.weighed.weighing_id}: {chain.weighed.why}")] \
        if chain.weighed is not None else []  # fmt: skip
    return Table("said", _WORDS, tuple(rows), title="What the tool said of its shot", empty="not judged")


def _verdict(said: Verdict) -> str:
    return announced(said) + (" (settling)" if said.settling else "")


def _been(chain: PartChain) -> Table:
    said: list[tuple[datetime, str, str]] = []
    for one in chain.soaks:
        out = f"due {clock_time(one.due)}"
        if one.came_out is not None:
            by = by_whom(chain.who("soak_ends", one.end_id))
            out = f"out {clock_time(one.came_out)}{by} (bath-out {one.end_id})"
        left = "; something of the half LEFT" if one.came_out is not None and not one.cleared else ""
        remark = f"; {one.remark}" if one.remark else ""
        into = f"in {clock_time(one.went_in)}{by_whom(chain.who('soaks', one.entry_id))} (bath-in {one.entry_id})"
        words = f"{into}, {out}{left}{remark}"
        said.append((one.went_in, bath_named(one.bath), words))
    for place in chain.places:
        due = "" if place.due is None else f", due {clock_time(place.due)}"
        by = by_whom(chain.who("places", place.entry_id))
        said.append((place.put, place.place, f"since {clock_time(place.put)}{due}{by} (place {place.entry_id})"))
    rows = tuple((where, words) for _, where, words in sorted(said))
    return Table("been", _WORDS, rows, title="Where it has been", empty=NOWHERE)


def _inspected(chain: PartChain) -> Table:
    heads = ("Result", "When", "Bad", "Half", "With", "By", "Number")
    rows = tuple(
        (
            result_text(one), clock_time(one.inspected), "BAD" if one.bad else "", one.half, one.instrument,
            who_said(chain.who("inspections", one.entry_id)), one.entry_id,
        )
        for one in chain.inspections
    )  # fmt: skip
    return Table("inspected", heads, rows, title="Inspected", empty="not yet")


def _decided(chain: PartChain) -> Table:
    heads = ("Decision", "When", "By", "Number")
    rows = tuple(
        (decision_text(one), clock_time(one.time), who_said(chain.who("dispositions", one.entry_id)), one.entry_id)
        for one in chain.decisions
    )
    return Table("decided", heads, rows, title="Decided", empty="nobody has yet")


def _pictured(chain: PartChain) -> Table:
    rows = tuple(
        (picture_text(one), who_said(chain.who("pictures", one.entry_id)), one.entry_id, f"sha256 {one.digest}")
        for one in chain.pictures
    )
    return Table(
        "pictured", ("Picture", "By", "Number", "Digest"), rows, title="Pictured", empty="no picture was taken of it"
    )
