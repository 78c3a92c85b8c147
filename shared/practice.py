"""Figures of common practice that a new shop begins with; the maker changes what differs."""

from dataclasses import dataclass, fields, replace
from typing import Final

from shared.lengths import INCH, MM, Length, Unit
from shared.shop import Gear, Hand, Rail, RunsOn, SawBase, Shop, Span, TableSaw
from shared.weighing import POUND_G

_PACED: Final = Shop(
    cut_s=45,
    metre_s=15,
    setup_s=60,
    measure_s=20,
    unguided_s=60,
    rail_s=20,
    join_s=120,
    lift_s=20,
    turn_s=15,
    heavy_s=60,
    skim_s=60,
)
"""Seconds for each kind of work: estimates, from no published document."""

USUAL_SHOP: Final = replace(
    _PACED,
    rails=(Rail(length=1400 * MM), Rail(length=2700 * MM)),
    rail_width=180 * MM,
    overhang=250 * MM,
    guide=Span(least=150 * MM, most=610 * MM),
    stop=Span(most=1200 * MM),
    square=600 * MM,
    carry=100 * MM,
    hold=300 * MM,
    oversize=6 * MM,
    lift_g=23_000,
    turn_g=46_000,
    loose=12,
)
"""One rail for crosscuts and one for rips, a parallel guide, no table saw."""

USUAL_SHOP_IN: Final = replace(
    _PACED,
    rails=USUAL_SHOP.rails,
    rail_width=INCH * 57 // 8,
    overhang=10 * INCH,
    guide=Span(least=6 * INCH, most=24 * INCH),
    stop=Span(most=48 * INCH),
    square=24 * INCH,
    carry=4 * INCH,
    hold=12 * INCH,
    keep_length=12 * INCH,
    keep_width=4 * INCH,
    oversize=INCH // 4,
    lift_g=round(51 * POUND_G),
    turn_g=round(102 * POUND_G),
    loose=12,
)
"""The same as it is said where inches are used; rails are metric there too."""

USUAL_TABLE: Final = TableSaw(
    kerf=32 * MM // 10,
    fence=Span(least=25 * MM, most=610 * MM),
    longest=1200 * MM,
    widest=600 * MM,
    heaviest_g=15_000,
)
USUAL_TABLE_IN: Final = TableSaw(
    kerf=INCH // 8,
    fence=Span(least=INCH, most=24 * INCH),
    longest=48 * INCH,
    widest=24 * INCH,
    heaviest_g=round(33 * POUND_G),
)
"""What a table saw begins with once there is one: a full kerf, a fence of middling span."""


def usual(unit: Unit) -> Shop:
    """Return the shop of common practice, in round figures of a unit."""
    return USUAL_SHOP_IN if unit is Unit.INCH else USUAL_SHOP


def usual_table(unit: Unit) -> TableSaw:
    """Return the table saw of common practice, in round figures of a unit."""
    return USUAL_TABLE_IN if unit is Unit.INCH else USUAL_TABLE


def usual_base(unit: Unit, kerf: Length) -> SawBase:
    """Return the base that is common for circular saws, its distances those of a kerf.

    From memory, not from a published document: every saw's own has to be measured.
    """
    inches = unit is Unit.INCH
    left, right = (INCH * 3 // 2, 5 * INCH) if inches else (38 * MM, 127 * MM)
    return SawBase(
        left_near=left,
        left_far=left + kerf,
        right_near=right,
        right_far=right + kerf,
        length=11 * INCH if inches else 280 * MM,
    )


BASE_PAIRS: Final[dict[str, tuple[str, ...]]] = {
    "left": ("left_near", "left_far"),
    "right": ("right_near", "right_far"),
    "length": ("length",),
}
"""What of a base is measured in one go: the fields from an edge, and its length."""


def not_measured(base: SawBase, kerf: Length) -> tuple[str, ...]:
    """Return which of `BASE_PAIRS` are as common practice has them, so as nobody measured them.

    A base that measures just what is common cannot be told from one that nobody measured.
    """
    bases = [usual_base(unit, kerf) for unit in Unit]
    return tuple(
        pair
        for pair, names in BASE_PAIRS.items()
        if any(all(getattr(base, one) == getattr(other, one) for one in names) for other in bases)
    )


def usual_gear(unit: Unit, runs_on: RunsOn, kerf: Length) -> Gear:
    """Return what goes with a saw of a kerf that runs on a rail, or along a straightedge."""
    shop, inches = usual(unit), unit is Unit.INCH
    if runs_on is RunsOn.RAIL:
        return replace(shop.gear, kerf=kerf)
    return Gear(
        tool="circular saw",
        kerf=kerf,
        rails=(
            Rail(length=72 * INCH if inches else 1900 * MM),
            Rail(length=120 * INCH if inches else 3100 * MM),
        ),
        rail_width=4 * INCH if inches else 100 * MM,
        rail_side=Hand.LEFT,
        guide=Span(most=7 * INCH if inches else 180 * MM),
        carry=shop.carry,
    )


def running_on(shop: Shop, runs_on: RunsOn, unit: Unit) -> Shop:
    """Return the shop with a saw that runs on a rail, or along a straightedge, instead.

    The gear of the saw that is put aside is kept for the way back; what was never given is of
    common practice, with the kerf there is. A base that was measured stays.
    """
    if runs_on is shop.runs_on:
        return shop
    taken = shop.aside or usual_gear(unit, runs_on, shop.kerf)
    base = shop.base or (usual_base(unit, taken.kerf) if runs_on is RunsOn.STRAIGHTEDGE else None)
    return replace(with_gear(shop, taken), runs_on=runs_on, base=base, aside=shop.gear)


def practised(shop: Shop, unit: Unit) -> Shop:
    """Return the shop of common practice for the saw a shop has; what is put aside stays so."""
    made = usual(unit)
    if shop.runs_on is RunsOn.STRAIGHTEDGE:
        gear = usual_gear(unit, shop.runs_on, made.kerf)
        made = replace(with_gear(made, gear), runs_on=shop.runs_on)
        return replace(made, base=usual_base(unit, made.kerf), aside=shop.aside)
    return replace(made, base=shop.base, aside=shop.aside)


def with_gear(shop: Shop, gear: Gear) -> Shop:
    """Return the shop with other gear."""
    return replace(shop, **{field.name: getattr(gear, field.name) for field in fields(gear)})


def with_kerf(shop: Shop, kerf: Length) -> Shop:
    """Return the shop with another kerf; distances that nobody measured go with it."""
    base = shop.base
    for pair in not_measured(base, shop.kerf) if base is not None else ():
        near, *far = BASE_PAIRS[pair]
        moved = {one: getattr(base, near) + kerf for one in far}
        base = replace(base, **moved) if base is not None else None
    return replace(shop, kerf=kerf, base=base)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why a figure is what it is.

    ``source`` says where it comes from: common practice, or a published document.
    """

    why: str
    source: str = "common practice"


REASONS: Final[dict[str, Reason]] = {
    "kerf": Reason(why="Measure yours: saw ten slots, or saw a board in two and subtract."),
    "rails": Reason(
        why="One rail for crosscuts and one that rips a whole sheet: 1400 mm (55 in) and 2700 mm"
        " (106 in)."
    ),
    "runs_on": Reason(
        why="A rail leads the saw and guards its edge against splinters; a circular saw is led by"
        " a straight board or bar, clamped to the piece."
    ),
    "base": Reason(
        why="Measure yours with the blade in use: clamp a straightedge to scrap, saw along it with"
        " the left edge of the base, and measure from it to both sides of the slot; then with the"
        " right edge. Bases are 10 to 12 in (250 to 300 mm) long, the blade often 1 1/2 in (38 mm)"
        " from one edge and 5 in (127 mm) from the other.",
        source="from memory, no published figure",
    ),
    "straightedges": Reason(
        why="One that crosscuts a whole sheet and one that rips it: a straight board or bar, longer"
        " than the cut by the length of the base at each end."
    ),
    "rail_width": Reason(
        why="Rails are about 180 mm (7 in) wide. The keep side has to be as wide, or the rail lies"
        " on the other side.",
        source="from memory, no published figure",
    ),
    "straightedge_width": Reason(
        why="A strip of plywood 100 mm (4 in) wide stays straight and leaves room for clamps."
    ),
    "rail_side": Reason(
        why="Pushed away from you, most track saws have the rail on the left. With a circular saw"
        " choose the side where its motor clears straightedge and clamps.",
    ),
    "splinter_guard": Reason(
        why="A guard presses on the wood beside the blade, where the rail's strip does not."
    ),
    "edge_guide": Reason(
        why="Edge guides often reach 150 to 200 mm (6 to 8 in). They copy the edge they ride on:"
        " a bowed edge makes a bowed cut."
    ),
    "stopped": Reason(why="A stop sets the length of a crosscut once, and each piece comes alike."),
    "stop": Reason(
        why="Stops reach about 1200 mm (48 in), half a sheet; a longer piece is marked at both"
        " ends."
    ),
    "square": Reason(
        why="A square of 600 mm (24 in) crosses half a sheet; a longer cut is marked at both ends"
        " from the reference edge."
    ),
    "support": Reason(
        why="On sawhorses with bearers pieces are turned; on a grid or foam you walk round them."
    ),
    "overhang": Reason(
        why="The saw wants a run-up before the sheet and a run-out behind it:"
        " a rail 250 mm (10 in) longer than the cut.",
        source="guide-rail manuals",
    ),
    "guided": Reason(why="A guide sets the width of a rip once, and each strip comes out alike."),
    "guide": Reason(
        why="Parallel guides reach from about 150 mm (6 in) to 610 mm (24 in);"
        " beyond that a rip is measured at both ends."
    ),
    "carry": Reason(
        why="A rail is about 180 mm wide and tips on a piece narrower than 100 mm to 120 mm (4 in)."
    ),
    "carry_straightedge": Reason(
        why="From the line 38 mm (1 1/2 in) to the edge of the base, and 60 mm (2 1/2 in) to clamp"
        " the straightedge on."
    ),
    "hold": Reason(why="Keep 300 mm (12 in) of the workpiece on the bearing side to hold on to."),
    "table": Reason(
        why="Most small shops saw sheets on the rail; rips under 75 mm (3 in) are safer at a fence."
    ),
    "table.kerf": Reason(
        why="A full kerf is 3.2 mm (1/8 in), a thin one 2.4 mm (3/32 in): measure yours."
    ),
    "fence": Reason(
        why="Fences of small saws open to about 610 mm (24 in); the least leaves room for a"
        " push stick."
    ),
    "table.pieces": Reason(
        why="One person pushes about 1200 × 600 mm (48 × 24 in) and 15 kg (33 lb) past a fence;"
        " runs of narrow rips of such pieces go there. With 0 for the longest, none does."
    ),
    "oversize": Reason(why="Cut 6 mm (1/4 in) oversize first, then finish at the fence."),
    "lift_g": Reason(
        why="23 kg (51 lb) is the load for one person in the best case; a sheet has no grip.",
        source="NIOSH lifting equation, as OSHA quotes it",
    ),
    "turn_g": Reason(
        why="Turned on its support a board is never lifted whole: about twice what you can lift."
    ),
    "loose": Reason(why="More than a dozen begun pieces get mixed up."),
    "cut_s": Reason(why="Laying the rail on its line and starting the saw: under a minute."),
    "metre_s": Reason(why="The saw is fed about 4 m (13 ft) a minute through 18 mm plywood."),
    "setup_s": Reason(why="Setting and checking a guide or stop takes about a minute."),
    "measure_s": Reason(why="The first piece of a set-up is measured before the next is cut."),
    "unguided_s": Reason(why="Measuring at both ends takes about as long as a set-up."),
    "rail_s": Reason(why="Putting one rail away and fetching another."),
    "join_s": Reason(why="Rails are joined straight, along a long straightedge: two minutes."),
    "lift_s": Reason(why="Fetching a piece from the stack and laying it on its support."),
    "turn_s": Reason(why="Turning a piece a quarter, or over, and setting its bearers."),
    "heavy_s": Reason(why="Calling help for what you cannot lift or turn alone."),
    "skim_s": Reason(why="Only part of the kerf is in wood: feed slowly."),
    "sawing": Reason(
        why="Sheet by sheet, few pieces lie about. Set-up by set-up, over all sheets, the guide is"
        " set less often. Least walking, pieces are lifted and turned as seldom as can be."
    ),
    "keep": Reason(why="What is smaller than 300 × 100 mm (12 × 4 in) is seldom used again."),
}
"""By field of `Shop`; ``keep`` is for both sides of an offcut, ``fence`` for the table saw's."""
