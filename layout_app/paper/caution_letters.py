"""Letters that stand for cautions and for names on drawings: never the same, never a size.

L and W are sizes, V is the reference mark, H the mark of handling; I and O are read as digits.
"""

from collections.abc import Iterable, Sequence
from itertools import count, islice
from typing import Final

from shared.making.hazards import HAZARDS
from shared.telling import Instruction

KEYS: Final = "ABCDEFGJ"
"""For names that have no room on a drawing."""
CAUTIONS: Final = "KMNPQRSTUXYZ"
"""For cautions."""


def key_letters(number: int) -> str:
    """Return the number-th letter for a name on a drawing: A, B ... J, AA, BB ... from 1."""
    return _letter(KEYS, number - 1)


def letters_of(told: Iterable[Instruction]) -> dict[str, str]:
    """Return the letter of each caution that any cut of a job has, by its code, dangers first."""
    met = {caution.code for one in told for caution in one.cautions}
    codes = [rule.code for rule in HAZARDS if rule.code in met]
    return dict(zip(codes, islice(_letters(CAUTIONS), len(codes)), strict=True))


def _letters(of: Sequence[str]) -> Iterable[str]:
    return (_letter(of, place) for place in count())


def _letter(of: Sequence[str], place: int) -> str:
    times, at = divmod(place, len(of))
    return of[at] * (times + 1)
