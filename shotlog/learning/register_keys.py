"""A proposal of registers as the keys of a configuration, and in plain words. Pure."""

from collections import Counter
from collections.abc import Mapping

from shotlog.channels import CHANNELS
from shotlog.collectors.register_map import Cell
from shotlog.collectors.registers import TYPES, RegisterSpan
from shotlog.learning.config_text import ONLY_POSSIBLE, MapText, toml_value
from shotlog.learning.counting import Counting
from shotlog.learning.guesses import Guess
from shotlog.learning.places import place_said, type_said
from shotlog.learning.proposal import RegisterFound, RegisterProposal

__all__ = ["channel_keys", "counter_keys", "map_of", "scale_said", "why"]

_MAY_BE_NEGATIVE = ("cushion", "switchover_position", "melt_temperature", "insert_temperature")
_NUMBERED = 30001
"""From here on an address is taken for a number out of a printed map, unless the configuration says that it is none."""

_SIGNED = {"uint16": "int16", "uint32": "int32"}


def type_of(guess: Guess) -> str:
    """Return the type to be written: with a sign where the channel may go below zero and there is room for it."""
    kind = guess.cell.kind
    signed = _SIGNED.get(kind.name)
    raws = [raw for raw in guess.series.raws if raw is not None]
    if signed and guess.channel in _MAY_BE_NEGATIVE and max(raws) <= kind.highest // 4:
        return signed
    return kind.name


def orders(proposal: RegisterProposal, usable: tuple[RegisterFound, ...]) -> tuple[str, str]:
    """Return the word and byte order most of the numbers have."""
    cells = [found.guess.cell for found in usable]
    cells += [proposal.counter.counting.cell] if proposal.counter else []
    wide = Counter(cell.word_order for cell in cells if cell.kind.words > 1)
    swapped = Counter(cell.byte_order for cell in cells)
    return (wide.most_common(1) or [("big", 0)])[0][0], (swapped.most_common(1) or [("big", 0)])[0][0]


def _own_orders(cell: Cell, usual: tuple[str, str]) -> dict[str, object]:
    keys: dict[str, object] = {}
    if cell.kind.words > 1 and cell.word_order != usual[0]:
        keys["word_order"] = cell.word_order
    if cell.byte_order != usual[1]:
        keys["byte_order"] = cell.byte_order
    return keys


def channel_keys(guess: Guess, usual: tuple[str, str]) -> dict[str, object]:
    """Return the keys of a channel."""
    keys: dict[str, object] = {"address": guess.cell.span.address, "type": type_of(guess)}
    if guess.scale != 1.0:
        keys["scale"] = guess.scale
    keys |= {"unit": guess.unit} | _own_orders(guess.cell, usual)
    if guess.series.missing is not None:
        keys["missing"] = guess.series.missing
    if guess.series.timing.kind == "live":
        keys["live"] = True
    return keys


def counter_keys(counting: Counting, usual: tuple[str, str]) -> dict[str, object]:
    """Return the keys of the shot counter."""
    keys: dict[str, object] = {"address": counting.cell.span.address, "type": counting.cell.kind.name}
    keys |= _own_orders(counting.cell, usual)
    if counting.last_count is not None and counting.last_count != counting.cell.kind.highest:
        keys["last_count"] = counting.last_count
    return keys


def map_of(proposal: RegisterProposal, table: str, there: Mapping[str, Mapping[str, object]]) -> MapText | None:
    """Return what is to be written, what is only possible as remarks; None where nothing is sure enough.

    Parameters
    ----------
    there
        The channels the configuration has; those whose registers are now another's give way.
    """
    usable = tuple(found for found in proposal.channels if found.sure != "possible")
    if proposal.counter is None or not usable:
        return None
    usual = orders(proposal, usable)
    counting = proposal.counter.counting
    keys: dict[str, object] = {"table": table, "word_order": usual[0]}
    keys["byte_order"] = usual[1] if usual[1] != "big" else None
    if proposal.settle_s:
        keys["settle_s"] = proposal.settle_s
    keys["shot_counter"] = counter_keys(counting, usual)
    channels = {found.channel: channel_keys(found.guess, usual) for found in _in_order(usable)}
    taken = [counting.cell.span, *(found.guess.cell.span for found in usable)]
    if any(span.address >= _NUMBERED for span in taken):
        keys["high_addresses"] = True
    gone = [name for name, one in there.items() if name not in channels and any(_touches(one, span) for span in taken)]
    remarks = [
        f"{found.channel} = {toml_value(channel_keys(found.guess, usual))}  {ONLY_POSSIBLE}"
        for found in _in_order(proposal.channels)
        if found.sure == "possible" and found.channel not in there
    ]
    return MapText(keys, channels, remarks, gone)


def _touches(keys: Mapping[str, object], span: RegisterSpan) -> bool:
    address, kind = keys.get("address"), TYPES.get(str(keys.get("type")))
    return isinstance(address, int) and kind is not None and RegisterSpan(address, kind.words).overlaps(span)


def _in_order(found: tuple[RegisterFound, ...]) -> list[RegisterFound]:
    names = list(CHANNELS)
    return sorted(found, key=lambda one: names.index(one.channel))


def scale_said(guess: Guess) -> str:
    """Return scale and unit: ``x 0.01 mm``."""
    return guess.unit if guess.scale == 1.0 else f"x {guess.scale:g} {guess.unit}"


_MOVES = {
    "shot": "changes once a shot",
    "seldom": "changes at some shots, never between them",
    "live": "moves between shots as well",
    "still": "never moved: it may be a set-point",
}


def why(found: RegisterFound) -> str:
    """Say in plain words why these registers, and what else fits."""
    guess = found.guess
    said = [_MOVES[guess.series.timing.kind]]
    if guess.n_fits:
        figures = "figure" if guess.n_fits == 1 else f"{guess.n_fits} figures"
        said.insert(0, f"shows the {figures} read off the screen")
    elif found.timed:
        said.append("is the time between counts, as measured")
    if guess.series.timing.early:
        said.append("is there before the count")
    elif guess.series.timing.late_s > 0:
        said.append(f"comes up to {guess.series.timing.late_s:.2g} s after the count")
    if found.same:
        said.append("the same stands in " + _places(found.same))
    if found.rivals:
        said.append("fits about as well: " + "; ".join(_rival(one) for one in found.rivals[:3]))
    if found.sure == "possible" and not guess.n_fits:
        said.append("only by its usual level: read the screen")
    elif found.sure != "settled" and guess.n_fits and not found.rivals:
        said.append("so few digits may agree by luck: read one more shot off the screen")
    return "; ".join(said)


def _places(others: tuple[Guess, ...]) -> str:
    return ", ".join(place_said(one.cell) for one in others[:4])


def _rival(guess: Guess) -> str:
    return f"{place_said(guess.cell)} as {type_said(guess.cell)} {scale_said(guess)} (about {guess.level:.4g})"
