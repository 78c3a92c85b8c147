"""A document laid out by hand: two sheets of L 96 × W 48 in, no trims, kerf 1/8 in.

Sheet 1: sides at x 0 and 40 1/8 in a strip 12 wide, a shelf in the strip below, which
begins at 12 1/8. Sheet 2: a side, and a shelf below it. The rail waits.
"""

from fractions import Fraction

from layout_app.document.document import Document
from layout_app.model.carry_over import with_waiting
from layout_app.model.project import Project
from layout_app.model.sawing import tree_of
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.lengths import INCH
from shared.parts import Bands, GrainRule, Part
from shared.plan import Placement
from shared.shop import Shop
from shared.stock import Stock

PLY = "birch ply"


def inches(number):
    """Return ticks of a number of inches, exactly."""
    ticks = Fraction(number) * INCH
    assert ticks.denominator == 1
    return int(ticks)


KERF = inches("1/8")


def part(part_id, name, size, copies, **more):
    """Return a part; sizes in inches."""
    length, width = (inches(side) for side in size)
    return Part(
        id=part_id, name=name, copies=copies, length=length, width=width, material=PLY, **more
    )


JOB = Job(
    name="Two sheets",
    parts=(
        part("side", "Side", (40, 12), 3),
        part("shelf", "Shelf", (30, 10), 2, grain_rule=GrainRule.EITHER),
        part("rail", "Rail", (20, 4), 1, bands=Bands(top=inches("1/8"))),
    ),
    stock=(
        Stock(
            id="full",
            name="full sheet",
            material=PLY,
            length=inches(96),
            width=inches(48),
            thickness=inches("3/4"),
            price=5200,
        ),
    ),
    shop=Shop(kerf=KERF),
)


def lay(part_id, copy, sheet, x, y):
    """Return a placement that is not turned; the corner in inches."""
    of = JOB.part(part_id)
    return Placement(
        part=part_id,
        copy=copy,
        sheet=sheet,
        x=inches(x),
        y=inches(y),
        length=of.cut_length,
        width=of.cut_width,
    )


ON_1 = (
    lay("side", 1, "1", 0, 0),
    lay("side", 2, "1", "321/8", 0),
    lay("shelf", 1, "1", 0, "97/8"),
)
ON_2 = (lay("side", 3, "2", 0, 0), lay("shelf", 2, "2", 0, "97/8"))


def document():
    """Return the document, its sheets sawn."""
    sheets = tuple(
        LayoutSheet(
            id=sheet,
            stock="full",
            placements=lying,
            tree=tree_of(JOB, JOB.stock[0], lying),
        )
        for sheet, lying in (("1", ON_1), ("2", ON_2))
    )
    return Document(Project(job=JOB, layout=with_waiting(JOB, sheets, Layout())))
