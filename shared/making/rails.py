"""Which rail a cut is made on, and what the rail lies on."""

from collections.abc import Iterator
from dataclasses import replace

from shared.lengths import Length
from shared.making.record import Bed, RailLaid, Way
from shared.making.straightedge import edge_at, takes, way_of
from shared.making.strokes import Stroke
from shared.shop import Rail, Shop


def bed_of(stroke: Stroke, shop: Shop) -> Bed:
    """Say what the rail of a cut lies on.

    The keep side where it is at least as wide as the rail, so that its splinter strip guards it;
    else the wider side. Where neither is as wide as the shop asks, scrap is packed beside it.
    """
    if way_of(stroke, shop) in {Way.FENCE, Way.EDGE_GUIDE}:
        return Bed.NONE
    if max(stroke.kept, stroke.other) < shop.carry:
        return Bed.PACKED
    if stroke.kept >= takes(shop) or stroke.kept >= stroke.other:
        return Bed.KEEP
    return Bed.WASTE


class RailsInHand:
    """Lays rails in the order of the cuts: the one in hand, or the shortest that reaches."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._in_hand: Rail | None = None

    def lay(self, stroke: Stroke, bed: Bed) -> RailLaid | None:
        """Lay a rail for the next cut; ``None`` where there is none."""
        if bed is Bed.NONE or not self._shop.rails:
            return None
        before, rail = self._in_hand, self._chosen(stroke.long)
        self._in_hand = rail
        over = rail.whole - stroke.long
        return RailLaid(
            rail=rail,
            run_up=over // 2,
            run_out=over - over // 2,
            enough=over >= self._shop.beyond,
            change=before is not None and rail != before,
            edge_at=edge_at(stroke, bed, self._shop),
        )

    def _chosen(self, long: Length) -> Rail:
        rails = list(_lengths(self._shop))
        taking = [one for one in rails if one.whole - self._shop.beyond >= long]
        if not taking:
            return max(rails, key=lambda one: one.whole)
        return min(taking, key=lambda one: (one.joined, one.length))


def _lengths(shop: Shop) -> Iterator[Rail]:
    """Yield every length that can be laid, single rails and joined ones."""
    for rail in shop.rails:
        for joined in range(1, max(1, rail.joined) + 1):
            yield replace(rail, joined=joined)
