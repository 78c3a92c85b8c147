"""Squaring a sheet that is out of square: how far its ends are off, and the trims that mend it.

A sheet out of square is a parallelogram. With sides L and W, and one long edge shifted
along the other by s, the squares of its diagonals differ by 4 L s; so s follows from the
difference of the two, d, and the diagonal D of the true rectangle as s = d D / (2 L). The
mean of the diagonals is never longer than D, so this is never less than the true shift.
"""

from dataclasses import replace
from math import isqrt
from typing import Final

from shared.job import Job
from shared.lengths import INCH, MM, Length
from shared.stock import Stock, Trims

BEYOND_KERF: Final[Length] = 2 * MM
"""With less stock beyond the kerf the blade rides half in air (common practice)."""
STEPS: Final[tuple[Length, Length]] = (INCH // 64, MM // 10)
"""How finely a trim is set (common practice), on a sheet measured in inches or millimetres."""


def skew(length: Length, width: Length, difference: Length) -> Length:
    """Return how far a short edge is off square over the width, in ticks, rounded up.

    Parameters
    ----------
    length, width
        Measured sides of the sheet, in ticks.
    difference
        Of its two measured diagonals, in ticks; the sign is no matter.
    """
    if length <= 0 or width <= 0:
        return 0
    diagonal = isqrt(length * length + width * width) + 1
    return -(-abs(difference) * diagonal // (2 * length))


def absorbed(length: Length, width: Length, shift: Length) -> Length:
    """Return the largest difference of diagonals that means no more than a skew, in ticks.

    The inverse of `skew`: of a sheet with these sides, in ticks, whose short edges may be off
    square by ``shift`` over its width.
    """
    if length <= 0 or width <= 0 or shift <= 0:
        return 0
    return 2 * length * shift // (isqrt(length * length + width * width) + 1)


def off_square(row: Stock) -> Length:
    """Return how far the short edges of a row's sheets are off square, in ticks."""
    return skew(row.length, row.width, row.diagonals)


def with_trims(row: Stock, trims: Trims) -> Stock:
    """Return a row with the trims the maker wants; squaring may still raise them."""
    return replace(row, trims=trims, own_trims=None)


def squared(job: Job) -> Job:
    """Return the job with short-edge trims that square what was measured out of square.

    A near trim of the short edge takes the skew, a kerf, and stock for the blade to run in;
    at the far end the skew is lost. Trims that are larger stay as they are; what the maker
    wanted is remembered, and comes back when the sheet turns out to be square.
    """
    rows = tuple(_squared(row, job.shop.kerf) for row in job.stock)
    return job if rows == job.stock else replace(job, stock=rows)


def _squared(row: Stock, kerf: Length) -> Stock:
    own = row.trims if row.own_trims is None else row.own_trims
    trims = _raised(row, own, kerf) if row.diagonals else own
    return replace(row, trims=trims, own_trims=None if trims == own else own)


def _raised(row: Stock, own: Trims, kerf: Length) -> Trims:
    off, step = off_square(row), _step(row)
    start = _up(off + max(kerf, 0) + BEYOND_KERF, step)
    return replace(own, start=max(own.start, start), end=max(own.end, _up(off, step)))


def _step(row: Stock) -> Length:
    """Return how finely its trims are set: by the unit that its size is a whole number of."""
    sixty_fourth, tenth = STEPS
    return sixty_fourth if not (row.length % sixty_fourth or row.width % sixty_fourth) else tenth


def _up(ticks: Length, step: Length) -> Length:
    return -(-ticks // step) * step
