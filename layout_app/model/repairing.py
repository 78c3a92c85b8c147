"""The least that has to be done to a sheet laid by hand so that it can be cut.

A repair moves, turns or shoves parts on their sheet, or sets some aside. The least change comes
first: nothing set aside, then the fewest parts touched, then the shortest way. Whatever is
locked or made stays as it is, and every repair is sawn before anybody sees it.
"""

from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain

from layout_app.model import layout_edits
from layout_app.model.feasibility import Judging, Rows
from layout_app.model.free_spots import Floor, Spot, free_spots
from layout_app.model.in_the_way import is_measurable
from layout_app.model.merge_plan import with_layout, without_claims
from layout_app.model.progress_edits import would_change
from layout_app.model.project import Project
from layout_app.model.pushing import Pusher
from layout_app.model.sawing import as_it_lies, saw
from layout_app.model.staying_locked import StayingLocked
from shared.geometry import Rect
from shared.layout import Layout, LayoutSheet
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement
from shared.recognise import LayoutTrouble, problems
from shared.stock import orientations

TRIES = 160
"""Places tried for one part lying one way."""
ALL_TRIES = 900
"""Places tried for all parts together, so that looking has an end: some seconds at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """What makes a sheet cuttable.

    Attributes
    ----------
    sheet
        Its id.
    moved
        How parts lie then that lie otherwise now.
    aside
        Which copies are set aside.
    way
        How far all parts together have to go, in ticks.
    """

    sheet: str
    moved: tuple[Placement, ...] = ()
    aside: tuple[Copy, ...] = ()
    way: Length = 0

    @property
    def touched(self) -> int:
        """How many parts do not stay as they are."""
        return len(self.moved) + len(self.aside)

    @property
    def rank(self) -> tuple[int, int, Length]:
        """How great a change it is: the least first."""
        return len(self.aside), self.touched, self.way


def repairs(project: Project, sheet_id: str) -> Iterator[Repair | None]:
    """Yield repairs of a sheet, the least change first; ``None`` after each bit of looking.

    A bit takes a few milliseconds. Nothing is yielded for a sheet that can be cut, where something
    has no size, or where no moving of parts would help; each repair has been sawn.
    """
    if not is_measurable(project.job, project.layout.sheet(sheet_id)):
        return
    looking = _Looking(project, sheet_id)
    yield None
    if looking.is_cuttable:
        return
    seen: set[tuple[frozenset[Placement], frozenset[Copy]]] = set()
    for stage in (looking.one_moved, looking.some_moved, looking.some_aside):
        for found in stage():
            if found is None:
                yield None
                continue
            key = frozenset(found.moved), frozenset(found.aside)
            if key not in seen:
                seen.add(key)
                after = repaired(project, found)
                yield None
                if _is_sound(project, after, found.sheet, looking.locked):
                    yield found


def repaired(project: Project, repair: Repair) -> Project:
    """Return the project with a repair made."""
    layout = layout_edits.place_all(project.job, project.layout, repair.moved)
    if repair.aside:
        layout = layout_edits.set_aside(project.job, layout, repair.aside)
    return with_layout(project, layout)


def _is_sound(before: Project, after: Project, sheet: str, locked: StayingLocked) -> bool:
    """Say whether a sheet is sawn with a repair made, ticked cuts and locks as they were."""
    if not locked.are_kept(after):
        return False
    if before.progress.made:
        sawn = saw(after)
        return sheet not in sawn.problems and not would_change(before.progress, sawn)
    alone = tuple(one for one in after.layout.sheets if one.id == sheet)
    sawn = saw(replace(without_claims(after), layout=Layout(sheets=alone)))
    return not sawn.problems


class _Looking:
    """Looks for repairs of one sheet."""

    def __init__(self, project: Project, sheet_id: str) -> None:
        self._project, self._job = project, project.job
        sheet = project.layout.sheet(sheet_id)
        self._sheet = replace(sheet, tree=sheet.known_cuts)  # where looking begins
        self._stock = project.job.stock_row(self._sheet.stock)
        self._begun = sheet_id in project.progress.sheets
        self._rows = Rows(project.job)
        self._tries = 0
        self._freeing: list[Placement] = []
        self._with_aside: list[Repair] = []
        self.locked = StayingLocked(project, sheet_id)

    @cached_property
    def is_cuttable(self) -> bool:
        """Whether there is nothing to repair."""
        return self._judging(()).is_good()

    def one_moved(self) -> Iterator[Repair | None]:
        """Yield repairs that move or turn one part, the shortest way first."""
        spots: list[tuple[bool, Length, int, Placement]] = []
        for one in self._suspected:
            yield None
            if self._judging((one.key,)).is_good():
                self._freeing.append(one)
        for index, one in enumerate(self._freeing):
            grouped = bool(self._job.part(one.part).group)
            for new, way in self._spots(one, self._others((one,))):
                if new is None:
                    yield None
                else:
                    spots.append((grouped, way, index, new))
        yield from self._tried(sorted(spots, key=lambda spot: spot[:3]))

    def _tried(
        self, spots: Iterable[tuple[bool, Length, int, Placement]]
    ) -> Iterator[Repair | None]:
        """Yield the nearest spot at which each part, lying each way, lets the sheet be cut."""
        done: dict[tuple[Copy, bool], int] = {}
        for _, way, _, new in spots:
            kind = new.key, new.turned
            if done.get(kind, 0) >= TRIES or not self._may_try():
                continue
            done[kind] = done.get(kind, 0) + 1
            if self._judging((new.key,)).is_good(new):
                done[kind] = TRIES
                yield Repair(sheet=self._sheet.id, moved=(new,), way=way)
            yield None

    def some_moved(self) -> Iterator[Repair | None]:
        """Yield repairs that move several parts: shoved along, or each to a free place."""
        found: list[Repair] = []
        for one in chain(self._pushed(), self._relaid_each_way()):
            yield None
            if one is not None:
                (self._with_aside if one.aside else found).append(one)
        yield from sorted(found, key=lambda one: one.rank)

    def some_aside(self) -> Iterator[Repair | None]:
        """Yield repairs that set parts aside, the smallest first."""
        alone = (
            Repair(sheet=self._sheet.id, aside=(one.key,), way=one.length + one.width)
            for one in self._freeing
        )
        yield from sorted((*alone, *self._with_aside), key=lambda one: one.rank)

    def _may_try(self) -> bool:
        self._tries += 1
        return self._tries <= ALL_TRIES

    @cached_property
    def _movable(self) -> tuple[Placement, ...]:
        fast = self.locked.copies
        return tuple(one for one in self._sheet.placements if one.key not in fast)

    @property
    def _suspected(self) -> Iterator[Placement]:
        """Yield the parts that may free the sheet alone: those in all that is wrong where they lie.

        Without any other part what is wrong would still be wrong.
        """
        wrong = [set(one.parts) for one in self._problems(self._sheet.placements)]
        for one in self._movable:
            if all(one in parts for parts in wrong):
                yield one

    def _problems(self, lying: Sequence[Placement]) -> tuple[LayoutTrouble, ...]:
        stock = self._stock
        return problems(stock.whole, tuple(lying), self._job.shop.kerf, stock.trims)

    def _others(self, gone: Sequence[Placement]) -> tuple[Placement, ...]:
        return tuple(one for one in self._sheet.placements if one not in gone)

    def _judging(self, copies: Sequence[Copy], sheet: LayoutSheet | None = None) -> Judging:
        return Judging(self._job, sheet or self._sheet, copies, self._rows, begun=self._begun)

    def _spots(
        self, one: Placement, others: Sequence[Placement]
    ) -> Iterator[tuple[Placement | None, Length]]:
        """Yield where a part could lie free of others, lying each way, and how far that is.

        ``None`` after each row of places.
        """
        part = self._job.part(one.part)
        barred = [bad.rect for bad in self._stock.no_go if bad.bars(show=part.show)]
        floor = Floor(
            usable=self._stock.usable,
            others=tuple(each.rect for each in others),
            barred=(*barred, *self.locked.areas),
            kerf=self._job.shop.kerf,
        )
        for turned in orientations(part.grain_rule, self._stock.grain):
            length, width = as_it_lies(part.cut_length, part.cut_width, turned)
            turning = 0 if turned == one.turned else abs(length - width)
            for row in free_spots(floor, (length, width), one.rect):
                for spot in row:
                    new = _laid(one, spot, (length, width), turned)
                    if new != one:
                        yield new, spot.distance + turning
                yield None, 0

    def _pushed(self) -> Iterator[Repair | None]:
        """Yield repairs that leave a part in the way where it lies, and push the others aside."""
        lying = {one.key: one.rect for one in self._sheet.placements}
        for stays in self._in_trouble:
            pusher = Pusher(
                self._job,
                self._sheet,
                (stays.key,),
                fixed=self.locked.copies,
                walls=self.locked.areas,
                begun=self._begun,
                rows=self._rows,
            )
            for free in (True, False):
                yield None
                found = pusher.push((stays,), free=free)
                moved = tuple(one for one in found.lying if one.rect != lying[one.key])
                if moved and not found.why and not self._fast(moved):
                    way = sum(_way(lying[one.key], one.rect) for one in moved)
                    yield Repair(sheet=self._sheet.id, moved=moved, way=way)

    def _fast(self, moved: Sequence[Placement]) -> tuple[Placement, ...]:
        """Return those that are locked, which must not move."""
        return tuple(one for one in moved if one.key in self.locked.copies)

    def _relaid_each_way(self) -> Iterator[Repair | None]:
        """Yield repairs that take what is in the way up, and lay it where it is free."""
        orders: tuple[Callable[[Placement], Length], ...] = (
            lambda one: one.length * one.width,
            lambda one: -self._sheet.placements.index(one),
        )
        for order in orders:
            gone = yield from self._taken_up(order)
            for packed in (False, True):
                yield None
                found = yield from self._relaid(gone, packed=packed)
                if found is not None:
                    yield found
                if found is None or not found.aside:
                    break  # the nearest places are enough

    def _relaid(
        self, gone: Sequence[Placement], *, packed: bool
    ) -> Generator[None, None, Repair | None]:
        """Lay parts again one by one, the largest first; return the repair that this is.

        Each goes to the nearest place, or if ``packed`` to that nearest the reference corner, which
        leaves more room for the others; it is set aside where there is none.
        """
        rest = self._others(gone)
        moved: list[Placement] = []
        aside: list[Copy] = []
        for one in sorted(gone, key=lambda one: -one.length * one.width):
            sheet = replace(self._sheet, placements=(*rest, *moved))
            spots = [spot for spot in self._spots(one, sheet.placements) if spot[0] is not None]
            judging, found = self._judging((one.key,), sheet), None
            for new, _ in sorted(spots, key=_of_corner if packed else _of_way)[:TRIES]:
                yield None
                if new is not None and self._may_try() and judging.is_good(new):
                    found = new
                    break
            if found is None:
                aside.append(one.key)
            else:
                moved.append(found)
        lay = {one.key: one.rect for one in gone}
        way = sum(_way(lay[one.key], one.rect) for one in moved)
        if not gone:
            return None
        return Repair(sheet=self._sheet.id, moved=tuple(moved), aside=tuple(aside), way=way)

    @cached_property
    def _in_trouble(self) -> tuple[Placement, ...]:
        """The parts that are in each other's way, the last laid first."""
        found = self._wrong(self._sheet.placements)
        parts = dict.fromkeys(part for one in found for part in one)
        return tuple(one for one in reversed(self._sheet.placements) if one in parts)

    def _wrong(self, lying: Sequence[Placement]) -> tuple[tuple[Placement, ...], ...]:
        """Return the parts of each thing that is wrong; where nothing is, those a limit names."""
        found = self._problems(lying)
        if found:
            return tuple(one.parts for one in found)
        sheet = replace(self._sheet, placements=tuple(lying))
        verdict = self._judging((), sheet).explain()
        named = tuple(one for one in lying if one.key in verdict.troubled)
        return () if verdict.good else (named or tuple(lying),)

    def _taken_up(
        self, order: Callable[[Placement], Length]
    ) -> Generator[None, None, tuple[Placement, ...]]:
        """Return parts without which the rest can be cut: few, by an order where it is open."""
        lying, gone = list(self._sheet.placements), list[Placement]()
        movable = set(self._movable)
        while wrong := self._wrong(lying):
            yield None
            counts = [
                (-sum(one in parts for parts in wrong), order(one), index)
                for index, one in enumerate(lying)
                if one in movable and any(one in parts for parts in wrong)
            ]
            if not counts:
                return ()
            gone.append(lying.pop(min(counts)[2]))
        for one in sorted(gone, key=lambda one: -one.length * one.width):
            yield None
            rest = self._others([other for other in gone if other != one])
            if self._judging((), replace(self._sheet, placements=rest)).is_good():
                gone.remove(one)
        return tuple(gone)


def _laid(one: Placement, spot: Spot, size: tuple[Length, Length], turned: bool) -> Placement:
    length, width = size
    return replace(one, x=spot.x, y=spot.y, length=length, width=width, turned=turned)


def _way(one: Rect, to: Rect) -> Length:
    return abs(one.x - to.x) + abs(one.y - to.y)


def _of_way(spot: tuple[Placement | None, Length]) -> Length:
    return spot[1]


def _of_corner(spot: tuple[Placement | None, Length]) -> tuple[Length, Length]:
    """Return how far a spot is from the reference edge, then from the left end."""
    return (spot[0].y, spot[0].x) if spot[0] is not None else (0, 0)
