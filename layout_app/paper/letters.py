"""How wide words get at most, whatever sans-serif font a reader has.

The widths are upper bounds over the two families of sans-serif that are met most often where
the named one is missing (a wide one and one of the metrics of the usual office font), for
Latin, Greek, Hebrew and today's Cyrillic letters, signs of punctuation, numbers and arrows; a
test measures them again. What is painted is squeezed where a line is still longer than this.
"""

import re
import unicodedata
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Final

from layout_app.model.words.wording import unbroken

_CLASSES = {
    0.30: "ijlI'",
    0.36: " \xa0\u202f.,·|/\\:;f’‘",
    0.42: "!()[]tr-ľ\N{SOFT HYPHEN}",
    0.53: '*"`sz',
    0.58: "c“”_–J?",
    0.64: "FabdeghknopquvxyßL0123456789${}\u2007",
    0.70: "EKPSTVXYZAB",
    0.73: "CR",
    0.79: "DGHNOQUØ&",
    0.84: "w#+<=>~^×−±",
    0.98: "mM%½¼¾",
    1.02: "W@…—\N{EM QUAD}\N{EM SPACE}Æ϶шѠȸȹ⁂₥₩∟≔≕",
    1.12: "ŒæœƕƜƢЫЮ―←→↔щѡ",
    1.25: "ЖШЩЉЊǶ∭∰",
    1.44: "‰₧₯",
    1.81: "‱",
}
_WIDTHS = {letter: width for width, letters in _CLASSES.items() for letter in letters}
SNUG: Final = {False: 0.88, True: 0.8}
"""Share of these widths that the usual office font needs, and in bold; wider ones are squeezed to
that."""
_BOLD, _BOLDER = 1.25, 0.085
"""Bold letters are at most so many times as wide, and at most so much wider in text sizes."""
_WIDE, _OTHER, _PICTURE = 1.05, 0.95, 1.4
_HORN: Final = "\N{COMBINING HORN}"
_HORN_WIDTH = 0.15
_BREAK: Final = re.compile(r"[^\S\xa0\u2007\u202f]+")
"""Where a line may end: white space, but none that says it must not break."""
_SOLID: Final = re.compile(r"[\xa0\u2007\u202f]+")
_REMEMBERED: Final = 4096
"""So many texts that were broken into lines: a pack asks for each several times."""


def width_of(text: str, *, bold: bool = False) -> float:
    """Return the width of a line in text sizes, on the safe side."""
    return sum(map(_widths(bold), text))


def shortened(text: str, room: float, *, bold: bool = False) -> str:
    """Return text that is at most that wide in text sizes; what is left out shows as dots."""
    if width_of(text, bold=bold) <= room:
        return text
    return _beginning(text, room - width_of("…", bold=bold), bold=bold).rstrip() + "…"


def two_lines(text: str, room: float) -> list[str]:
    """Break bold text into two lines at most; what is left out shows as dots."""
    lines = wrapped(text, room, bold=True)
    if len(lines) <= 2:
        return lines
    return [lines[0], shortened(" ".join(lines[1:]), room, bold=True)]


def wrapped(text: str, room: float, *, bold: bool = False) -> list[str]:
    """Break text into lines at most that wide in text sizes.

    Sizes stay whole where they can; a word that is longer than a line is broken.
    """
    return list(_wrapped(text, room, bold))


@lru_cache(maxsize=_REMEMBERED)
def _wrapped(text: str, room: float, bold: bool) -> tuple[str, ...]:
    lines: list[str] = []
    width, line, taken = _widths(bold), "", 0.0
    for word in _pieces(text, room, bold=bold):
        longer = f" {word}" if line else word
        taken = sum(map(width, longer), taken)
        if line and taken > room:
            lines.append(line)
            line, taken = word, sum(map(width, word))
        else:
            line += longer
    return tuple(_SOLID.sub(" ", one) for one in (*lines, line) if one) or ("",)


def solid_words(text: str) -> list[str]:
    """Return the words of a text, sizes whole: between them a line may end."""
    return [word for word in _BREAK.split(unbroken(text)) if word]


def _pieces(text: str, room: float, *, bold: bool) -> Iterator[str]:
    """Yield the words of a text, those too long for a line cut up."""
    for word in solid_words(text):
        if width_of(word, bold=bold) <= room:
            yield word
        else:
            for part in filter(None, _SOLID.split(word)):
                yield from _cut_up(part, room, bold=bold)


def _cut_up(word: str, room: float, *, bold: bool) -> Iterator[str]:
    """Yield pieces of a word that have room, each one letter at least."""
    piece, taken = "", 0.0
    for letter in clusters(word):
        width = width_of(letter, bold=bold)
        if piece and taken + width > room:
            yield piece
            piece, taken = "", 0.0
        piece, taken = piece + letter, taken + width
    if piece:
        yield piece


def _beginning(text: str, room: float, *, bold: bool) -> str:
    """Return as many letters, with their accents, as are at most that wide."""
    kept, taken = [], 0.0
    for letter in clusters(text):
        taken += width_of(letter, bold=bold)
        if taken > room:
            break
        kept.append(letter)
    return "".join(kept)


def clusters(text: str) -> Iterator[str]:
    """Yield letters, each with the accents and joiners that follow it."""
    held = ""
    for letter in text:
        if held and not (_joins(letter) or held.endswith("\N{ZERO WIDTH JOINER}")):
            yield held
            held = ""
        held += letter
    if held:
        yield held


def _joins(letter: str) -> bool:
    """Say whether a letter belongs to the one before: accents, signs that join."""
    return unicodedata.category(letter)[0] == "M" or width_of(letter) == 0.0


class _Letters(dict[str, float]):
    """The widths of all letters asked for yet, in text sizes."""

    def __init__(self, bold: bool) -> None:
        super().__init__()
        self._bold = bold

    def __missing__(self, letter: str) -> float:
        """Work a width out, once."""
        self[letter] = width = self._worked_out(letter)
        return width

    def _worked_out(self, letter: str) -> float:
        known = _WIDTHS.get(letter)
        if known is not None:
            return min(_BOLD * known, known + _BOLDER) if self._bold else known
        spelt = unicodedata.normalize("NFKD", letter)
        if len(spelt) > 1 and spelt[0] in _WIDTHS and spelt[0] != " ":
            return sum(self[one] for one in spelt) + _HORN_WIDTH * (_HORN in spelt)
        return _unusual(letter, self._bold)


_PLAIN_WIDTH: Final = _Letters(bold=False).__getitem__
_BOLD_WIDTH: Final = _Letters(bold=True).__getitem__


def _widths(bold: bool) -> Callable[[str], float]:
    return _BOLD_WIDTH if bold else _PLAIN_WIDTH


def _unusual(letter: str, bold: bool) -> float:
    kind = unicodedata.category(letter)
    if kind in {"Mn", "Cf"}:
        return 0.0
    if kind == "So" or ord(letter) > 0xFFFF:
        return _PICTURE
    wide = unicodedata.east_asian_width(letter) in "WF"
    return (_WIDE if wide else _OTHER) + _BOLDER * bold
