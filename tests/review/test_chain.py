"""The chain of one part: every fact of it, and its values beside those of the parts before it."""

from pathlib import Path

import pytest

from shotlog.answers.part import blocks_of
from shotlog.answers.table import Table, printed
from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.review.chain import PartChain, chain_of
from shotlog.settings import Settings
from shotlog.store.inserts import entries
from shotlog.store.log.log import open_log
from tests.review.made_up_log import LATER, fill, settings_in


def chain(afternoon: Settings, shot: int, cavity: int = 1) -> PartChain:
    with open_log(afternoon.store) as log:
        return chain_of(log, afternoon.designs, Part("P1", shot, cavity))


def test_neighbours_stand_in_that_are_held_only_for_what_was_found_on_the_insert(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    fill(settings)
    with open_log(settings.store, read_only=False) as log:
        entries.note(log, "P1", "unsure", "none is known to be good", LATER, at_shot=40)
    found = chain(settings, 36)
    assert found.neighbours == tuple(range(14, 24))
    assert found.held_too
    assert "what was found on an insert later" in values(found).about


def test_a_held_part_stands_beside_the_nearest_parts_before_the_onset(afternoon: Settings) -> None:
    found = chain(afternoon, 36)
    assert (found.standing.state, found.before) == ("held", 24)
    assert found.neighbours == tuple(range(14, 24)), "the last before the early edge, none that is called or settling"
    assert not found.held_too, "nobody has said yet how far back the flash at 40 holds"
    cushion = next(one for one in found.beside if one.channel == "cushion")
    assert cushion.n == 10
    assert cushion.low <= cushion.median <= cushion.high
    assert cushion.off < -8, "0.44 mm down, where neighbours differ by 0.03"
    assert cushion.off == pytest.approx((cushion.value - cushion.median) / cushion.spread)
    peak = next(one for one in found.beside if one.channel == "peak_pressure")
    assert abs(peak.off) < 4


def test_neighbours_on_other_inserts_are_told_from_its_own(afternoon: Settings) -> None:
    assert not chain(afternoon, 48).alike, "only two settled shots were made on B-2 before it"
    assert chain(afternoon, 60).alike


def test_a_part_without_good_neighbours_stands_alone(afternoon: Settings) -> None:
    first = chain(afternoon, 1)
    assert first.neighbours == ()
    assert {one.off for one in first.beside} == {None}
    assert "no part with nothing against it before it" in values(first).about


def test_each_half_says_which_shot_of_that_half_it_was(afternoon: Settings) -> None:
    halves = {one.half: (one.held.serial, one.on_insert) for one in chain(afternoon, 90).halves}
    assert halves == {"fixed": ("A-1", 90), "moving": ("B-3", 10), "core": ("S-90", None)}


def test_a_shot_nobody_saw_made_a_part_without_values(afternoon: Settings) -> None:
    missed = chain(afternoon, 70)
    assert (missed.shot, missed.beside, missed.said) == (None, (), None)
    assert "nobody saw it" in printed(values(missed))


def test_inspection_bath_and_decision_are_on_it_with_who(afternoon: Settings) -> None:
    text = everything(chain(afternoon, 100))
    assert "window missing" in text
    assert "BAD" in text
    assert "ab" in text
    assert "in bath 1, due" in everything(chain(afternoon, 9))
    released = everything(chain(afternoon, 24))
    assert "released: measured, within tolerance" in released
    assert "flash" in everything(chain(afternoon, 40)), "what was noted at the shot"


def test_parts_that_were_not_made_are_refused(afternoon: Settings) -> None:
    with pytest.raises(UsageError, match="counted no such shot"):
        chain(afternoon, 999)
    with pytest.raises(UsageError, match="cavity 1 to 1"):
        chain(afternoon, 36, 2)


def test_columns_of_short_texts_stand_under_each_other_and_long_ones_run_on() -> None:
    table = Table("t", ("a", "n", "b"), (("x", 5, "y" * 60), ("xx", 10, "z")), frozenset("n"), title="T", about="why")
    assert printed(table).splitlines() == ["T", "  why", "  a    n  b", f"  x    5  {'y' * 60}", "  xx  10  z"]
    assert printed(Table("t", ("", ""), (), title="T", empty="not yet")) == "T\n  not yet"


def values(found: PartChain) -> Table:
    return next(one for one in blocks_of(found, LATER) if one.name == "values")


def everything(found: PartChain) -> str:
    return "\n".join(printed(block) for block in blocks_of(found, LATER))
