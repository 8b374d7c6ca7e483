"""The printer line over a socket: every dialect, and every fault of the line."""

import asyncio
import re
from datetime import UTC, datetime

import pytest

from simulators.disturb import PRINTER_FAULTS, WireFault, WireFaults
from simulators.press import mould
from simulators.printout import DIALECTS, line_pattern
from simulators.serial_line import SocketPrinterFace
from simulators.story import load

RUN = mould(load("demo").presses[0], 12, seed=4)
AT = 6
"""The shot the fault is at."""


async def _print(faults, shots):
    face = SocketPrinterFace(datetime(2026, 3, 2, 6, 0, tzinfo=UTC), faults=WireFaults(faults, PRINTER_FAULTS))
    await face.open()
    reader, writer = await asyncio.open_connection("127.0.0.1", int(face.port))
    while not face.heard:
        await asyncio.sleep(0.005)
    for shot in range(1, shots + 1):
        await face.show(RUN, shot - 1)
    await face.close()
    data = await reader.read()
    writer.close()
    await writer.wait_closed()
    return data


def printed_lines(*faults, shots=8):
    """Print some shots through a socket and return the bytes of all lines."""
    return asyncio.run(_print(faults, shots)).split(b"\r\n")


def test_a_sound_printer_prints_headings_and_one_line_a_shot():
    lines = printed_lines()
    assert lines[0].startswith(b"NR;TIME")
    assert [int(line[:6]) for line in lines[1:-1]] == list(range(1, 9))
    assert lines[-1] == b""


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("lost", lambda sound, lines: lines == [*sound[:AT], *sound[AT + 1 :]]),
        ("duplicate", lambda sound, lines: lines == [*sound[: AT + 1], sound[AT], *sound[AT + 1 :]]),
        ("glued", lambda sound, lines: lines == [*sound[:AT], sound[AT] + sound[AT + 1], *sound[AT + 2 :]]),
        ("partial", lambda sound, lines: len(lines[AT]) < len(sound[AT]) and sound[AT].endswith(lines[AT])),
        ("stars", lambda sound, lines: b"****" in lines[AT] and lines[AT].count(b";") == sound[AT].count(b";")),
        ("error", lambda sound, lines: b";ERR;" in lines[AT] and lines[AT].count(b";") == sound[AT].count(b";")),
        (
            "chatter",
            lambda sound, lines: lines[AT + 600 :] == sound[AT:] and len(b"".join(lines[AT : AT + 600])) == 1800,
        ),
        ("alarm", lambda sound, lines: lines[AT].startswith(b"ALARM") and lines[AT + 1 :] == sound[AT:]),
        ("statistics", lambda sound, lines: lines[AT + 1].startswith(b"MEAN;") and lines[AT] == sound[AT]),
        ("bit-errors", lambda sound, lines: lines != sound and lines[:AT] == sound[:AT]),
        ("garbage", lambda sound, lines: sound[AT] in lines and len(b"".join(lines)) > len(b"".join(sound)) + 20),
        ("split", lambda sound, lines: lines == sound),
    ],
)
def test_the_printer_goes_wrong_as_told(kind, expected):
    sound = printed_lines()
    assert expected(sound, printed_lines(WireFault(kind, AT, seconds=0.01)))


def test_a_wrong_clock_shows_in_the_printed_time_only():
    sound, wrong = printed_lines(), printed_lines(WireFault("clock", AT, seconds=3600.0))
    assert sound[AT].split(b";")[1][:2] == b"06"
    assert wrong[AT].split(b";")[1][:2] == b"07"
    assert [cell for n, cell in enumerate(wrong[AT].split(b";")) if n != 1] == [
        cell for n, cell in enumerate(sound[AT].split(b";")) if n != 1
    ]


@pytest.mark.parametrize("name", DIALECTS)
def test_every_dialect_prints_what_its_fields_say(name):
    face = SocketPrinterFace(datetime(2026, 3, 2, 6, 0, tzinfo=UTC), dialect=name)
    sent = []
    face.send = sent.append
    asyncio.run(face.show(RUN, 3))
    dialect = DIALECTS[name]
    line = b"".join(sent).decode("latin-1")
    assert line.endswith(dialect.end)
    cells = line.removesuffix(dialect.end).split(dialect.delimiter or None)
    assert int(cells[0]) == 4
    where = [field.channel for field in dialect.fields].index("cushion")
    decimals = dialect.fields[where].decimals
    assert float(cells[where].replace(",", ".")) == pytest.approx(RUN.channels["cushion"][3], abs=0.51 * 10**-decimals)


def test_fixed_columns_line_up_and_have_a_pattern():
    face = SocketPrinterFace(datetime(2026, 3, 2, 6, 0, tzinfo=UTC), dialect="columns")
    sent = []
    face.send = sent.append
    for index in (0, 9, 11):
        asyncio.run(face.show(RUN, index))
    lines = b"".join(sent).decode("latin-1").split("\r\n")
    shots = [line for line in lines if line.strip()[:1].isdigit()]
    assert {len(line) for line in shots} == {8 + 4 * 9}
    found = re.match(line_pattern(DIALECTS["columns"]), shots[-1])
    assert int(found["shot_counter"]) == 12
    assert float(found["fill_time"]) == pytest.approx(RUN.channels["fill_time"][11], abs=0.0006)
