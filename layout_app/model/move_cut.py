"""Moving a cut in the sequence by hand: where it may go, and why not elsewhere."""

from collections.abc import Iterator
from dataclasses import replace

from layout_app.model.locks import Held
from layout_app.model.project import Project
from layout_app.model.sawing import order_of
from shared.check import plannable
from shared.cuts.by_hand import Link, Order, Why, still_possible, wishes_after
from shared.cuts.growing import grow
from shared.cuts.pass_order import in_order
from shared.cuts.rearranging import rearranged, renamed
from shared.cuts.sequence import layout_sheet
from shared.layout import Layout, LayoutSheet
from shared.plan import Plan


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
        said = "; ".join(self._said(link) for link in chain[:3])
        more = f"; and {len(chain) - 3} more such steps" if len(chain) > 3 else ""
        return f"Cut {number} cannot become cut {to}: {said}{more}."

    def _said(self, link: Link) -> str:
        one = self._plan.cuts[link.first]
        other = self._plan.cuts[link.then]
        if link.why is Why.MADE:
            return f"cut {one.number} is made, and what is made keeps its place"
        if link.why is Why.PIECE:
            return f"piece {other.piece} does not exist before cut {one.number}"
        if link.why is Why.REST:
            return f"piece {other.piece} is not free before cut {one.number}"
        if link.why is Why.LAST:
            return (
                f"then the last cut of piece {one.piece} would leave too little for what leads"
                " the saw to rest on, or to hold, or a part would lie in a trimmed edge"
            )
        if link.why is Why.TRIM:
            return f"cut {one.number} makes the edge that cut {other.number} is measured from"
        return (
            f"cut {one.number} comes before cut {other.number} because what they saw off"
            " stays where it lies"
        )

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
