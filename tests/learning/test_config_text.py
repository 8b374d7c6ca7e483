"""The map goes into the text of a configuration, and nothing else in it moves."""

import tomllib

import pytest

from shotlog.errors import UsageError
from shotlog.learning.config_text import MapText, toml_value, with_map

TEXT = """# the small press
[log]
store = "sqlite:///trial.db"   # here

[[press]]
name = "other"
  [press.collector]
  kind = "recording"

[[press]]
name = "P1"          # the one
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1" # a # in a comment
  table = "input"    # as the list says

  # channels come here

[design.cap]         # stays
cavities = 2
"""
MADE = MapText(
    {"table": "holding", "settle_s": 0.35, "shot_counter": {"address": 8, "type": "uint16"}, "pattern": None},
    {"cushion": {"address": 20, "type": "int16", "scale": 0.01, "unit": "mm"}},
    ("peak_pressure = { address = 21 }  # only possible: compare with the screen",),
)


def test_every_other_line_and_comment_stays() -> None:
    made = with_map(TEXT, "P1", MADE)
    lines = made.splitlines()
    for line in TEXT.splitlines():
        assert line in lines or "table" in line
    assert '  table = "holding"    # as the list says' in lines
    assert '    cushion = { address = 20, type = "int16", scale = 0.01, unit = "mm" }' in lines
    assert "    # peak_pressure = { address = 21 }  # only possible: compare with the screen" in lines
    read = tomllib.loads(made)
    assert read["press"][1]["collector"]["shot_counter"] == {"address": 8, "type": "uint16"}
    assert read["press"][0] == {"name": "other", "collector": {"kind": "recording"}}
    assert read["design"] == {"cap": {"cavities": 2}}


def test_a_second_time_replaces_what_the_first_wrote() -> None:
    once = with_map(TEXT, "P1", MADE)
    again = MapText(
        {"table": "input", "settle_s": None},
        {
            "cushion": {"address": 30, "type": "int16", "unit": "mm"},
            "fill_time": {"address": 3, "type": "float32", "unit": "s"},
        },
    )
    made = with_map(once, "P1", again)
    collector = tomllib.loads(made)["press"][1]["collector"]
    assert (collector["table"], collector["channels"]["cushion"]["address"]) == ("input", 30)
    assert "settle_s" not in collector
    assert "only possible" not in made


def test_a_proposal_that_somebody_took_the_mark_off_is_kept_or_replaced_like_any_other() -> None:
    taken = with_map(TEXT, "P1", MADE).replace("# peak_pressure = { address = 21 }", "peak_pressure = { address = 21 }")
    kept = tomllib.loads(with_map(taken, "P1", MADE))["press"][1]["collector"]["channels"]
    assert kept["peak_pressure"] == {"address": 21}
    sure = MapText({}, {"peak_pressure": {"address": 24, "type": "uint16"}})
    made = with_map(taken, "P1", sure)
    assert tomllib.loads(made)["press"][1]["collector"]["channels"]["peak_pressure"]["address"] == 24
    assert "only possible" not in made


THERE = """    [press.collector.channels]
    cushion = { address = 1, type = 'int16', unit = 'mm' } # old
    clamp_force = { address = 5, type = 'uint16', unit = 'kN' }
"""
APART = """    [press.collector.channels.cushion]
    address = 1
    type = 'int16'
    unit = 'mm'
    [press.collector.channels.clamp_force]
    address = 5
    type = 'uint16'
    unit = 'kN'
"""
INLINE = (
    "  channels = { cushion = { address = 1, type = 'int16', unit = 'mm' }, "
    "clamp_force = { address = 5, type = 'uint16', unit = 'kN' } }\n"
)


@pytest.mark.parametrize("channels", [THERE, APART, INLINE])
def test_channels_that_are_there_are_kept_or_replaced_however_they_are_spelt(channels: str) -> None:
    text = TEXT.replace("  # channels come here\n", channels)
    read = tomllib.loads(with_map(text, "P1", MADE))["press"][1]["collector"]["channels"]
    assert read["cushion"]["address"] == 20
    assert read["clamp_force"] == {"address": 5, "type": "uint16", "unit": "kN"}
    gone = MapText(MADE.keys, MADE.channels, (), ("clamp_force",))
    assert set(tomllib.loads(with_map(text, "P1", gone))["press"][1]["collector"]["channels"]) == {"cushion"}


@pytest.mark.parametrize(
    "spelt",
    [
        TEXT.replace(
            '  [press.collector]\n  kind = "modbus-tcp"\n', '  collector.kind = "modbus-tcp"\n  [press.collector.x]\n'
        ),
        TEXT.replace('table = "input"    # as the list says', 'table = """\ninput"""'),
    ],
)
def test_what_cannot_be_edited_is_left_alone_and_said(spelt: str) -> None:
    with pytest.raises(UsageError, match="spelt in a way that this command does not edit"):
        with_map(spelt, "P1", MADE)


def test_headers_within_texts_are_no_headers() -> None:
    text = TEXT.replace(
        "[design.cap]         # stays\n", '[trial]\nname = """\n[[press]]\nname = "P1"\n"""\n[design.cap]\n'
    )
    assert tomllib.loads(with_map(text, "P1", MADE))["trial"]["name"] == '[[press]]\nname = "P1"\n'


@pytest.mark.parametrize(
    "value",
    [0.01, 1e-05, 0.0001450377, 1234567.25, 6.894757293168361, 2.5, 12, 'a "b" \\ ä', True, {"a": 1e-06, "b": "x"}],
)
def test_values_are_written_so_that_they_read_the_same(value: object) -> None:
    assert tomllib.loads(f"key = {toml_value(value)}")["key"] == value
