"""A small job with blanks: one finished at the table saw, one measured, one still waiting.

Millimetres; the track saw takes 2.2, the table saw 3.2, and every figure below is a sum of
sizes and kerfs:

    Side 600 × 300, 6 oversize:     blank 606 × 306; slivers 6 - 3.2 = 2.8 both ways
    Front, 6 to fit, measured 403 × 198: blank 406 × 206; slivers 3 - 2.2 = 0.8 and 8 - 2.2 = 5.8
    Back 300 × 150, 4 to fit:       blank 304 × 154, which stays as it is
"""

from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.plan import Plan
from shared.shop import Axis, Shop, Span, TableSaw
from shared.stock import Stock
from shared.tree import Piece, Place, Run

KERF, TABLE_KERF = 22 * MM // 10, 32 * MM // 10
SHOP = Shop(kerf=KERF, table=TableSaw(kerf=TABLE_KERF, fence=Span(most=700 * MM)))
PARTS = (
    Part(
        id="side",
        name="Side",
        length=600 * MM,
        width=300 * MM,
        material="birch ply",
        oversize=6 * MM,
    ),
    Part(
        id="front",
        name="Front",
        length=400 * MM,
        width=200 * MM,
        material="birch ply",
        fit_allowance=6 * MM,
        measured_length=403 * MM,
        measured_width=198 * MM,
    ),
    Part(
        id="back",
        name="Back",
        length=300 * MM,
        width=150 * MM,
        material="birch ply",
        fit_allowance=4 * MM,
    ),
)
JOB = Job(
    name="Blanks",
    parts=PARTS,
    stock=(
        Stock(
            id="full",
            name="full sheet",
            material="birch ply",
            length=1000 * MM,
            width=800 * MM,
            thickness=18 * MM,
        ),
    ),
    shop=SHOP,
    style=LengthStyle(unit=Unit.MM),
)


def _strip(part: Part) -> Piece:
    block = Piece(size=part.cut_length, place=Place(part=part.id, copy=1))
    return Piece(size=part.cut_width, run=Run(axis=Axis.CROSSCUT, pieces=(block,)))


TREE = Run(axis=Axis.RIP, pieces=tuple(map(_strip, PARTS)))


def layout() -> LayoutSheet:
    """Return the sheet: three strips, one blank at the start of each."""
    return layout_sheet("1", JOB.stock[0], KERF, TREE)


def plan(first: int = 1) -> Plan:
    """Return the plan: three rips, three crosscuts, then the blanks are finished."""
    return saw_up(JOB, [layout()], first=first)
