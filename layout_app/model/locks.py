"""What is held in a project: what the planner is asked to leave, and what a hand may not touch."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from layout_app.model import layout_edits
from layout_app.model.project import Project
from shared.asked import Settled
from shared.geometry import Rect
from shared.holding import Suspended, frozen, frozen_areas, said_within, standing
from shared.job import Job
from shared.layout import Hold, Layout, LayoutSheet, Scope
from shared.parts import Copy
from shared.plan import Placement
from shared.progress import Made

KEYS = {Scope.PART: "L", Scope.STRIP: "Shift+L", Scope.SHEET: "Ctrl+L"}
"""What locks and unlocks, on the bench."""


class Around(NamedTuple):
    """What a planning run has to go around.

    ``kept`` are the sheets that stay whole, as those on which cuts are made do; ``holds`` the
    strips and parts that are held on the sheets ``held``, which may be planned otherwise.
    """

    kept: tuple[LayoutSheet, ...]
    held: tuple[LayoutSheet, ...]
    holds: tuple[Hold, ...]


def asked(project: Project, spared: Collection[str] = ()) -> Around:
    """Return what the planner has to leave of a project: ticked cuts first, then holds, yours.

    ``spared`` are further sheets that stay as they lie.
    """
    in_force, _ = standing(project.job, project.layout)
    begun = project.progress.sheets
    whole = _stay(project).union(spared)
    laid = [one for one in project.layout.sheets if one.placements or one.id in begun]
    kept = tuple(sheet for sheet in laid if sheet.yours or sheet.id in whole)
    stays = {sheet.id for sheet in kept}
    holds = tuple(hold for hold in in_force if hold.sheet not in stays)
    named = {hold.sheet for hold in holds}
    return Around(kept, tuple(sheet for sheet in laid if sheet.id in named), holds)


def settled(project: Project, spared: Collection[str] = ()) -> Settled:
    """Return what planning leaves alone of a project, with further sheets that it spares."""
    around = asked(project, spared)
    return Settled(
        kept=around.kept,
        waiting=project.layout.waiting,
        held=around.held,
        holds=around.holds,
        made=sawn_so_far(project),
    )


def laid_by_hand(project: Project) -> tuple[LayoutSheet, ...]:
    """Return the sheets laid out by hand that planning may take back if the maker agrees.

    Begun sheets and sheets locked whole stay; locks of strips and parts stay in force.
    """
    stay = _stay(project)
    return tuple(one for one in project.layout.sheets if one.yours and one.id not in stay)


def given_back(project: Project) -> Project:
    """Return a project whose sheets laid out by hand are planned like any other."""
    return replace(project, layout=layout_edits.give_back(project.layout, _stay(project)))


def _stay(project: Project) -> frozenset[str]:
    """Return the sheets that stay whole whatever is planned: begun ones, and those locked."""
    in_force, _ = standing(project.job, project.layout)
    locked = {hold.sheet for hold in in_force if hold.scope is Scope.SHEET}
    return project.progress.sheets | locked


def sawn_so_far(project: Project) -> Made:
    """Return what the planner has to know of the sawing so far."""
    progress = project.progress
    return Made(
        first=progress.first,
        finished=project.layout.finished,
        names=tuple(sorted(progress.names)),
        order=tuple(cut.key for cut in progress.fixed),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldArea:
    """What a hold freezes of a sheet, in the sheet's frame, for the bench to draw.

    ``cost`` says what the lock costs, ``""`` if nothing or if it is not known.
    """

    rect: Rect
    scope: Scope
    cost: str = ""


class Held:
    """The holds of one project, divided into those in force and those suspended."""

    def __init__(self, project: Project) -> None:
        self._job, self._layout = project.job, project.layout
        self.in_force: tuple[Hold, ...]
        self.suspended: tuple[Suspended, ...]
        self.in_force, self.suspended = standing(project.job, project.layout)

    def areas(self, sheet_id: str, costs: Mapping[Hold, str] | None = None) -> tuple[HeldArea, ...]:
        """Return what is frozen of a sheet: one area for each hold, none inside another.

        ``costs`` says of holds what they cost.
        """
        sheet, costs = self._layout.sheet(sheet_id), costs or {}
        found = {
            rect: HeldArea(rect=rect, scope=hold.scope, cost=costs.get(hold, ""))
            for hold in sorted(self.in_force, key=lambda hold: hold.scope is Scope.SHEET)
            for rect in self._areas(sheet, [hold])
        }
        return tuple(
            area
            for rect, area in found.items()
            if not any(other != rect and other.contains(rect) for other in found)
        )

    def holders(self, key: Copy) -> tuple[Hold, ...]:
        """Return the holds in force that freeze a copy, its own first."""
        lies = self._layout.find(key)
        if lies is None:
            return ()
        sheet = self._layout.sheet(lies.sheet)
        found = [hold for hold in self.in_force if lies in self._frozen(sheet, [hold])]
        return tuple(sorted(found, key=lambda hold: hold.key != key))

    def bars(self, key: Copy) -> str:
        """Say which hold keeps a hand from touching a copy; ``""`` if none does."""
        found = self.holders(key)
        if not found:
            return ""
        hold, name = found[0], self._job.named(key)
        if hold.scope is Scope.SHEET:
            return self.bars_sheet(hold.sheet)
        if hold.scope is Scope.STRIP:
            return f"The strip of {name} is locked: unlock it first ({KEYS[Scope.STRIP]})."
        if hold.key == key:
            return f"{name} is locked: unlock it first ({KEYS[Scope.PART]})."
        behind = self._job.named(hold.key)
        return f"{name} is locked with {behind}, which lies behind it: unlock that first."

    def bars_sheet(self, sheet: str) -> str:
        """Say that a whole sheet is held, if it is."""
        held = any(h.scope is Scope.SHEET and h.sheet == sheet for h in self.in_force)
        key = KEYS[Scope.SHEET]
        return f"Sheet {sheet} is locked: unlock it first ({key})." if held else ""

    def bars_place(self, placement: Placement) -> str:
        """Say which hold keeps a copy from being laid somewhere; ``""`` if none does."""
        if reason := self.bars(placement.key):
            return reason
        if reason := self.bars_sheet(placement.sheet):
            return reason
        sheet = self._layout.sheet(placement.sheet)
        if any(area.overlaps(placement.rect) for area in self._areas(sheet, self.in_force)):
            return "That place is locked: unlock what lies there first."
        return ""

    def bars_rip(self, sheet_id: str, index_from: int, index_to: int) -> str:
        """Say that a rip cannot move since something held would move too; ``""`` if it may."""
        if reason := self.bars_sheet(sheet_id):
            return reason
        sheet = self._layout.sheet(sheet_id)
        stays = self._frozen(sheet, self.in_force)
        if not stays or index_from == index_to:
            return ""
        moved = layout_edits.reorder_rips(self._job, self._layout, sheet_id, index_from, index_to)
        after = moved.sheet(sheet_id).placements
        shifted = [one for one in stays if one not in after]
        return (
            f"{self._job.named(shifted[0].key)} is locked and would move with it."
            if shifted
            else ""
        )

    def _areas(self, sheet: LayoutSheet, holds: Iterable[Hold]) -> tuple[Rect, ...]:
        stock = self._job.stock_row(sheet.stock)
        return frozen_areas(sheet, stock, self._job.shop.kerf, holds)

    def _frozen(self, sheet: LayoutSheet, holds: Iterable[Hold]) -> tuple[Placement, ...]:
        stock = self._job.stock_row(sheet.stock)
        return frozen(sheet, stock, self._job.shop.kerf, holds)


def made(project: Project, scope: Scope, keys: Iterable[Copy]) -> tuple[Hold, ...]:
    """Return holds of a scope on copies, as they lie; a strip or sheet is held once."""
    layout = project.layout
    found: list[Hold] = []
    for part, copy in keys:
        lies = layout.find((part, copy))
        if lies is None or _freezes(project, lies, found, scope):
            continue
        if scope is Scope.SHEET:
            found += of_sheet(layout, lies.sheet)
        else:
            found.append(Hold(scope=scope, sheet=lies.sheet, part=part, copy=copy, lies=lies))
    return tuple(found)


def _freezes(project: Project, lies: Placement, holds: Sequence[Hold], scope: Scope) -> bool:
    """Say whether a copy lies in a strip or sheet that is among the holds already."""
    sheet = project.layout.sheet(lies.sheet)
    stock = project.job.stock_row(sheet.stock)
    return scope is not Scope.PART and lies in frozen(sheet, stock, project.job.shop.kerf, holds)


def of_sheet(layout: Layout, sheet_id: str) -> Iterator[Hold]:
    """Yield a hold of a whole sheet, if anything lies on it."""
    for lies in layout.sheet(sheet_id).placements[:1]:
        yield Hold(scope=Scope.SHEET, sheet=sheet_id, lies=lies)


def on(layout: Layout, held: Held, scope: Scope | None, keys: Iterable[Copy]) -> tuple[Hold, ...]:
    """Return the holds of a scope on copies: in force or suspended; with no scope all of them.

    A held part is meant itself only, not what it freezes, unless there is no scope.
    """
    found: dict[Hold, None] = {}
    for key in keys:
        own = [hold for hold in layout.holds if hold.key == key]
        found |= dict.fromkeys(own if scope is Scope.PART else (*own, *held.holders(key)))
    return tuple(hold for hold in found if scope is None or hold.scope is scope)


def is_held(held: Held, scope: Scope, key: Copy) -> bool:
    """Say whether a copy, its strip or its sheet is held itself, and the hold in force."""
    found = (hold for hold in held.holders(key) if hold.scope is scope)
    return any(scope is not Scope.PART or hold.key == key for hold in found)


def judged(project: Project, holds: Sequence[Hold]) -> dict[Hold, str]:
    """Return which new holds could not be kept, and why."""
    layout = with_holds(project.layout, holds)
    _, suspended = standing(project.job, layout)
    return {hold: reason for hold, reason in suspended if hold in holds}


def said(job: Job, holds: Sequence[Hold]) -> str:
    """Return what an undo step calls holds."""
    if len(holds) > 1:
        return f"{len(holds)} {'sheets' if holds[0].scope is Scope.SHEET else 'parts'}"
    return said_within(job, holds[0])


def with_holds(layout: Layout, new: Collection[Hold]) -> Layout:
    """Add holds; older ones of the same scope on the same thing give way."""
    things = {_thing(hold) for hold in new}
    stays = (hold for hold in layout.holds if _thing(hold) not in things)
    return replace(layout, holds=(*stays, *new))


def without_holds(layout: Layout, gone: Collection[Hold]) -> Layout:
    """Take holds away."""
    return replace(layout, holds=tuple(hold for hold in layout.holds if hold not in gone))


def _thing(hold: Hold) -> tuple[Scope, str, Copy]:
    """Return what a hold is about: a copy wherever it lies, or a sheet."""
    whole = hold.scope is Scope.SHEET
    return hold.scope, hold.sheet if whole else "", hold.key
