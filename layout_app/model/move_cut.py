"""Moving a cut in the sequence by hand: where it may go, and why not elsewhere."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from layout_app.model.locks import Held
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, order_of
from layout_app.model.words.left_words import dropped_words
from layout_app.model.words.wording import counted
from shared.check import plannable
from shared.cuts.by_hand import Link, Order, Why, still_possible, wishes_after
from shared.cuts.growing import grow
from shared.cuts.pass_order import in_order
from shared.cuts.rearranging import rearranged, renamed
from shared.cuts.sequence import layout_sheet
from shared.layout import CutBefore, Layout, LayoutSheet
from shared.plan import Plan

MOST_LINKS: Final = 3
"""Steps of a chain that are named."""


class Moving:
    """The cuts of a project as they can be moved; worth keeping for a whole gesture."""

    def __init__(self, project: Project, plan: Plan) -> None:
        self._project, self._plan = project, plan
        job, planned = plannable(project.job), {sheet.id for sheet in plan.sheets}
        sheets = tuple(sheet for sheet in project.layout.sheets if sheet.id in planned)
        held = {hold.sheet for hold in Held(project).in_force}
        keys = in_order(grow(job, sheets), order_of(job, sheets, project))
        self._order = Order(
            job,
            sheets,
            [one.key for one in keys],
            fixed=frozenset(held | project.progress.sheets),
            made=len(project.progress.fixed),
        )

    def places(self, number: int) -> tuple[int, ...]:
        """Return the numbers that a cut may have, its own among them, ascending."""
        first = self._plan.first
        return tuple(place + first for place in self._order.places(number - first))

    def why_not(self, number: int, to: int) -> str:
        """Say what stands in the way of a cut at another number; ``""`` if it may go there."""
        first = self._plan.first
        chain = self._order.chain(number - first, to - first)
        if not chain:
            return ""
        said = "; ".join(self._said(link) for link in chain[:MOST_LINKS])
        left = len(chain) - MOST_LINKS
        more = f"; and {left} more such steps" if left > 0 else ""
        return f"Cut {number} cannot become cut {to}: {said}{more}."

    def contradicted(self, wishes: Sequence[CutBefore]) -> dict[CutBefore, str]:
        """Return the orders set by hand that cannot be, each with a sentence that says why."""
        return {wish: self._against(wish, chain) for wish, chain in self._order.against(wishes)}

    def let_go(self, wish: CutBefore) -> str:
        """Say of an order set by hand that is not kept, though both cuts are there, why not."""
        if said := self.contradicted([wish]).get(wish):
            return said
        first, then = self._number(wish.first), self._number(wish.then)
        if then < self._order.made + self._plan.first:
            return f"{_wished(first, then)}: cut {then} is made."
        return f"{_wished(first, then)}: it does not go with the rest of the order."

    def _against(self, wish: CutBefore, chain: Sequence[Link]) -> str:
        first, then = self._number(wish.first), self._number(wish.then)
        said = "; ".join(self._said(link) for link in chain[:MOST_LINKS])
        more = len(chain) - MOST_LINKS
        others = f"; and {more} more such steps" if more > 0 else ""
        return f"{_wished(first, then)}: {said or 'no cut comes before itself'}{others}."

    def _number(self, key: str) -> int:
        return self._plan.first + next(
            place for place, one in enumerate(self._order.passes) if one.key == key
        )

    def _said(self, link: Link) -> str:
        one, other = self._plan.cuts[link.first], self._plan.cuts[link.then]
        return {
            Why.MADE: f"cut {one.number} is made, and what is made keeps its place",
            Why.PIECE: f"piece {other.piece} does not exist before cut {one.number}",
            Why.REST: f"piece {other.piece} is not free before cut {one.number}",
            Why.TRIM: f"cut {one.number} makes the edge that cut {other.number} is measured from",
            Why.LIES: (
                f"cut {one.number} comes before cut {other.number} because what they saw off"
                " stays where it lies"
            ),
            Why.HAND: f"cut {one.number} is set before cut {other.number} by hand",
            Why.LAST: (
                f"then the last cut of piece {one.piece} would leave too little for what leads"
                " the saw to rest on, or to hold, or a part would lie in a trimmed edge"
            ),
        }[link.why]

    def moved(self, number: int, to: int) -> Layout:
        """Return the layout with a cut at another number; its strip changes place with it."""
        first = self._plan.first
        keys = self._order.moved(number - first, to - first)
        layout, order = self._project.layout, renamed(keys)
        before = wishes_after(still_possible(layout.before, order), order, order[to - first])
        return replace(
            layout,
            sheets=tuple(self._laid(layout, keys, self._plan.cut(number).sheet)),
            order=order,
            before=before,
        )

    def _laid(self, layout: Layout, keys: tuple[str, ...], moved: str) -> Iterator[LayoutSheet]:
        """Yield the sheets, one with its pieces in the order in which they are sawn off now."""
        job = self._project.job
        ranks = {key: place for place, key in enumerate(keys)}
        for sheet in layout.sheets:
            if sheet.tree is None or sheet.id != moved:
                yield sheet
                continue
            row = job.stock_row(sheet.stock)
            whole = row.whole
            tree = rearranged(sheet.tree, sheet.id, whole, job.shop.kerf, ranks)
            new = layout_sheet(sheet.id, row, job.shop.kerf, tree, sheet.yours)
            yield sheet if tree == sheet.tree else new


def _wished(first: int, then: int) -> str:
    return f"Cut {first} before cut {then}, as set by hand, cannot be and is dropped"


def without_impossible(sawn: Sawn) -> tuple[Sawn, str]:
    """Return what was sawn without orders set by hand that contradict its pieces or each other.

    Also a sentence that names the first of them with the chain of cuts that forbids it, ``""`` for
    none. Orders of cuts that are not there are kept: their sheets may be cut again.
    """
    project, plan = sawn.project, sawn.plan
    layout = project.layout
    if plan is None or not layout.before:
        return sawn, ""
    against = Moving(project, plan).contradicted(layout.before)
    if not against:
        return sawn, ""
    before = tuple(wish for wish in layout.before if wish not in against)
    changed = replace(project, layout=replace(layout, before=before))
    return replace(sawn, project=changed), first_of(list(against.values()))


def first_of(said: Sequence[str]) -> str:
    """Return the first of some sentences, and how many more orders set by hand are dropped."""
    more = len(said) - 1
    if more <= 0:
        return said[0] if said else ""
    return f"{said[0]} So {'is' if more == 1 else 'are'} {counted(more, 'more such order')}."


def dropped(before: Layout, sawn: Sawn) -> str:
    """Say which orders set by hand are kept no more, and why; ``""`` if all are.

    ``before`` is the layout that had them, ``sawn`` what is shown now.
    """
    kept, plan = set(sawn.project.layout.before), sawn.plan
    gone = [wish for wish in before.before if wish not in kept]
    known = set() if plan is None else {cut.key for cut in plan.cuts}
    there = [wish for wish in gone if {wish.first, wish.then} <= known]
    if plan is None or not there:
        return dropped_words(len(gone))
    moving = Moving(sawn.project, plan)
    said = [moving.let_go(wish) for wish in there]
    return " ".join(filter(None, (first_of(said), dropped_words(len(gone) - len(there)))))
