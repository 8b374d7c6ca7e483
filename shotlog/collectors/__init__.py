"""Collectors: every way to read a press, in one table; and the one way to read a balance.

To add one, write `collectors/<kind>.py` with its options and add a line to `COLLECTORS`. None of them can set anything
at a press; one that is asked by files writes those requests and nothing else (`euromap_words`).
"""

from shotlog.collectors.base import Collector, CollectorKind, Options, Reading, Resume
from shotlog.settings import BalanceSettings, PressSettings

__all__ = ["COLLECTORS", "Collector", "CollectorKind", "Options", "Reading", "Resume", "balance_options", "options"]


COLLECTORS: dict[str, CollectorKind] = {
    "modbus-tcp": CollectorKind("modbus_tcp"),
    "modbus-rtu": CollectorKind("modbus_rtu"),
    "serial-line": CollectorKind("serial_line"),
    "euromap63": CollectorKind("euromap63"),
    "opcua-40077": CollectorKind("opcua_40077"),
    "recording": CollectorKind("recording"),
}
"""Every kind of collector of a press by the name the configuration uses, with its module: it is loaded when a press of
its kind is read, for a logger needs few of them.
"""

_BALANCE = CollectorKind("serial_balance")


def options(press: PressSettings) -> Options:
    """Read and check the ``[press.collector]`` table of one press.

    Raises
    ------
    SettingsError
        The kind is not known, or one of its keys is missing, wrong or unknown.
    """
    section = press.collector
    section.text("kind")
    if press.kind not in COLLECTORS:
        raise section.wrong("kind", " | ".join(COLLECTORS))
    checked = COLLECTORS[press.kind].options(section)
    section.finish()
    return checked


def balance_options(balance: BalanceSettings) -> Options:
    """Read and check the ``[[balance]]`` table of one balance.

    Raises
    ------
    SettingsError
        One of its keys is missing, wrong or unknown.
    """
    checked = _BALANCE.options(balance.line)
    balance.line.finish()
    return checked
