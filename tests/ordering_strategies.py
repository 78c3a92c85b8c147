"""Random sheets to be put in order, with all that an order has to respect."""

from dataclasses import dataclass, replace
from random import Random

from hypothesis import strategies as st

from shared.asked import CutsToOrder
from shared.cuts.growing import grow
from shared.cuts.pass_order import in_order
from shared.job import Job
from shared.layout import CutBefore
from shared.lengths import MM
from shared.parts import Part
from shared.shop import SawingOrder, Span, TableSaw
from tests.shop_strategies import any_of
from tests.strategies import laid_out


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordering:
    """What is asked of an order; ``consistent`` if the hand-set pairs hold in some order."""

    asked: CutsToOrder
    consistent: bool


@st.composite
def orderings(draw: st.DrawFn, most_sheets: int = 3, wishes: bool = True) -> Ordering:
    """Sheets to be put in order: blanks, match groups, fixed sheets, made cuts, hand-set pairs."""
    laid = draw(laid_out(most_sheets))
    job = _with_blanks(draw, laid.job)
    shop = replace(
        job.shop,
        loose=draw(any_of((1, 2, 3, 12))),
        sawing=draw(any_of(SawingOrder)),
    )
    job = replace(job, shop=shop)
    forest = grow(job, [sheet for sheet in laid.sheets if sheet.tree is not None])
    keys = [one.key for one in forest.passes()]
    Random(draw(st.integers(0, 1000))).shuffle(keys)
    row = [one.key for one in in_order(forest, keys)]
    consistent = draw(st.booleans())
    asked = CutsToOrder(
        job=job,
        sheets=laid.sheets,
        fixed=frozenset(sheet.id for sheet in laid.sheets if draw(st.integers(0, 3)) == 0),
        made=tuple(row[: draw(any_of((0, 0, 0, 1, 2, 5)))]),
        before=_pairs(draw, row, consistent) if wishes else (),
    )
    return Ordering(asked=asked, consistent=consistent)


def _with_blanks(draw: st.DrawFn, job: Job) -> Job:
    """Let some parts be finished at the table saw, and some belong to a match group."""
    table = TableSaw(kerf=3 * MM, fence=Span(most=1000 * MM))
    parts = tuple(_special(draw, part) for part in job.parts)
    return replace(job, parts=parts, shop=replace(job.shop, table=table))


def _special(draw: st.DrawFn, part: Part) -> Part:
    """Make a part a blank of the same cut size, or one of a match group, or leave it."""
    over = 6 * MM
    if min(part.length, part.width) > 2 * over and draw(st.integers(0, 3)) == 0:
        size = {"length": part.length - over, "width": part.width - over}
        return replace(part, **size, oversize=over)
    return replace(part, group="g") if draw(st.integers(0, 5)) == 0 else part


def _pairs(draw: st.DrawFn, row: list[str], consistent: bool) -> tuple[CutBefore, ...]:
    """Draw pairs that hold in a row of cuts, or just any."""
    if len(row) < 2:
        return ()
    place = st.integers(0, len(row) - 1)
    pairs = draw(st.lists(st.tuples(place, place), max_size=3))
    if consistent:
        pairs = [(min(pair), max(pair)) for pair in pairs if pair[0] != pair[1]]
    return tuple(CutBefore(first=row[one], then=row[other]) for one, other in pairs)
