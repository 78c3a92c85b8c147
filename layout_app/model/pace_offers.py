"""What the ticks at the saw say of the maker's pace, as far as it is to be offered."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field, replace
from typing import Any, Final

from layout_app.model.sawing import Sawn
from shared.making.pace_from_ticks import PaceHeard, Told, pace_heard
from shared.making.recording import shops_of
from shared.making.work_of_cut import Interval, interval_of
from shared.progress import Declined, Progress
from shared.remembered import Remembered
from shared.shop import Shop
from shared.telling.recorded import recorded

MORE: Final = 8
"""What was declined is offered again after so many more times of cuts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceOffer:
    """Figures that differ from the shop's, and what all of it rests on."""

    heard: PaceHeard = field(default_factory=PaceHeard)
    figures: tuple[Told, ...] = ()

    def taken_over(self, shop: Shop, chosen: Collection[str]) -> Shop:
        """Return a shop with those of the figures that are chosen, by their fields."""
        pace: dict[str, Any] = {
            one.figure: one.rounded for one in self.figures if one.figure in chosen
        }
        return replace(shop, **pace)


def pace_offer(sawn: Sawn) -> PaceOffer:
    """Return what is to be offered of the pace; no figures for nothing."""
    return _pace_offer(sawn)


def _made_offer(sawn: Sawn) -> PaceOffer:
    progress, shop = sawn.project.progress, sawn.project.job.shop
    if not progress.times:
        return PaceOffer()
    heard = pace_heard(tuple(_intervals(sawn)), shop)
    waits = {one.figure for one in progress.declined if len(progress.times) < one.heard + MORE}
    figures = (one for one in heard.other_than(shop) if one.figure not in waits)
    return PaceOffer(heard=heard, figures=tuple(figures))


def _intervals(sawn: Sawn) -> Iterator[Interval]:
    """Yield the intervals of cuts in the order in which they were heard, with their work."""
    progress, shop = sawn.project.progress, sawn.project.job.shop
    plans = (*progress.past, *([] if sawn.plan is None else [sawn.plan]))
    shops = zip(plans, shops_of(plans, shop), strict=True)
    made_in = {cut.number: its for plan, its in shops for cut in plan.cuts}
    found = {record.number: record for record in recorded(plans, shop).records}
    for one in progress.times:
        if one.number in found:
            interval = interval_of(found[one.number], one.seconds, made_in[one.number])
            if interval is not None:
                yield interval


_pace_offer = Remembered(_made_offer, 2)


def declining(progress: Progress, figures: Collection[str]) -> Progress:
    """Return progress that notes that some figures were not taken over."""
    others = (one for one in progress.declined if one.figure not in figures)
    now = len(progress.times)
    noted = (Declined(figure=figure, heard=now) for figure in figures)
    return replace(progress, declined=(*others, *noted))
