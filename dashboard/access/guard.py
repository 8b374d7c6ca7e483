"""What all pages have in common that one server serves, of however many logs: who is logged in, and their tokens."""

from dataclasses import dataclass
from typing import Self

from dashboard.access.door import Door
from dashboard.shared.cookies import session_cookie, token_cookie
from dashboard.walls.tokens import Tokens
from shotlog.access.reach import asks_login
from shotlog.clock import Clock
from shotlog.settings import Settings

__all__ = ["Guard"]


@dataclass(frozen=True, slots=True)
class Guard:
    """The tokens of the pages, and the door; None where nobody has to log in."""

    tokens: Tokens
    door: Door | None

    @classmethod
    def of(cls, settings: Settings, clock: Clock) -> Self:
        """Return that of a configuration."""
        tokens = Tokens(token_cookie(settings), session_cookie(settings))
        return cls(tokens, Door(settings, clock) if asks_login(settings) else None)
