"""A Modbus server in a process of its own, by pyModbusTCP: registers come on standard input, `peer.c` is its double.

Arguments, `name=value`: `table` (holding, input), `legal` (what may be read, `0-40,100-130`), `most` registers a
request, `slow_ms` an answer, `refuse_every` how many requests one is answered by exception `refuse_code`, `drop_at` the
request at which it hangs up once. It says its port, then `read` at the first request, and `forbidden N` for each that
is no reading.
Lines of input: an address and the words from there on, put at one instant.
"""

import sys
import threading
import time

from pyModbusTCP.constants import EXP_DATA_ADDRESS, EXP_DATA_VALUE
from pyModbusTCP.server import DataBank, DataHandler, ModbusServer


class Policy:
    """What the press answers, and when it does not."""

    def __init__(self, arguments: list[str]) -> None:
        given = dict(each.split("=", 1) for each in arguments)
        self.table = given.get("table", "holding")
        spans = (span.split("-") for span in given["legal"].split(","))
        self.legal = [(int(first), int(last)) for first, last in spans]
        self.most = int(given.get("most", 125))
        self.slow_s = int(given.get("slow_ms", 0)) / 1000
        self.refuse_every = int(given.get("refuse_every", 0))
        self.refuse_code = int(given.get("refuse_code", 6))
        self.drop_at = int(given.get("drop_at", 0))
        self.n = 0
        self.lock = threading.Lock()

    def exception(self, table: str, address: int, count: int) -> int:
        """Return the exception that a request is answered by, 0 for none; raise where the line is dropped."""
        with self.lock:
            self.n += 1
            n = self.n
        if n == 1:
            print("read", flush=True)
        time.sleep(self.slow_s)
        if n == self.drop_at:
            raise ConnectionResetError
        if table != self.table:
            return EXP_DATA_ADDRESS
        if count > self.most:
            return EXP_DATA_VALUE
        if not any(first <= address and address + count - 1 <= last for first, last in self.legal):
            return EXP_DATA_ADDRESS
        return self.refuse_code if self.refuse_every and n % self.refuse_every == 0 else 0


class Handler(DataHandler):
    """The data handler of the server: its bank behind the policy."""

    def __init__(self, policy: Policy) -> None:
        super().__init__(DataBank())
        self.policy = policy

    def read_h_regs(self, address: int, count: int, srv_info: object) -> DataHandler.Return:
        code = self.policy.exception("holding", address, count)
        return self.Return(code) if code else super().read_h_regs(address, count, srv_info)

    def read_i_regs(self, address: int, count: int, srv_info: object) -> DataHandler.Return:
        code = self.policy.exception("input", address, count)
        return self.Return(code) if code else super().read_i_regs(address, count, srv_info)


class Server(ModbusServer):
    """The server; what is no reading is told."""

    def _internal_engine(self, session_data: ModbusServer.SessionData) -> None:
        function = session_data.request.pdu.func_code
        if function not in (3, 4):
            print("forbidden", function, flush=True)
        super()._internal_engine(session_data)


def main() -> None:
    policy = Policy(sys.argv[1:])
    handler = Handler(policy)
    server = Server("127.0.0.1", 0, no_block=True, data_hdl=handler)
    server.start()
    print(server._service.server_address[1], flush=True)
    bank = handler.data_bank
    put = bank.set_holding_registers if policy.table == "holding" else bank.set_input_registers
    for line in sys.stdin:
        address, *words = (int(each) for each in line.split())
        put(address, words)
    server.stop()


if __name__ == "__main__":
    main()
