"""Where the words of a cutting diagram stand: in the part, or as a letter and a line below."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from shared.drawing import Fitted, Label, Space, Weight, fit
from solver.sequencing.naming import letters


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """Words that found room, and lines for a list below the sheet.

    Attributes
    ----------
    inside
        Words and where they stand, with the key of what they name.
    below
        A letter and the words it stands for; no letter where the name stands in the part but
        its size found no room, and for what is too narrow even for a letter.
    """

    inside: tuple[tuple[str, Fitted], ...]
    below: tuple[tuple[str, str], ...]


def letter(labels: Sequence[Label], size: float, tags: Sequence[Space]) -> Lettering:
    """Letter a sheet; ``size`` is the least text size in millimetres.

    Equal labels that do not fit are listed once. Words stand in bad places only where they
    are about these.
    """
    bad = [_space(label) for label in labels if label.weight is Weight.NO_GO]
    inside: list[tuple[str, Fitted]] = []
    below: dict[str, str] = {}
    numbers = count(1)
    for label in labels:
        taken = tags if label.weight is Weight.NO_GO else [*tags, *bad]
        found = _fit(label.lines, label, (1.3 * size, size), taken)
        if not _complete(found, label.lines):
            meaning = ", ".join(label.lines)
            if meaning not in below:
                below[meaning] = "" if found else letters(next(numbers)).upper()
            found = found or _fit((below[meaning],), label, (size,), taken)
        if found is not None:
            inside.append((label.key, found))
    shown = {found.lines[0] for _, found in inside}
    return Lettering(
        inside=tuple(inside),
        below=tuple((mark if mark in shown else "", text) for text, mark in below.items()),
    )


def _complete(found: Fitted | None, lines: Sequence[str]) -> bool:
    """Say whether all words stand there."""
    return found is not None and all(line in " ".join(found.lines) for line in lines)


def _fit(
    lines: Sequence[str], label: Label, sizes: Sequence[float], tags: Sequence[Space]
) -> Fitted | None:
    widths = [width_of(line, bold=not place) for place, line in enumerate(lines)]
    return fit(lines, widths, _space(label), sizes, tags)


def _space(label: Label) -> Space:
    rect = label.rect
    return Space(
        x=to_mm(rect.x), y=to_mm(rect.y), length=to_mm(rect.length), width=to_mm(rect.width)
    )
