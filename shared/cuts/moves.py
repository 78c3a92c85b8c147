"""Moving a rip: a first-level piece changes place among its neighbours on its sheet.

The pieces of a run may lie in any order: their sizes and the kerfs between them take the
same room, so the run ends where it ended, and everything inside a piece moves with it.
"""

from dataclasses import replace

from shared.plan import CutKind, Plan
from shared.tree import Run


def move_rip(tree: Run, index_from: int, index_to: int) -> Run:
    """Return the sheet's tree with one first-level piece at another place.

    Parameters
    ----------
    tree
        The tree of cuts of one sheet.
    index_from, index_to
        Place of the piece among all pieces of level 1, waste included, before and after.

    Raises
    ------
    IndexError
        If there is no such place; `why_not` says so beforehand.
    """
    if reason := why_not(tree, index_from, index_to):
        raise IndexError(reason)
    pieces = list(tree.pieces)
    pieces.insert(index_to, pieces.pop(index_from))
    return replace(tree, pieces=tuple(pieces))


def why_not(tree: Run, index_from: int, index_to: int) -> str:
    """Say in one sentence why a piece may not move there; ``""`` if it may."""
    last = len(tree.pieces) - 1
    if not 0 <= index_from <= last:
        return "No cut of the first level saws this piece off."
    if index_to < 0:
        return "Nothing is sawn off before the first piece; the trim stays the first cut."
    if index_to > last:
        return "What lies beyond the last piece is the fall; it stays at the far edge."
    return ""


def rip_index(plan: Plan, number: int) -> int | None:
    """Return which first-level piece of its sheet a cut saws off.

    ``None`` if the cut is a trim, lies deeper, or does not exist. The last piece of an
    exactly filled sheet has no cut of its own.
    """
    cut = next((cut for cut in plan.cuts if cut.number == number), None)
    if cut is None or cut.level > 1 or cut.kind is CutKind.TRIM:
        return None
    return sum(
        other.sheet == cut.sheet and other.level == 1 and other.kind is not CutKind.TRIM
        for other in plan.cuts
        if other.number < number
    )
