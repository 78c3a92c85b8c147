"""How wide words get at most, whatever sans-serif font a reader has.

The widths are upper bounds over the two families of sans-serif that are met most often where
the named one is missing (a wide one and one of the metrics of the usual office font); a test
measures them again. Back ends squeeze a line that is still longer than this.
"""

import unicodedata
from collections.abc import Iterator
from functools import cache
from itertools import accumulate

_CLASSES = {
    0.30: "ijlI'",
    0.36: " .,·|/\\:;f’‘",
    0.42: "!()[]tr-",
    0.53: '*"`sz',
    0.58: "c“”_–J?",
    0.64: "FabdeghknopquvxyßL0123456789${}",
    0.70: "EKPSTVXYZAB",
    0.73: "CR",
    0.79: "DGHNOQUØ&",
    0.84: "w#+<=>~^×−±",
    0.98: "mM%½¼¾",
    1.02: "W@…—",
}
_WIDTHS = {letter: width for width, letters in _CLASSES.items() for letter in letters}
SNUG = 0.88
"""Share of these widths that the usual office font needs; wider ones are squeezed to that."""
_BOLD = 1.3
"""Bold at most by so much wider, narrow letters most of all."""
_WIDE, _OTHER, _PICTURE = 1.05, 0.95, 1.4


def width_of(text: str, *, bold: bool = False) -> float:
    """Return the width of a line in text sizes, on the safe side."""
    return sum(map(_bold if bold else _plain, text))


def shortened(text: str, room: float, *, bold: bool = False) -> str:
    """Return text that is at most that wide in text sizes; what is left out shows as dots."""
    if width_of(text, bold=bold) <= room:
        return text
    left = room - width_of("…", bold=bold)
    kept = _clusters(text)
    while kept and width_of("".join(kept), bold=bold) > left:
        kept.pop()
    return "".join(kept).rstrip() + "…"


def wrapped(text: str, room: float, *, bold: bool = False) -> list[str]:
    """Break text into lines at most that wide in text sizes; a word that is longer is broken."""
    lines: list[str] = []
    line = ""
    for word in _pieces(text, room, bold=bold):
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, bold=bold) > room:
            lines.append(line)
            longer = word
        line = longer
    return [*lines, line] if line else lines or [""]


def _pieces(text: str, room: float, *, bold: bool) -> Iterator[str]:
    """Yield the words of a text, those too long for a line cut up."""
    for word in text.split():
        rest = word
        while width_of(rest, bold=bold) > room and len(rest) > 1:
            first = _beginning(rest, room, bold=bold)
            yield first
            rest = rest[len(first) :]
        if rest:
            yield rest


def _beginning(word: str, room: float, *, bold: bool) -> str:
    """Return as many letters as are at most that wide, but one at least."""
    ends = accumulate(width_of(letter, bold=bold) for letter in word)
    return word[: max(1, sum(end <= room for end in ends))]


def _clusters(text: str) -> list[str]:
    """Return letters, each with the accents and joiners that follow it."""
    found: list[str] = []
    for letter in text:
        if found and _plain(letter) == 0.0:
            found[-1] += letter
        else:
            found.append(letter)
    return found


@cache
def _plain(letter: str) -> float:
    known = _WIDTHS.get(letter)
    if known is not None:
        return known
    base = unicodedata.normalize("NFD", letter)[0]
    if base != letter and base in _WIDTHS:
        return _WIDTHS[base]
    return _unusual(letter)


def _unusual(letter: str) -> float:
    kind = unicodedata.category(letter)
    if kind in {"Mn", "Me", "Cf"}:
        return 0.0
    if kind == "So" or ord(letter) > 0xFFFF:
        return _PICTURE
    if unicodedata.east_asian_width(letter) in "WF":
        return _WIDE
    return _OTHER


@cache
def _bold(letter: str) -> float:
    return min(_BOLD * _plain(letter), _plain(letter) + 0.12)
