"""Which rail a cut is made on, and how it lies over the cut.

The shop has so many rails of a length, up to so many of them joined end to end. What is joined
is used up until it is parted: only the others of that length can be laid singly meanwhile.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from shared.lengths import Length
from shared.making.record import Bed, RailLaid
from shared.making.straightedge import edge_at
from shared.making.strokes import Stroke
from shared.shop import Rail, RunsOn, Shop


class RailsInHand:
    """Lays rails in the order of the cuts, and knows which is in hand and which are joined.

    The one in hand is laid again if it reaches with run-up and run-out and no more of it stands
    free than lies on the piece, or if there is none that would stand less free. Else it is the
    shortest single rail that reaches, or the shortest of as few joined as can be.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._ways = tuple(_ways(_by_length(shop)))
        self._in_hand: Rail | None = None
        self._joined: dict[Length, int] = {}

    def lay(self, stroke: Stroke, bed: Bed) -> RailLaid | None:
        """Lay a rail for the next cut; ``None`` where there is none."""
        if bed is Bed.NONE or not self._ways:
            return None
        before, rail = self._in_hand, self._chosen(stroke.long)
        self._in_hand = rail
        parted = self._parted(rail)
        over = rail.whole - stroke.long
        run_up, run_out = ends(over, self._shop)
        checked = self.along(stroke, rail)
        return RailLaid(
            rail=rail,
            width=self._shop.rail_width,
            run_up=run_up,
            run_out=run_out,
            enough=over >= self._shop.beyond,
            change=before is not None and rail != before,
            fetched=before is None or checked not in {None, rail},
            parted=parted,
            edge_at=edge_at(stroke, bed, self._shop),
        )

    def along(self, stroke: Stroke, laid: Rail | None) -> Rail | None:
        """Return what is laid along the reference edge of a whole sheet to check it.

        The rail of the cut if it reaches, else the shortest that does, else the longest;
        ``None`` where no whole sheet is checked, or there is no rail.
        """
        if not stroke.opens_sheet or not self._ways:
            return None
        ways = self._ways if laid is None else (laid, *self._ways)
        return next((one for one in ways if one.whole >= stroke.sheet.length), self._longest)

    def _chosen(self, long: Length) -> Rail:
        least, hand = long + self._shop.beyond, self._in_hand
        if hand is not None and hand.whole >= least and hand.whole <= 2 * long:
            return hand
        for way in self._ways:
            if way.whole >= least:
                return way
        return self._longest

    @property
    def _longest(self) -> Rail:
        return max(self._ways, key=lambda one: (one.whole, -one.joined))

    def _parted(self, rail: Rail) -> bool:
        """Take a rail in hand; say whether joined ones have to be parted for it."""
        joined = self._joined.get(rail.length, 0)
        if rail.joined > 1:
            self._joined[rail.length] = rail.joined
            return joined > rail.joined
        if not joined or rail.count > joined:
            return False
        self._joined[rail.length] = 0
        return True


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


def _by_length(shop: Shop) -> Iterator[Rail]:
    """Yield the rails of each length once: how many there are, and how many can be joined."""
    counts: dict[Length, int] = {}
    joined: dict[Length, int] = {}
    for one in shop.rails:
        counts[one.length] = counts.get(one.length, 0) + max(one.count, one.joined, 1)
        joined[one.length] = max(joined.get(one.length, 1), one.joined)
    for length, count in counts.items():
        yield Rail(length=length, joined=joined[length], count=count)


def _ways(rails: Iterable[Rail]) -> list[Rail]:
    """Return every length that can be laid: single rails first, the shortest first."""
    found = [replace(rail, joined=count) for rail in rails for count in range(1, rail.joined + 1)]
    return sorted(found, key=lambda one: (one.joined, one.length))
