"""Push aside: parts that are laid among others, and where those go so that all can be cut.

What is in the hand is laid where it is held, or beside what it is held over. What lies behind it
goes along the strip, off the reference end; where that has no end, or where it is held between
two strips, strips go along as a whole; and what is too wide for its strip moves those beyond.
Nothing goes farther than it has to. What is locked, sawn or off limits stays and is in the way.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from layout_app.model.feasibility import Judging, Rows
from layout_app.model.giving_way import (
    Gone,
    Group,
    Kind,
    Made,
    Room,
    Stuck,
    inside,
    is_between,
)
from layout_app.model.snapping import frame_of
from layout_app.model.stops import Way
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.no_go import barred_by
from shared.parts import Copy
from shared.plan import Placement
from shared.shop import Axis, FirstCut

JUDGED_AT_MOST = 6
"""How many ways to make room are asked about: each takes a millisecond or two at most."""
WATCHES_KEPT = 16
FULL = 0.7
"""Parts that fill so much of the frame round them are laid down as one."""


NO_ROOM = "no room: {} would go off the sheet"
LOCKED, MADE = "{} is locked", "{} is locked, or sawn already"
WALL = "{} would lie on what is locked or sawn"
DEFECT = "{} would lie on a defect"
CUT = "the sheet could not be cut"
OFF = "no room for it on the sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pushed:
    """What becomes of a sheet on which parts are laid.

    Attributes
    ----------
    held
        Where those in the hand come to lie.
    moved
        Where those come to lie that give way; none if they had not to.
    why
        Why nothing can give way; ``""`` if the sheet can be cut so.
    """

    held: tuple[Placement, ...]
    moved: tuple[Placement, ...] = ()
    why: str = ""

    @property
    def lying(self) -> tuple[Placement, ...]:
        """All that lies elsewhere than before."""
        return (*self.held, *self.moved)


class Pusher:
    """Lays parts on one sheet and makes the others give way.

    Parameters
    ----------
    job, sheet
        As they are in the document.
    copies
        Which are in the hand; where they lie on the sheet now does not matter.
    fixed
        Copies that may not move.
    walls
        Where nothing may be moved to, in ticks of the sheet's frame.
    begun
        Whether cuts are made on it: the limits of the shop do not matter then.
    rows
        What is known of the job already.
    """

    def __init__(
        self,
        job: Job,
        sheet: LayoutSheet,
        copies: Sequence[Copy],
        *,
        fixed: Collection[Copy] = (),
        walls: Sequence[Rect] = (),
        begun: bool = False,
        rows: Rows | None = None,
    ) -> None:
        self.job, self.stock, self.kerf = job, job.stock_row(sheet.stock), job.shop.kerf
        self.fixed, self.walls = frozenset(fixed), tuple(walls)
        self.first = first_way(job, sheet)
        self._sheet, self.begun = sheet, begun
        self._rows = rows or Rows(job)
        self._lay = {one.key: one for one in sheet.placements}
        self._watches: dict[frozenset[Copy], Judging] = {}
        others = [one for one in sheet.placements if one.key not in set(copies)]
        self.blocks = [tuple(block) for block in self._rows.matches.together(others)]

    @cached_property
    def whole(self) -> Group | None:
        """What lies on the sheet, besides what is in the hand, as one group."""
        return self.grouped(self.blocks, ())

    def push(self, held: Sequence[Placement], *, free: bool = False) -> Pushed:
        """Lay parts where they are held, and say what gives way.

        Where all can be cut as it is, nothing does. ``free`` lays them just there; else they may
        go before or behind what they are held over.
        """
        as_held = tuple(held)
        if self.can_be_cut(as_held):
            return Pushed(held=as_held)
        whole = frame_of(one.rect for one in held)
        if sum(one.rect.area for one in held) >= FULL * whole.area:
            return _Search(self, as_held, self.blocks, free=free).found()
        return self.lay_each(as_held, free=free)

    def lay_each(
        self, held: Sequence[Placement], *, free: bool = False, least: bool = False
    ) -> Pushed:
        """Lay parts one after the other, each where it is held; it stays where it was laid.

        With ``least`` so that all together goes the least way, whatever kind of way that is.
        """
        found = Pushed(held=(), moved=())
        for one in held:
            blocks = [tuple(_gone_to(found.moved, block)) for block in self.blocks]
            found = _Search(
                self,
                (one,),
                blocks,
                free=free,
                least=least,
                laid=found.held,
                last=one is held[-1],
            ).found()
            if found.why:
                return replace(found, held=tuple(held))
        return found

    def grouped(
        self, blocks: Sequence[Sequence[Placement]], laid: Sequence[Placement]
    ) -> Group | None:
        """Return blocks as one group, by their numbers; what is laid already stays.

        ``None`` if there are none.
        """
        if not blocks and not laid:
            return None
        frames = dict(enumerate(frame_of(one.rect for one in block) for block in blocks))
        fixed = {
            index
            for index, block in enumerate(blocks)
            if any(one.key in self.fixed for one in block)
        }
        for index, one in enumerate(laid, len(blocks)):
            frames[index] = one.rect
            fixed.add(index)
        return Group(frames, fixed)

    def off_limits(self, one: Placement) -> str:
        """Say that a part would lie where nothing may be laid; ``""`` if it may."""
        name, bad = self.job.named(one.key), self.stock.no_go
        if any(wall.overlaps(one.rect) for wall in self.walls):
            return WALL.format(name)
        on = bad and barred_by(bad, one.rect, show=self.job.part(one.part).show) is not None
        return DEFECT.format(name) if on else ""

    def changed(self, blocks: Iterable[Sequence[Placement]]) -> tuple[Placement, ...]:
        """Return what lies elsewhere than on the sheet as it is."""
        return tuple(one for block in blocks for one in block if self._lay[one.key] != one)

    def can_be_cut(self, lying: Sequence[Placement]) -> bool:
        """Say whether the sheet can be cut with parts laid so."""
        keys = frozenset(one.key for one in lying)
        if keys not in self._watches:
            if len(self._watches) >= WATCHES_KEPT:
                del self._watches[next(iter(self._watches))]
            order = [one.key for one in lying]
            self._watches[keys] = Judging(
                self.job, self._sheet, order, self._rows, begun=self.begun
            )
        return self._watches[keys].is_good(*lying)


class _Search:
    """Looks for room for parts that are laid down as one, among blocks that move as one each."""

    def __init__(
        self,
        pusher: Pusher,
        held: tuple[Placement, ...],
        blocks: Sequence[tuple[Placement, ...]],
        *,
        free: bool = False,
        least: bool = False,
        laid: tuple[Placement, ...] = (),
        last: bool = True,
    ) -> None:
        self._pusher, self._held, self._blocks = pusher, held, blocks
        self._free, self._least = free, least
        self._laid, self._last = laid, last
        self._frame = frame_of(one.rect for one in held)
        self._whole = pusher.whole if blocks is pusher.blocks else pusher.grouped(blocks, laid)
        self._why = ""

    def found(self) -> Pushed:
        """Return the first good way, or why there is none."""
        asked = 0
        for spot, gone in self._in_order():
            if not self._pusher.stock.usable.contains(spot):
                self._note(OFF)
                continue
            held = tuple(_shifted(self._held, spot.x - self._frame.x, spot.y - self._frame.y))
            found = self._with(held, gone)
            if found is None:
                continue
            if not self._last or self._pusher.can_be_cut(found.lying):
                return found
            self._note(CUT)
            asked += 1
            if asked == JUDGED_AT_MOST:
                break
        return Pushed(held=self._held, why=self._why or CUT)

    def _in_order(self) -> Iterator[Made]:
        """Yield where to lay it and what gives way, what is likeliest to be meant first."""
        pusher, whole, stuck = self._pusher, self._whole, list[Stuck]()
        usable = pusher.stock.usable
        frame = self._frame if self._free else inside(self._frame, usable)
        if whole is None:
            yield Made(frame, [])
            return
        room = Room(
            laid=frame,
            kerf=pusher.kerf,
            usable=usable,
            first=pusher.first,
            free=self._free,
            far=self._least,
        )
        between = is_between(whole, frame, pusher.first, pusher.kerf)
        kinds = sorted(Kind, key=lambda kind: kind is Kind.ALONG and between)
        made: Iterable[list[Made]] = (room.made(whole, kind, stuck) for kind in kinds)
        if self._least:
            every = [one for some in made for one in some]
            made = [sorted(every, key=lambda one: sum(room.effort(one)))]
        for some in made:
            yield from some
            self._note_stuck(stuck)

    def _note_stuck(self, stuck: Sequence[Stuck]) -> None:
        """Note which block could not move first, and why."""
        for group, fixed in stuck[:1]:
            index = min(group.blocks) if fixed is None else fixed
            is_laid = index >= len(self._blocks)
            (one, *_) = self._held if is_laid else self._blocks[index]
            locked = MADE if self._pusher.begun else LOCKED
            words = NO_ROOM if fixed is None or is_laid else locked
            self._note(words.format(self._pusher.job.named(one.key)))

    def _with(self, held: tuple[Placement, ...], gone: Iterable[Gone]) -> Pushed | None:
        """Return what becomes of the sheet, ``None`` if something lies where nothing may."""
        blocks = list(self._blocks)
        for group, way, by in gone:
            x, y = (by, 0) if way is Way.X else (0, by)
            for index in group.blocks:
                blocks[index] = tuple(_shifted(blocks[index], x, y))
        moved = self._pusher.changed(blocks)
        why = next(filter(None, map(self._pusher.off_limits, (*held, *moved))), "")
        self._note(why)
        return None if why else Pushed(held=(*self._laid, *held), moved=moved)

    def _note(self, why: str) -> None:
        """Keep the first thing that was in the way."""
        self._why = self._why or why


def _shifted(placements: Iterable[Placement], x: Length, y: Length) -> Iterator[Placement]:
    return (replace(one, x=one.x + x, y=one.y + y) for one in placements)


def _gone_to(moved: Iterable[Placement], block: Iterable[Placement]) -> Iterator[Placement]:
    """Yield the parts of a block, where they have gone."""
    now = {one.key: one for one in moved}
    return (now.get(one.key, one) for one in block)


def first_way(job: Job, sheet: LayoutSheet) -> Way:
    """Return the direction in which the strips of a sheet follow each other."""
    if sheet.known_cuts is not None:
        return Way.X if sheet.known_cuts.axis is Axis.CROSSCUT else Way.Y
    return Way.X if job.rule.first is FirstCut.CROSSCUT else Way.Y
