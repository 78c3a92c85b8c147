"""The record of each cut held against what lies on the sawhorses.

The saw makes the cuts of accepted plans once more, in order, lays the rail of each record over
its piece, and refuses what does not lie: it starts from the sheets, the cuts and the shop alone,
and shares no arithmetic with what writes records. `laid` lays the rail, `held` sets guide, stop
and fence, `faces_there` turns the pieces; what comes of each side is looked up here.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from typing import Final, NamedTuple

from shared.geometry import Rect
from shared.issues import Issue
from shared.lengths import Length
from shared.making.lifting import Moved
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, CutRecord, Edge, Face, Way
from shared.making.settings import Device
from shared.making.strokes import Stroke
from shared.parts import numbered
from shared.plan import Cut, CutKind, Keep, Placement, Plan, PlanPart
from shared.remembered import Remembered
from shared.saw.bearers_there import bearer_faults
from shared.saw.faces_there import FacesThere
from shared.saw.held import SetUps, device_there
from shared.saw.laid import Lies, RailsThere, bed_there, edge_there, entry_there, lies, way_there
from shared.saw.promises import final_rect
from shared.saw.refusal import refusal, unfit
from shared.saw.sawhorses import PieceOnHand, SawPass, aim
from shared.saw.square_there import SheetsThere, squared_there
from shared.shop import Axis, Hand, Shop, Support


def wrong_records(
    plans: Sequence[Plan], shop: Shop, records: Sequence[CutRecord]
) -> Iterator[Issue]:
    """Yield what is wrong with the records of plans that the saw has accepted.

    Parameters
    ----------
    plans
        In the order in which they are sawn. No limit is asked for in those before the last,
        which are sawn already, nor in one that was accepted for another shop.
    shop
        Whose saws, rails and devices the last one is to be made with; those before it with the
        shop they were made for.
    records
        One a cut, in sawing order.

    Returns
    -------
    Iterator[Issue]
        Nothing if every record is right. Subjects are cut numbers; lengths are ticks.
    """
    cuts = sum(len(plan.cuts) for plan in plans)
    if cuts != len(records):
        said = f"There are {len(records)} records of {cuts} cuts."
        yield refusal("record-missing", "", said)
        return
    with_now, ahead = shop, iter(records)
    rails, set_ups = RailsThere(shop), SetUps(shop)
    for place, plan in enumerate(plans):
        is_last = place == len(plans) - 1
        wanted = shop if is_last or plan.shop is None else plan.shop
        if wanted != with_now:
            yield from _ended(set_ups)
            rails, set_ups, with_now = RailsThere(wanted), SetUps(wanted), wanted
        free = not is_last or plan.shop != shop
        reader = _Reader(plan, wanted, rails, set_ups, free=free)
        for cut in plan.cuts:
            yield from reader.faults(cut, next(ahead))
    yield from _ended(set_ups)


def _ended(set_ups: SetUps) -> Iterator[Issue]:
    for record, said in set_ups.end():
        yield _no(record.stroke.cut, said)


def _no(cut: Cut, said: str) -> Issue:
    return unfit(cut, "record-wrong", said)


class _Expected(NamedTuple):
    """How a cut has to be made, as far as that hangs on its own piece and the shop."""

    done: SawPass
    there: Lies
    way: Way
    bed: Bed
    edge_at: Length
    entry: Edge
    device: Device
    near: Rect
    far: Rect


def _expect(stroke: Stroke, shop: Shop, up: Face) -> _Expected | Issue:
    """Lay the rail over the piece of a cut; of a record only the face that is up is believed."""
    cut = stroke.cut
    done = aim(cut, PieceOnHand(name=cut.piece, sheet=cut.sheet, rect=stroke.piece))
    if isinstance(done, Issue):
        return done
    there = lies(cut, done, stroke.sheet)
    way = way_there(cut, there, shop)
    bed = bed_there(way, there, shop)
    on_near = (cut.keep is Keep.NEAR) is (bed is not Bed.WASTE)
    hand = Hand.LEFT if way is Way.FENCE else shop.rail_side
    return _Expected(
        done=done,
        there=there,
        way=way,
        bed=bed,
        edge_at=edge_there(cut, done, bed, shop),
        entry=entry_there(done.axis, on_near=on_near, hand=hand, mirrored=up is Face.BACK),
        device=device_there(cut, done.axis, there, shop, (way, bed)),
        near=done.part_of_piece(done.start, done.near),
        far=done.part_of_piece(done.dust_end, done.far),
    )


_KNOWN: Final[dict[tuple[object, ...], tuple[Shop, _Expected]]] = {}
_MOST: Final = 8192


def _expected(stroke: Stroke, shop: Shop, up: Face) -> _Expected | Issue:
    """Return what is expected of a cut, remembered whatever its number is.

    Most pieces lie as they lay when a plan is changed, but are numbered anew.
    """
    cut, sheet, piece = stroke.cut, stroke.sheet, stroke.piece
    key = (
        *(id(shop), up, cut.kind, cut.keep, cut.tool, cut.kerf, cut.size, cut.piece, cut.sheet),
        *(cut.x, cut.y, cut.length, cut.width, piece.x, piece.y, piece.length, piece.width),
        *(sheet.thickness, sheet.density, sheet.piece),
    )
    known = _KNOWN.get(key)
    if known is not None:
        return known[1]
    found = _expect(stroke, shop, up)
    if not isinstance(found, Issue):
        if len(_KNOWN) >= _MOST:
            _KNOWN.clear()
        _KNOWN[key] = shop, found  # holding it, no other shop can be taken for it
    return found


class _Reader:
    """Makes the cuts of a plan and reads their records; rails and settings go on."""

    def __init__(
        self, plan: Plan, shop: Shop, rails: RailsThere, set_ups: SetUps, *, free: bool
    ) -> None:
        self._shop, self._rails, self._set_ups, self._free = shop, rails, set_ups, free
        self._sheets = {sheet.id: sheet for sheet in plan.sheets}
        self._staying = {sheet.id for sheet in plan.sheets if sheet.stays}
        self._lying = {sheet.id: sheet.rect for sheet in plan.sheets}
        self._ends = Ends(plan)
        self._faces = FacesThere(plan, shop)
        self._places, self._sheets_there = Places(shop), SheetsThere(plan)

    def faults(self, cut: Cut, record: CutRecord) -> Iterator[Issue]:
        """Make a cut; yield what its record says otherwise."""
        stroke, sheet = record.stroke, self._sheets[cut.sheet]
        same = stroke.cut is cut or stroke.cut == cut
        if not same or (stroke.sheet is not sheet and stroke.sheet != sheet):
            yield _no(cut, "it is the record of another cut")
            return
        if stroke.piece != self._lying.get(cut.piece):
            yield _no(cut, f"its piece lies at {self._lying.get(cut.piece)}")
            return
        is_limited = not self._free and cut.sheet not in self._staying
        right, alone = _by_itself(record, self._shop, is_limited)
        if isinstance(right, Issue):
            yield right
            return
        self._lying[cut.piece], self._lying[cut.off] = right.far, right.near
        changed, said = self._rails.lay(record, right.there)
        faults = (
            said,
            alone,
            self._faces.faults(cut, right.done, record, right.there),
            self._ends.faults(cut, right.done, record, right.near, right.far),
            self._places.faults(cut, right.done, record),
            self._sheets_there.faults(cut, right.done, sheet, record),
        )
        for one in chain.from_iterable(faults):
            yield _no(cut, one)
        for other, one in self._set_ups.take(record, changed=changed):
            yield _no(other.stroke.cut, one)


def _judge(record: CutRecord, shop: Shop, limited: bool) -> tuple[_Expected | Issue, list[str]]:
    """Return what is expected of a cut, and what its record says otherwise by itself.

    What lies around, what is in hand and what is set is no part of it: a record that nobody has
    changed is judged by the same as before.
    """
    right = _expected(record.stroke, shop, record.up)
    if isinstance(right, Issue):
        return right, []
    faults = (
        _made(record, right, shop),
        _held(record, right.device, limited=limited),
        bearer_faults(record, right.way, right.there, shop),
    )
    return right, list(chain.from_iterable(faults))


_by_itself = Remembered(_judge, _MOST)


def _made(record: CutRecord, right: _Expected, shop: Shop) -> Iterator[str]:
    """Check how the saw is led, and over what."""
    stroke = record.stroke
    if stroke.near != right.near or stroke.far != right.far:
        yield "what it parts lies otherwise"
    if stroke.axis is not right.done.axis:
        yield f"it is a {right.done.axis}"
    if record.grams != right.there.grams:
        yield f"its piece weighs {right.there.grams} g, not {record.grams}"
    if record.way is not right.way:
        yield f"a {right.way} leads the saw, not a {record.way}"
    if record.bed is not right.bed:
        yield f"the rail has to lie on {right.bed}, not on {record.bed}"
    if record.rail is not None and record.rail.edge_at != right.edge_at:
        yield f"its edge lies at {record.rail.edge_at}, not at {right.edge_at}"
    if record.entry is not right.entry:
        yield f"the saw enters at the {right.entry}, not at the {record.entry}"
    squared = squared_there(stroke.cut, right.done, right.there, shop, (right.way, right.device))
    if record.squared != squared:
        yield f"it is squared by {squared}, not by {record.squared}"
    if record.support is not shop.support:
        yield f"sheets lie on {shop.support}, not on {record.support}"


def _held(record: CutRecord, device: Device, *, limited: bool) -> Iterator[str]:
    """Check what holds the size, and limits that are asked for only where all is new."""
    setting, cut = record.setting, record.stroke.cut
    if setting.device is not device:
        yield f"its size is held by {device}, not by {setting.device}"
    if setting.size != cut.size or setting.tool != cut.tool:
        yield f"{setting.tool} is set to {setting.size}, not {cut.tool} to {cut.size}"
    if not limited or cut.kind is CutKind.FINISH:
        return
    if record.bed is Bed.PACKED:
        yield "neither side carries the rail"
    if record.way is Way.FENCE and device is not Device.FENCE:
        yield f"the fence cannot be set to {cut.size}"


class Places:
    """Knows where pieces came from, what was moved, and what lies on the support."""

    def __init__(self, shop: Shop) -> None:
        self._turns = shop.support is Support.HORSES
        self._since: dict[str, int] = {}
        self._moved: set[str] = set()
        self._on: tuple[str, str, str] = "", "", ""
        self._axis = Axis.RIP

    def faults(self, cut: Cut, done: SawPass, record: CutRecord) -> Iterator[str]:
        """Yield what is said otherwise of position, of the cut before, and of what is moved."""
        if cut.level != 1 or cut.piece != cut.sheet:
            self._moved.add(cut.sheet)
        position = None if cut.sheet in self._moved else cut.running
        if record.position != position:
            yield f"its position is {position}, not {record.position}"
        since = self._since.get(cut.piece, 0)
        if record.since != since:
            yield f"its piece lies there since cut {since}, not {record.since}"
        self._since[cut.piece] = self._since[cut.off] = cut.number
        if record.moved is not (moved := self._how(cut, done, record)):
            yield f"its piece is {moved}, not {record.moved}"
        self._on, self._axis = (cut.sheet, cut.piece, cut.off), done.axis

    def _how(self, cut: Cut, done: SawPass, record: CutRecord) -> Moved:
        sheet, *pieces = self._on
        if cut.sheet != sheet or cut.piece not in pieces:
            return Moved.LAID
        if record.turn_over:
            return Moved.TURNED
        if done.axis is self._axis:
            return Moved.NOTHING
        return Moved.TURNED if self._turns else Moved.ROUND


class Ends:
    """What comes of each piece: looked up in parts, offcuts and later cuts."""

    def __init__(self, plan: Plan) -> None:
        lying: dict[str, list[Placement]] = {}
        for one in plan.placements:
            lying.setdefault(one.sheet, []).append(one)
        self._on = {sheet: _parts_there(plan.parts, *its) for sheet, its in lying.items()}
        self._falls = {
            (fall.sheet, fall.rect): PieceFate.KEEPER if fall.keep else PieceFate.WASTE
            for fall in plan.offcuts
        }
        self._next = _next_cuts(plan)

    def faults(
        self, cut: Cut, done: SawPass, record: CutRecord, near: Rect, far: Rect
    ) -> Iterator[str]:
        """Yield what is said otherwise of what the cut makes and leaves, and of sizes to check."""
        keeps_near = cut.keep is Keep.NEAR
        by_far, by_near = self._next[cut.number]
        near_side = record.makes if keeps_near else record.left
        far_side = record.left if keeps_near else record.makes
        if cut.kind is CutKind.TRIM:
            end, part = PieceFate.WASTE, ""
        else:
            end, part = self._end(cut, done, near)
        if _of(near_side) != (cut.off, near, end, part, by_near):
            yield f"towards the reference edge or end lies {near_side}"
        if not done.far:
            if far_side is not None or record.checks:
                yield f"nothing is left, but it says {far_side}"
            return
        if _of(far_side) != (cut.piece, far, *self._end(cut, done, far), by_far):
            yield f"beyond the cut lies {far_side}"
        wanted = [(far_side, done.far)] if self._is_final(cut, done, far) else []
        if [(one.side, one.size) for one in record.checks] != wanted:
            yield "sizes to check are missing, or others are named"

    def _end(self, cut: Cut, done: SawPass, rect: Rect) -> tuple[PieceFate, str]:
        fall = self._falls.get((cut.sheet, rect))
        if fall is not None:
            return fall, ""
        end = self._there(cut).at.get(rect, (PieceFate.PIECE, ""))
        if end[0] is PieceFate.PIECE and cut.kind is CutKind.FINISH:
            for blank, name in self._there(cut).blanks:
                if blank.contains(done.piece.rect):
                    return PieceFate.BLANK, name
        return end

    def _there(self, cut: Cut) -> "_There":
        return self._on.get(cut.sheet, _NOTHING_THERE)

    def _is_final(self, cut: Cut, done: SawPass, rest: Rect) -> bool:
        """Whether what is left is as wide as a part that comes of it, so that no cut sets it."""
        alike = self._there(cut).widths.get((done.axis, done.dust_end, done.end), ())
        first, last = _ends(rest, done.axis.other)
        return any(
            first <= start and end <= last
            for start, end in (_ends(part, done.axis.other) for part in alike)
        )


class _There:
    """Parts and blanks of one sheet by where they lie, and parts by how wide they are."""

    def __init__(self, parts: Sequence[PlanPart] = (), *lying: Placement) -> None:
        self.at: dict[Rect, tuple[PieceFate, str]] = {}
        self.blanks: list[tuple[Rect, str]] = []
        self.widths: dict[tuple[Axis, Length, Length], list[Rect]] = {}
        of = {part.id: part for part in parts}
        for one in lying:
            self._take(one, of[one.part])

    def _take(self, one: Placement, part: PlanPart) -> None:
        name = numbered(part.name, one.copy, part.copies)
        lying, final = one.rect, final_rect(one, part)
        if final != lying:
            self.at[lying] = PieceFate.BLANK, name
        self.at[final] = PieceFate.WAITS if part.waits else PieceFate.PART, name
        if part.is_blank:
            self.blanks.append((lying, name))
        if not part.waits:
            for axis in Axis:
                self.widths.setdefault((axis, *_ends(final, axis)), []).append(final)


_parts_there = Remembered(_There, 512)
_NOTHING_THERE: Final = _There()


def _of(side: Side | None) -> tuple[object, ...]:
    return () if side is None else (side.name, side.rect, side.end, side.part, side.next_cut)


def _ends(rect: Rect, axis: Axis) -> tuple[Length, Length]:
    """Return where a rectangle begins and ends at right angles to cuts of that axis."""
    if axis is Axis.RIP:
        return rect.y, rect.y + rect.width
    return rect.x, rect.x + rect.length


def _next_cuts(plan: Plan) -> Mapping[int, tuple[int, int]]:
    """Return by number which cut comes next in what a cut leaves, and in what it saws off."""
    later: dict[str, int] = {}
    found: dict[int, tuple[int, int]] = {}
    for cut in reversed(plan.cuts):
        found[cut.number] = later.get(cut.piece, 0), later.get(cut.off, 0)
        later[cut.piece] = cut.number
    return found
