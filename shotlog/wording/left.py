"""What stays as it is where nothing is called any more: that is no word on the insert or the parts."""

from dataclasses import dataclass

from shotlog.wording.numbers import some

__all__ = ["Left"]


@dataclass(frozen=True, slots=True)
class Left:
    """The reused inserts that were in then and are `still` in, and how many parts are held, with what is next of them.

    `anew`: the shot from which the level is learnt anew, None where it is the one that was called.

    Examples
    --------
    >>> left = Left(("D-1, moving half",), 130, "put them aside: shots 140 to 269", 270)
    >>> print(left.in_short)
    , but D-1, moving half, is still in, and 130 parts stay held
    >>> print(left.in_full)
    Put them aside: shots 140 to 269. The level is learnt anew from shot 270 on: what moved before does not show there.
    >>> Left().in_short, Left().in_full, Left(n_held=1).in_short
    ('', '', ', but 1 part stays held')
    """

    still: tuple[str, ...] = ()
    n_held: int = 0
    next: str = ""
    anew: int | None = None

    @property
    def in_short(self) -> str:
        """What is added to the subject, which may be all that a phone shows; empty where nothing stays."""
        stays = (
            [f"{' and '.join(self.still)}, {'is' if len(self.still) == 1 else 'are'} still in"] if self.still else []
        )
        if self.n_held:
            stays.append(f"{some(self.n_held, 'part')} stay{'s' if self.n_held == 1 else ''} held")
        return f", but {', and '.join(stays)}" if stays else ""

    @property
    def in_full(self) -> str:
        """What is added to the text."""
        told = [f"{self.next[0].upper()}{self.next[1:]}."] if self.next else []
        if self.anew is not None:
            told.append(f"The level is learnt anew from shot {self.anew} on: what moved before does not show there.")
        return " ".join(told)
