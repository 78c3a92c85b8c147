"""Compile the search, or load it compiled, before it is needed."""

import numpy as np

from solver.instance import Instance, ItemType, Row, SheetKind, Solution
from solver.kernel.chance import seeded
from solver.kernel.fleet import most_items, off_of, shape_of
from solver.kernel.saving import Ledger, energy, save
from solver.kernel.setups import no_setups
from solver.kernel.sheets import Search, empty_pool, empty_sheets
from solver.kernel.squeeze import squeeze


def warm_kernel() -> None:
    """Run both stages on a sheet with one item; some ten seconds the first time of all."""
    instance = Instance(
        material="",
        unit=1,
        kerf=0,
        items=(ItemType(length=1, width=1, members=(("", 1),)),),
        kinds=(SheetKind(row=0, length=2, width=2, orientations=((False,),)),),
        rows=(Row(stock="", price=0, at_hand=None),),
    )
    items = most_items(instance)
    sheets = [empty_sheets(count, items) for count in (1, 8, 1)]
    shape = shape_of(instance, [0])
    search = Search(seeded(0), shape, sheets[0], sheets[1], sheets[2], empty_pool(1, items))
    off = off_of(Solution((), (1,)), 1)
    squeeze(search, off, off.copy(), 1, np.array([0.0, 0.0, 1e300]))
    ledger = Ledger(no_setups(items), 1.0, 1.0, 1.0)
    spent = energy(shape, search.laid, ledger)
    save(search, ledger, 1, np.array([1.0, 1.0, spent, spent]))
