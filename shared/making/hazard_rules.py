"""When a rule of `shared.making.hazards` applies to a cut: a predicate each on record and shop."""

import re
from typing import Final

from shared.geometry import Rect
from shared.lengths import METRE, MM, Length
from shared.making.bearing import may_twist
from shared.making.devices import within
from shared.making.lifting import Moved
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, CutRecord, Way
from shared.making.settings import Device
from shared.making.straightedge import GRIP, set_back
from shared.shop import ABSENT, Axis, Shop, Support
from shared.squaring import BEYOND_KERF
from shared.stock import SheetGrain
from shared.tree import extent
from shared.weighing import DENSITIES, grams

HANDS: Final[Length] = 150 * MM
"""Nearer to the blade than this no hand holds anything (common practice)."""
THIN_SHEET: Final[Length] = 9 * MM
"""A sheet thinner than this sags between bearers (common practice)."""
SLIVER: Final[Length] = 6 * MM
"""An offcut narrower than this flies from a table saw (common practice)."""
PUSHED: Final[tuple[Length, Length]] = (150 * MM, 300 * MM)
"""With less than this between fence and blade, or along the fence, a push stick is used."""
RAIL_WIDE: Final[Length] = 180 * MM
"""Width of a rail where the shop does not say it (common practice)."""
FREE_END: Final[Length] = 350 * MM
"""A rail's end longer than this bends under a saw, whose base is 10 to 12 in (common practice)."""
LARGE: Final[tuple[Length, Length]] = (1500 * MM, 600 * MM)
"""Long and short side of what is awkward to turn: a sheet, or most of one."""
FIBREBOARD: Final = 720
"""Grainless board from this density on, in kg/m3, is taken for MDF (published: 769)."""

_MDF = re.compile(r"\bmdf\b|fib(er|re)\s?board", re.IGNORECASE)


# --- weight ----------------------------------------------------------------------------


def heavy(record: CutRecord, shop: Shop) -> bool:
    """Whether a piece is lifted on its support that is too heavy to be lifted alone."""
    return record.moved is Moved.LAID and 0 < shop.lift_g < record.grams


def turn(record: CutRecord, shop: Shop) -> bool:
    """Whether a piece is turned on its support that is too heavy for that."""
    limit = shop.turn_g or shop.lift_g
    return record.moved is Moved.TURNED and 0 < limit < record.grams


def turn_heavy(record: CutRecord, shop: Shop) -> bool:
    """Whether a piece is turned alone that is too heavy to be lifted alone."""
    heavy = record.moved is Moved.TURNED and 0 < shop.lift_g < record.grams
    return heavy and not turn(record, shop)


def carry_away(record: CutRecord, shop: Shop) -> bool:
    """Whether something has to leave the support after the cut that is too heavy for one."""
    return shop.lift_g > 0 and too_heavy(record, shop) is not None


def too_heavy(record: CutRecord, shop: Shop) -> Side | None:
    """Return the heaviest piece that leaves the support after a cut, if one cannot lift it.

    What is sawn at the very next cut lies there still; anything else goes to the stack, or away.
    """
    sides = [side for side in (record.makes, record.left) if side is not None]
    leaving = (side for side in sides if _leaves(record, side))
    heaviest = max(leaving, key=lambda side: side.rect.area, default=None)
    if heaviest is None or side_grams(record, heaviest) <= shop.lift_g:
        return None
    return heaviest


def _leaves(record: CutRecord, side: Side) -> bool:
    return side.end is not PieceFate.PIECE or side.next_cut > record.number + 1


def side_grams(record: CutRecord, side: Side) -> int:
    """Return the weight of one side of a cut in grams; 0 when the density is not known."""
    sheet, rect = record.stroke.sheet, side.rect
    return grams(rect.length, rect.width, sheet.thickness, sheet.density)


def large_turn(record: CutRecord, shop: Shop) -> bool:
    """Whether a piece is turned that is large, and no rule speaks of its weight."""
    heavy = turn(record, shop) or turn_heavy(record, shop)
    return record.moved is Moved.TURNED and is_large(record.stroke.piece) and not heavy


def is_large(piece: Rect) -> bool:
    """Say whether a piece is a sheet or most of one."""
    short, long = sorted((piece.length, piece.width))
    return long >= LARGE[0] and short >= LARGE[1]


# --- rail and straightedge -------------------------------------------------------------


def no_rail(record: CutRecord, _: Shop) -> bool:
    """Whether what leads the saw is shorter than the cut."""
    return record.rail is not None and record.rail.run_up + record.rail.run_out < 0


def overhang(record: CutRecord, _: Shop) -> bool:
    """Whether what leads the saw is longer than the cut, but not as much as is asked."""
    laid = record.rail
    return laid is not None and not laid.enough and laid.run_up + laid.run_out >= 0


def free_rail(record: CutRecord, shop: Shop) -> bool:
    """Whether a rail stands free and rests on less than its own width, along it or across."""
    square = record.length < (shop.rail_width or RAIL_WIDE)
    return _stands_free(record, shop) and (square or narrow_bed(record, shop))


def long_rail(record: CutRecord, shop: Shop) -> bool:
    """Whether a rail stands free, and yet lies on its bed by more than its own width."""
    return _stands_free(record, shop) and not free_rail(record, shop)


def _stands_free(record: CutRecord, shop: Shop) -> bool:
    """Whether an end of a rail bends under a saw set on it, or more stands free than lies."""
    laid, most = record.rail, max(FREE_END, shop.overhang)
    if laid is None or record.way is not Way.RAIL:
        return False
    free = laid.run_up + laid.run_out
    return max(laid.run_up, laid.run_out) > most or free > max(record.length, shop.overhang)


def joined(record: CutRecord, _: Shop) -> bool:
    """Whether rails or straightedges are joined."""
    return record.rail is not None and record.rail.rail.joined > 1


def packed(record: CutRecord, _: Shop) -> bool:
    """Whether neither side carries what leads the saw."""
    return record.bed is Bed.PACKED


def narrow_keep(record: CutRecord, shop: Shop) -> bool:
    """Whether the rail lies on the other side because little is kept."""
    return record.bed is Bed.WASTE and record.stroke.kept < max(shop.carry, shop.rail_width)


def narrow_bed(record: CutRecord, shop: Shop) -> bool:
    """Whether the rail is wider than what it lies on."""
    under = {Bed.KEEP: record.stroke.kept, Bed.WASTE: record.stroke.other}.get(record.bed)
    return record.way is Way.RAIL and under is not None and under < shop.rail_width


def straightedge(record: CutRecord, shop: Shop) -> bool:
    """Whether the base runs along a straightedge that is clamped to the piece."""
    return record.way is Way.STRAIGHTEDGE and not short_for_base(record, shop)


def short_for_base(record: CutRecord, shop: Shop) -> bool:
    """Whether the base and two clamps have no room on a cut along a straightedge."""
    base = shop.base
    if record.way is not Way.STRAIGHTEDGE or base is None:
        return False
    return record.length < base.length + GRIP


def base_off(record: CutRecord, shop: Shop) -> bool:
    """Whether less than half of a base along a straightedge rests on the piece.

    It rests from the straightedge to the line, and on the other side of the line as far as that
    is wide, unless it drops.
    """
    base, stroke = shop.base, record.stroke
    if record.way is not Way.STRAIGHTEDGE or record.bed is not Bed.KEEP or base is None:
        return False
    drops_away = record.bearers is not None and not record.bearers.other
    rests = set_back(shop) + (0 if drops_away else stroke.other)
    return 2 * rests < base.left_near + base.right_far


def narrow_for_base(record: CutRecord, shop: Shop) -> bool:
    """Whether a base on an edge guide is wider than the piece, and no clamp has room beside it."""
    base, wide = shop.base, extent(record.stroke.piece, record.stroke.axis)
    if record.way is not Way.EDGE_GUIDE or base is None:
        return False
    return wide < base.left_near + base.right_far + GRIP


def edge_guide(record: CutRecord, _: Shop) -> bool:
    """Whether an edge guide runs along an edge of the piece."""
    return record.way is Way.EDGE_GUIDE


# --- piece and blade -------------------------------------------------------------------


def small(record: CutRecord, shop: Shop) -> bool:
    """At the table saw the push stick takes the place of a clamp."""
    return _longer(record.stroke.piece) < shop.hold and record.way is not Way.FENCE


def small_side(record: CutRecord, shop: Shop) -> bool:
    """Whether the piece can be held, and not all that is wanted of it."""
    holds = shop.hold <= _longer(record.stroke.piece)
    return holds and record.way is not Way.FENCE and bool(too_small(record, shop))


def too_small(record: CutRecord, shop: Shop) -> list[Side]:
    """Return the sides of a cut that are wanted and too small to be held."""
    sides = (side for side in (record.makes, record.left) if side is not None and side.rect.area)
    wanted = (side for side in sides if side.end is not PieceFate.WASTE)
    return [side for side in wanted if _longer(side.rect) < shop.hold]


def covered(record: CutRecord, shop: Shop) -> bool:
    """Whether a piece is under the rail, and nothing of it shows that a hand may hold.

    A long one lies by its weight if any of it shows; where scrap is packed, that rule has both
    clamped.
    """
    stroke = record.stroke
    if record.way is not Way.RAIL or _longer(stroke.piece) < shop.hold:
        return False
    long, (under, beside) = _longer(stroke.piece) >= METRE, (stroke.kept, stroke.other)
    if record.bed is Bed.WASTE:
        under, beside = beside, under
    if beside >= HANDS or (long and record.bed is Bed.PACKED):
        return False
    return under < shop.rail_width + (0 if long else GRIP)


def _longer(rect: Rect) -> Length:
    return max(rect.length, rect.width)


def twist(record: CutRecord, _: Shop) -> bool:
    """Whether a long strip is sawn that is narrow enough to twist; a narrower one bends away."""
    stroke = record.stroke
    return any(may_twist(side, stroke.long) for side in (stroke.kept, stroke.other))


def drops(record: CutRecord, _: Shop) -> bool:
    """Whether a long strip of waste drops, because no bearer has room under it."""
    stroke, borne = record.stroke, record.bearers
    bare = borne is not None and not borne.other and stroke.other > 0
    return bare and stroke.long >= METRE and record.way is not Way.FENCE


def sag(record: CutRecord, shop: Shop) -> bool:
    """On horses, once when it is laid or turned there: then its bearers are placed."""
    thin = record.stroke.sheet.thickness < THIN_SHEET and _longer(record.stroke.piece) >= METRE
    placed = record.moved is not Moved.NOTHING and record.way is not Way.FENCE
    return thin and placed and shop.support is Support.HORSES


def thin_trim(record: CutRecord, _: Shop) -> bool:
    """Whether a trim takes less than the kerf and what the blade needs beside it."""
    stroke = record.stroke
    return stroke.is_trim and stroke.cut.size < stroke.cut.kerf + BEYOND_KERF


def skim(record: CutRecord, _: Shop) -> bool:
    """Whether the blade takes all that is left."""
    return record.stroke.is_skim


def unguided(record: CutRecord, shop: Shop) -> bool:
    """Whether a size is marked at both ends though the shop has a guide or stop."""
    if record.setting.device is not Device.BOTH_ENDS or record.way is not Way.RAIL:
        return False
    if narrow_keep(record, shop):
        return False  # that rule says why
    if (shop.guide if record.stroke.axis is Axis.RIP else shop.stop) == ABSENT:
        return False  # nobody looks for what is not there
    return shop.guide is not None or shop.stop is not None


def turned_over(record: CutRecord, _: Shop) -> bool:
    """Whether the piece lies mirrored from this cut on."""
    return record.turn_over


def dust(record: CutRecord, _: Shop) -> bool:
    """Whether the sheet is MDF; said at its first cut, for all that come of it."""
    sheet = record.stroke.sheet
    return record.since == 0 and is_mdf(sheet.material, sheet.density, sheet.grain)


def is_mdf(material: str, density: int, grain: SheetGrain) -> bool:
    """Say whether a material is MDF by its name, or by its density in kg/m3 and lack of grain."""
    heavy = FIBREBOARD <= density <= DENSITIES["MDF"] + 100
    return bool(_MDF.search(material)) or (heavy and grain is SheetGrain.NONE)


# --- table saw -------------------------------------------------------------------------


def table(record: CutRecord, _: Shop) -> bool:
    """Whether it is made at the table saw."""
    return record.way is Way.FENCE


def table_crosscut(record: CutRecord, _: Shop) -> bool:
    """Whether it is a crosscut at the table saw."""
    return record.way is Way.FENCE and record.stroke.axis is Axis.CROSSCUT


def table_short(record: CutRecord, _: Shop) -> bool:
    """Whether it is a rip at the table saw, shorter along the fence than wide."""
    stroke = record.stroke
    wide = extent(stroke.piece, stroke.axis) > stroke.long
    return record.way is Way.FENCE and stroke.axis is Axis.RIP and wide


def table_large(record: CutRecord, shop: Shop) -> bool:
    """Whether the piece is more than one person handles at the table saw."""
    table = shop.table
    if record.way is not Way.FENCE or table is None or not table.longest:
        return False
    short, long = sorted((record.stroke.piece.length, record.stroke.piece.width))
    heavy = 0 < table.heaviest_g < record.grams
    return long > table.longest or short > table.widest > 0 or heavy


def fence(record: CutRecord, shop: Shop) -> bool:
    """Whether the fence of the table saw cannot be set to the size."""
    table = shop.table
    if record.way is not Way.FENCE or table is None:
        return False
    return not within(record.setting.size, table.fence)


def push_stick(record: CutRecord, _: Shop) -> bool:
    """Whether little lies between fence and blade, or along the fence."""
    narrow, short = PUSHED
    near = record.stroke.kept < narrow or record.stroke.long < short
    return record.way is Way.FENCE and near


def sliver(record: CutRecord, _: Shop) -> bool:
    """Whether the table saw leaves a sliver."""
    return record.way is Way.FENCE and 0 < record.stroke.other < SLIVER
