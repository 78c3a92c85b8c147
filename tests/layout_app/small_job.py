"""A small job whose layouts can be drawn by hand: one full sheet and an eighth-inch kerf."""

from functools import lru_cache

from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.model.project import Project
from shared.job import Job
from shared.lengths import INCH, Length
from shared.parts import Part
from shared.plan import Plan
from shared.shop import Shop
from shared.stock import Stock
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.adopting import adopt

KERF: Length = INCH // 8


def part(part_id: str, name: str, size: tuple[Length, Length], copies: int = 1) -> Part:
    """Return a part of birch ply, its grain along its length; sizes in inches."""
    length, width = size
    return Part(
        id=part_id,
        name=name,
        copies=copies,
        length=length * INCH,
        width=width * INCH,
        material="birch ply",
    )


def small_job() -> Job:
    """Return two kinds of part, and sheets of L 96 × W 48 in as many as needed."""
    sheet = Stock(
        id="full",
        name="full sheet",
        material="birch ply",
        length=96 * INCH,
        width=48 * INCH,
        thickness=3 * INCH // 4,
        price=5200,
    )
    return Job(
        name="Trial",
        parts=(part("side", "Side", (40, 12), 4), part("shelf", "Shelf", (30, 10), 3)),
        stock=(sheet,),
        shop=Shop(kerf=KERF),
    )


@lru_cache(64)
def planned(job: Job) -> Plan:
    """Return the planner's first plan of a job, made in this process: the same for equal jobs."""
    plan = run(job, Budget(time_s=0.0), lambda event: None)
    assert plan is not None
    return plan


def document() -> Document:
    """Return a document of the small job, with its first plan."""
    made = Document(Project(job=small_job()))
    adopt(made, planned(made.job))
    return made


def begun_document() -> Document:
    """Return that document with strips 1a and 1b ripped, and the first side sawn off 1a."""
    made = document()
    tick(made, [1, 2, 4])
    return made
