"""The served presses, as a separate process: real sockets, a real pseudo-terminal, and an end on request."""

import ast
import asyncio
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import pytest
import serial
from pymodbus.client import ModbusSerialClient, ModbusTcpClient
from pyModbusTCP.client import ModbusClient as IndependentClient

import simulators
from shotlog.collectors import options
from shotlog.settings import load as load_settings
from simulators.__main__ import main
from simulators.disturb import MODBUS_FAULTS, PRINTER_FAULTS
from simulators.faces import FACES
from simulators.press import mould
from simulators.printout import DIALECTS
from simulators.serve import ServePlan, make_face
from simulators.story import load

needs_ptys = pytest.mark.skipif(not hasattr(os, "openpty"), reason="this system has no pseudo-terminals")


class Served:
    """A simulator process started with --wait."""

    def __init__(self, *arguments):
        command = [sys.executable, "-m", "simulators", "serve", *arguments, "--wait"]
        self.process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.serving = self.read()["serving"]

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.process.stdin.close()
        self.process.wait(timeout=20)
        self.process.stdout.close()

    def read(self):
        return json.loads(self.process.stdout.readline())

    def go(self):
        """Start it and return every event up to the last."""
        self.process.stdin.write("go\n")
        self.process.stdin.flush()
        events = []
        while not events or "done" not in events[-1]:
            events.append(self.read())
        return events


def test_a_press_on_tcp_keeps_its_last_shot_standing_in_both_tables():
    with Served("demo", "--speed", "3000", "--shots", "12") as served:
        events = served.go()
        place = served.serving["P25"]
        client = ModbusTcpClient(place["host"], port=place["port"], timeout=2, retries=0)
        assert client.connect()
        holding = client.read_holding_registers(0, count=28, device_id=1).registers
        inputs = client.read_input_registers(0, count=28, device_id=1).registers
        written = client.write_register(4, 1, device_id=1)
        beyond = client.read_holding_registers(30, count=9, device_id=1)
        client.close()
    assert holding == inputs
    assert client.convert_from_registers(holding[0:2], client.DATATYPE.UINT32) == 12
    assert holding[2] == holding[24] == 12
    assert 4000 < holding[7] < 7000
    assert written.isError()
    assert beyond.exception_code == 2
    assert [event["shot"] for event in events if event.get("press") == "P25" and "shot" in event] == list(range(1, 13))


def test_an_independent_master_reads_the_same_words():
    with Served("demo", "--speed", "3000", "--shots", "7") as served:
        served.go()
        place = served.serving["P25"]
        client = IndependentClient(host=place["host"], port=place["port"], unit_id=1, timeout=2)
        holding, inputs = client.read_holding_registers(0, 28), client.read_input_registers(0, 28)
        refused = client.write_single_register(4, 1)
        client.close()
    assert holding == inputs
    assert holding[1] == holding[2] == holding[24] == 7
    assert not refused


def test_the_operator_acts_just_before_the_shot_they_hold_from():
    with Served("demo", "--speed", "10000", "--shots", "120") as served:
        events = [event for event in served.go() if event.get("press") == "P25"]
    swap = [event for event in events if event.get("at_shot") == 93]
    assert [event["do"] for event in swap] == ["remove", "mount", "place"]
    assert events[events.index(swap[-1]) + 1] == {"press": "P25", "shot": 93}
    assert swap[1] | {"half": "moving", "serial": "B-12", "design": "pawl-b-r1", "single_use": False} == swap[1]
    lot = {"press": "P25", "at_shot": 118, "do": "note", "kind": "lot", "text": "L2", "initials": "mk"}
    assert lot in events


@needs_ptys
def test_a_printer_line_prints_every_shot_once():
    with Served("demo", "--speed", "3000", "--shots", "30") as served:
        place = served.serving["P15"]
        with serial.Serial(place["port"], place["baudrate"], timeout=0.2) as port:
            served.go()
            text = b""
            while chunk := port.read(4096):
                text += chunk
    lines = text.decode("latin-1").split("\r\n")
    assert lines[0].startswith("NR;TIME;FILL s")
    assert lines[-1] == ""
    shots = [line.split(";") for line in lines if line[:1].isdigit()]
    assert [int(cells[0]) for cells in shots] == list(range(1, 31))
    assert all(1.0 < float(cells[2].replace(",", ".")) < 1.5 for cells in shots)


@needs_ptys
def test_a_press_on_rtu_answers_a_serial_master():
    with Served("demo", "--speed", "3000", "--shots", "5", "--press", "P25=modbus-rtu") as served:
        served.go()
        place = served.serving["P25"]
        client = ModbusSerialClient(place["port"], baudrate=place["baudrate"], timeout=2, retries=0)
        assert client.connect()
        words = client.read_input_registers(0, count=28, device_id=1).registers
        client.close()
    assert words[1] == words[2] == words[24] == 5


@needs_ptys
@pytest.mark.skipif(shutil.which("mbpoll") is None, reason="mbpoll, an independent serial master, is not installed")
def test_an_independent_serial_master_reads_the_same_words():
    with Served("demo", "--speed", "3000", "--shots", "5", "--press", "P25=modbus-rtu") as served:
        served.go()
        place = served.serving["P25"]
        line = ["-m", "rtu", "-a", "1", "-b", str(place["baudrate"]), "-P", "none", "-0", "-1", "-o", "2"]
        command = ["mbpoll", *line, "-r", "0", "-c", "28", "-t", "4", place["port"]]
        told = subprocess.run(command, capture_output=True, text=True, timeout=30, check=True).stdout
    words = dict(re.findall(r"^\[(\d+)\]:\s+(\d+)", told, re.MULTILINE))
    assert len(words) == 28
    assert words["1"] == words["2"] == words["24"] == "5"


def test_the_printer_behind_a_socket_needs_no_pseudo_terminal():
    served = Served("demo", "--speed", "3000", "--shots", "5", "--press", "P15=serial-socket")
    with served, serial.serial_for_url(served.serving["P15"]["port"], timeout=5) as port:
        served.go()
        text = b""
        while text.count(b"\r\n") < 6:
            text += port.read(1)
    assert text.splitlines()[1].startswith(b"000001;")


def test_a_press_with_files_answers_requests_and_writes_every_shot():
    with Served("demo", "--speed", "3000", "--shots", "20", "--press", "P25=euromap63:line=lf") as served:
        folder, diary = (Path(served.serving["P25"][key]) for key in ("folder", "diary"))
        job = (
            'JOB A RESPONSE "A.LOG"; REPORT A APPEND "A.DAT" START IMMEDIATE STOP NEVER CYCLIC SHOT 1 '
            "PARAMETERS COUNT, ActCntCyc, ActStrCsh[1];"
        )
        (folder / "A.JOB").write_text(job, encoding="ascii")
        (folder / "new.tmp").write_text('00000001 EXECUTE "A.JOB";', encoding="ascii")
        (folder / "new.tmp").rename(folder / "SESS0001.REQ")
        while not (folder / "A.LOG").exists() or "COMMAND 2 PROCESSED" not in (folder / "A.LOG").read_text("ascii"):
            time.sleep(0.01)
        events = served.go()
        header, *lines = (folder / "A.DAT").read_text("ascii").splitlines()
        noted = [json.loads(line) for line in diary.read_text("utf-8").splitlines()]
    assert events[-1]["functions"]["P25"] == ["EXECUTE"]
    assert header == "COUNT,ActCntCyc,ActStrCsh[1]"
    assert [line.split(",")[1] for line in lines] == [str(n) for n in range(1, 21)]
    shown = [entry["values"]["ActStrCsh[1]"] for entry in noted if "shot" in entry]
    assert [line.split(",")[2] for line in lines] == shown


def test_the_configuration_it_offers_is_toml_of_one_collector():
    with Served("demo", "--shots", "1") as served:
        tables = {name: tomllib.loads("[[press]]\n" + place["config"]) for name, place in served.serving.items()}
    tcp = tables["P25"]["press"][0]["collector"]
    assert tcp["kind"] == "modbus-tcp"
    assert tcp["shot_counter"] == {"address": 0, "type": "uint32"}
    assert tcp["channels"]["cushion"] == {"address": 8, "type": "int16", "scale": 0.01, "unit": "mm"}
    printer = tables["P15"]["press"][0]["collector"]
    assert printer["decimal"] == ","
    assert printer["channels"]["cushion"]["field"] == 7


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_signal_ends_it_cleanly(number):
    with Served("demo", "--shots", "3") as served:
        served.process.send_signal(number)
        assert served.process.wait(timeout=20) == 0


def test_the_end_of_input_ends_it_cleanly():
    with Served("demo", "--shots", "3") as served:
        served.process.stdin.close()
        assert served.process.wait(timeout=20) == 0


def test_long_stops_are_cut_on_the_wire_when_asked():
    run = mould(load("demo").presses[0], 150, 1)
    whole, cut = ServePlan(speed=100.0).due_s(run), ServePlan(speed=100.0, longest_wait_s=2.0).due_s(run)
    assert whole[140] - whole[139] == pytest.approx((34 * 60 + 75) / 100, abs=0.1)
    assert cut[140] - cut[139] == 2.0
    assert cut[91] == whole[91]


def test_a_wire_fault_of_the_command_reaches_the_wire():
    with Served("demo", "--speed", "3000", "--shots", "6", "--fault", "P25:exception@6,code=4") as served:
        served.go()
        place = served.serving["P25"]
        client = ModbusTcpClient(place["host"], port=place["port"], timeout=2, retries=0)
        assert client.connect()
        assert client.read_holding_registers(0, count=4, device_id=1).exception_code == 4
        client.close()


def test_every_fault_of_a_scenario_is_one_of_its_face():
    scenario = load("bad_wires")
    for press in scenario.presses:
        assert make_face(press.face, press, scenario).faults.faults == press.faults
    told = {fault.kind for press in scenario.presses for fault in press.faults}
    assert {*MODBUS_FAULTS, *PRINTER_FAULTS} - told == {"stuck", "swapped", "one-based"}


def test_wrong_words_on_the_command_line_are_told_in_one_line(capsys):
    for arguments, said in (
        (["--press", "P99=modbus-tcp"], "given 'P99', allowed: P25, P15"),
        (["--press", "P25=telegraph"], "P25: given 'telegraph', allowed: modbus-tcp"),
        (["--press", "P15=serial-line:morse"], "given dialect 'morse', allowed: semicolon"),
        (["--fault", "P25:lost@3"], "given 'lost', allowed here: refused"),
        (["--speed", "0"], "--speed: given 0, allowed: 0.1 to 10000"),
    ):
        assert main(["serve", "demo", "--shots", "1", *arguments]) == 2
        told = capsys.readouterr().err
        assert said in told
        assert told.count("\n") == 1


ALIKE = [*(f"serial-{way}:{dialect}" for way in ("line", "socket") for dialect in DIALECTS), *FACES]
ALIKE += ["opcua-40077:volume-only+no-screw+hydraulic-only+no-units+mpa"]


@pytest.mark.parametrize("told", ALIKE)
def test_the_logger_accepts_every_configuration_a_face_offers(told, tmp_path):
    scenario = load("demo")
    face = make_face(told, scenario.presses[0], scenario)
    asyncio.run(_opened(face))
    file = tmp_path / "shop.toml"
    file.write_text(f'[log]\nstore = "sqlite:///x.db"\n[[press]]\nname = "P25"\n{face.config(0.2)}', encoding="utf-8")
    read = "\n".join(options(load_settings(file).presses[0]).describe())
    assert "cushion" in read


async def _opened(face):
    """Open and close a face, so that it knows its port."""
    await face.open()
    await face.close()


MAY_BE_IMPORTED = {"shotlog.channels", "shotlog.own_python"}
"""What channels there are, and how a Python is started: neither reads a press, so neither can hide a mistake there."""


def test_the_simulators_import_nothing_of_the_logger_but_its_channels():
    for file in Path(simulators.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            names = [node.module] if isinstance(node, ast.ImportFrom) else []
            names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                assert not name.startswith(("dashboard", "shotlog")) or name in MAY_BE_IMPORTED, file.name
