"""The dearest sheet of one shape: only heights are looked at that it may take.

Every height has an upper bound at first. One that cannot make a sheet dearer than the
dearest of heights known for certain is left alone; the others are evaluated, until none is
left. So the result is what it would be with all heights evaluated.
"""

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np

from solver.budget.stop import Stop
from solver.proof.cut_bound.exact_shape import ExactShape
from solver.proof.cut_bound.sheets import NOTHING, SheetKnapsack, WasteSheet
from solver.proof.cut_bound.stacks import NEVER
from solver.proof.cut_bound.strips import StripKnapsack, WasteStrip
from solver.proof.normal_patterns import Ints

AT_ONCE = 256
"""Heights evaluated before it is asked again which ones matter."""
STRIPS_AT_ONCE = 30
"""Most strips handed back besides those of the dearest sheet."""


class Priced(NamedTuple):
    """The dearest sheet, and strips that make dear sheets, under some prices."""

    sheet: WasteSheet
    strips: list[WasteStrip]


def price(shape: ExactShape, prices: Ints, first: Iterable[int], stop: Stop) -> Priced:
    """Return the dearest sheet under prices of items.

    Parameters
    ----------
    first
        Heights (indices) that are likely to matter.

    Raises
    ------
    Stopped
        When told to stop before all is known.
    """
    strips = StripKnapsack(shape, prices)
    most = strips.at_most(stop)
    known = np.full(len(most), NEVER, dtype=np.int64)
    rest = np.ones(len(most), dtype=bool)
    rest[0] = False
    todo = np.array(sorted(first) or [len(most) - 1], dtype=np.int64)
    sheet = WasteSheet((), 0, NOTHING)
    while len(todo):
        known[todo] = strips.best(todo, stop)
        most[todo] = known[todo]
        rest[todo] = False
        found = SheetKnapsack(shape, known, stop, sheet.value).best()
        sheet = found if found.value > sheet.value else sheet
        within = SheetKnapsack(shape, np.where(rest, most, known), stop, sheet.value).with_strip()
        rest &= within > sheet.value
        left = np.flatnonzero(rest)
        todo = np.sort(left[np.argsort(-within[left], kind="stable")[:AT_ONCE]])
    sheets = SheetKnapsack(shape, known, stop)
    ranked = np.argsort(-sheets.with_strip(), kind="stable")[:STRIPS_AT_ONCE]
    chosen = np.union1d(ranked[known[ranked] > NEVER // 2], np.array(sheet.heights, dtype=int))
    return Priced(sheet, strips.strips(chosen, stop))
