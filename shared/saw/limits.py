"""The shop's limits, held against each pass of the saw on the rail.

A limit is about the pieces as they lie there: how long the cut is, what the rail can rest
on, and whether the piece under the saw is large enough to be held. At the table saw it is
about what the fence can be set to, and what can be held. Cuts that bring a blank to its
final size are not judged here.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from shared.issues import Issue
from shared.lengths import Length
from shared.plan import Cut, CutKind
from shared.saw.refusal import refusal
from shared.saw.sawhorses import SawPass
from shared.shop import Axis, Limit, Shop, Span


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenLimit:
    """A limit that a cut breaks: what it would need, and what the shop has, in ticks."""

    limit: Limit
    cut: Cut
    found: Length
    allowed: Length


def broken(cut: Cut, done: SawPass, shop: Shop) -> Iterator[BrokenLimit]:
    """Yield the limits of a shop that a pass breaks."""
    if cut.kind is CutKind.FINISH:
        return
    if cut.tool == shop.tool:
        yield from _on_rail(cut, done, shop)
    elif shop.table is not None and cut.tool == shop.table.tool:
        yield from _at_fence(cut, shop.table.fence)
    else:
        return
    piece = done.piece.rect
    held = max(piece.length, piece.width)
    if held < shop.hold:
        yield BrokenLimit(limit=Limit.HOLD, cut=cut, found=held, allowed=shop.hold)


def _at_fence(cut: Cut, fence: Span) -> Iterator[BrokenLimit]:
    if not fence.least <= cut.size <= fence.most:
        allowed = fence.least if cut.size < fence.least else fence.most
        yield BrokenLimit(limit=Limit.FENCE, cut=cut, found=cut.size, allowed=allowed)


def _on_rail(cut: Cut, done: SawPass, shop: Shop) -> Iterator[BrokenLimit]:
    piece, reach = done.piece.rect, shop.reach
    long = piece.length if done.axis is Axis.RIP else piece.width
    if reach is not None and long > reach:
        yield BrokenLimit(limit=Limit.REACH, cut=cut, found=long, allowed=reach)
    rest = max(done.near, done.far)
    if rest < shop.carry:
        yield BrokenLimit(limit=Limit.CARRY, cut=cut, found=rest, allowed=shop.carry)


def refused(one: BrokenLimit) -> Issue:
    """Return the issue of a plan that breaks a limit; lengths in ticks."""
    said = {
        Limit.REACH: f"it is {one.found} long, but the longest rail reaches {one.allowed}",
        Limit.CARRY: f"the wider piece is {one.found}, and {one.allowed} carries the rail",
        Limit.HOLD: f"its piece is {one.found} long, and {one.allowed} can be held",
        Limit.FENCE: f"it is set to {one.found}, and the fence of the table saw to {one.allowed}",
    }[one.limit]
    return refusal(one.limit, str(one.cut.number), f"Cut {one.cut.number}: {said}.")
