"""``shotlog check``: read the configuration and say what would be read from where, connecting to nothing."""

import argparse
import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from shotlog.cli.messages import broker_said, check_messages
from shotlog.cli.opening import Subparsers, add_command
from shotlog.cli.ship import edge_name
from shotlog.cli.who_is_told import doubtful_addresses, try_messages, who_is_told
from shotlog.settings import load
from shotlog.withheld import without_secrets

__all__ = ["add", "examples"]

_EXAMPLE = "press-modbus.toml"


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "validate a configuration; print what would be read from where"
    parser = add_command(subparsers, "check", text, _run)
    parser.add_argument(
        "--messages", action="store_true", help="send one message to each receiver, knock at the broker"
    )
    parser.description = f"{text}; examples to copy lie in {examples()}"


def examples() -> Path:
    """Return the folder of example configurations: the checkout's, else that of the installation."""
    checkout = Path(__file__).parents[2] / "config"
    return checkout if (checkout / _EXAMPLE).exists() else Path(sys.prefix, "share", "shotlog")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.access.exposed import is_hidden, why_exposed
    from shotlog.access.exposed_secrets import exposed_secrets
    from shotlog.access.reach import asks_login, why_no_pages
    from shotlog.collectors import balance_options, options
    from shotlog.store.keeping.anchors import is_there, standing_against
    from shotlog.store.log.engine import connect
    from shotlog.wear.constants import FALSE_CALLS_PER_100

    settings = load(arguments.config)
    check_messages(settings)
    presses = [(f"press {press.name}: {press.kind}", options(press)) for press in settings.presses]
    balances = [(f"balance {one.name}: weighs for {one.weighs}", balance_options(one)) for one in settings.balances]
    print(f"log: {settings.store_shown}")
    if settings.anchor is not None:
        new = "" if is_there(settings.anchor) else ", which is not there yet"
        print(f"head of the log: written down in {settings.anchor}{new}")
    if settings.trial is not None:
        print(f"trial: {settings.trial.name}")
    for title, collector in (*presses, *balances):
        print(title)
        for line in collector.describe():
            print(f"  {line}")
    for name, design in settings.designs.items():
        limits = "; ".join(
            f"{channel} {_end(bound.low, 'above')}{_end(bound.high, 'below')}".strip()
            for channel, bound in design.limits.items()
        )
        print(
            f"design {name}: {design.settling_shots} settling shots, level from {design.baseline_shots} shots, "
            f"chart limits: {design.chart_limits}, action limits: {limits or 'none given'}, "
            f"costs: {'given' if design.cost else 'none given'}"
        )
    print(
        f"false calls: {FALSE_CALLS_PER_100:g} in 100 sound inserts, half to twice as many by the costs of a design"
        if settings.false_calls is None
        else f"false calls: {settings.false_calls:g} in 100 sound inserts, as stated"
    )
    for line in (*broker_said(settings), *who_is_told(settings)):
        print(line)
    if settings.ship is not None:
        print(f"shipped to the centre {settings.ship.shown} as {edge_name(settings)}")
    print("every key as it was understood:")
    for line in _understood(settings.understood):
        print(f"  {line}")
    if settings.anchor is not None and (wrong := standing_against(settings.anchor)):
        print(f"WARNING: the head of the log cannot be written down outside: anchor {settings.anchor}: {wrong}")
    exposed = why_exposed(settings.accounts) if asks_login(settings) else ""
    hidden = asks_login(settings) and is_hidden(settings.accounts)
    if hidden:
        print(f"accounts {settings.accounts}: not looked at; who runs the pages may read them, and you may not")
    no_pages = "" if hidden else why_no_pages(settings)
    told = (*settings.cautions, *doubtful_addresses(settings), *settings.hints, no_pages, exposed)
    secrets = exposed_secrets(settings.understood, settings.file.resolve().parent)
    for line in filter(None, (*told, *secrets)):
        print(f"WARNING: {line}")
    connect(settings.store, read_only=True).dispose()  # connects to nothing, and needs the driver of the store
    if settings.ship is not None:
        connect(settings.ship.to, read_only=True).dispose()
    print("this configuration is valid")
    return int(arguments.messages and try_messages(settings) > 0)


def _understood(keys: Mapping[str, tuple[object, bool]]) -> Iterator[str]:
    """Yield every key with its value, table by table; what the file does not give is marked."""
    tables = list(dict.fromkeys(_table(key) for key in keys))
    for key in sorted(keys, key=lambda key: tables.index(_table(key))):
        value, given = keys[key]
        plain = without_secrets(value) if isinstance(value, str) else value
        shown = "nothing" if value is None else json.dumps(plain, ensure_ascii=False, default=str)
        yield without_secrets(f"{key} = {shown}") + ("" if given else "  (not given)")


def _table(key: str) -> str:
    """Return the table a key stands in: ``press[1]`` of ``press[1].collector.unit``, ``design.cap`` of its limits."""
    first, *rest = key.split(".")
    return f"{first}.{rest[0]}" if first == "design" and rest else first


def _end(value: float | None, word: str) -> str:
    return "" if value is None else f"{word} {value:g} "
