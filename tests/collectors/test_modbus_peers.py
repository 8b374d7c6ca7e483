"""Independent Modbus implementations as the press: pyModbusTCP (Python) and libmodbus (C), over TCP and RTU."""

import os
import select
import shutil
import struct
import subprocess
import textwrap
import threading
import tomllib
import tty
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from pyModbusTCP.server import DataBank, ModbusServer

from shotlog.clock import HandClock
from shotlog.collectors import Collector, Resume, options
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import PressSettings, Section

CHANNELS = """
shot_counter = { address = 100, type = "uint16" }
[channels]
cushion = { address = 102, type = "int16", scale = 0.01, unit = "mm" }
peak_pressure = { address = 103, type = "uint32", scale = 0.1, unit = "bar" }
fill_time = { address = 105, type = "float32", unit = "s" }
cycle_time = { address = 107, type = "float64", unit = "s" }
"""


def collector(keys: dict[str, Any], resume: Resume | None = None) -> Collector:
    section = Section("press.toml", "press[1].collector", tomllib.loads(CHANNELS) | keys)
    return options(PressSettings("p", keys["kind"], section)).build("p", HandClock(), resume)


def words(form: str, number: float, order: str) -> list[int]:
    raw = struct.pack(f">{form}", number)
    high_first = list(struct.unpack(f">{len(raw) // 2}H", raw))
    return high_first if order == "big" else high_first[::-1]


def block(n: int, order: str) -> list[int]:
    """Registers 102 to 110 of the n-th shot; neighbouring shots differ in every channel."""
    n %= 100
    return [
        (490 - n) & 0xFFFF,
        *words("I", 5000 + n, order),
        *words("f", 0.5 + n / 64, order),
        *words("d", 30.0 + n / 10, order),
    ]


def values(n: int) -> dict[str, float]:
    n %= 100
    return {
        "cushion": (490 - n) / 100,
        "peak_pressure": (5000 + n) / 10,
        "fill_time": 0.5 + n / 64,
        "cycle_time": 30.0 + n / 10,
    }


class Registers:
    """A pyModbusTCP server that can go away and come back on the same port; its registers live on."""

    def __init__(self) -> None:
        self._bank = DataBank()
        self._port = 0
        self.start()

    def start(self) -> None:
        self._server = ModbusServer("127.0.0.1", self._port, no_block=True, data_bank=self._bank)
        self._server.start()
        self._port = self._server._service.server_address[1]

    @property
    def port(self) -> int:
        return self._port

    def offer(self, n: int) -> None:
        assert self._bank.set_input_registers(102, block(n, "little"))
        assert self._bank.set_input_registers(100, [n % 65536])

    def stop(self) -> None:
        self._server.stop()


@pytest.fixture
def registers() -> Iterator[Registers]:
    registers = Registers()
    yield registers
    registers.stop()


def test_input_registers_low_word_first_over_a_rollover_and_two_outages(registers: Registers) -> None:
    keys = {"kind": "modbus-tcp", "host": "127.0.0.1", "port": registers.port, "timeout_s": 2.0, "table": "input"}
    press = collector(keys | {"word_order": "little"}, Resume(65529, 65529))
    records: list[Shot | Gap | Fault] = []
    press.open()

    def outage(*made_meanwhile: int) -> None:
        registers.stop()
        with pytest.raises(PressUnreachable):
            press.poll()
        records.extend(press.close())
        with pytest.raises(PressUnreachable):
            press.open()
        for n in made_meanwhile:
            registers.offer(n)
        registers.start()
        press.open()

    offered = [n for n in range(65530, 65545) if n not in (65539, 65540)]
    for n in offered:
        registers.offer(n)
        if n == 65533:
            outage()
        if n == 65541:
            outage(65539, 65540, 65541)
        for _ in range(2):
            records += press.poll()
    records += press.close()
    shots = [record for record in records if isinstance(record, Shot)]
    gaps = [record for record in records if isinstance(record, Gap)]
    assert [(shot.shot, shot.counter) for shot in shots] == [(n, n % 65536) for n in offered]
    assert [shot.values for shot in shots] == [values(n) for n in offered]
    assert [(gap.first, gap.last) for gap in gaps] == [(65539, 65540)]
    assert len(records) == len(shots) + len(gaps)


def test_probe_reads_what_the_press_holds(registers: Registers) -> None:
    registers.offer(12)
    keys = {"kind": "modbus-tcp", "host": "127.0.0.1", "port": registers.port, "table": "input"}
    press = collector(keys | {"word_order": "little"})
    press.open()
    rows = {row.name: row.value for row in press.probe()}
    press.close()
    assert rows == {"shot_counter": 12.0, **values(12)}


# C against libmodbus. A line "address value" on its input is kept for the shot to come; address 200 shows that shot: at
# once (0), or torn, which lasts for one answer whatever else the machine has to do: the counter and half of the values
# before the rest, until values were asked for (1), or half of the values before the rest and the counter (2).
SOURCE = textwrap.dedent(
    r"""
    #include <modbus.h>
    #include <pthread.h>
    #include <stdio.h>
    #include <stdlib.h>
    #include <string.h>
    #include <arpa/inet.h>
    #include <sys/socket.h>
    enum { COUNTER = 100, VALUES = 102, HALF = 105, END = 200 };
    static modbus_mapping_t *map;
    static unsigned short next[END];
    static unsigned torn;
    static pthread_mutex_t shown = PTHREAD_MUTEX_INITIALIZER;
    static void show(int from, int to) {
        memcpy(map->tab_registers + from, next + from, (to - from) * sizeof *next);
    }
    static void *reader(void *unused) {
        unsigned at, value;
        (void)unused;
        while (scanf("%u %u", &at, &value) == 2) {
            pthread_mutex_lock(&shown);
            if (at < END) {
                if (torn) show(0, END), torn = 0;
                next[at] = value;
            } else {
                torn = value;
                if (torn == 0) show(0, END);
                if (torn == 1) show(COUNTER, HALF);
                if (torn == 2) show(VALUES, HALF);
            }
            pthread_mutex_unlock(&shown);
            printf("ok\n");
            fflush(stdout);
        }
        exit(0);
    }
    int main(int argc, char **argv) {
        unsigned char query[MODBUS_TCP_MAX_ADU_LENGTH];
        pthread_t thread;
        modbus_t *bus;
        int listener = -1, got, from;
        if (argc < 2) return 2;
        map = modbus_mapping_new(0, 0, END, 0);
        if (!strcmp(argv[1], "tcp")) {
            struct sockaddr_in name;
            socklen_t size = sizeof name;
            bus = modbus_new_tcp("127.0.0.1", 0);
            listener = modbus_tcp_listen(bus, 1);
            getsockname(listener, (struct sockaddr *)&name, &size);
            printf("%d\n", ntohs(name.sin_port));
        } else {
            bus = modbus_new_rtu(argv[1], 19200, 'E', 8, 1);
            modbus_set_slave(bus, 7);
            if (modbus_connect(bus)) return 3;
            printf("0\n");
        }
        fflush(stdout);
        pthread_create(&thread, NULL, reader, NULL);
        from = modbus_get_header_length(bus) + 1;
        for (;;) {
            if (listener >= 0) modbus_tcp_accept(bus, &listener);
            do {
                got = modbus_receive(bus, query);
                if (got <= 0) continue;
                pthread_mutex_lock(&shown);
                modbus_reply(bus, query, got, map);
                if (torn == 2 || (torn == 1 && MODBUS_GET_INT16_FROM_INT8(query, from) >= VALUES)) {
                    show(0, END);
                    torn = 0;
                }
                pthread_mutex_unlock(&shown);
            } while (got >= 0);
        }
    }
    """
)


@pytest.fixture(scope="module")
def c_server(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("libmodbus")
    (folder / "server.c").write_text(SOURCE)
    compiler = shutil.which("cc")
    built = (
        compiler is not None
        and not subprocess.run(
            [compiler, "-I/usr/include/modbus", "-o", "server", "server.c", "-lmodbus", "-pthread"],
            cwd=folder,
            capture_output=True,
            check=False,
        ).returncode
    )
    if not built:
        missing = "needs a C compiler and libmodbus (Debian: apt install gcc libmodbus-dev)"
        if os.environ.get("CI") == "true":
            pytest.fail(missing)
        pytest.skip(missing)
    return folder / "server"


class CServer:
    """The C program while it runs; `port` is 0 on a serial line."""

    def __init__(self, process: "subprocess.Popen[str]") -> None:
        self._process = process
        self.port = int(self._line())

    def _line(self) -> str:
        assert self._process.stdout is not None
        return self._process.stdout.readline()

    def offer(self, n: int, torn: int = 0) -> None:
        """Show the n-th shot, for one answer torn in one of two ways (see `SOURCE`)."""
        assert self._process.stdin is not None
        for address, word in [*enumerate(block(n, "big"), 102), (100, n), (200, torn)]:
            self._process.stdin.write(f"{address} {word}\n")
            self._process.stdin.flush()
            assert self._line() == "ok\n"


@contextmanager
def running(server: Path, line: str) -> Iterator[CServer]:
    with subprocess.Popen([server, line], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield CServer(process)
        finally:
            process.kill()


def follow(press: Collector, server: CServer) -> None:
    press.open()
    for n in (41, 42, 43, 46):
        server.offer(n)
        *gap, shot = press.poll()
        assert isinstance(shot, Shot)
        assert (shot.shot, shot.values) == (n, values(n))
        assert [type(record) for record in gap] == ([Gap] if n == 46 else [])
        assert press.poll() == []
    press.close()


def test_libmodbus_over_tcp(c_server: Path) -> None:
    with running(c_server, "tcp") as server:
        keys = {"kind": "modbus-tcp", "host": "127.0.0.1", "port": server.port, "timeout_s": 2.0}
        follow(collector(keys), server)


def test_libmodbus_refuses_a_block_past_its_end(c_server: Path) -> None:
    with running(c_server, "tcp") as server:
        keys = {"kind": "modbus-tcp", "host": "127.0.0.1", "port": server.port, "timeout_s": 2.0}
        channels = {"cushion": {"address": 199, "type": "uint32", "unit": "mm"}}
        press = collector(keys | {"channels": channels})
        server.offer(41)
        press.open()
        with pytest.raises(PressRefused, match=r"registers 199 to 200, with exception 2 \(illegal data address\)"):
            press.poll()
        press.close()


class Cable:
    """Two pseudo-terminals joined end to end, so that both sides can open a port by name."""

    def __init__(self) -> None:
        self._pairs = [os.openpty() for _ in range(2)]
        for _, slave in self._pairs:
            tty.setraw(slave)
        self.ends = [os.ttyname(slave) for _, slave in self._pairs]
        self._wake = os.pipe()
        self._thread = threading.Thread(target=self._carry)
        self._thread.start()

    def _carry(self) -> None:
        (one, _), (two, _) = self._pairs
        while True:
            ready = select.select([one, two, self._wake[0]], [], [])[0]
            if self._wake[0] in ready:
                return
            for end in ready:
                os.write(two if end == one else one, os.read(end, 4096))

    def close(self) -> None:
        os.write(self._wake[1], b"x")
        self._thread.join()
        for each in (*self._pairs[0], *self._pairs[1], *self._wake):
            os.close(each)


@pytest.fixture
def cable() -> Iterator[Cable]:
    cable = Cable()
    yield cable
    cable.close()


def test_libmodbus_over_rtu(c_server: Path, cable: Cable) -> None:
    with running(c_server, cable.ends[0]) as server:
        keys = {"kind": "modbus-rtu", "port": cable.ends[1], "unit": 7, "timeout_s": 0.5, "longest_answer_s": 0.5}
        follow(collector(keys), server)


def test_libmodbus_over_rtu_stays_silent_for_another_unit(c_server: Path, cable: Cable) -> None:
    with running(c_server, cable.ends[0]):
        keys = {"kind": "modbus-rtu", "port": cable.ends[1], "unit": 8, "timeout_s": 0.1, "longest_answer_s": 0.1}
        press = collector(keys)
        press.open()
        with pytest.raises(PressUnreachable, match="unit 8"):
            press.poll()
        assert press.close() == []
