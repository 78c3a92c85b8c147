"""A plan held against the shop and the rule it says it was made for.

Which saw makes each cut, how deep and in which direction its sheet is cut, and what of the
offcuts is worth keeping; and the limits, held against each pass of the saw. A limit is about
the pieces as they lie there: how long the cut is, what the rail can rest on, and whether the
piece under the saw is large enough to be held. At the table saw it is about what the fence can
be set to, and what can be held. Cuts that bring a blank to its final size are not judged.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from shared.issues import Issue
from shared.lengths import MM, Length
from shared.plan import Cut, CutKind, Plan, PlanPart
from shared.saw.contents import Parted
from shared.saw.refusal import refusal, unfit
from shared.saw.sawhorses import SawPass
from shared.shop import ABSENT, Axis, FirstCut, Limit, RunsOn, SawBase, Shop, Span

LEVELS: Final = (2, 3)
_FIRST: Final = {
    FirstCut.RIP: Axis.RIP,
    FirstCut.CROSSCUT: Axis.CROSSCUT,
    FirstCut.EITHER: None,
}
_NOT_BELOW_0: Final = (
    *("kerf", "keep_length", "keep_width", "cut_s", "metre_s", "setup_s", "measure_s"),
    *("unguided_s", "rail_s", "join_s", "lift_s", "turn_s", "heavy_s", "skim_s"),
    *("overhang", "rail_width", "square", "carry", "hold", "oversize", "lift_g", "turn_g"),
)


def wrong_shop(plan: Plan) -> Iterator[Issue]:
    """Yield what is wrong with the shop and the rule themselves, and with what is kept."""
    shop, rule = plan.shop, plan.rule
    if shop is None:
        return
    for field in _wrong_figures(shop):
        yield refusal("shop-figure", "", f"The shop's {field} can be of no shop.", field)
    if rule is not None and rule.levels not in LEVELS:
        said = f"A sheet is cut 2 or 3 levels deep, not {rule.levels}."
        yield refusal("shop-levels", "", said, "levels")
    for offcut in plan.offcuts:
        short, long = sorted((offcut.length, offcut.width))
        if offcut.keep is not (long >= shop.keep_length and short >= shop.keep_width):
            done = "is kept" if offcut.keep else "is not kept"
            said = f"Offcut {offcut.piece} of sheet {offcut.sheet} {done}, unlike its size."
            yield refusal("offcut-keep", offcut.piece, said, "keep")


def _wrong_figures(shop: Shop) -> Iterator[str]:
    """Yield the fields of a shop that make no sense."""
    yield from (field for field in _NOT_BELOW_0 if getattr(shop, field) < 0)
    if shop.loose < 1:
        yield "loose"
    if any(rail.length <= 0 or not 1 <= rail.joined <= rail.count for rail in shop.rails):
        yield "rails"
    if shop.runs_on is RunsOn.STRAIGHTEDGE and not _is_measured(shop.base):
        yield "base"
    spans: dict[str, Span | None] = {"guide": shop.guide, "stop": shop.stop}
    if shop.table is not None:
        spans["table.fence"] = shop.table.fence
        if shop.table.kerf < 0:
            yield "table.kerf"
    for field, span in spans.items():
        if span is None or (span == ABSENT and field != "table.fence"):
            continue
        if not 0 <= span.least <= span.most:
            yield field


def _is_measured(base: SawBase | None) -> bool:
    """Whether the blade of a circular saw runs inside its base."""
    if base is None or base.length <= 0:
        return False
    left, right = (base.left_near, base.left_far), (base.right_near, base.right_far)
    return all(0 < near <= far for near, far in (left, right))


class SawsUsed:
    """Reads in sawing order with which saw each cut is made, and how its sheet is cut."""

    def __init__(self, plan: Plan, shop: Shop) -> None:
        self._shop, self._rule = shop, plan.rule
        self._rail = (shop.tool, shop.kerf)
        self._table = None if shop.table is None else (shop.table.tool, shop.table.kerf)
        self._first = None if plan.rule is None else _FIRST[plan.rule.first]
        self._parts: Mapping[str, PlanPart] = {part.id: part for part in plan.parts}
        self._sheets = {sheet.id: sheet for sheet in plan.sheets}
        self._ended: set[str] = set()
        self._saws: dict[tuple[str, int], str] = {}
        self._off_rule: set[str] = set()

    def faults(self, cut: Cut, done: SawPass, parted: Parted) -> Iterator[Issue]:
        """Yield what is wrong with the saw of a cut."""
        self._read_rule(cut, done)
        rail, table, used = self._rail, self._table, (cut.tool, cut.kerf)
        if cut.piece in self._ended:
            yield _no(cut, f"{cut.piece} is the fall of a last cut, which stays whole", "piece")
        if cut.kind is CutKind.FINISH:
            right = self._finishers(cut, parted)
            if used not in right:
                yield _no(cut, f"{right[0][0]} brings this part to size", "tool")
        elif used not in (rail, table):
            yield _no(cut, f"no saw of the shop is a {cut.tool} with a kerf of {cut.kerf}", "tool")
        elif cut.kind is CutKind.TRIM:
            if used != rail:
                yield _no(cut, f"the {rail[0]} makes it, not the {cut.tool}", "tool")
        else:
            yield from self._one_of_run(cut, done)

    def _finishers(self, cut: Cut, parted: Parted) -> tuple[tuple[str, Length], ...]:
        """Return the saws that may bring a part to size.

        That is the table saw for one sawn oversize. Where its fence does not reach it is the other
        one; older plans finish there, too, with a sled.
        """
        table = self._shop.table
        if table is None or self._table is None or not self._oversize(parted):
            return (self._rail,)
        if table.fence.least <= cut.size <= table.fence.most:
            return (self._table,)
        return self._rail, self._table

    def _one_of_run(self, cut: Cut, done: SawPass) -> Iterator[Issue]:
        """Yield what is wrong with the saw of a cut that saws off a piece.

        All cuts of one level of a piece are made at the table saw, or none but the last.
        """
        before = self._saws.setdefault((cut.piece, cut.level), cut.tool)
        at_table = (cut.tool, cut.kerf) != self._rail
        if before != self._shop.tool:
            if not at_table:
                yield _no(cut, f"the {before} makes all cuts of this run", "tool")
                return
            if self._is_handled(cut, done):
                return
        if at_table:
            self._ended.add(cut.piece)
            if not self._at_table(done):
                yield _no(cut, f"the {self._shop.tool} makes it, not the {cut.tool}", "tool")

    def _is_handled(self, cut: Cut, done: SawPass) -> bool:
        """Whether a piece can be ripped at the table saw, where cuts before have left it.

        One person handles it by its size and weight; it lies against the fence with an edge that
        a saw has made, and with no less of that edge than it is wide.
        """
        table, sheet = self._shop.table, self._sheets[cut.sheet]
        if table is None or done.axis is not Axis.RIP or done.start <= sheet.rect.y:
            return False
        long, across = done.piece.rect.length, done.end - done.start
        if across > min(long, table.widest) or long > table.longest:
            return False
        # Twice the weight in kg/m3 and cubic ticks, half a gram more let pass as it is rounded.
        heavy = 2 * sheet.density * 1000 * long * across * sheet.thickness
        return heavy <= (2 * table.heaviest_g + 1) * (1000 * MM) ** 3

    def _at_table(self, done: SawPass) -> bool:
        """Whether neither side of a cut at the rail would carry it, and the fence can be set."""
        table, fall = self._shop.table, done.end - done.dust_start - self._shop.kerf
        if table is None or max(done.near, fall) >= self._shop.carry:
            return False
        return table.fence.least <= done.near <= table.fence.most

    def _oversize(self, parted: Parted) -> bool:
        return any(self._parts[one.part].oversize for one in parted.near if one.part in self._parts)

    def _read_rule(self, cut: Cut, done: SawPass) -> None:
        if self._rule is None or cut.kind is CutKind.FINISH:
            return
        first = done.axis if cut.level % 2 else done.axis.other
        if cut.level > self._rule.levels + 1 or self._first not in {None, first}:
            self._off_rule.add(cut.sheet)

    def off_rule(self, plan: Plan) -> Iterator[Issue]:
        """Yield the sheets that are cut otherwise than they say of the rule, after all cuts."""
        for sheet in plan.sheets if self._rule is not None else ():
            if sheet.off_rule is not (sheet.id in self._off_rule):
                done = "is not cut" if sheet.id in self._off_rule else "is cut"
                said = f"Sheet {sheet.id} {done} by the rule of the plan, unlike it says."
                yield refusal("sheet-off-rule", sheet.id, said, "off_rule")


def _no(cut: Cut, said: str, field: str) -> Issue:
    return unfit(cut, "cut-tool", said, field)


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


def refused(one: BrokenLimit, shop: Shop) -> Issue:
    """Return the issue of a plan that breaks a limit of its shop; lengths in ticks."""
    what = shop.runs_on
    said = {
        Limit.REACH: f"it is {one.found} long, but the longest {what} reaches {one.allowed}",
        Limit.CARRY: f"the wider piece is {one.found}, and {one.allowed} carries the {what}",
        Limit.HOLD: f"its piece is {one.found} long, and {one.allowed} can be held",
        Limit.FENCE: f"it is set to {one.found}, and the fence of the table saw to {one.allowed}",
    }[one.limit]
    return unfit(one.cut, one.limit, said)
