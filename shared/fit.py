"""Whether one part alone fits a sheet, and what stands in its way if it does not."""

from collections.abc import Iterable
from enum import IntEnum

from shared.lengths import Length
from shared.parts import Part
from shared.stock import Stock, orientations


class Fit(IntEnum):
    """How a part fits a sheet; a greater one is nearer to fitting."""

    TOO_LARGE = 0
    """Larger than the sheet however it lies."""
    BUT_FOR_TRIMS = 1
    """Fits the untrimmed sheet as its grain rule wants."""
    BUT_FOR_KERF = 2
    """Would fit if the trims took no kerf."""
    BUT_FOR_GRAIN = 3
    """Fits, but only lying against its grain rule."""
    FITS = 4


def best_fit(part: Part, rows: Iterable[Stock], kerf: Length) -> tuple[Fit, Stock]:
    """Return how the part fits the sheet it fits best; the largest sheet if equal.

    Parameters
    ----------
    part
        Its cut size counts.
    rows
        One or more stock rows of its material.
    kerf
        In ticks.
    """
    return max(
        ((fit(part, row, kerf), row) for row in rows),
        key=lambda found: (found[0], found[1].length * found[1].width),
    )


def fit(part: Part, row: Stock, kerf: Length) -> Fit:
    """Say how a part fits a sheet when it is cut from it alone.

    A part that fills the room between the trims exactly fits: at an exact ending there
    is no cut, and where a far trim remains the last cut runs in it.
    """
    allowed = orientations(part.grain_rule, row.grain)
    if _fits(part, allowed, _room(row)):
        return Fit.FITS
    if _fits(part, (False, True), _room(row)):
        return Fit.BUT_FOR_GRAIN
    if _fits(part, allowed, _room(row, kerf)):
        return Fit.BUT_FOR_KERF
    if _fits(part, allowed, (row.length, row.width)):
        return Fit.BUT_FOR_TRIMS
    return Fit.TOO_LARGE


def _fits(part: Part, turns: Iterable[bool], room: tuple[Length, Length]) -> bool:
    along, across = part.cut_length, part.cut_width
    lies = ((across, along) if turned else (along, across) for turned in turns)
    return any(x <= room[0] and y <= room[1] for x, y in lies)


def _room(row: Stock, kerf: Length = 0) -> tuple[Length, Length]:
    """Room between the trims, each trim cut lessened by so much kerf."""
    trims = row.trims
    start, near = max(trims.start - kerf, 0), max(trims.near - kerf, 0)
    return row.length - start - trims.end, row.width - near - trims.far
