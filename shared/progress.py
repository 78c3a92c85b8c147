"""Which cuts are made: ticks on the plan as it is, and what was sawn before it.

Ticked cuts are history: their numbers never change, so every cut up to the highest number
ticked keeps its place in the order.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final

from shared.geometry import Rect
from shared.plan import Cut, CutKind, Finished, Plan

LONGEST_S: Final = 4 * 3600
"""More than this from one tick to the next, in seconds, is no time at the saw, and is not kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """The time at the saw from the tick of the cut before to that of a cut, in whole seconds."""

    number: int
    seconds: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Declined:
    """A figure of the pace, heard at the saw, that the maker did not take over.

    Attributes
    ----------
    figure
        Field of the shop.
    heard
        So many times of cuts were kept then: it is offered again after some more.
    """

    figure: str
    heard: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenOver:
    """A figure of the pace, heard at the saw, that the maker took over.

    Attributes
    ----------
    figure
        Field of the shop.
    seconds
        What it became; a shop that has another was changed since, or the step taken back.
    heard
        So many times of cuts were kept then.
    """

    figure: str
    seconds: int
    heard: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far the sawing is.

    Attributes
    ----------
    fixed
        Every cut of the plan up to the highest number ticked, as it was numbered.
    made
        Numbers of those that are ticked, ascending.
    past
        What was sawn before the plan was made anew from the pieces that lay there: plans of
        the cuts that were made, the earliest first.
    times
        What made cuts took, those of the past among them, in the order in which it was heard;
        only where that was heard in one go (`layout_app.walk.between_ticks`).
    declined
        What the maker did not want to take over of the pace that the times tell.
    taken
        What the maker took over of it.
    """

    fixed: tuple[Cut, ...] = ()
    made: tuple[int, ...] = ()
    past: tuple[Plan, ...] = ()
    times: tuple[Timed, ...] = ()
    declined: tuple[Declined, ...] = ()
    taken: tuple[TakenOver, ...] = ()

    @property
    def ticked(self) -> tuple[Cut, ...]:
        """The cuts of the plan that are made, in the order of their numbers."""
        made = set(self.made)
        return tuple(cut for cut in self.fixed if cut.number in made)

    @property
    def all_made(self) -> frozenset[int]:
        """Numbers of all cuts that are made, those of the past among them."""
        return frozenset(self.made).union(cut.number for plan in self.past for cut in plan.cuts)

    @property
    def first(self) -> int:
        """Number of the first cut of the plan."""
        return 1 + max((cut.number for plan in self.past for cut in plan.cuts), default=0)

    @property
    def sheets(self) -> frozenset[str]:
        """Sheets that stay as they lie: each has a cut up to the highest number ticked."""
        return frozenset(cut.sheet for cut in self.fixed)

    @property
    def dust(self) -> dict[str, tuple[Rect, ...]]:
        """What the cuts up to the highest number ticked turn to dust, by sheet."""
        return {
            sheet: tuple(cut.rect for cut in self.fixed if cut.sheet == sheet)
            for sheet in sorted(self.sheets)
        }

    @property
    def names(self) -> frozenset[str]:
        """Names of sheets and pieces of the past, which nothing else may be given."""
        return frozenset(
            name
            for plan in self.past
            for name in (*(sheet.id for sheet in plan.sheets), *(cut.off for cut in plan.cuts))
            if name
        )

    def with_ticks(self, plan: Plan, numbers: Collection[int]) -> "Progress":
        """Return it with more cuts of the plan ticked."""
        return self._of(plan.cuts, {*self.made, *numbers})

    def timed(self, number: int, seconds: int) -> "Progress":
        """Return it with the time that a made cut took."""
        others = (one for one in self.times if one.number != number)
        return replace(self, times=(*others, Timed(number=number, seconds=seconds)))

    def without_ticks(self, numbers: Collection[int]) -> "Progress":
        """Return it with ticks taken away."""
        return self._of(self.fixed, set(self.made) - set(numbers))

    def seen_in(self, plan: Plan | None) -> "Progress":
        """Return it with the cuts as the plan has them that bears it out."""
        return self if plan is None else self._of(plan.cuts, set(self.made))

    def _of(self, cuts: Sequence[Cut], made: set[int]) -> "Progress":
        highest = max(made, default=0)
        fixed = tuple(cut for cut in cuts if cut.number <= highest)
        now = replace(self, fixed=fixed, made=tuple(sorted(made)))
        all_made = now.all_made
        times = tuple(one for one in self.times if one.number in all_made)
        return now if times == self.times else replace(now, times=times)


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What planning has to know of the sawing so far.

    Attributes
    ----------
    first
        Number of the first cut of the plan that is asked for.
    finished
        Copies that were sawn before it.
    names
        Names of sheets and pieces that are given away.
    order
        Keys of the cuts that keep their places at its beginning.
    """

    first: int = 1
    finished: tuple[Finished, ...] = ()
    names: tuple[str, ...] = ()
    order: tuple[str, ...] = ()

    def of(self, parts: Collection[str]) -> "Made":
        """Return what concerns the parts of these ids."""
        finished = tuple(one for one in self.finished if one.part in parts)
        return replace(self, finished=finished)


NOTHING_MADE = Made()
"""No cut is made yet."""


def changed_in(progress: Progress, plan: Plan | None) -> Cut | None:
    """Return the first ticked cut that a plan has not, under its number; ``None`` if it has all."""
    cuts = {cut.number: cut for cut in plan.cuts} if plan is not None else {}
    for cut in progress.ticked:
        other = cuts.get(cut.number)
        if other is None or _pass_of(cut) != _pass_of(other):
            return cut
    return None


def _pass_of(cut: Cut) -> tuple[object, ...]:
    trim = cut.kind is CutKind.TRIM
    return cut.number, cut.sheet, cut.piece, cut.off, trim, cut.kerf, cut.rect, cut.size


def needed_for(cuts: Sequence[Cut], number: int) -> tuple[int, ...]:
    """Return the numbers of the cuts that have to be made before another, ascending.

    Those are the earlier cuts of the piece it goes through, the one that sawed that piece
    off, and what these need.
    """
    needed: set[int] = set()
    pieces = {cut.piece for cut in cuts if cut.number == number}
    for cut in sorted(cuts, key=lambda one: -one.number):
        if cut.number < number and (cut.piece in pieces or cut.off in pieces):
            needed.add(cut.number)
            pieces.add(cut.piece)
    return tuple(sorted(needed))


def coming_of(cuts: Sequence[Cut], number: int) -> tuple[int, ...]:
    """Return the numbers of the cuts that cannot be made without another, ascending."""
    return tuple(cut.number for cut in cuts if number in needed_for(cuts, cut.number))
