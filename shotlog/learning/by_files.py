"""Learning a press that writes its shots into files by EUROMAP 63: ask what it knows, order a report, watch, propose.

Asked for are the values that it says are measured, in a unit that one of our channels may have; the report is our own,
and ended when all was seen. In the passive way nothing is asked, and the report is the one that somebody else ordered.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from shotlog.clock import Clock
from shotlog.collectors.euromap63 import without_map
from shotlog.collectors.euromap_folder import Folder, FolderToOrder
from shotlog.collectors.euromap_follow import Appended, Follower, follower
from shotlog.collectors.euromap_known import discover
from shotlog.collectors.euromap_lists import KnownToken
from shotlog.collectors.euromap_options import EuromapOptions
from shotlog.collectors.euromap_orders import Orders
from shotlog.collectors.euromap_passive import reports_there
from shotlog.collectors.euromap_rows import fields_of, token_key
from shotlog.collectors.euromap_session import Pause, PressSession
from shotlog.collectors.euromap_usual import COUNTERS, USUAL_TOKENS
from shotlog.errors import PressRefused, PressUnreachable, UsageError
from shotlog.learning.asking import Questions
from shotlog.learning.learnt import Learnt, Wishes
from shotlog.learning.line_guesses import propose_lines
from shotlog.learning.screen import ScreenShot
from shotlog.learning.session import shot_said
from shotlog.learning.token_keys import TokenLines, layout_of_tokens, learnt_tokens
from shotlog.learning.words import unit_in
from shotlog.settings import PressSettings

__all__ = ["learn_files", "worth_asking"]

_WAIT_S = 0.5
_TELL_S = 20.0
_MOST_TOKENS = 60
"""Values that are asked for at once: a press may know thousands."""


@dataclass(slots=True)
class _Heard:
    """The lines of a report so far, by the header before them."""

    encoding: str
    names: list[str] = field(default_factory=list)
    rows: list[list[str]] = field(default_factory=list)

    def hear(self, raws: Sequence[bytes]) -> None:
        for raw in raws:
            text = raw.decode(self.encoding, errors="replace").strip().removesuffix(";")
            names = fields_of(text)
            if len(names) > 1 and not any(one.replace(".", "").isdecimal() for one in names):
                if [token_key(one) for one in names] != [token_key(one) for one in self.names]:
                    self.names, self.rows = names, []
                continue
            fields = fields_of(text, brackets=False)
            if len(fields) == len(self.names):
                self.rows.append(fields)


def learn_files(press: PressSettings, wishes: Wishes, clock: Clock, pause: Pause | None = None) -> Learnt:
    """Watch the reports of a press while it shoots and propose its map.

    Raises
    ------
    SettingsError
        The configuration does not say where the press is.
    PressUnreachable, PressRefused
        The folder is away, the press does not answer, or refuses.
    """
    if wishes.registers or wishes.table:
        raise UsageError(f"press {press.name} writes files: --registers and --kind are of presses with registers")
    chosen = without_map(press.collector, pause)
    what = f"until {wishes.n_shots} shots were written, {wishes.most_s / 60:g} minutes at most"
    stop = "Ctrl-C ends it sooner and keeps what was found."
    if chosen.is_passive:
        wishes.tell(
            f"{press.name}: follows report {chosen.report} in {chosen.folder} and writes nothing, {what}. {stop}"
        )
        return _watch_passive(press, chosen, wishes, clock)
    wishes.tell(
        f"{press.name}: asks the press in {chosen.folder} what it knows and orders a report of its own, {what}; it "
        f"sets nothing, and ends that report. {stop}"
    )
    folder = FolderToOrder(chosen.folder, chosen.session)
    folder.files()
    session = PressSession(folder, chosen.session, chosen.timeout_s, chosen.pause)
    session.connect()
    known = discover(session, chosen)
    orders = Orders(folder, session, chosen.session, clock)
    job = _order(orders, known.tokens, wishes.tell)
    try:
        heard = _Heard(known.encoding)
        seen = _watch(Appended(folder, f"{job}.DAT"), heard, chosen, wishes, clock, known.tokens)
    finally:
        try:
            orders.end(job)
            orders.delete(job)
        except (PressUnreachable, PressRefused) as error:
            wishes.tell(f"job {job} could not be ended: {error}")
    return learnt_tokens(TokenLines(heard.names, heard.rows, known.tokens), press, seen)


def _order(orders: Orders, tokens: Mapping[str, KnownToken], tell: Callable[[str], None]) -> str:
    asked = worth_asking(tokens)
    try:
        return orders.try_out(["DATE", "TIME", *asked])
    except PressRefused as error:
        usual = {token_key(one) for found in USUAL_TOKENS.values() for one in found} | {token_key(COUNTERS[0])}
        fewer = [one for one in asked if token_key(one) in usual]
        if not fewer or len(fewer) == len(asked):
            raise
        tell(f"{error}; {len(fewer)} usual tokens are asked for in place of {len(asked)}")
        return orders.try_out(["DATE", "TIME", *fewer])


def worth_asking(tokens: Mapping[str, KnownToken]) -> list[str]:
    """Return the tokens that may be a counter or a channel: the usual ones, then what is measured in a fitting unit.

    A press that gave no list is asked for the usual ones.
    """
    usual = [one for found in USUAL_TOKENS.values() for one in found]
    if not tokens:
        return [COUNTERS[0], *(found[0] for found in USUAL_TOKENS.values())]
    there = [tokens[token_key(one)].name for one in (COUNTERS[0], *usual) if token_key(one) in tokens]
    counters = [one.name for key, one in tokens.items() if key.startswith("actcnt") and one.numeric]
    others = [one.name for key, one in tokens.items() if key.startswith("act") and one.numeric and unit_in(one.unit)]
    found = list(dict.fromkeys([*there, *counters[:5], *others]))[:_MOST_TOKENS]
    return found if any(token_key(one).startswith("actcnt") for one in found) else ["COUNT", *found]


def _watch_passive(press: PressSettings, chosen: EuromapOptions, wishes: Wishes, clock: Clock) -> Learnt:
    folder = Folder(chosen.folder)
    names = reports_there(folder, chosen.report)
    if not names:
        raise PressUnreachable(f"no report {chosen.report} lies in {chosen.folder}")
    heard = _Heard(chosen.encoding or "cp850")
    report = follower(folder, names[-1], chosen.rewritten, clock)
    if isinstance(report, Appended):
        heard.hear(report.backlog())
        del heard.rows[: -wishes.n_shots]  # what lies there already is as good as what is watched
    seen = _watch(report, heard, chosen, wishes, clock, {})
    return learnt_tokens(TokenLines(heard.names, heard.rows, {}), press, seen)


def _watch(
    report: Follower,
    heard: _Heard,
    chosen: EuromapOptions,
    wishes: Wishes,
    clock: Clock,
    known: Mapping[str, KnownToken],
) -> list[ScreenShot]:
    """Take lines until enough shots were seen; return what was read off the screen by then."""
    began = told = clock.monotonic()
    n_told = 0
    questions = Questions(wishes.ask)
    seen = [*wishes.seen]

    def watched() -> list[Sequence[int]]:
        heard.hear(report.look())  # what was written while a person was asked
        layout = layout_of_tokens(TokenLines(heard.names, heard.rows, known))
        return [propose_lines(layout, seen).counts] if layout is not None else []

    try:
        while clock.monotonic() - began < wishes.most_s:
            heard.hear(report.look())
            now, n_rows = clock.monotonic(), len(heard.rows)
            if n_rows != n_told:
                n_told = n_rows
                wishes.tell(shot_said(n_rows, wishes.n_shots))
                if questions.are_due(n_rows - 1):
                    answer = questions.put(watched)
                    if answer is not None:
                        seen.append(answer)
            elif now - told >= _TELL_S and not n_rows:
                told = now
                wishes.tell("no shot was written yet: is the press in automatic mode?")
            if n_rows >= wishes.n_shots and not questions.keep_on:
                break
            chosen.pause(_WAIT_S)
    except KeyboardInterrupt:
        wishes.tell("stopped: this is what was found until then")
    return seen
