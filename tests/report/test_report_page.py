"""The report as a file: complete in itself, well formed, the same bytes again, and plain about what is not there."""

import re
from dataclasses import replace
from datetime import UTC, timedelta, timezone
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from shotlog.parts.doubt import Lifted
from shotlog.records import OtherChange
from shotlog.report import render
from shotlog.report.decisions import decisions_section
from shotlog.review import Review, review
from shotlog.review.look_first import ToInspect
from shotlog.review.lots import LotChange
from shotlog.review.outages import Outage
from shotlog.review.rejudged import Rejudged
from shotlog.review.series import OddPiece
from shotlog.review.shared import Shared
from shotlog.review.weighed import WeighedCounts
from shotlog.settings import Settings
from shotlog.store.log.log import open_log
from tests.review.made_up_log import LATER, fill, settings_in, spoil
from tests.review.made_up_press import at

VOID = {"meta", "br", "link", "img", "hr"}


@pytest.fixture(scope="session")
def whole(afternoon: Settings) -> Review:
    with open_log(afternoon.store) as log:
        return review(log, afternoon, LATER)


@pytest.fixture(scope="session")
def page(whole: Review) -> str:
    return render(whole, UTC)


def of(settings: Settings, since: object = None) -> str:
    with open_log(settings.store) as log:
        return render(review(log, settings, LATER, since), UTC)


class Nesting(HTMLParser):
    """Fails where an element is closed that is not the one open."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.ids += [value for name, value in attrs if name == "id" and value]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.ids += [value for name, value in attrs if name == "id" and value]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, self.getpos()

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def read(page: str) -> Nesting:
    parser = Nesting()
    parser.feed(page)
    parser.close()
    assert parser.open == []
    return parser


def test_every_element_is_closed_where_it_should_be(page: str) -> None:
    assert "Decisions to take" in " ".join(read(page).text)


def test_every_figure_is_well_formed_and_says_what_it_shows(page: str) -> None:
    figures = re.findall(r"<svg .*?</svg>", page, flags=re.DOTALL)
    assert len(figures) == 1 + 4 + 1
    for figure in figures:
        assert ElementTree.fromstring(figure).attrib["aria-label"]  # noqa: S314  (a page of our own making)


@pytest.mark.file
def test_nothing_is_loaded_from_anywhere(page: str) -> None:
    named = set(re.findall(r"[a-z]+://[^\s\"'<)]+", page))
    assert [name for name in named if "www.w3.org" not in name and not name.startswith("sqlite:")] == []
    assert not re.search(r"<(script|link|img|iframe|object)\b|@import|src=", page)
    assert all(target.startswith("#") for target in re.findall(r'href="([^"]*)"', page))


def test_every_way_within_the_page_leads_somewhere(page: str) -> None:
    ids = set(read(page).ids)
    assert set(re.findall(r'<a href="#([^"]+)"', page)) <= ids


def test_the_same_review_gives_the_same_bytes(whole: Review, page: str) -> None:
    assert render(whole, UTC) == page


def test_what_people_wrote_cannot_become_markup(page: str) -> None:
    assert "flash &lt;at the gate&gt;" in page
    assert "<at the gate>" not in page
    assert "L2 &amp; more" in page


def test_a_call_tells_the_limit_passed_and_what_else_was_open(whole: Review) -> None:
    press = whole.presses[0]
    call, *rest = press.calls
    others = (OtherChange("material", "lot change", 31),)
    episode = replace(call.episode, limits=("cushion", "fill_time"), others=others)
    press = replace(press, calls=(replace(call, episode=episode), *rest))
    said = render(replace(whole, presses=(press, *whole.presses[1:])), UTC)
    assert "; limit passed: cushion, fill time" in said
    assert "; also open: lot change (material) since shot 31" in said
    assert "also open" not in render(whole, UTC)


@pytest.mark.parametrize(
    "said",
    [
        "<strong>P1</strong>\u00a026\u00a0to\u00a037</td>",
        "swaps showed it was B-1 (41)",
        "flash &lt;at the gate&gt;",
        "the level came back with the swap: it was B-1",
        "2 shots missed, 1 fault",
        "Decided by now: 2 released, 3 scrapped",
        "21 parts inspected, 1 bad (100); seen: flash (40).",
        "21 parts inspected, 1 of them bad",
        "PL-1",
        "gate erosion (insert, 0.90)",
        "10\u00a0more\u00a0parts,\u00a0up\u00a0to\u00a0100.00",
        "gone off",
        "not known to be off",
        "It is no safety device",
        "counter went on from 69 to 72",
        "values changed while they were read",
        "short run: 20 parts",
    ],
)
def test_it_says(page: str, said: str) -> None:
    assert said in page


def test_a_bath_is_overdue_by_the_time_of_writing(whole: Review, page: str) -> None:
    """Went in at 07:15, due a day later."""
    assert "overdue" not in page
    assert "in the bath, overdue by 1.5 h" in render(replace(whole, made_at=at(60) + timedelta(hours=25.5)), UTC)


def test_the_digest_of_the_log_and_the_versions_are_printed(whole: Review, page: str) -> None:
    assert whole.log.digest in page
    assert all(version in page for version in whole.versions.values())


def test_verdicts_differ_by_shape_and_word(page: str) -> None:
    assert all(mark in page for mark in ("○ no change seen", "◐ watch", "● swap"))


def test_times_carry_the_offset_of_the_zone(whole: Review) -> None:
    assert "2026-03-02 06:01:15 +00:00" in render(whole, UTC)
    assert "2026-03-02 11:31:15 +05:30" in render(whole, timezone(timedelta(hours=5, minutes=30)))


def test_an_empty_shift_says_so(afternoon: Settings) -> None:
    page = of(afternoon, LATER)
    assert "No shot was stored in this period" in page
    assert "P2, P1" in page
    assert "Insert lives" in page
    read(page)


def test_an_empty_log_says_so(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    open_log(settings.store, read_only=False).close()
    page = of(settings)
    assert "No shot was stored in this period" in page
    assert "No reused insert has made a shot yet" in page
    read(page)


@pytest.mark.file
def test_a_damaged_log_is_said_before_anything_else(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    fill(settings)
    spoil(settings.store)
    page = of(settings)
    assert page.index("does not verify") < page.index("Decisions to take")
    assert "Last digest of the log" not in page
    assert "The chain of digests" not in page


def test_single_use_pieces_have_limits_of_their_own_and_odd_ones_a_name(whole: Review, page: str) -> None:
    assert "Single-use pieces by print batch" in page
    odd = OddPiece("core", "S-77", "PL-<1>", 77, {"cushion": (4.1, 5.0, 9.8)})
    (press,) = whole.presses
    told = render(replace(whole, presses=(replace(press, pieces=replace(press.pieces, odd=(odd,))),)), UTC)
    assert "Piece S-77, shot 77</strong> (core half, PL-&lt;1&gt;) is odd by itself" in told
    assert "cushion 4.10 mm where its batch has 5.00 (9.8 spreads off)" in told


def test_blind_times_changed_calls_lots_and_what_parts_share_are_told(whole: Review) -> None:
    (press,) = whole.presses
    call = press.calls[0].episode
    more = replace(
        press,
        outages=(Outage("P1", at(68), at(73), "connection lost", "timed <out>", 2),),
        rejudged=(Rejudged("P1", at(90), 24, "lot at shot 24", call, None),),
        lots=(LotChange("P1", "L2", 86, None, "recovery_time", -0.31, 91, ""),),
        shared=(Shared("bad", "print batch, core", "PL-2", 5, 5, 0, 20, 0.00002, 9),),
        lifted=(Lifted("P1", "B-1", 20, 23, "swap", (32, 32), (20, 20), ""),),
        weighed=WeighedCounts(9, 1, 3, 2, 4, 8),
    )
    page = render(replace(whole, presses=(more,)), UTC)
    read(page)
    for said in (
        "connection lost",
        "timed &lt;out&gt;",
        "no longer called",
        "swap at 30\u00a0to\u00a040 on B-1, onset 27, gate erosion (insert)",
        "from shot 91: recovery time by −0.310 s",
        "below 0.001, told",
        "20\u00a0to\u00a023 (B-1): in doubt by swap at shot 32 with onset 20; judged again: no reason on record.",
        "9 weighings: 1 without a shot, 2 where another shot fitted as well (not known of 4), 3 matched by hand. 8 of",
    ):
        assert said in page, said


def test_a_press_at_which_nobody_noted_anything_is_drawn(whole: Review) -> None:
    """The names beside the marks were paired with the marks that follow, of which there was one too many."""
    (press,) = whole.presses
    bare = replace(press, entries=(), swaps=(), calls=(), answers=(), suspects=(), held=(), inspected=(), soaks=())
    page = render(replace(whole, presses=(replace(bare, inspect_first=(), gaps=(), stops=()),)), UTC)
    assert "no swap, no finding, and no part inspected" in page
    assert "No part tells more than another." in page
    assert "is held." in page
    read(page)


def test_what_to_look_at_for_a_decision_are_its_own_parts_and_the_one_before_is_named_as_such(whole: Review) -> None:
    press = whole.presses[0]
    group = press.held[0]
    rows = (
        replace(group, spans=((30, 41), (93, 111)), cavities=(), n=31),
        replace(group, spans=((42, 60),), cavities=(), n=19, decision=None),
    )
    looks = tuple(ToInspect(shot, ("the onset",), 0) for shot in (29, 41, 42, 92, 112))
    press = replace(press, held=rows, inspect_first=looks)
    said = re.sub(r"<[^>]+>", "|", decisions_section(replace(whole, presses=(press,))))
    assert "|29 (the one before), 41, 92 (the one before)|" in said
    assert "|42|" in said
    assert "112" not in said
