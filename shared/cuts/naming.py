"""Names of the pieces on the sawhorses: the sheet is 1, its strips 1a, 1b, their blocks 1a1."""

from collections import Counter
from collections.abc import Mapping
from string import ascii_lowercase


def letters(number: int) -> str:
    """Return the number-th label of letters: 1 is ``a``, 26 ``z``, 27 ``aa``; none below 1."""
    label = ""
    while number > 0:
        number, digit = divmod(number - 1, 26)
        label = ascii_lowercase[digit] + label
    return label


class Names:
    """Gives each piece sawn off a name of its own: the piece it came from, and a label.

    Letters follow a name that ends in a digit and digits one that ends in a letter, and
    each name counts on. So a remainder that keeps its name and is cut in another
    direction goes on where its strips left off, and no name is given twice.
    """

    def __init__(self, given: Mapping[str, int] | None = None) -> None:
        """Take how many names each piece has given away before."""
        self._given: Counter[str] = Counter(given or {})

    def off(self, piece: str) -> str:
        """Name the next piece sawn off the piece of that name."""
        self._given[piece] += 1
        number = self._given[piece]
        return piece + (letters(number) if piece[-1:].isdigit() else str(number))
