"""What the configuration that an edge's log keeps says of its shop, for whoever reads that log at a centre.

It was kept without what is secret in it, and is not about the computer that reads it here: how the pages are served and
who is let in stays what the file here says.
"""

from collections.abc import Sequence
from dataclasses import replace

from shotlog.errors import SettingsError
from shotlog.settings.designs import designs
from shotlog.settings.messages import messages
from shotlog.settings.section import Section
from shotlog.settings.toml_text import tables_of
from shotlog.settings.whole import FALSE_CALLS, PressSettings, Settings, read_from, trial

__all__ = ["settings_of_edge"]

_FALSE = "false_per_100_lives"


def settings_of_edge(settings: Settings, text: str | None, presses: Sequence[str]) -> Settings:
    """Return a configuration with the presses, designs and messages of an edge, from the text that its log keeps.

    `presses`: those that its log knows, which is all where it keeps no text, or one that cannot be read here; a hint
    says what is missing then.
    """
    name = f"the configuration of {settings.edge}"
    if text is None:
        return _of_names(settings, presses, f"{name} is not in its log yet")
    try:
        root = Section(name, "", tables_of(settings.file, text))
        of_edge, balances, _ = read_from(root)
        call = root.section("call", optional=True)
        found = replace(
            settings,
            presses=of_edge,
            balances=balances,
            designs=dict(designs(root.section("design", optional=True))),
            trial=trial(root),
            false_calls=call.number(_FALSE, *FALSE_CALLS) if call.has(_FALSE) else None,
        )
    except SettingsError as error:
        return _of_names(settings, presses, f"{name} cannot be read here: {error.key}: given {error.given}")
    try:
        return replace(found, messages=messages(root, settings.file, [press.name for press in of_edge]))
    except SettingsError:  # an address whose secret is left out may be none any more
        return replace(found, hints=(*found.hints, f"{name} was kept without its secrets: who is told is not known"))


def _of_names(settings: Settings, presses: Sequence[str], why: str) -> Settings:
    nothing = Section(str(settings.file), "", {})
    hint = f"{why}; limits and costs of designs are not known, nor is anything of a press but its name"
    named = tuple(PressSettings(name, "recording", nothing) for name in presses)
    return replace(settings, presses=named, hints=(*settings.hints, hint))
