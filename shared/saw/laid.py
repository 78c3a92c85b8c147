"""The rail of a record, laid anew: what it lies on, where its edge is, which one it is.

All of it is reckoned here from the pieces on the sawhorses, with arithmetic of its own: what
writes records must not be what judges them.
"""

from collections.abc import Iterator
from typing import Final, NamedTuple

from shared.lengths import Length
from shared.making.record import Bed, CutRecord, Edge, RailLaid, Way
from shared.plan import Cut, CutKind, Keep, PlanSheet
from shared.remembered import Remembered
from shared.saw.sawhorses import SawPass
from shared.shop import Axis, Hand, RunsOn, Shop

_TRAVEL: Final = {
    Edge.LEFT: (1, 0),
    Edge.RIGHT: (-1, 0),
    Edge.REFERENCE: (0, 1),
    Edge.FAR: (0, -1),
}
"""Which way the saw goes that enters there: x to the right, y away from the reference edge."""


def _entries() -> Iterator[tuple[tuple[Axis, bool, bool], Edge]]:
    """Yield where a saw enters that is led on the near side of its line, and on its left."""
    for edge, (x, y) in _TRAVEL.items():
        axis = Axis.RIP if x else Axis.CROSSCUT
        on_left = y - x  # left of the way it goes is (y, -x), and near is -1 on the other axis
        yield (axis, True, on_left < 0), edge
        yield (axis, False, on_left > 0), edge


_ENTRIES: Final = dict(_entries())
_LED_BY_ITSELF: Final = frozenset((Way.FENCE, Way.EDGE_GUIDE))
_CUBE: Final = 64_000_000_000_000_000_000
"""Cubic ticks that weigh a gram at 1 kg/m3: a metre is 40 000 000 ticks."""


class Lies(NamedTuple):
    """What lies under the saw: both sides of the line, the cut, and the weight in grams."""

    kept: Length
    other: Length
    long: Length
    grams: int
    sawn: bool
    """Whether the edge the size is measured from was sawn."""


def lies(cut: Cut, done: SawPass, sheet: PlanSheet) -> Lies:
    """Measure and weigh the piece of a cut."""
    whole, rip = done.piece.rect, done.axis is Axis.RIP
    near = cut.keep is Keep.NEAR
    volume = whole.length * whole.width * sheet.thickness
    return Lies(
        kept=done.near if near else done.far,
        other=done.far if near else done.near,
        long=whole.length if rip else whole.width,
        grams=(2 * volume * sheet.density + _CUBE) // (2 * _CUBE),
        sawn=done.start > 0 and not sheet.piece,
    )


def way_there(cut: Cut, there: Lies, shop: Shop) -> Way:
    """Say what has to lead the saw."""
    if shop.table is not None and cut.tool == shop.table.tool:
        return Way.FENCE
    if shop.runs_on is RunsOn.RAIL:
        return Way.RAIL
    guide, base = shop.guide, shop.base
    if guide is None or base is None or cut.kind is CutKind.TRIM or not there.sawn:
        return Way.STRAIGHTEDGE
    reached = guide.least <= cut.size <= guide.most
    rides = there.long >= base.length and there.long >= cut.size
    return Way.EDGE_GUIDE if reached and rides else Way.STRAIGHTEDGE


def base_back(shop: Shop) -> Length:
    """Return from the edge that is led to the blade's nearer face; nothing at a rail."""
    if shop.runs_on is RunsOn.RAIL or shop.base is None:
        return 0
    return shop.base.left_near if shop.rail_side is Hand.LEFT else shop.base.right_near


def bed_there(way: Way, there: Lies, shop: Shop) -> Bed:
    """Say what has to carry what leads the saw: the keep side, the wider one, or scrap as well."""
    if way in _LED_BY_ITSELF:
        return Bed.NONE
    kept, other = there.kept, there.other
    if kept < shop.carry and other < shop.carry:
        return Bed.PACKED
    wants = max(shop.carry, shop.rail_width + base_back(shop))
    return Bed.WASTE if kept < wants and kept < other else Bed.KEEP


def edge_there(cut: Cut, done: SawPass, bed: Bed, shop: Shop) -> Length:
    """Return where the edge that leads the saw has to lie, from the edge that is measured from."""
    near = cut.keep is Keep.NEAR
    if near:
        slot = done.dust_start, done.dust_start + cut.kerf
    else:
        slot = done.dust_end - cut.kerf, done.dust_end
    on_near = near is (bed is not Bed.WASTE)
    at = slot[0] - base_back(shop) if on_near else slot[1] + base_back(shop)
    return at - done.start


def entry_there(axis: Axis, *, on_near: bool, hand: Hand, mirrored: bool) -> Edge:
    """Say where the saw has to enter, so that what leads it is on that hand of the blade.

    ``on_near`` says on which side of the line that is, ``mirrored`` whether the back is up.
    """
    return _ENTRIES[axis, on_near, (hand is Hand.LEFT) is not mirrored]


class RailsThere:
    """Every rail of a shop, and how many are joined and in hand as the cuts go on."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._count: dict[Length, int] = {}
        self._most: dict[Length, int] = {}
        for one in shop.rails:
            there = max(one.count, one.joined)
            self._count[one.length] = self._count.get(one.length, 0) + there
            self._most[one.length] = max(self._most.get(one.length, 1), one.joined)
        self._ways = sorted(
            (joined, length) for length, most in self._most.items() for joined in range(1, most + 1)
        )
        self._together = dict.fromkeys(self._count, 1)
        self._hand: tuple[int, Length] | None = None

    def lay(self, record: CutRecord, there: Lies) -> tuple[bool, list[str]]:
        """Take the rail of a record in hand; say whether another was, and what is wrong."""
        laid = record.rail
        wanted = record.bed is not Bed.NONE and bool(self._ways)
        said = list(self._wrong_check(record))
        if laid is None or not wanted:
            said += ["it wants no rail, or another"] if wanted is (laid is None) else []
            return False, said
        rail, before = laid.rail, self._hand
        if not 1 <= rail.joined <= self._most.get(rail.length, 0):
            return False, [*said, "the shop has no such rail, or cannot join so many"]
        said += _wrong_ends(self._shop, laid, there)
        said += self._wrong_choice(rail.joined, rail.length, laid, there)
        self._hand = rail.joined, rail.length
        changed = before is not None and before != self._hand
        if laid.change is not changed:
            said.append("another rail is in hand than it says")
        along = self._along(record, laid)
        other = along is not None and along != (rail.joined, rail.length)
        if laid.fetched is not (before is None or other):
            said.append("whether it has to be laid now is said wrong")
        together = self._together[rail.length]
        if laid.joins is not (rail.joined > together):
            said.append("rails are joined, unlike it says")
        if laid.parted is not self._parted(rail.joined, rail.length):
            said.append("joined rails are parted, unlike it says")
        if laid.width != self._shop.rail_width:
            said.append(f"it is {self._shop.rail_width} wide")
        if rail.count != self._count[rail.length]:
            said.append(f"there are {self._count[rail.length]} of these rails")
        return changed, said

    def _wrong_check(self, record: CutRecord) -> Iterator[str]:
        """Yield what is wrong with what is laid along the edge of a sheet to check it."""
        check = record.sheet_check
        named = None if check is None or check.rail is None else check.rail
        wanted = self._along(record, record.rail)
        if (None if named is None else (named.joined, named.length)) != wanted:
            yield f"its sheet is checked along {wanted}, not along {named}"
        elif named is not None and named.count != self._count[named.length]:
            yield f"there are {self._count[named.length]} of the rails it is checked along"

    def _along(self, record: CutRecord, laid: RailLaid | None) -> tuple[int, Length] | None:
        """Return how many rails of which length are laid along a sheet that is checked."""
        sheet = record.stroke.sheet
        if record.sheet_check is None or not self._ways:
            return None
        if laid is not None and laid.rail.joined * laid.rail.length >= sheet.length:
            return laid.rail.joined, laid.rail.length
        reaching = [one for one in self._ways if one[0] * one[1] >= sheet.length]
        return (
            reaching[0] if reaching else max(self._ways, key=lambda one: (one[0] * one[1], -one[0]))
        )

    def _wrong_choice(
        self, joined: int, length: Length, laid: RailLaid, there: Lies
    ) -> Iterator[str]:
        least, hand = there.long + self._shop.beyond, self._hand
        if joined * length < least:
            if any(many * one >= least for many, one in self._ways):
                yield f"the rail reaches {joined * length}, and another the {least} it wants"
            elif joined * length < max(many * one for many, one in self._ways):
                yield "there is a longer rail"
            return
        if hand is not None and least <= hand[0] * hand[1] <= 2 * there.long:
            if (joined, length) != hand:
                yield "the rail in hand reaches"
            return
        best = next((many, one) for many, one in self._ways if many * one >= least)
        if (joined, length) != best:
            yield f"a rail of {best[1]} reaches, and less of it stands free"

    def _parted(self, joined: int, length: Length) -> bool:
        """Take so many rails of a length together; say whether others have to come apart."""
        before = self._together[length]
        apart = self._count[length] - before if before > 1 else self._count[length]
        if joined == 1 and apart > 0:
            return False
        self._together[length] = joined
        return before > joined


def _ends(shop: Shop, laid: RailLaid, there: Lies) -> Iterator[str]:
    up, out = laid.run_up, laid.run_out
    over = laid.rail.length * laid.rail.joined - there.long
    if up + out != over:
        yield f"it stands {up + out} beyond the cut, and is {over} longer"
    if laid.enough is not (over >= shop.beyond):
        yield "whether it is long enough is said wrong"
    if over < 0:
        if up != 0:
            yield "a rail that does not reach lies flush where the saw enters"
        return
    if over < shop.beyond:
        if not up >= out >= 0:
            yield f"a short rail stands {up} ahead and {out} past"
        return
    thirds = (2, 1) if shop.runs_on is RunsOn.RAIL else (1, 1)
    ahead = -(-shop.beyond * thirds[0] // sum(thirds))
    if up < ahead or out < shop.beyond - ahead:
        yield f"the saw wants {ahead} ahead of the cut and the rest past it"
    if max(up, out) > max(ahead, over - over // 2):
        yield f"an end stands free {max(up, out)}, more than it must"


_wrong_ends = Remembered(lambda shop, laid, there: list(_ends(shop, laid, there)), 8192)
