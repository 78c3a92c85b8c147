"""Sheets laid full by hand: as many distinct parts as asked for, in rows, all cuttable."""

from collections.abc import Iterator
from random import Random

from layout_app.model.carry_over import with_waiting
from layout_app.model.project import Project
from layout_app.model.sawing import tree_of
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.lengths import MM
from shared.parts import GrainRule, Part
from shared.plan import Placement
from shared.shop import Shop
from shared.stock import SheetGrain, Stock

LENGTH_MM, WIDTH_MM, KERF_MM = 2440, 1220, 3
ROWS, COLUMNS = 4, 6
STOCK = Stock(
    id="full",
    name="full sheet",
    material="ply",
    length=LENGTH_MM * MM,
    width=WIDTH_MM * MM,
    thickness=18 * MM,
    price=5200,
    grain=SheetGrain.ALONG_L,
)


def laid(parts: int, seed: int = 1) -> Project:
    """Return a project of so many parts, 24 on a sheet, every sheet yours.

    The same number and seed give the same project.
    """
    lying = list(_lying(parts, Random(seed)))
    rows = tuple(_row(one) for one in lying)
    job = Job(name=f"{parts} parts", parts=rows, stock=(STOCK,), shop=Shop(kerf=KERF_MM * MM))
    sheets = []
    for name in dict.fromkeys(one.sheet for one in lying):
        here = tuple(one for one in lying if one.sheet == name)
        tree = tree_of(job, STOCK, here)
        sheets.append(LayoutSheet(id=name, stock=STOCK.id, placements=here, tree=tree, yours=True))
    return Project(job=job, layout=with_waiting(job, tuple(sheets), Layout()))


def _lying(parts: int, rng: Random) -> Iterator[Placement]:
    """Yield the parts where they lie: rows of a common width, cut across."""
    x = y = width = 0
    for index in range(parts):
        row, column = divmod(index % (ROWS * COLUMNS), COLUMNS)
        if column == 0:
            y = 0 if row == 0 else y + width + KERF_MM
            x, width = 0, int(WIDTH_MM / ROWS * rng.uniform(0.8, 0.97))
        length = int(LENGTH_MM / COLUMNS * rng.uniform(0.75, 0.97))
        yield Placement(
            part=f"p{index + 1}",
            copy=1,
            sheet=str(index // (ROWS * COLUMNS) + 1),
            x=x * MM,
            y=y * MM,
            length=length * MM,
            width=width * MM,
        )
        x += length + KERF_MM


def _row(lies: Placement) -> Part:
    return Part(
        id=lies.part,
        name=f"Part {lies.part[1:]}",
        copies=1,
        length=lies.length,
        width=lies.width,
        material=STOCK.material,
        grain_rule=GrainRule.EITHER,
    )
