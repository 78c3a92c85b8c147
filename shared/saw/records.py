"""The record of each cut held against what lies on the sawhorses.

The saw makes the cuts of accepted plans once more, in order, lays the rail of each record over
its piece, and refuses what does not lie: it starts from the sheets, the cuts and the shop alone,
and shares no arithmetic with what writes records. `laid` lays the rail, `held` sets guide, stop
and fence, `faces_there` turns the pieces; what comes of each side is looked up here.
"""

from collections.abc import Iterator, Mapping, Sequence

from shared.geometry import Rect
from shared.issues import Issue
from shared.lengths import Length
from shared.making.outcome import PieceFate, Side
from shared.making.record import CutRecord
from shared.parts import numbered
from shared.plan import Cut, CutKind, Keep, Placement, Plan, PlanPart
from shared.saw.faces_there import FacesThere
from shared.saw.held import SetUps, wrong_device
from shared.saw.laid import RailsThere, edge_there, lies, way_there, wrong_bed, wrong_entry
from shared.saw.promises import final_rect
from shared.saw.refusal import refusal, unfit
from shared.saw.sawhorses import Sawhorses, SawPass
from shared.shop import Axis, Shop


def wrong_records(
    plans: Sequence[Plan], shop: Shop, records: Sequence[CutRecord]
) -> Iterator[Issue]:
    """Yield what is wrong with the records of plans that the saw has accepted.

    Parameters
    ----------
    plans
        In the order in which they are sawn.
    shop
        Whose saws, rails and devices they are to be made with.
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
    rails, set_ups, ahead = RailsThere(shop), SetUps(shop), iter(records)
    for plan in plans:
        reader = _Reader(plan, shop, rails, set_ups)
        for cut in plan.cuts:
            yield from reader.faults(cut, next(ahead))
    for record, said in set_ups.end():
        yield _no(record.stroke.cut, said)


def _no(cut: Cut, said: str) -> Issue:
    return unfit(cut, "record-wrong", said)


class _Reader:
    """Makes the cuts of a plan and reads their records; rails and settings go on."""

    def __init__(self, plan: Plan, shop: Shop, rails: RailsThere, set_ups: SetUps) -> None:
        self._shop, self._rails, self._set_ups = shop, rails, set_ups
        self._horses = Sawhorses(plan.sheets)
        self._sheets = {sheet.id: sheet for sheet in plan.sheets}
        self._ends = Ends(plan)
        self._faces = FacesThere(plan, shop)
        self._since: dict[str, int] = {}
        self._moved: set[str] = set()

    def faults(self, cut: Cut, record: CutRecord) -> Iterator[Issue]:
        """Make a cut; yield what its record says otherwise."""
        done = self._horses.saw(cut)
        if isinstance(done, Issue):
            yield done
            return
        for said in self._said(cut, done, record):
            yield _no(cut, said)
        for one, said in self._set_ups.take(record, changed=self._changed):
            yield _no(one.stroke.cut, said)

    def _said(self, cut: Cut, done: SawPass, record: CutRecord) -> Iterator[str]:
        shop, sheet = self._shop, self._sheets[cut.sheet]
        there, free = lies(cut, done, sheet), sheet.stays or cut.kind is CutKind.FINISH
        near = done.part_of_piece(done.start, done.near)
        far = done.part_of_piece(done.dust_end, done.far)
        stroke = record.stroke
        if stroke.cut != cut or stroke.sheet != sheet:
            yield "it is the record of another cut"
        laid = stroke.axis, stroke.piece, stroke.near, stroke.far
        if laid != (done.axis, done.piece.rect, near, far):
            yield "its piece lies otherwise"
        if record.grams != there.grams:
            yield f"its piece weighs {there.grams} g, not {record.grams}"
        way = way_there(cut, there, shop)
        if record.way is not way:
            yield f"a {way} leads the saw, not a {record.way}"
        yield from wrong_bed(record, there, shop, free=free)
        self._changed, said = self._rails.lay(record, there)
        yield from said
        if record.rail is not None:
            edge = edge_there(cut, done, record.bed, shop)
            if record.rail.edge_at != edge:
                yield f"its edge lies at {record.rail.edge_at}, not at {edge}"
        yield from wrong_entry(record, cut, done, shop)
        yield from wrong_device(record, cut, done, there, shop, free=free)
        yield from self._faces.faults(cut, done, record, there)
        yield from self._ends.faults(cut, done, record, near, far)
        yield from self._wrong_place(cut, record)
        if record.support is not shop.support:
            yield f"sheets lie on {shop.support}, not on {record.support}"

    def _wrong_place(self, cut: Cut, record: CutRecord) -> Iterator[str]:
        """Check position, and which cut the piece came from."""
        if cut.level != 1 or cut.piece != cut.sheet:
            self._moved.add(cut.sheet)
        position = None if cut.sheet in self._moved else cut.running
        if record.position != position:
            yield f"its position is {position}, not {record.position}"
        since = self._since.get(cut.piece, 0)
        if record.since != since:
            yield f"its piece lies there since cut {since}, not {record.since}"
        self._since[cut.piece] = cut.number
        if cut.off:
            self._since[cut.off] = cut.number


class Ends:
    """What comes of each piece: looked up in parts, offcuts and later cuts."""

    def __init__(self, plan: Plan) -> None:
        parts = {part.id: part for part in plan.parts}
        self._at: dict[tuple[str, Rect], tuple[PieceFate, str]] = {}
        self._blanks: dict[str, list[tuple[Rect, str]]] = {}
        self._widths: dict[tuple[str, Axis, Length, Length], list[Rect]] = {}
        for fall in plan.offcuts:
            fate = PieceFate.KEEPER if fall.keep else PieceFate.WASTE
            self._at[fall.sheet, fall.rect] = fate, ""
        for one in plan.placements:
            self._take(one, parts[one.part])
        self._next = _next_cuts(plan)

    def _take(self, one: Placement, part: PlanPart) -> None:
        name = numbered(part.name, one.copy, part.copies)
        sheet, lying, final = one.sheet, one.rect, final_rect(one, part)
        if final != lying:
            self._at[sheet, lying] = PieceFate.BLANK, name
        self._at[sheet, final] = PieceFate.WAITS if part.waits else PieceFate.PART, name
        if part.is_blank:
            self._blanks.setdefault(sheet, []).append((lying, name))
        if not part.waits:
            for axis in Axis:
                self._widths.setdefault((sheet, axis, *_ends(final, axis)), []).append(final)

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
        end = self._at.get((cut.sheet, rect), (PieceFate.PIECE, ""))
        if end[0] is PieceFate.PIECE and cut.kind is CutKind.FINISH:
            for blank, name in self._blanks.get(cut.sheet, ()):
                if blank.contains(done.piece.rect):
                    return PieceFate.BLANK, name
        return end

    def _is_final(self, cut: Cut, done: SawPass, rest: Rect) -> bool:
        """Whether what is left is as wide as a part that comes of it, so that no cut sets it."""
        alike = self._widths.get((cut.sheet, done.axis, done.dust_end, done.end), ())
        first, last = _ends(rest, done.axis.other)
        return any(
            first <= start and end <= last
            for start, end in (_ends(part, done.axis.other) for part in alike)
        )


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
