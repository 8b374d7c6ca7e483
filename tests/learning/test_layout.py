"""How a press prints its shots, found from its lines."""

import random
from collections.abc import Callable

import pytest

from shotlog.learning.config_text import MapText
from shotlog.learning.layout import layout_of
from shotlog.learning.line_guesses import LineProposal, propose_lines
from shotlog.learning.line_keys import map_of, taken
from shotlog.learning.screen import seen_in
from shotlog.learning.words import channels_named, unit_in
from tests.learning.played import LEVELS, made_shots


def printed(
    line: Callable[[int, dict[str, float]], str], head: tuple[str, ...] = (), encoding: str = "latin-1"
) -> list[bytes]:
    """Return what a press prints over twelve shots, its headings every six."""
    lines: list[str] = []
    for n, shot in enumerate(made_shots(12, 7, LEVELS)):
        lines += head if n % 6 == 0 else ()
        lines.append(line(118 + n, shot))
    return [text.encode(encoding) for text in lines]


def found(raws: list[bytes], *seen: str) -> tuple[LineProposal, MapText]:
    layout = layout_of(raws)
    assert layout is not None
    proposal = propose_lines(layout, [seen_in(text) for text in seen])
    made = map_of(proposal, raws, {})
    assert made is not None
    return proposal, made


def comma(text: str) -> str:
    return text.replace(".", ",")


def semicolons(n: int, s: dict[str, float]) -> str:
    values = f"{s['fill_time']:.3f};{s['switchover_position']:.2f};{s['peak_pressure']:.0f};{s['cushion']:.2f}"
    return comma(f"{n:06d};08:41:{n - 100:02d};{values}")


def test_a_page_with_headings_units_and_decimal_commas() -> None:
    head = ("NR;TIME;FILL s;XFER mm;PMAX bar;CUSH mm", "MEAN;;0,84;9,00;815;5,10", "ALARM 17;;;;;")
    raws = printed(semicolons, head)
    proposal, made = found(raws)
    assert (made.keys["delimiter"], made.keys["decimal"], made.keys["shot_counter"]) == (";", ",", {"field": 1})
    assert {name: keys["field"] for name, keys in made.channels.items()} == {
        "cushion": 6, "peak_pressure": 5, "fill_time": 3, "switchover_position": 4,
    }  # fmt: skip
    assert taken(proposal, raws) == (12, [])


def test_labels_and_units_within_the_line_become_a_pattern() -> None:
    raws = printed(
        lambda n, s: f"N={n} CUSH={s['cushion']:.2f}mm PMAX={s['peak_pressure']:.0f}bar FILL={s['fill_time']:.2f}s"
    )
    proposal, made = found(raws)
    assert "pattern" in made.keys
    assert made.keys["delimiter"] is None
    assert made.channels == {"cushion": {"unit": "mm"}, "peak_pressure": {"unit": "bar"}, "fill_time": {"unit": "s"}}
    assert taken(proposal, raws) == (12, [])


def test_columns_of_blanks_with_a_line_of_units() -> None:
    head = ("    SHOT  CUSHION     PEAK     FILL", "               mm      bar        s", "-" * 36)
    raws = printed(lambda n, s: f"{n:8d}{s['cushion']:9.2f}{s['peak_pressure']:9.0f}{s['fill_time']:9.3f}", head)
    proposal, made = found(raws)
    assert made.keys["delimiter"] == " "
    assert {name: keys["field"] for name, keys in made.channels.items()} == {
        "cushion": 2,
        "peak_pressure": 3,
        "fill_time": 4,
    }
    assert taken(proposal, raws) == (12, [])


def test_without_headings_only_the_screen_settles_it_and_no_unit_is_guessed() -> None:
    raws = printed(
        lambda n, s: (
            f"{n} | {s['fill_time']:.2f} | {s['cushion']:.1f} | {s['peak_pressure']:.0f} | {s['recovery_time']:.1f}"
        )
    )
    layout = layout_of(raws)
    assert layout is not None
    assert layout.delimiter == "|"
    assert map_of(propose_lines(layout, []), raws, {}) is None
    shots = made_shots(12, 7, LEVELS)
    names = (("fill_time", 2), ("cushion", 2), ("peak_pressure", 0))
    seen = [
        ",".join([f"shot={118 + n}", *(f"{name}={shots[n][name]:.{digits}f}" for name, digits in names)])
        for n in (3, 6, 9)
    ]
    made = found(raws, *seen)[1]
    assert {name: keys["field"] for name, keys in made.channels.items()} == {
        "fill_time": 2,
        "cushion": 3,
        "peak_pressure": 4,
    }


@pytest.mark.parametrize("encoding", ["cp850", "latin-1", "utf-8"])
def test_the_encoding_is_read_off_the_umlauts(encoding: str) -> None:
    head = ("Schuss;Düsentemperatur °C;Füllzeit s",)
    raws = printed(lambda n, s: f"{n};{s['melt_temperature']:.1f};{s['fill_time']:.2f}", head, encoding)
    proposal, made = found(raws)
    assert proposal.layout.headings == tuple(head[0].split(";"))
    assert set(made.channels) == {"melt_temperature", "fill_time"}


def test_missing_values_reprints_and_a_rollover_do_not_mislead() -> None:
    def line(n: int, s: dict[str, float]) -> str:
        cushion = "----" if n % 5 == 0 else f"{s['cushion']:.2f}"
        return f"{(n + 9876) % 10000:04d};{cushion};{s['peak_pressure']:.0f};{s['fill_time']:.2f}"

    raws = printed(line, ("NR;CUSH mm;PMAX bar;FILL s",))
    raws.insert(6, raws[5])
    made = found(raws)[1]
    assert made.keys["shot_counter"] == {"field": 1, "last_count": 9999}
    assert set(made.channels) == {"cushion", "peak_pressure", "fill_time"}


def test_lines_without_a_count_are_no_layout() -> None:
    rng = random.Random(1)
    assert layout_of([f"{rng.random():.3f};{rng.random():.3f}".encode() for _ in range(30)]) is None
    assert layout_of([]) is None


def test_words_of_headings() -> None:
    assert channels_named("Umschaltdruck [bar]") == {"switchover_pressure", "switchover_position"}
    assert unit_in("Umschaltdruck [bar]") == "bar"
    assert channels_named("Zykluszeit") == {"cycle_time"}
    assert channels_named("NR") == set()
