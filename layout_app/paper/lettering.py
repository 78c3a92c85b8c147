"""Where the words of a cutting diagram stand: in the part, or as a letter and a line below."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import count

from layout_app.paper.caution_letters import key_letters
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from shared.drawing import Fitted, RectLabel, Space, Weight, fit

NARROW_ONES = "too narrow for a letter"


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
    """

    inside: tuple[tuple[str, Fitted], ...]
    below: tuple[tuple[str, str], ...]


def letter(
    labels: Sequence[RectLabel], size: float, tags: Sequence[Space], *, overlapping: bool = False
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
    marked = _marked(listed, size, named)
    return Lettering(
        inside=(*inside, *(one for _, found, _ in marked for one in found)),
        below=tuple((mark, text) for mark, _, text in marked),
    )


_Marked = tuple[str, list[tuple[str, Fitted]], str]


def _marked(
    listed: Mapping[str, Sequence[tuple[RectLabel, Sequence[Space]]]],
    size: float,
    named: Sequence[Space],
) -> list[_Marked]:
    """Return a line of the list each: its letter, where that stands, and what it stands for."""
    marks = map(key_letters, count(1))
    made: list[_Marked] = []
    for text, nameless in listed.items():
        mark = next(marks) if nameless else ""
        fitted = [
            (label.key, _fit((mark,), label, (size,), [*taken, *named], tight=True))
            for label, taken in nameless
        ]
        found = [(key, one) for key, one in fitted if one is not None]
        said = text if len(found) == len(fitted) else f"{text} ({NARROW_ONES})"
        made.append((mark if found else "", found, said))
    return made


def _name(label: RectLabel, size: float, taken: Sequence[Space]) -> Fitted | None:
    """Fit name and size, or the name; close to the edges where it cannot be helped."""
    return _fit(label.lines, label, (1.3 * size, size), taken) or _fit(
        label.lines, label, (size,), taken, tight=True
    )


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
) -> Fitted | None:
    widths = [width_of(line, bold=not place) for place, line in enumerate(lines)]
    return fit(lines, widths, _space(label), sizes, tags, tight=tight)


def _space(label: RectLabel) -> Space:
    rect = label.rect
    return Space(
        x=to_mm(rect.x), y=to_mm(rect.y), length=to_mm(rect.length), width=to_mm(rect.width)
    )
