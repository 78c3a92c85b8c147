"""Where the words of a cutting diagram stand: in the part, or as a letter and a line below."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.caution_letters import key_letters
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from layout_app.paper.panels.naming import names_in_words
from shared.drawing import Fitted, RectLabel, Space, Weight, fit

NARROW_ONES = "too narrow for a letter"
"""Of what has no name on the drawing, and no piece has its name."""
Whence = Mapping[str, tuple[str, int]]
"""The name of the piece that a label names, and the cut that frees it, by the label's key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """Words that found room, and lines for a list below the sheet.

    Attributes
    ----------
    inside
        Words and where they stand, with the key of what they name.
    below
        A letter and the words it stands for; no letter where the name stands in every part of
        that kind but its size found no room, and for what is too narrow even for a letter.
    letters
        How many have a letter for their name.
    missing
        How many have neither name nor letter: the list says which pieces they are.
    """

    inside: tuple[tuple[str, Fitted], ...]
    below: tuple[tuple[str, str], ...]
    letters: int
    missing: int


def letter(
    labels: Sequence[RectLabel],
    size: float,
    tags: Sequence[Space],
    whence: Whence | None = None,
    *,
    overlapping: bool = False,
) -> Lettering:
    """Letter a sheet; ``size`` is the least text size in millimetres.

    Equal labels that do not fit are listed once. Words stand in bad places only where they
    are about these. Where parts may be ``overlapping`` no name covers another.
    """
    bad = [_space(label) for label in labels if label.weight is Weight.NO_GO]
    inside: list[tuple[str, Fitted]] = []
    listed: dict[str, list[tuple[RectLabel, Sequence[Space]]]] = {}
    for label in labels:
        taken = tags if label.weight is Weight.NO_GO else [*tags, *bad]
        if overlapping:
            taken = [*taken, *(one.block for _, one in inside)]
        found = _name(label, size, taken)
        if found is not None:
            inside.append((label.key, found))
        if not _complete(found, label.lines):
            nameless = listed.setdefault(", ".join(label.lines), [])
            nameless += [] if found else [(label, taken)]
    named = [found.block for _, found in inside] if overlapping else []
    marked = list(_marked(listed, size, named, whence or {}))
    return Lettering(
        inside=(*inside, *(one for line in marked for one in line.found)),
        below=tuple((line.mark, line.text) for line in marked),
        letters=sum(len(line.found) for line in marked),
        missing=sum(line.missing for line in marked),
    )


class _Marked(NamedTuple):
    """A line of the list: its letter, what it says, where the letter stands, and where not."""

    mark: str
    text: str
    found: list[tuple[str, Fitted]]
    missing: int


def _marked(
    listed: Mapping[str, Sequence[tuple[RectLabel, Sequence[Space]]]],
    size: float,
    named: Sequence[Space],
    whence: Whence,
) -> Iterator[_Marked]:
    """Yield the lines of the list."""
    used = 0
    for text, nameless in listed.items():
        mark = key_letters(used + 1)
        fitted = [
            (label.key, _fit((mark,), label, (size,), [*taken, *named], tight=True))
            for label, taken in nameless
        ]
        found = [(key, one) for key, one in fitted if one is not None]
        without = [key for key, one in fitted if one is None]
        said = f"{text} ({_missing(without, whence)})" if without else text
        used += bool(found)
        yield _Marked(mark if found else "", said, found, len(without))


def _missing(keys: Sequence[str], whence: Whence) -> str:
    """Say which pieces are meant that have no letter."""
    known = [whence[key] for key in keys if key in whence]
    if len(known) < len(keys):
        return NARROW_ONES
    names, cuts = zip(*known, strict=True)
    s = "s" if len(known) > 1 else ""
    return f"piece{s} {names_in_words(names)}, after cut{s} {numbers_in_words(cuts)}"


def _name(label: RectLabel, size: float, taken: Sequence[Space]) -> Fitted | None:
    """Fit name and size, the name on two lines if it must be; else the name without the size.

    Words stand close to the edges where it cannot be helped.
    """
    name, *others = label.lines
    first = _fit(label.lines, label, (1.3 * size, size), taken)
    if _complete(first, label.lines):
        return first
    halves = two_halves(name)
    both = _fit((*halves, *others), label, (size,), taken, bold=2) if halves else None
    if _complete(both, label.lines):
        return both
    found = first or _fit(label.lines, label, (size,), taken, tight=True)
    if found is not None or not halves:
        return found
    split = _fit(halves, label, (size,), taken, tight=True, bold=2)
    return split if _complete(split, (name,)) else None


def two_halves(name: str) -> tuple[str, ...]:
    """Break a name between words into two lines as even as can be; ``()`` if it is one word."""
    words = name.split()
    places = range(1, len(words))
    halves = [(" ".join(words[:at]), " ".join(words[at:])) for at in places]
    return min(halves, key=lambda pair: max(map(width_of, pair)), default=())


def _complete(found: Fitted | None, lines: Sequence[str]) -> bool:
    """Say whether all words stand there."""
    return found is not None and all(line in " ".join(found.lines) for line in lines)


def _fit(
    lines: Sequence[str],
    label: RectLabel,
    sizes: Sequence[float],
    tags: Sequence[Space],
    *,
    tight: bool = False,
    bold: int = 1,
) -> Fitted | None:
    widths = [width_of(line, bold=place < bold) for place, line in enumerate(lines)]
    return fit(lines, widths, _space(label), sizes, tags, tight=tight)


def _space(label: RectLabel) -> Space:
    rect = label.rect
    return Space(
        x=to_mm(rect.x), y=to_mm(rect.y), length=to_mm(rect.length), width=to_mm(rect.width)
    )
