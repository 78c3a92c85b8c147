"""What becomes of a layout when the job under it changes.

A part that changed stays where it lies if it fits there and the sheet can still be cut;
otherwise it waits. A sheet that no longer can be cut at all is kept as it is when it is
the maker's own, and given back to planning when it is not. On the sheet under the maker's hand
everything stays where it lies, whether it can be cut or not.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import Any

from layout_app.model.at_hand import over
from layout_app.model.carry_over_locks import carried, frozen_keys, of_removed, put_back, recut_held
from layout_app.model.parting import parted
from layout_app.model.project import Project
from layout_app.model.sawing import on_bad_place, resized, tree_of
from layout_app.model.sliding import slid, slid_to_rail
from shared.check import placeable, plannable
from shared.cuts.moves import pruned, shrunk
from shared.geometry import Rect
from shared.holding import frozen, frozen_areas, standing
from shared.job import Job
from shared.layout import Hold, Layout, LayoutSheet, Waiting
from shared.lengths import Length, LengthStyle
from shared.making.work_of_cut import FIGURES
from shared.parts import Copy, Part
from shared.plan import Finished, Placement, Proof
from shared.shop import SawingOrder
from shared.squaring import squared
from shared.stock import Stock, Trims, orientations
from shared.tree import places

NOTHING_BEGUN: Mapping[str, Sequence[Rect]] = {}


class Staying(Enum):
    """Which changed parts stay on a sheet that is begun, from the most to none."""

    FITTING = auto()
    """All that fit where they lay; the cuts that are not made may be others."""
    SMALLER = auto()
    """Those that got smaller; every cut stays, what is too much is sawn off by itself."""
    NONE = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedOver:
    """A layout that suits its job, what had to leave sheets, and what is held no more.

    ``left`` lay on sheets that are yours, or was held; ``let_go`` are the holds that went
    with the rows of their parts.
    """

    layout: Layout
    left: tuple[Placement, ...] = ()
    let_go: tuple[Hold, ...] = ()


def settle(
    before: Job,
    job: Job,
    layout: Layout,
    *,
    by_hand: bool = False,
    begun: Mapping[str, Sequence[Rect]] = NOTHING_BEGUN,
    staying: Staying = Staying.NONE,
    push: bool = False,
    under_hand: str = "",
) -> CarriedOver:
    """Carry a layout over to a changed job.

    With ``by_hand`` new cuts are looked for on every sheet, as on those that are yours. With
    ``push`` what a larger part would lie on gives way to it there, if that makes room.
    ``under_hand`` is the sheet that no part leaves: it can't be cut yet where they overlap.
    ``begun`` are sheets on which cuts are made, and the dust of these cuts; ``staying`` says
    which changed parts stay there. Whether the cuts that are made stay too is seen only once
    it is sawn.
    """
    before, job = placeable(before), placeable(job)
    in_force, _ = standing(before, layout)
    settler = _Settler(
        *(before, job, in_force),
        by_hand=by_hand,
        begun=begun,
        staying=staying,
        push=push,
        under_hand=under_hand,
    )
    layout = replace(layout, finished=still_finished(before, job, layout.finished))
    sheets = [settler.settled(sheet) for sheet in layout.sheets]
    shown = [one for one in sheets if one is not None and _worth_showing(one, begun)]
    kept = _there(job, shown, layout.holds, begun)
    new = carried(before, layout, with_waiting(job, kept, replace(layout, holds=())))
    gone = of_removed(job, new)
    new = replace(new, holds=tuple(hold for hold in new.holds if hold not in gone))
    sheets_now = tuple(one for one in put_back(job, new) if _worth_showing(one, begun))
    settled = with_waiting(job, sheets_now, replace(layout, holds=new.holds))
    left = _left(before, layout, settled, in_force, begun)
    return CarriedOver(layout=settled, left=left, let_go=gone)


def _there(
    job: Job, sheets: Sequence[LayoutSheet], holds: Iterable[Hold], begun: Collection[str]
) -> tuple[LayoutSheet, ...]:
    """Leave out sheets for which none is at hand, but the maker's own and those with holds."""
    held = {hold.sheet for hold in holds}
    gone = {one.id for one in over(job, sheets, begun) if not one.yours} - held
    return tuple(one for one in sheets if one.id not in gone)


def _left(
    before: Job, old: Layout, new: Layout, in_force: Sequence[Hold], begun: Collection[str]
) -> tuple[Placement, ...]:
    """Return what lay on a sheet that is yours or begun, or held there, and has to wait now."""
    waits = {one.key for one in new.waiting}
    stayed = {s.id: set(frozen_keys(before, s, in_force)) for s in old.sheets if not s.yours}
    return tuple(
        one
        for sheet in old.sheets
        for one in sheet.placements
        if one.key in waits and (sheet.yours or sheet.id in begun or one.key in stayed[sheet.id])
    )


def had_to_leave(before: Project, after: Project) -> tuple[Copy, ...]:
    """Return which copies wait in one project that had a place of the maker's in the one before."""
    in_force, _ = standing(before.job, before.layout)
    left = _left(before.job, before.layout, after.layout, in_force, before.progress.dust)
    sent = {one.key for one in after.layout.waiting if one.sent}
    return tuple(one.key for one in left if one.key not in sent)


def opened(project: Project) -> Project:
    """Return a project from a file with a layout that suits its job.

    Trees that do not give the placements beside them are found anew. Nothing is claimed of
    sheets of which none is at hand.
    """
    job = squared(project.job)
    sheets = tuple(_agreeing(job, sheet) for sheet in project.layout.sheets)
    layout = replace(project.layout, sheets=sheets)
    settled = settle(job, job, layout, begun=project.progress.dust)
    missing = over(job, sheets, project.progress.sheets)
    proof = Proof() if missing else project.proof
    return replace(project, job=job, layout=settled.layout, proof=proof)


def _agreeing(job: Job, sheet: LayoutSheet) -> LayoutSheet:
    stock = job.stock_row(sheet.stock)
    rect = stock.whole
    yields = {
        (at.part, at.copy, at.turned, box) for at, box in places(sheet.tree, rect, job.shop.kerf)
    }
    lies = {(one.part, one.copy, one.turned, one.rect) for one in sheet.placements}
    if yields == lies:
        return slid_to_rail(job, stock, sheet)
    return replace(sheet, tree=tree_of(job, stock, sheet.placements))


def same_problem(one: Job, other: Job) -> bool:
    """Say whether two jobs differ in words only, so that a plan of one is a plan of the other."""
    return _bare(one) == _bare(other)


def same_but_pace(one: Job, other: Job) -> bool:
    """Say whether two jobs differ in words and in the shop's pace only."""
    pace: dict[str, Any] = {figure: getattr(one.shop, figure) for figure in FIGURES}
    return same_problem(one, replace(other, shop=replace(other.shop, **pace)))


def _bare(job: Job) -> Job:
    parts = tuple(replace(part, name="", note="") for part in job.parts)
    stock = tuple(_cut_from(row) for row in job.stock)
    table = job.shop.table
    shop = replace(
        job.shop,
        tool="",
        table=table and replace(table, tool=""),
        sawing=SawingOrder.BY_SHEET,
        loose=0,
    )
    return replace(job, name="", parts=parts, stock=stock, shop=shop, style=LengthStyle())


def _cut_from(row: Stock) -> Stock:
    """Return what of a row a plan depends on: squaring only by the trims it makes."""
    return replace(row, name="", density=0, diagonals=0, own_trims=None)


def with_waiting(job: Job, sheets: Iterable[LayoutSheet], like: Layout) -> Layout:
    """Return a layout like another, but with these sheets and all else that is wanted waiting.

    What is sent to wait stays so. The order of the cuts is kept as far as they are there;
    of other sheets it has to be looked for again.
    """
    sheets = tuple(sheets)
    lying = {p.key for sheet in sheets for p in sheet.placements}
    lying |= {one.key for one in like.finished}
    sent = {w.key for w in like.waiting if w.sent}
    waits = tuple(
        Waiting(part=key[0], copy=key[1], sent=key in sent)
        for key in every_copy(job)
        if key not in lying
    )
    new = replace(like, sheets=sheets, waiting=waits)
    return new if sheets == like.sheets else replace(new, sawing=None, least_s=-1)


def every_copy(job: Job) -> Iterator[Copy]:
    """Yield (part id, copy) of all that can be planned, in the order of the take-off."""
    for part in plannable(job).parts:
        for copy in range(1, part.copies + 1):
            yield part.id, copy


def still_finished(before: Job, job: Job, finished: Sequence[Finished]) -> tuple[Finished, ...]:
    """Return the finished copies that are as the job wants them; the others are needed again."""
    parts = {part.id: part for part in job.parts}
    known = {part.id: part for part in before.parts}
    return tuple(
        one
        for one in finished
        if one.part in parts
        and one.part in known
        and one.copy <= parts[one.part].copies
        and _as_sawn(parts[one.part]) == _as_sawn(known[one.part])
    )


def _as_sawn(part: Part) -> tuple[object, ...]:
    """Return what of a part a finished copy has to have."""
    return part.sawn_length, part.sawn_width, part.material, part.waits


def _worth_showing(sheet: LayoutSheet, begun: Collection[str]) -> bool:
    return bool(sheet.placements) or sheet.yours or sheet.id in begun


class _Settler:
    """Carries sheet after sheet over to a changed job."""

    def __init__(
        self,
        before: Job,
        job: Job,
        holds: Sequence[Hold],
        *,
        by_hand: bool,
        begun: Mapping[str, Sequence[Rect]],
        staying: Staying,
        push: bool,
        under_hand: str,
    ) -> None:
        self._before, self._job, self._holds = before, job, holds
        self._by_hand, self._begun, self._staying, self._push = by_hand, begun, staying, push
        self._under_hand = under_hand
        self._wanted = set(every_copy(job))
        self._rows = {row.id: row for row in job.stock}

    def settled(self, sheet: LayoutSheet) -> LayoutSheet | None:
        """Return a sheet as it lies now; ``None`` if its row is gone."""
        if sheet.stock not in self._rows:
            return None
        stock, old_stock = self._rows[sheet.stock], self._before.stock_row(sheet.stock)
        new_kerf = self._before.shop.kerf != self._job.shop.kerf
        if new_kerf or _measures(old_stock) != _measures(stock):
            sheet = slid(self._job, stock, sheet)
        elif self._before.shop != self._job.shop or old_stock != stock:
            sheet = slid_to_rail(self._job, stock, sheet)
        kept = tuple(
            resized(self._job, one)
            for one in sheet.placements
            if one.key in self._wanted and _may_lie(self._before, self._job, stock, one)
        )
        if not sheet.yours or sheet.id in self._begun:
            kept = tuple(one for one in kept if not on_bad_place(self._job, stock, one))
        if kept != sheet.placements:
            return self._changed(stock, sheet, kept)
        return self._tried(stock, sheet)

    def _tried(self, stock: Stock, sheet: LayoutSheet) -> LayoutSheet:
        """Take the cuts from a sheet whose parts lie on bad places, or look for them again."""
        if any(on_bad_place(self._job, stock, one) for one in sheet.placements):
            return sheet.recut(sheet.placements, None)
        if sheet.tree is not None or not sheet.placements:
            return sheet
        tree = tree_of(self._job, stock, sheet.placements, sheet.last)
        return sheet.recut(sheet.placements, tree)

    def _changed(
        self, stock: Stock, sheet: LayoutSheet, kept: tuple[Placement, ...]
    ) -> LayoutSheet:
        """Return a sheet on which parts have changed."""
        if sheet.id in self._begun:
            return self._on_begun(stock, sheet, kept)
        if not sheet.yours and (held := recut_held(self._job, sheet, kept, self._holds)):
            return held
        smaller = self._smaller(sheet, kept)
        if sheet.yours or self._by_hand:
            pushed = self._pushed(sheet, kept) if self._push else ()
            if sheet.id == self._under_hand:
                return _recut(self._job, stock, sheet, (kept, *pushed), last=kept)
            ways = (kept, *pushed, smaller)
            return _recut(self._job, stock, sheet, ways, last=_unchanged(sheet, kept))
        return self._left_with(stock, sheet, smaller)

    def _pushed(
        self, sheet: LayoutSheet, kept: tuple[Placement, ...]
    ) -> Iterator[tuple[Placement, ...]]:
        """Yield what lies on a sheet once what lies on each other is parted, if it can be.

        What reaches over the edge of the sheet is not moved: it has to leave.
        """
        usable = self._rows[sheet.stock].usable
        if not all(usable.contains(one.rect) for one in kept):
            return
        stock, kerf = self._before.stock_row(sheet.stock), self._before.shop.kerf
        fixed = {one.key for one in frozen(sheet, stock, kerf, self._holds) if one in kept}
        walls = frozen_areas(sheet, stock, kerf, self._holds)
        found = parted(self._job, replace(sheet, placements=kept), fixed=fixed, walls=walls)
        if found is not None and not found.why:
            now = {one.key: one for one in found.lying}
            yield tuple(now.get(one.key, one) for one in kept)

    def _on_begun(
        self, stock: Stock, sheet: LayoutSheet, kept: tuple[Placement, ...]
    ) -> LayoutSheet:
        """Return a sheet on which cuts are made, with those of the changed parts that stay."""
        if self._staying is Staying.FITTING:
            tree = tree_of(self._job, stock, kept, sheet.tree, limited=False)
            if tree is not None:
                return replace(sheet, placements=kept, tree=tree)
        small = self._smaller(sheet, kept)
        if sheet.id == self._under_hand and (self._staying is Staying.NONE or small != kept):
            return sheet.recut(kept, None)
        if self._staying is Staying.NONE:
            return self._left_with(stock, sheet, _unchanged(sheet, kept))
        return self._left_with(stock, sheet, small)

    def _smaller(self, sheet: LayoutSheet, kept: Sequence[Placement]) -> tuple[Placement, ...]:
        """Return the parts that are as they were, or smaller and at the same corner.

        The figure of a matched set runs across its parts: none of it stays by itself.
        """
        lay = {one.key: one.rect for one in sheet.placements}
        return tuple(
            one
            for one in kept
            if one.rect == lay[one.key]
            or (lay[one.key].contains(one.rect) and not self._job.part(one.part).group)
        )

    def _left_with(
        self, stock: Stock, sheet: LayoutSheet, stay: tuple[Placement, ...]
    ) -> LayoutSheet:
        """Let all parts leave a sheet at once but some, none of them larger than it was."""
        if sheet.tree is None:
            return replace(sheet, placements=_unchanged(sheet, stay))
        lies = {one.key: one.rect for one in stay}
        made, kerf = self._begun.get(sheet.id, ()), self._job.shop.kerf
        tree = pruned(sheet.tree, stock.whole, kerf, lies, made)
        tree = tree and shrunk(tree, stock.whole, kerf, lies)
        return sheet.recut(stay, tree)


def _measures(stock: Stock) -> tuple[Length, Length, Trims]:
    return stock.length, stock.width, stock.trims


def _may_lie(before: Job, job: Job, stock: Stock, one: Placement) -> bool:
    """Say whether a part may still lie like this on this sheet.

    A part that was wrong before the change is left where the maker put it.
    """
    part, old = job.part(one.part), before.part(one.part)
    same_rule = part.grain_rule is old.grain_rule and part.material == old.material
    allowed = one.turned in orientations(part.grain_rule, stock.grain)
    return same_rule or (allowed and part.material == stock.material)


def _unchanged(sheet: LayoutSheet, kept: Iterable[Placement]) -> tuple[Placement, ...]:
    return tuple(one for one in kept if one in sheet.placements)


def _recut(
    job: Job,
    stock: Stock,
    sheet: LayoutSheet,
    ways: Sequence[tuple[Placement, ...]],
    *,
    last: tuple[Placement, ...],
) -> LayoutSheet:
    """Find new cuts for the first that can be cut; ``last`` is what lies there if none can."""
    for placements in dict.fromkeys((*ways, last)):
        if tree := tree_of(job, stock, placements, sheet.known_cuts):
            return sheet.recut(placements, tree)
    return sheet.recut(last, None)
