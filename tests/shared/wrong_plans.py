"""How good plans are spoilt: one wreck for each kind of wrong plan, and the saw's answer."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from shared.parts import GrainRule
from shared.plan import CutKind, Keep, Offcut, Plan, Unplaced
from shared.stock import SheetGrain, Trims
from tests.shared.good_plans import MIXED, PANELS, SHELVES, TICKS_PER_INCH, TICKS_PER_MM

EIGHTH = TICKS_PER_INCH // 8
Wreck = Callable[[Plan], Plan]


@dataclass(frozen=True)
class Wrong:
    """A good plan, how it is spoilt, and the code the saw answers with."""

    kind: str
    plan: Plan
    wreck: Wreck
    code: str

    def __str__(self) -> str:
        return self.kind


def cut(number: int, /, **changes: Any) -> Wreck:
    """Return what changes the cut of that number."""
    return lambda plan: replace(plan, cuts=changed(plan.cuts, number - 1, changes))


def place(index: int, /, **changes: Any) -> Wreck:
    """Return what changes the placement in that line of the table."""
    return lambda plan: replace(plan, placements=changed(plan.placements, index, changes))


def offcut(index: int, /, **changes: Any) -> Wreck:
    """Return what changes the offcut in that line of the table."""
    return lambda plan: replace(plan, offcuts=changed(plan.offcuts, index, changes))


def sheet(index: int, /, **changes: Any) -> Wreck:
    """Return what changes that sheet."""
    return lambda plan: replace(plan, sheets=changed(plan.sheets, index, changes))


def part(index: int, /, **changes: Any) -> Wreck:
    """Return what changes that part."""
    return lambda plan: replace(plan, parts=changed(plan.parts, index, changes))


def proof(**changes: Any) -> Wreck:
    """Return what changes the proof."""
    return lambda plan: replace(plan, proof=replace(plan.proof, **changes))


def proof_of(index: int, /, **changes: Any) -> Wreck:
    """Return what changes the proof of one material."""
    return lambda plan: proof(materials=changed(plan.proof.materials, index, changes))(plan)


def changed(rows: tuple[Any, ...], index: int, changes: dict[str, Any]) -> tuple[Any, ...]:
    """Return the rows with one of them changed."""
    return (*rows[:index], replace(rows[index], **changes), *rows[index + 1 :])


def swapped(plan: Plan) -> Plan:
    """Saw a crosscut before the rip that makes its strip, numbers mended."""
    order = (plan.cuts[4], *plan.cuts[:4], *plan.cuts[5:])
    return replace(plan, cuts=tuple(replace(c, number=n) for n, c in enumerate(order, 1)))


def without_kerf(plan: Plan) -> Plan:
    """Lay the second shelf against the first, as if the blade took nothing."""
    return place(1, x=31 * TICKS_PER_INCH)(plan)


def untrimmed(plan: Plan) -> Plan:
    """Leave out the trim and rip from the factory edge."""
    cuts = (replace(plan.cuts[1], number=1, size=610 * TICKS_PER_MM),)
    return replace(plan, cuts=cuts)


def one_more_part(plan: Plan) -> Plan:
    """List one more copy of the shelf than are needed, on a piece of its own."""
    return replace(part(0, copies=11)(plan), placements=plan.placements)


def twice(field: str, index: int = 0) -> Wreck:
    """Return what lists a row of that field twice."""
    return lambda plan: replace(
        plan, **{field: (*getattr(plan, field), getattr(plan, field)[index])}
    )


def without(field: str, index: int = -1) -> Wreck:
    """Return what drops a row of that field."""

    def drop(plan: Plan) -> Plan:
        rows = list(getattr(plan, field))
        del rows[index]
        return replace(plan, **{field: tuple(rows)})

    return drop


def unplaced(*rows: Unplaced) -> Wreck:
    """Return what makes these the unplaced copies."""
    return lambda plan: replace(plan, unplaced=rows)


def both(*wrecks: Wreck) -> Wreck:
    """Return what does one after the other."""

    def run(plan: Plan) -> Plan:
        for wreck in wrecks:
            plan = wreck(plan)
        return plan

    return run


WRONG = [
    # The ten kinds every judge of a cutting plan must know.
    Wrong("overlap", SHELVES, place(1, x=0, copy=2), "part-overlaps"),
    Wrong("overlap in part", SHELVES, place(1, x=16 * TICKS_PER_INCH), "part-not-sawn"),
    Wrong("kerf missing", SHELVES, without_kerf, "part-not-sawn"),
    Wrong("kerf missing in the cut", SHELVES, cut(1, width=0), "cut-kerf"),
    Wrong("cut stopping short", SHELVES, cut(1, length=95 * TICKS_PER_INCH), "cut-stops-short"),
    Wrong("crosscut stopping short", SHELVES, cut(5, width=94 * EIGHTH), "cut-stops-short"),
    Wrong("rip begins inside", SHELVES, cut(1, x=EIGHTH, length=767 * EIGHTH), "cut-stops-short"),
    Wrong("cut begins inside", SHELVES, cut(5, y=EIGHTH, width=94 * EIGHTH), "cut-stops-short"),
    Wrong("piece not there yet", SHELVES, cut(1, piece="1b", off="1b1"), "cut-no-such-piece"),
    Wrong("wrong size", SHELVES, cut(5, size=30 * TICKS_PER_INCH), "cut-size"),
    Wrong("part of wrong size", SHELVES, part(0, length=32 * TICKS_PER_INCH), "part-size"),
    Wrong("turned against grain", SHELVES, place(0, turned=True), "part-grain"),
    Wrong("sheet's grain turned", SHELVES, sheet(0, grain=SheetGrain.ALONG_W), "part-grain"),
    Wrong("rule turned", SHELVES, part(0, grain_rule=GrainRule.ALONG_WIDTH), "part-grain"),
    Wrong("square turned against grain", MIXED, place(5, turned=True), "part-grain"),
    Wrong("off the sheet", SHELVES, place(11, x=66 * TICKS_PER_INCH), "part-off-sheet"),
    Wrong("above the sheet", SHELVES, place(0, y=-EIGHTH), "part-off-sheet"),
    Wrong("lost part", SHELVES, without("placements"), "part-lost"),
    Wrong("doubled part", SHELVES, place(1, copy=1), "part-doubled"),
    Wrong("one part too many", SHELVES, one_more_part, "part-too-many"),
    Wrong("wrong order", SHELVES, swapped, "cut-no-such-piece"),
    # Cuts no saw can make.
    Wrong("cut outside the piece", SHELVES, cut(5, y=12 * TICKS_PER_INCH), "cut-outside-piece"),
    Wrong("cut beyond the sheet", SHELVES, cut(4, width=2 * EIGHTH), "cut-outside-piece"),
    Wrong("dust of negative size", SHELVES, cut(1, width=-EIGHTH), "cut-outside-piece"),
    Wrong("dust of negative length", SHELVES, cut(1, length=-EIGHTH), "cut-outside-piece"),
    Wrong("piece of another sheet", MIXED, cut(2, sheet="2"), "cut-wrong-sheet"),
    Wrong("dust too thick", SHELVES, cut(1, width=2 * EIGHTH), "cut-kerf"),
    Wrong("kerf not the blade's", SHELVES, cut(2, kerf=EIGHTH // 2), "cut-kerf"),
    Wrong("negative kerf", SHELVES, cut(2, kerf=-EIGHTH), "cut-kerf"),
    Wrong("skim called a whole kerf", MIXED, cut(3, kerf=2 * TICKS_PER_MM), "cut-tool-kerf"),
    Wrong("nothing sawn off", SHELVES, cut(1, y=0, size=0, running=0), "cut-parts-nothing"),
    Wrong(
        "sawn where the piece ends", SHELVES, cut(4, y=384 * EIGHTH, width=0), "cut-parts-nothing"
    ),
    Wrong("trim with nothing left", PANELS, cut(1, width=1_212_2 * 4_000), "cut-parts-nothing"),
    # Names.
    Wrong("name given twice", SHELVES, cut(2, off="1a"), "cut-off-name"),
    Wrong("name of the piece itself", SHELVES, cut(2, off="1"), "cut-off-name"),
    Wrong("name of another sheet's", SHELVES, cut(2, off="2b"), "cut-off-name"),
    Wrong("no name", SHELVES, cut(2, off=""), "cut-off-name"),
    Wrong("waste with a name", PANELS, cut(1, off="1x"), "cut-off-name"),
    # What is written on a cut.
    Wrong("numbers with a gap", SHELVES, cut(16, number=17), "cut-number"),
    Wrong("numbers from 0", SHELVES, cut(1, number=0), "cut-number"),
    Wrong("wrong running position", SHELVES, cut(8, running=30 * TICKS_PER_INCH), "cut-running"),
    Wrong(
        "running from the factory edge", PANELS, cut(2, running=610 * TICKS_PER_MM), "cut-running"
    ),
    Wrong("trim that runs", PANELS, cut(1, running=10 * TICKS_PER_MM), "cut-running"),
    Wrong("wrong keep side", SHELVES, cut(1, keep=Keep.FAR), "cut-keep"),
    Wrong("trim keeps its waste", PANELS, cut(1, keep=Keep.NEAR), "cut-keep"),
    Wrong("rip called crosscut", SHELVES, cut(1, kind=CutKind.CROSSCUT), "cut-kind"),
    Wrong("last trim called crosscut", MIXED, cut(5, kind=CutKind.CROSSCUT), "cut-kind"),
    Wrong("rip called last trim", MIXED, cut(4, kind=CutKind.LAST_TRIM), "cut-kind"),
    Wrong("trim of no factory edge", MIXED, cut(6, kind=CutKind.TRIM, off=""), "cut-kind"),
    Wrong("factory edge not trimmed", PANELS, untrimmed, "cut-untrimmed"),
    Wrong(
        "trim not the sheet's",
        PANELS,
        sheet(0, trims=Trims(near=400_001, start=400_000)),
        "cut-trim",
    ),
    Wrong("level too low", SHELVES, cut(5, level=1), "cut-level"),
    Wrong("level of the other direction", MIXED, cut(5, level=5), "cut-level"),
    Wrong("level 0", SHELVES, cut(1, level=0), "cut-level"),
    Wrong("set-up of another size", MIXED, cut(3, setup="2:400"), "cut-setup"),
    Wrong("one set-up, two keys", SHELVES, cut(3, setup="Z"), "cut-setup"),
    Wrong("one key, two tools", SHELVES, cut(3, tool="track saw"), "cut-setup"),
    # What is promised of the pieces.
    Wrong("moved offcut", SHELVES, offcut(0, x=93 * TICKS_PER_INCH), "offcut-not-there"),
    Wrong("offcut by another name", SHELVES, offcut(0, piece="1b"), "offcut-not-there"),
    Wrong("offcut of another sheet", SHELVES, offcut(0, sheet="2"), "offcut-not-there"),
    Wrong("offcut not listed", SHELVES, without("offcuts"), "piece-unnamed"),
    Wrong("offcut listed twice", SHELVES, twice("offcuts"), "offcut-not-there"),
    Wrong(
        "offcut that is a part",
        SHELVES,
        lambda plan: replace(
            plan,
            offcuts=(
                *plan.offcuts,
                Offcut(
                    sheet="1",
                    piece="1a1",
                    x=0,
                    y=0,
                    length=248 * EIGHTH,
                    width=95 * EIGHTH,
                    keep=True,
                ),
            ),
        ),
        "offcut-not-there",
    ),
    Wrong("areas out of balance", SHELVES, without("offcuts"), "areas-unbalanced"),
    Wrong("last cut forgotten", SHELVES, without("cuts"), "part-not-sawn"),
    # The lists.
    Wrong("unknown part", SHELVES, place(0, part="stool"), "part-unknown"),
    Wrong("unknown sheet", SHELVES, place(0, sheet="7"), "part-on-no-sheet"),
    Wrong("copy 0", SHELVES, place(0, copy=0), "part-copy"),
    Wrong("copy beyond the number", SHELVES, place(0, copy=13), "part-copy"),
    Wrong("wrong material", SHELVES, part(0, material="oak"), "part-material"),
    Wrong("part in the near trim", PANELS, place(0, y=0), "part-in-trim"),
    Wrong("part in the start trim", PANELS, place(0, x=0), "part-in-trim"),
    Wrong(
        "part in the far trim",
        MIXED,
        sheet(1, trims=Trims(near=400_000, far=200_001, start=480_000)),
        "part-in-trim",
    ),
    Wrong(
        "part in the end trim",
        MIXED,
        sheet(0, trims=Trims(end=2 * TICKS_PER_MM + 1)),
        "part-in-trim",
    ),
    Wrong("two parts of one id", SHELVES, twice("parts"), "part-id-twice"),
    Wrong("two sheets of one id", SHELVES, twice("sheets"), "sheet-twice"),
    Wrong("sheet without width", MIXED, sheet(1, width=0), "sheet-size"),
    Wrong(
        "negative trim",
        PANELS,
        sheet(0, trims=Trims(near=400_000, start=400_000, far=-1)),
        "sheet-trims",
    ),
    Wrong(
        "unplaced and placed",
        SHELVES,
        unplaced(Unplaced(part="shelf", copies=1, need="")),
        "part-too-many",
    ),
    Wrong("unplaced forgotten", MIXED, unplaced(), "part-lost"),
    Wrong(
        "unplaced unknown part",
        SHELVES,
        unplaced(Unplaced(part="stool", copies=1, need="")),
        "unplaced-wrong",
    ),
    Wrong(
        "unplaced less than none",
        MIXED,
        unplaced(Unplaced(part="v", copies=-2, need="")),
        "unplaced-wrong",
    ),
    # What the plan claims of itself.
    Wrong("more sheets than claimed", SHELVES, proof(value=0, bound=0), "proof-value"),
    Wrong("price not the sheets'", MIXED, proof(value=2151), "proof-value"),
    Wrong("bound above value", SHELVES, proof(bound=2, proven=False), "proof-bound"),
    Wrong("proven with a gap", SHELVES, proof(bound=0), "proof-proven"),
    Wrong("met but not called proven", SHELVES, proof(proven=False), "proof-proven"),
    Wrong("proven but for a material", MIXED, proof(proven=True), "proof-proven"),
    Wrong("bounds that do not add up", SHELVES, proof_of(0, bound=0, proven=False), "proof-bound"),
    Wrong("material's value wrong", SHELVES, proof_of(0, value=2, proven=False), "proof-value"),
    Wrong("material met but not proven", SHELVES, proof_of(0, proven=False), "proof-proven"),
    Wrong("fewer cuts than claimed", SHELVES, proof_of(0, least_cuts=99), "proof-cuts"),
    Wrong("less than no cuts", SHELVES, proof_of(0, least_cuts=-1), "proof-cuts"),
    Wrong("fewest cuts of no proven value", MIXED, proof_of(1, least_cuts=1), "proof-cuts"),
    Wrong("material without proof", SHELVES, proof_of(0, material="oak"), "proof-materials"),
]
