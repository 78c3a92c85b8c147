"""Compile the search, or load it compiled, before it is needed."""

import numpy as np

from solver.material.instance import Instance, ItemType, SheetKind, Solution, StockRow
from solver.search.kernel.fleet import desk, off_of
from solver.search.kernel.saving import Ledger, energy, save
from solver.search.kernel.setups import no_setups
from solver.search.kernel.squeeze import squeeze


def warm_kernel() -> None:
    """Run both stages on a sheet with one item; some ten seconds the first time of all."""
    instance = Instance(
        material="",
        unit=1,
        kerf=0,
        items=(ItemType(length=1, width=1, members=(("", 1),)),),
        kinds=(SheetKind(row=0, length=2, width=2, orientations=((False,),)),),
        rows=(StockRow(stock="", price=0, at_hand=None),),
    )
    search = desk(instance, (), (0,), 0)
    off = off_of(Solution((), (1,)), 1)
    squeeze(search, off, off.copy(), 1, np.array([0.0, 0.0, 1e300]))
    ledger = Ledger(no_setups(), 1.0, 1.0, 1.0, 1.0)
    spent = energy(search, ledger)
    save(search, ledger, 1, np.array([1.0, 1.0, spent, spent]))
