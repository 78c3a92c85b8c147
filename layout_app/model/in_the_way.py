"""Where on a sheet that can't be cut something is in the way, for the bench to mark."""

from typing import NamedTuple

from layout_app.model.sawing import ground_of
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.no_go import barred_by
from shared.recognise import Trouble, places, problems

FRAMED = (Trouble.LOCKED, Trouble.OUT_OF_LINE)


class InTheWay(NamedTuple):
    """Places of a sheet in its frame, in ticks.

    ``spots`` are where parts lie on each other, too near, or off the sheet; ``knots`` go round
    parts between which no cut runs.
    """

    spots: tuple[Rect, ...] = ()
    knots: tuple[Rect, ...] = ()


def is_measurable(job: Job, sheet: LayoutSheet) -> bool:
    """Say whether a sheet and all on it have a size; a row that is wrong may have none."""
    usable = job.stock_row(sheet.stock).usable
    sizes = (size for one in sheet.placements for size in (one.length, one.width))
    return min(usable.length, usable.width, *sizes) > 0 and job.shop.kerf >= 0


def in_the_way(job: Job, sheet: LayoutSheet) -> InTheWay:
    """Return where something is in the way of the cuts of a sheet; nothing if it can be cut.

    Nothing either where nobody knows how large something is.
    """
    if not is_measurable(job, sheet):
        return InTheWay()
    stock = job.stock_row(sheet.stock)
    ground = ground_of(job, stock)
    found = problems(stock.whole, sheet.placements, job.shop.kerf, stock.trims)
    spots = [rect for one in found if one.trouble not in FRAMED for rect in places(one, ground)]
    knots = [rect for one in found if one.trouble in FRAMED for rect in places(one, ground)]
    for one in sheet.placements:
        bad = barred_by(stock.no_go, one.rect, show=job.part(one.part).show)
        if bad is not None and (common := bad.rect.common(one.rect)) is not None:
            spots.append(common)
    return InTheWay(tuple(dict.fromkeys(spots)), tuple(dict.fromkeys(knots)))
