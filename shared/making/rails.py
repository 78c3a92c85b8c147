"""How the rail of each cut lies over it, in the order of the cuts."""

from shared.lengths import Length
from shared.making.rail_choice import Rails, Taken, rail_choice
from shared.making.record import Bed, RailLaid
from shared.making.straightedge import edge_at
from shared.making.strokes import Stroke
from shared.shop import Rail, RunsOn, Shop


class RailsInHand:
    """Takes rails in the order of the cuts, and knows which is in hand and which are joined."""

    def __init__(self, shop: Shop, rails: Rails | None = None) -> None:
        """Begin with what is in hand and joined; with nothing for ``None``."""
        self._choice = rail_choice(shop)
        self.rails = rails or Rails()

    def take(self, long: Length, bed: Bed) -> Taken | None:
        """Take a rail for the next cut, so long in ticks; ``None`` where there is none."""
        if bed is Bed.NONE or not self._choice.ways:
            return None
        taken = self._choice.take(self.rails, long)
        self.rails = taken.rails
        return taken


def laid_over(stroke: Stroke, bed: Bed, taken: Taken | None, shop: Shop) -> RailLaid | None:
    """Lay the rail that is taken for a cut."""
    if taken is None:
        return None
    rail = taken.rail
    over = rail.whole - stroke.long
    run_up, run_out = ends(over, shop)
    return RailLaid(
        rail=rail,
        width=shop.rail_width,
        run_up=run_up,
        run_out=run_out,
        enough=over >= shop.beyond,
        change=taken.change,
        fetched=taken.first or checked_with(stroke, taken, shop) not in {None, rail},
        joins=taken.joins,
        parted=taken.parted,
        edge_at=edge_at(stroke, bed, shop),
    )


def checked_with(stroke: Stroke, taken: Taken | None, shop: Shop) -> Rail | None:
    """Return what is laid along the reference edge of a whole sheet to check it.

    The rail taken for the cut if it reaches, else the shortest that does, else the longest;
    ``None`` where no whole sheet is checked, or there is no rail.
    """
    choice = rail_choice(shop)
    if not stroke.opens_sheet or not choice.ways:
        return None
    ways = choice.ways if taken is None else (taken.rail, *choice.ways)
    return next((one for one in ways if one.whole >= stroke.sheet.length), choice.longest)


def ends(over: Length, shop: Shop) -> tuple[Length, Length]:
    """Return how far a rail stands beyond the piece at entry and exit, of ``over`` in all.

    A rail wants about two thirds of what the shop asks ahead of the cut and one third past it
    (guide-rail manuals: 6 to 7 in and 3 in); a straightedge one base length at each end. What is
    more is shared, so that neither end stands free more than it must. What does not reach is
    laid flush where the saw enters.
    """
    if over < 0:
        return 0, over
    whole = shop.beyond
    ahead = whole - whole // 3 if shop.runs_on is RunsOn.RAIL else whole - whole // 2
    run_up = max(ahead, over // 2) if over >= whole else -(-over * ahead // whole)
    return run_up, over - run_up
