"""Stage B: the same sheets with less sawing, by ruin and recreate under annealing.

Energy is the time of cuts, distinct set-ups and skims; every item stays placed. Cuts are
parts less sheets plus waste pieces, so an item's place is scored by the waste pieces and
new set-ups it makes, plus a share of the area it wastes. A third of the ruins aim at a
set-up few cuts use, on the sheets that use it.
"""

from typing import NamedTuple

import numpy as np

from solver.material.instance import RunLimits
from solver.search.kernel.compiled import compiled
from solver.search.kernel.limits import (
    any_broken,
    bind,
    keeps_beside,
    keeps_in_block,
)
from solver.search.kernel.remainder import remainder
from solver.search.kernel.rng import Floats, Ints, below, share
from solver.search.kernel.ruin import mark, opened_width, some_sheets, sort_pool
from solver.search.kernel.setups import (
    BLOCK_RIPS,
    CROSSCUTS,
    LAST_TRIMS,
    RIPS,
    Setups,
    charge,
    crowded,
    forget,
    uses,
)
from solver.search.kernel.sheets import (
    BLOCKS,
    COUNT,
    EXACT_LENGTH,
    EXACT_WIDTH,
    FILLED,
    IN_BLOCK,
    IN_STRIP,
    LENGTH,
    NEW_STRIP,
    STACKED,
    STRIP,
    STRIP_TRIM,
    STRIPS,
    TAKEN,
    WIDTH,
    Lie,
    Search,
    add,
    copy_all,
    copy_sheet,
    lie,
    note,
    shrink,
    take_off,
)
from solver.search.kernel.targeted_ruin import mark_users, rare_setup, users

BLINK = 0.02
OPEN_WIDE = 0.1
WHOLE_SHEET, WHOLE_STRIPS = 0.1, 0.7
"""Shares of ruins that empty a sheet, and that take strips. On full sheets what emptied a
whole one seldom goes back without something left off."""
AIMED = 0.35
"""Share of ruins that aim at a rare set-up."""
_NEVER = 1e300


class Ledger(NamedTuple):
    """What the energy is made of: set-ups in use, and seconds a cut, set-up and skim take.

    ``spare`` is what a sheet that is all remainder is worth, in seconds; in stage C only.
    ``unguided`` is what a rip costs extra whose size the guide cannot be set to.
    """

    setups: Setups
    cut: float
    setup: float
    skim: float
    spare: float
    unguided: float = 0.0


@compiled
def save(search: Search, ledger: Ledger, tries: int, heat: Floats) -> None:
    """Make so many tries; ``search.best`` keeps the state of least energy.

    Parameters
    ----------
    search, ledger
        Sheets with every item on them, and the set-ups they use.
    tries
        How many.
    heat
        Temperature in seconds at the first try and at the last; energy now, and least so far.
    """
    chosen = np.zeros(4, np.int64)
    cooling = (heat[1] / heat[0]) ** (1.0 / tries)
    temperature = heat[0]
    for _ in range(tries):
        temperature *= cooling
        heat[2] += _try(search, ledger, chosen, temperature)
        if heat[2] < heat[3] - 1e-9:
            heat[3] = heat[2]
            copy_all(search.laid, search.best)
        if crowded(ledger.setups):
            energy(search, ledger)


@compiled
def energy(search: Search, ledger: Ledger) -> float:
    """Count the set-ups of all sheets anew and return its energy in seconds."""
    forget(ledger.setups)
    seconds = 0.0
    for sheet in range(search.laid.shape[0]):
        charged = charge(search, search.laid, sheet, sheet, ledger.setups, 1)
        seconds += _seconds(charged, ledger)
        if ledger.spare > 0.0:
            seconds -= ledger.spare * remainder(search, search.laid, sheet, sheet)
    return seconds + _setup_seconds(ledger)


@compiled
def _seconds(charged: int, ledger: Ledger) -> float:
    seconds = ledger.cut * (charged & 65535) + ledger.skim * ((charged >> 16) & 65535)
    return seconds + ledger.unguided * (charged >> 32)


@compiled
def _setup_seconds(ledger: Ledger) -> float:
    return float(ledger.setup * ledger.setups.totals[0])


@compiled
def _try(search: Search, ledger: Ledger, chosen: Ints, temperature: float) -> float:
    """Change the sheets once or leave them as they were; return the change of energy."""
    aim = -1
    count = 0
    if share(search.state) < AIMED:
        aim = rare_setup(search, ledger.setups)
        count = users(search, aim, chosen)
    count = some_sheets(search.state, search.laid.shape[0], chosen, count)
    before = _setup_seconds(ledger)
    before += _charge(search, search.laid, ledger, chosen, count, 0, -1)
    pooled = _ruin(search, aim, chosen, count)
    _charge(search, search.spare, ledger, chosen, count, 4, 1)
    sort_pool(search, pooled)
    went = _lay(search, ledger, pooled, chosen, count)
    _charge(search, search.spare, ledger, chosen, count, 4, -1)
    if went:
        for place in range(count):
            shrink(search, chosen[place])
        went = not bind(search.limits) or not any_broken(search, chosen, count)
    if went:
        after = _charge(search, search.laid, ledger, chosen, count, 0, 1)
        change = after + _setup_seconds(ledger) - before
        if change <= 0.0 or share(search.state) < np.exp(-change / temperature):
            return float(change)
        _charge(search, search.laid, ledger, chosen, count, 0, -1)
    for place in range(count):
        copy_sheet(search.spare, place, search.laid, chosen[place])
    _charge(search, search.laid, ledger, chosen, count, 0, 1)
    return 0.0


@compiled
def _charge(
    search: Search, laid: Ints, ledger: Ledger, chosen: Ints, count: int, spare: int, by: int
) -> float:
    """Count the chosen sheets in or out; among the spare ones they stand from row ``spare``."""
    seconds = 0.0
    for nth in range(count):
        place = spare + nth if spare else chosen[nth]
        charged = charge(search, laid, place, chosen[nth], ledger.setups, by)
        seconds += _seconds(charged, ledger)
        if ledger.spare > 0.0:
            seconds -= ledger.spare * remainder(search, laid, place, chosen[nth])
    return seconds


@compiled
def _ruin(search: Search, aim: int, chosen: Ints, count: int) -> int:
    """Take pieces off the chosen sheets; remember the sheets before and after."""
    pooled = 0
    for place in range(count):
        sheet = chosen[place]
        copy_sheet(search.laid, sheet, search.spare, place)
        mark(search, sheet, WHOLE_SHEET, WHOLE_STRIPS)
        mark_users(search, sheet, aim)
        pooled = take_off(search, sheet, pooled)
        copy_sheet(search.laid, sheet, search.spare, 4 + place)
    return pooled


@compiled
def _lay(search: Search, ledger: Ledger, pooled: int, chosen: Ints, count: int) -> bool:
    """Lay the whole pool on the chosen sheets; say whether it went."""
    greed = (2.0, 6.0, 15.0, 40.0, 100.0)[below(search.state, 5)]
    greed *= (ledger.cut + ledger.setup) / 5.0
    limited = bind(search.limits)
    for row in range(pooled):
        item = search.pool[row]
        if limited:
            found = _find_place(search, ledger, item, chosen, count, greed, search.limits)
        else:
            found = _find_place(search, ledger, item, chosen, count, greed, None)
        if not found:
            return False
        opened = opened_width(search, row + 1, pooled, item, OPEN_WIDE)
        add(search, item, opened)
    return pooled > 0


@compiled
def _find_place(
    search: Search,
    ledger: Ledger,
    item: int,
    chosen: Ints,
    count: int,
    greed: float,
    limits: RunLimits | None,
) -> bool:
    """Find where an item adds least sawing and waste; ``greed`` is seconds for a sheet wasted.

    Without ``limits`` all is possible; it is compiled once for each.
    """
    best = _NEVER
    for nth in range(count):
        for turned in range(2):
            lying = lie(search, item, chosen[nth], turned)
            if lying.length > 0:
                waste = greed / float(lying.room_length * lying.room_width)
                if search.levels > 2:
                    best = _in_blocks(search, ledger, lying, waste, best, limits)
                best = _in_strips(search, ledger, lying, waste, best, limits)
                best = _in_new_strip(search, ledger, lying, waste, best)
    return best < _NEVER


@compiled
def _setting(ledger: Ledger, size: int, level: int) -> float:
    """Return the seconds for a set-up that is not in use yet, 0 if it is."""
    return 0.0 if uses(ledger.setups, 4 * size + level) else ledger.setup


@compiled
def _in_blocks(
    search: Search,
    ledger: Ledger,
    lying: Lie,
    waste: float,
    best: float,
    limits: RunLimits | None,
) -> float:
    laid, sheet = search.laid, lying.sheet
    rip = _setting(ledger, lying.width, BLOCK_RIPS)
    trim = ledger.cut + _setting(ledger, lying.length, LAST_TRIMS)
    for block in range(laid[sheet, BLOCKS, COUNT]):
        beside = laid[sheet, block, LENGTH] - lying.length
        if beside < 0:
            continue
        strip = laid[sheet, block, STRIP]
        across = laid[sheet, strip, WIDTH] - laid[sheet, block, STACKED]
        rest = across - lying.width
        if rest >= 0 and share(search.state) >= BLINK:
            if limits is not None:
                if not keeps_beside(limits, lying.length, beside, lying.width):
                    continue
                if not keeps_in_block(search, limits, lying, block, rest):
                    continue
            score = -ledger.cut if rest == 0 else rip
            if beside > 0:
                score += trim + beside * lying.width * waste
            if score < best:
                best = score
                note(search, lying, IN_BLOCK, block)
    return best


@compiled
def _in_strips(
    search: Search,
    ledger: Ledger,
    lying: Lie,
    waste: float,
    best: float,
    limits: RunLimits | None,
) -> float:
    laid, sheet = search.laid, lying.sheet
    crosscut = _setting(ledger, lying.length, CROSSCUTS)
    rip = ledger.cut + _setting(ledger, lying.width, BLOCK_RIPS)
    exact = search.rooms[sheet, EXACT_LENGTH]
    for strip in range(laid[sheet, STRIPS, COUNT]):
        above = laid[sheet, strip, WIDTH] - lying.width
        rest = lying.room_length - laid[sheet, strip, TAKEN] - lying.length
        if above >= 0 and rest >= 0 and share(search.state) >= BLINK:
            if limits is not None and not keeps_beside(limits, lying.width, above, lying.length):
                continue
            score = -ledger.cut if rest == 0 and exact else crosscut
            if above > 0:
                score += rip + above * lying.length * waste
            if score < best:
                best = score
                note(search, lying, IN_STRIP, strip)
    return best


@compiled
def _in_new_strip(search: Search, ledger: Ledger, lying: Lie, waste: float, best: float) -> float:
    rooms, sheet = search.rooms, lying.sheet
    rest = lying.room_width - search.laid[sheet, FILLED, COUNT] - lying.width
    if rest < 0 or share(search.state) < BLINK:
        return best
    score = ledger.cut * (1 + rooms[sheet, STRIP_TRIM])
    score += (lying.room_length - lying.length) * lying.width * waste
    if rest == 0 and rooms[sheet, EXACT_WIDTH]:
        score -= ledger.cut
    else:
        score += _setting(ledger, lying.width, RIPS)
    if lying.length == lying.room_length and rooms[sheet, EXACT_LENGTH]:
        score -= ledger.cut
    else:
        score += _setting(ledger, lying.length, CROSSCUTS)
    if score < best:
        best = score
        note(search, lying, NEW_STRIP, 0)
    return best
