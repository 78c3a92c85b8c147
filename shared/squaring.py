"""Squaring a sheet that is out of square: how far its ends are off, and the trims that mend it.

A sheet out of square is a parallelogram. With sides L and W, and one long edge shifted
along the other by s, the squares of its diagonals differ by 4 L s; so s follows from the
difference of the two, d, and the diagonal D of the true rectangle as s = d D / (2 L).
"""

from dataclasses import replace
from math import isqrt
from typing import Final

from shared.job import Job
from shared.lengths import MM, Length
from shared.stock import Stock

BEYOND_KERF: Final[Length] = 2 * MM
"""With less stock beyond the kerf the blade rides half in air (common practice)."""


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


def squared(job: Job) -> Job:
    """Return the job with short-edge trims that square what was measured out of square.

    A near trim of the short edge takes the skew, a kerf, and stock for the blade to run in;
    at the far end the skew is lost. Trims that are larger stay as they are.
    """
    rows = tuple(_squared(row, job.shop.kerf) for row in job.stock)
    return job if rows == job.stock else replace(job, stock=rows)


def _squared(row: Stock, kerf: Length) -> Stock:
    if not row.diagonals:
        return row
    off = skew(row.length, row.width, row.diagonals)
    trims = row.trims
    start = max(trims.start, off + max(kerf, 0) + BEYOND_KERF)
    end = max(trims.end, off)
    if (start, end) == (trims.start, trims.end):
        return row
    return replace(row, trims=replace(trims, start=start, end=end))
