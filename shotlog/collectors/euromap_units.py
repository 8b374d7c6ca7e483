"""In which unit each token comes: as the press says in GETID, and as the configuration says; never guessed. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from shotlog.channels import CHANNELS
from shotlog.collectors.euromap_lists import KnownToken, nearest_to
from shotlog.collectors.euromap_rows import token_key
from shotlog.collectors.scaling import Scaling
from shotlog.errors import PressRefused, UsageError
from shotlog.units import converter

__all__ = ["TokenChannel", "scalings"]


@dataclass(frozen=True, slots=True)
class TokenChannel:
    """A channel as the configuration gives it; `scaling` is None where its unit is left to the press."""

    name: str
    token: str
    scale: Decimal
    offset: Decimal
    scaling: Scaling | None

    def __str__(self) -> str:
        if self.scaling is not None:
            return str(self.scaling)
        own = str(Scaling(CHANNELS[self.name], self.scale, self.offset, CHANNELS[self.name].unit, float))
        factors = own.removesuffix(CHANNELS[self.name].unit)
        return f"{factors}in the unit that the press tells (GETID), as {CHANNELS[self.name].unit}"


def scalings(
    channels: Mapping[str, TokenChannel], known: Mapping[str, KnownToken]
) -> tuple[dict[str, tuple[str, Scaling]], list[tuple[str, str]]]:
    """Return what the number under each token means, and what is to be said of units that do not agree, with the unit.

    Raises
    ------
    PressRefused
        The press does not know a token, or neither it nor the configuration says in which unit a value comes.
    """
    found: dict[str, tuple[str, Scaling]] = {}
    said: list[tuple[str, str]] = []
    lacking: list[str] = []
    unknown: list[str] = []
    for name, one in channels.items():
        token = known.get(token_key(one.token))
        unit = "" if token is None else token.unit
        if one.scaling is not None:
            found[name] = (one.token, one.scaling)
            if unit and not _same(unit, one.scaling.unit):
                differs = (
                    f"{name}: the press gives {one.token} in {unit!r}, the configuration says {one.scaling.unit!r}: it "
                    "is taken as the configuration says"
                )
                said.append((differs, f"{one.token} {unit}"))
            continue
        try:
            own = CHANNELS[name]
            found[name] = (one.token, Scaling(own, one.scale, one.offset, unit, converter(unit, own.unit)))
        except UsageError:
            if token is None and known:
                has = nearest_to(one.token, known)
                unknown.append(f"{one.token}, given for {name}{has and f' (it has {has})'}")
            else:
                gives = f"in {unit!r}" if unit else "without a unit" if token is not None else "it gave no list (GETID)"
                lacking.append(f"{name} ({one.token}: {gives})")
    if unknown:
        raise PressRefused(f"the press knows no token {'; nor '.join(unknown)}: the list it gave (GETID) is without it")
    if lacking:
        raise PressRefused(
            f'no unit is known for {", ".join(lacking)}: give unit = "..." there, as the press\'s screen shows it'
        )
    return found, said


def _same(one: str, other: str) -> bool:
    """Say whether two units are one, however they are written."""
    if one == other:
        return True
    try:
        convert = converter(one, other)
    except UsageError:
        return False
    return abs(convert(1.0) - 1.0) < 1e-9 and abs(convert(100.0) - 100.0) < 1e-7
