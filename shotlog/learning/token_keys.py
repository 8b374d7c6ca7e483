"""Tokens of EUROMAP 63 as columns that may be channels, and what is proposed of them for a configuration. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shotlog.channels import CHANNELS
from shotlog.collectors.euromap_lists import KnownToken
from shotlog.collectors.euromap_rows import is_absent, token_key
from shotlog.collectors.euromap_usual import COUNTERS, USUAL_TOKENS, keys_of
from shotlog.collectors.lines import number
from shotlog.learning.config_text import ONLY_POSSIBLE, MapText, toml_value
from shotlog.learning.figures_said import figures_said, odd_said, unsettled_said
from shotlog.learning.layout import Layout, LineColumn
from shotlog.learning.learnt import Learnt, Row
from shotlog.learning.line_guesses import LineFound, LineProposal, propose_lines
from shotlog.learning.screen import ScreenShot
from shotlog.settings import PressSettings

__all__ = ["TokenLines", "layout_of_tokens", "learnt_tokens"]

_FEWEST = 3


@dataclass(frozen=True, slots=True)
class TokenLines:
    """The lines of shots: `names` of the columns as in the header, `rows` of their fields, and what GETID says."""

    names: Sequence[str]
    rows: Sequence[Sequence[str]]
    known: Mapping[str, KnownToken]

    def token(self, at: int) -> KnownToken:
        """Return what is known of a column."""
        name = self.names[at]
        return self.known.get(token_key(name), KnownToken(name, True, "", ""))


def layout_of_tokens(lines: TokenLines) -> Layout | None:
    """Return the columns that hold numbers, and those that count shots; None where none counts yet."""
    columns = [made for at in range(len(lines.names)) if (made := _column(lines, at)) is not None]
    counting = [one for one in columns if _counts(one.tokens)]
    best = {token_key(name): n for n, name in enumerate(COUNTERS)}
    counting.sort(key=lambda one: best.get(token_key(lines.names[one.at]), len(best)))
    if not counting or len(columns) < 2 or len(lines.rows) < _FEWEST:
        return None
    texts = tuple(",".join(row) for row in lines.rows)
    return Layout("latin-1", ",", ".", len(lines.names), tuple(columns), tuple(counting), texts, (), tuple(lines.names))


def _column(lines: TokenLines, at: int) -> LineColumn | None:
    key = token_key(lines.names[at])
    tokens = tuple("" if is_absent(row[at]) else row[at] for row in lines.rows)
    if key in ("date", "time") or sum(map(bool, tokens)) < 0.5 * len(tokens):
        return None
    try:
        for token in filter(None, tokens):
            number(token, ".")
    except ValueError:
        return None
    known = lines.token(at)
    labels = [CHANNELS[channel].label for channel, usual in USUAL_TOKENS.items() if key in map(token_key, usual)]
    labels += ["shot counter"] if key in map(token_key, COUNTERS) else []
    return LineColumn(at, "", "", " ".join([*labels, known.text]), known.unit, tokens)


def _counts(tokens: Sequence[str]) -> bool:
    counts = [int(one) for one in tokens if one.isdecimal()]
    steps = [b - a for a, b in pairwise(counts)]
    return len(counts) == len(tokens) >= _FEWEST and sum(step == 1 for step in steps) >= 0.7 * len(steps)


def learnt_tokens(lines: TokenLines, press: PressSettings, seen: Sequence[ScreenShot]) -> Learnt:
    """Return what the tokens are taken for, as rows, notes, keys and plain data."""
    layout = layout_of_tokens(lines)
    if layout is None:
        said = (
            "no shot was written"
            if not lines.rows
            else f"{len(lines.rows)} shots were written, and no token counts them"
        )
        return Learnt([], [said], None, {"shot_counter": None, "channels": {}, "lines": len(lines.rows)})
    proposal = propose_lines(layout, seen)
    proposal = replace(proposal, channels=tuple(_moving(found) for found in proposal.channels))
    channels = press.collector.peek("channels")
    there = {k: v for k, v in channels.items() if isinstance(v, Mapping)} if isinstance(channels, Mapping) else {}
    made = _map_of(lines, proposal, there)
    counter = _where(lines, proposal.counter)
    reason = f"went up by one from shot to shot, {proposal.counts[0]} to {proposal.counts[-1]}"
    if proposal.counter_rivals:
        reason += "; as well counts: " + ", ".join(_where(lines, one) for one in proposal.counter_rivals)
    latest = " ".join(map(str, proposal.counts[-3:]))
    rows = [Row("shot_counter", counter, "token", "", latest, proposal.counter_sure, reason)]
    for found in proposal.channels:
        shown = " ".join(token or "-" for token in found.column.tokens[-3:])
        scale = "" if found.guess.scale == 1 else f"x {found.guess.scale:g} "
        unit = f"{scale}{found.guess.unit}"
        rows.append(
            Row(found.channel, _where(lines, found.column), "token", unit, shown, found.sure, _why(lines, found))
        )
    return Learnt(rows, _notes(lines, proposal, made), made, _document(lines, proposal))


def _moving(found: LineFound) -> LineFound:
    """Return what was found; a value that never moved with the shots, and is on no screen, is only possible."""
    stands = found.guess.series.timing.kind == "still" and not found.guess.n_fits
    return replace(found, sure="possible") if stands else found


def _where(lines: TokenLines, column: LineColumn) -> str:
    return f"token {lines.names[column.at]}"


def _keys(lines: TokenLines, found: LineFound) -> dict[str, object]:
    """Return the keys of a channel; its unit only where the press does not say one that can be converted."""
    keys: dict[str, object] = dict(keys_of(found.channel, lines.token(found.column.at)))
    keys["token"] = lines.names[found.column.at]
    if found.guess.scale != 1.0:
        keys["scale"] = found.guess.scale
    return keys | ({"unit": found.guess.unit} if "unit" in keys else {})


def _map_of(lines: TokenLines, proposal: LineProposal, there: Mapping[str, Mapping[str, object]]) -> MapText | None:
    in_order = sorted(proposal.channels, key=lambda one: list(CHANNELS).index(one.channel))
    usable = [found for found in in_order if found.sure != "possible"]
    if not usable:
        return None
    channels = {found.channel: _keys(lines, found) for found in usable}
    used = {token_key(str(keys["token"])) for keys in channels.values()}
    gone = [name for name in there if name not in channels and token_key(str(there[name].get("token", ""))) in used]
    remarks = [
        f"{found.channel} = {toml_value(_keys(lines, found))}  {ONLY_POSSIBLE}"
        for found in in_order
        if found.sure == "possible" and found.channel not in there
    ]
    return MapText({"shot_counter": {"token": lines.names[proposal.counter.at]}}, channels, remarks, gone)


def _why(lines: TokenLines, found: LineFound) -> str:
    token = lines.token(found.column.at)
    said = []
    if found.guess.n_fits:
        figures = "figure" if found.guess.n_fits == 1 else f"{found.guess.n_fits} figures"
        said.append(f"shows the {figures} read off the screen")
    if token_key(token.name) in map(token_key, USUAL_TOKENS.get(found.channel, ())):
        said.append("the usual token")
    elif found.named:
        said.append(f"the press calls it {token.text!r}")
    if found.unit:
        said.append(f"the press gives it in {token.unit}")
    else:
        agreed = "as on the screen" if found.guess.n_fits else "only assumed"
        said.append(f"the press gives no unit: {found.guess.unit} {agreed}")
    if found.guess.series.timing.kind == "still":
        said.append("never moved: it may be a set-point")
    if found.rivals:
        said.append("fits about as well: " + ", ".join(_where(lines, one) for one in found.rivals[:3]))
    return "; ".join(said)


def _notes(lines: TokenLines, proposal: LineProposal, made: MapText | None) -> list[str]:
    notes = [f"{len(lines.rows)} shots were watched, of {len(lines.names)} values that were asked for or written"]
    notes += figures_said(proposal.unmatched, proposal.doubt, "token")
    for found in proposal.channels:
        odd = proposal.doubt.odd.get(found.channel)
        if odd is not None:
            where = _where(lines, found.column)
            notes.append(odd_said(found.channel, where, found.guess, odd, proposal.counts[odd.at]))
    for one in proposal.unseen:
        notes.append(f"shot {one} was read off the screen and never written here: its figures settle nothing")
    return notes + unsettled_said([found.sure for found in proposal.channels], made is not None)


def _document(lines: TokenLines, proposal: LineProposal) -> dict[str, object]:
    return {
        "shots": list(proposal.counts),
        "shot_counter": {
            "token": lines.names[proposal.counter.at],
            "sure": proposal.counter_sure,
            "as_well": [{"token": lines.names[one.at]} for one in proposal.counter_rivals],
        },
        "channels": {
            found.channel: _keys(lines, found)
            | {
                "press_unit": lines.token(found.column.at).unit,
                "sure": found.sure,
                "share": round(found.share, 3),
                "why": _why(lines, found),
                "latest": list(found.column.tokens[-3:]),
                "as_well": [{"token": lines.names[one.at]} for one in found.rivals],
            }
            for found in proposal.channels
        },
        "unmatched": list(proposal.unmatched),
        "unseen": list(proposal.unseen),
    }
