"""Which drawing each sheet of the document gets."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import NamedTuple, Protocol, TypeVar

from layout_app.document.document import Document
from layout_app.model.feasibility import explain
from layout_app.model.in_the_way import InTheWay, in_the_way
from layout_app.model.tints import retinted
from shared.drawing import SheetDrawing, draw_loose, draw_sheet
from shared.drawing.marks import axis_at, top_level
from shared.drawing.records import Point
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.making.record import CutRecord
from shared.plan import CutKind, Plan
from shared.shop import Axis
from shared.telling.recorded import recorded

LOOKS_KEPT = 2
"""Drawings of a sheet that are remembered."""


class Looks(NamedTuple):
    """All that the drawing of a sheet depends on.

    ``lie`` is what lies where; pictures of the same lie differ in numbers and words only.
    """

    lie: object
    rest: object


class _OnSheet(Protocol):
    @property
    def sheet(self) -> str: ...


On = TypeVar("On", bound=_OnSheet)


def _by_sheet(things: Iterable[On]) -> dict[str, tuple[On, ...]]:
    found: defaultdict[str, list[On]] = defaultdict(list)
    for one in things:
        found[one.sheet].append(one)
    return {sheet: tuple(those) for sheet, those in found.items()}


class _PlanTold:
    """What a plan says of each of its sheets, looked up once.

    What is as in the plan before is the same value, so that comparing it takes no time.
    """

    def __init__(
        self,
        plan: Plan | None,
        stable: Mapping[Length, int],
        known: Mapping[Length, int],
        before: "_PlanTold | None" = None,
    ) -> None:
        self.plan = plan
        self.sheets = {one.id: one for one in plan.sheets} if plan else {}
        self.lies = _by_sheet(plan.placements) if plan else {}
        self.falls = _by_sheet(plan.offcuts) if plan else {}
        self.cuts = _by_sheet(plan.cuts) if plan else {}
        self.tints, self.known = stable, {**known, **stable}
        self.parts = plan.parts if plan else ()
        if before is not None and before.tints == self.tints:
            self.tints = before.tints
        if before is not None and before.known == self.known:
            self.known = before.known
        if before is not None and before.parts == self.parts:
            self.parts = before.parts


class _Cuts(NamedTuple):
    """Cuts of one sheet: the selected one, and those that are ticked."""

    selected: int | None
    made: frozenset[int]


class _Made:
    """How each cut is made, by its number; worked out once a cut is selected."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._of: tuple[object, ...] = ()
        self._records: dict[int, CutRecord] = {}

    def record(self, number: int) -> CutRecord:
        """Return the record of a cut of the plan."""
        plan, shop, past = (
            self._document.plan,
            self._document.job.shop,
            self._document.progress.past,
        )
        assert plan is not None
        if self._of != (plan, shop, past):
            self._of = plan, shop, past
            found = recorded((*past, plan), shop).records
            self._records = {one.number: one for one in found}
        return self._records[number]


class Drawings:
    """Draws the sheets of a document, and remembers how each looked the last two times.

    So what is undone is not drawn again.
    """

    def __init__(self, document: Document) -> None:
        self._document = document
        self._told = _PlanTold(None, {}, {})
        self._made: dict[str, list[tuple[Looks, SheetDrawing]]] = {}
        self._records = _Made(document)

    def looks(self, sheet: LayoutSheet) -> Looks:
        """Return what a sheet's drawing depends on, without drawing it."""
        told, job, name = self._now(), self._document.job, sheet.id
        planned = told.sheets.get(name)
        if planned is None:
            problem = self._document.problems.get(name, "")
            loose = (None, sheet.placements, sheet.known_cuts)
            return Looks(loose, (sheet.stock, job, problem, told.known))
        cuts, falls = self._cuts_on(name), told.falls.get(name, ())
        lie = (cuts.selected is None, sheet.placements, tuple(fall.rect for fall in falls))
        rest = (planned, told.lies.get(name), falls, told.cuts.get(name), cuts)
        entry = self._saw_in(cuts)
        return Looks(lie, (*rest, told.parts, told.tints, job.style, entry))

    def of(self, sheet: LayoutSheet) -> SheetDrawing:
        """Draw a sheet as planned, just before the selected cut, or with its last cuts in grey.

        Tags of ticked cuts are done.
        """
        looks, made = self.looks(sheet), self._made.get(sheet.id, [])
        drawing = next((old for like, old in made if like == looks), None) or self._draw(sheet)
        others = [one for one in made if one[1] is not drawing]
        self._made[sheet.id] = [(looks, drawing), *others][:LOOKS_KEPT]
        return drawing

    def is_across(self, sheet: str) -> bool:
        """Say whether a sheet is cut across first: its tags stand above it."""
        told = self._now()
        planned = told.sheets.get(sheet)
        if planned is None:
            return False
        top = top_level(planned)
        return axis_at(top, planned) is Axis.CROSSCUT and any(
            cut.level == top and cut.kind is not CutKind.FINISH for cut in told.cuts.get(sheet, ())
        )

    def _now(self) -> _PlanTold:
        plan = self._document.plan
        if self._told.plan is not plan:
            tints = self._document.tints
            self._told = _PlanTold(plan, tints.shown, tints.known, self._told)
        return self._told

    def _draw(self, sheet: LayoutSheet) -> SheetDrawing:
        plan, job = self._document.plan, self._document.job
        if plan is not None and sheet.id in self._now().sheets:
            cuts = self._cuts_on(sheet.id)
            drawing = draw_sheet(plan, sheet.id, job.style, upto=cuts.selected)
            drawing = retinted(drawing, plan, self._now().tints)
            done = (
                replace(tag, done=True) if tag.number in cuts.made else tag for tag in drawing.tags
            )
            return replace(drawing, tags=tuple(done), saw_in=self._saw_in(cuts))
        problem = self._document.problems.get(sheet.id, "").removeprefix(f"Sheet {sheet.id}: ")
        begun = sheet.id in self._document.progress.sheets
        troubled = explain(job, sheet, begun=begun).troubled
        spots, knots = in_the_way(job, sheet) if sheet.tree is None else InTheWay()
        return draw_loose(
            job,
            sheet,
            troubled,
            problem,
            self._now().known,
            last=sheet.known_cuts,
            spots=spots,
            knots=knots,
        )

    def _saw_in(self, cuts: _Cuts) -> tuple[Point, Point] | None:
        """Return where the saw enters the selected cut, and where it leaves."""
        return None if cuts.selected is None else self._records.record(cuts.selected).saw_in

    def _cuts_on(self, sheet: str) -> _Cuts:
        """Return the selected cut if it is one of this sheet, and those of it that are ticked."""
        mine = {cut.number for cut in self._now().cuts.get(sheet, ())}
        number = self._document.selection.cut
        made = mine.intersection(self._document.progress.made)
        return _Cuts(number if number in mine else None, frozenset(made))
