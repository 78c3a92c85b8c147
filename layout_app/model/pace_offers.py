"""What the ticks at the saw say of the maker's pace, as far as it is to be offered."""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from layout_app.model.sawing import Sawn
from shared.making.pace_from_ticks import PaceHeard, Told, pace_heard
from shared.making.recording import shops_of
from shared.making.work_of_cut import Interval, interval_of
from shared.progress import Declined, Progress, TakenOver
from shared.remembered import Remembered
from shared.shop import Shop
from shared.telling.recorded import recorded

MORE: Final = 8
"""After an answer nothing is offered again before so many more times of cuts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceOffer:
    """Figures that differ from the shop's, and what all of it rests on.

    Attributes
    ----------
    heard
        What the times say.
    figures
        What is offered of that.
    made
        Cuts that are made.
    firsts
        Those with a time that are the first of a sheet, which was checked before.
    timed
        The others with a time.
    goes_on
        Whether cuts are still to be made.
    """

    heard: PaceHeard = field(default_factory=PaceHeard)
    figures: tuple[Told, ...] = ()
    made: int = 0
    firsts: int = 0
    timed: int = 0
    goes_on: bool = False

    def taken_over(self, shop: Shop, chosen: Collection[str]) -> Shop:
        """Return a shop with those of the figures that are chosen, by their fields."""
        pace: dict[str, Any] = self.pace(chosen)
        return replace(shop, **pace)

    def pace(self, chosen: Collection[str]) -> dict[str, int]:
        """Return the seconds of those of the figures that are chosen, by their fields."""
        return {one.figure: one.rounded for one in self.figures if one.figure in chosen}


def pace_offer(sawn: Sawn) -> PaceOffer:
    """Return what is to be offered of the pace; no figures for nothing."""
    return _pace_offer(sawn)


def _made_offer(sawn: Sawn) -> PaceOffer:
    progress, shop = sawn.project.progress, sawn.project.job.shop
    if not progress.times:
        return PaceOffer()
    found = list(_intervals(sawn))
    intervals = [one for one in found if one is not None]
    heard = pace_heard(intervals, shop)
    may = _may_offer(progress, shop)
    made = progress.all_made
    return PaceOffer(
        heard=heard,
        figures=tuple(one for one in heard.other_than(shop) if may(one.figure)),
        made=len(made),
        firsts=len(found) - len(intervals),
        timed=len(intervals),
        goes_on=sawn.plan is not None and any(cut.number not in made for cut in sawn.plan.cuts),
    )


def _may_offer(progress: Progress, shop: Shop) -> Callable[[str], bool]:
    """Return what says whether a figure may be offered, some answers being recent.

    What was taken over and is not so in the shop any more was taken back: it may be at once.
    """
    now = len(progress.times)
    declined = {one.figure for one in progress.declined if now < one.heard + MORE}
    taken = {one.figure: one.seconds for one in progress.taken if now < one.heard + MORE}
    back = {figure for figure, seconds in taken.items() if getattr(shop, figure) != seconds}
    waits = bool(declined) or len(back) < len(taken)
    return lambda figure: figure in back or not waits


def _intervals(sawn: Sawn) -> Iterator[Interval | None]:
    """Yield the intervals of cuts in the order in which they were heard, with their work.

    ``None`` stands for the first cut of a sheet.
    """
    progress, shop = sawn.project.progress, sawn.project.job.shop
    plans = (*progress.past, *([] if sawn.plan is None else [sawn.plan]))
    shops = zip(plans, shops_of(plans, shop), strict=True)
    made_in = {cut.number: its for plan, its in shops for cut in plan.cuts}
    found = {record.number: record for record in recorded(plans, shop).records}
    for one in progress.times:
        if one.number in found:
            yield interval_of(found[one.number], one.seconds, made_in[one.number])


_pace_offer = Remembered(_made_offer, 2)


def answered(progress: Progress, taken: Mapping[str, int], declined: Collection[str]) -> Progress:
    """Return progress that notes which figures were taken over, as what, and which were not."""
    now = len(progress.times)
    noted = {*taken, *declined}
    return replace(
        progress,
        declined=(
            *(one for one in progress.declined if one.figure not in noted),
            *(Declined(figure=figure, heard=now) for figure in declined),
        ),
        taken=(
            *(one for one in progress.taken if one.figure not in noted),
            *(TakenOver(figure=figure, seconds=its, heard=now) for figure, its in taken.items()),
        ),
    )
