"""The configuration file (TOML) as typed, checked settings.

A wrong key, type, unit, address or duplicate name gives one line that names file, key, what was given and what is
allowed. A collector reads its own keys: this room hands it the table.
"""

from shotlog.settings.dashboard import LoginSettings, WallSettings
from shotlog.settings.designs import Bound, DesignSettings
from shotlog.settings.messages import BrokerSettings, MessagesSettings, ReceiverSettings
from shotlog.settings.section import Section
from shotlog.settings.shipping import ShipSettings
from shotlog.settings.whole import BackupSettings, BalanceSettings, PressSettings, Settings, TrialSettings, load

__all__ = [
    "BackupSettings",
    "BalanceSettings",
    "Bound",
    "BrokerSettings",
    "DesignSettings",
    "LoginSettings",
    "MessagesSettings",
    "PressSettings",
    "ReceiverSettings",
    "Section",
    "Settings",
    "ShipSettings",
    "TrialSettings",
    "WallSettings",
    "load",
]
